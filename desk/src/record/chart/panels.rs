//! What was logged beside temperatures and what the plan foresaw of it: power, current, output. One panel a unit.

use job::record::{Against, PowerForeseen, Record};
use readings::{Series, SeriesKind};
use serde::Serialize;

use super::hours;
use super::thin::{Frame, Thinned};

/// A panel below the temperatures.
#[derive(Debug, Serialize)]
pub struct PanelMeta {
    /// What it shows.
    title: String,
    unit: String,
    /// Names of its lines.
    names: Vec<String>,
    /// Whether the plan foresaw it.
    planned: bool,
    highest: f64,
}

/// Points of a panel in the window.
#[derive(Debug, Serialize)]
pub struct PanelPoints {
    series: Vec<Thinned>,
    planned: Option<Thinned>,
}

/// A panel as it is put together.
struct Panel<'a> {
    unit: &'a str,
    series: Vec<&'a Series>,
    /// What one kW of the plan is in its unit.
    of_kw: Option<f64>,
}

/// The panels of a record: power first, then the rest in the order of the log.
fn all(record: &Record) -> Vec<Panel<'_>> {
    let against = record.plan.as_ref().map(|(_, against)| against);
    let against = against.filter(|against| !against.powers.is_empty());
    let mut panels: Vec<Panel<'_>> = Vec::new();
    for kind in [SeriesKind::Power, SeriesKind::Output] {
        let of_kind = record.log.others.iter().filter(|one| one.kind == kind);
        for series in of_kind {
            let unit = series.unit.trim();
            let known = panels
                .iter_mut()
                .find(|panel| panel.unit == unit && panel.series[0].kind == kind);
            match known {
                Some(panel) => panel.series.push(series),
                None => panels.push(Panel {
                    unit,
                    series: vec![series],
                    of_kw: against.and_then(|against| of_kw(series, against)),
                }),
            }
        }
    }
    if against.is_some() && !panels.iter().any(|panel| panel.of_kw.is_some()) {
        panels.insert(0, only_planned());
    }
    panels
}

fn only_planned() -> Panel<'static> {
    Panel {
        unit: "kW",
        series: Vec::new(),
        of_kw: Some(1.0),
    }
}

/// What one kW of the plan is in the unit of a power, where that is told.
fn of_kw(series: &Series, against: &Against) -> Option<f64> {
    if series.kind != SeriesKind::Power {
        return None;
    }
    match series.unit.trim().to_lowercase().as_str() {
        "kw" => Some(1.0),
        "w" => Some(1e3),
        "%" if against.rated_kw > 0.0 => Some(100.0 / against.rated_kw),
        _ => None,
    }
}

/// The panels in words.
pub(super) fn panels(record: &Record) -> Vec<PanelMeta> {
    let foreseen = foreseen(record);
    let meta = |panel: Panel<'_>| {
        let logged = panel.series.iter().flat_map(|one| &one.points);
        let planned = foreseen.iter().map(|power| power.source_kw);
        let planned = planned.filter_map(|kw| Some(kw * panel.of_kw?));
        PanelMeta {
            title: title(&panel),
            unit: panel.unit.to_owned(),
            names: panel.series.iter().map(|one| one.name.clone()).collect(),
            planned: panel.of_kw.is_some(),
            highest: logged
                .map(|point| point.1)
                .chain(planned)
                .fold(0.0, f64::max),
        }
    };
    all(record).into_iter().map(meta).collect()
}

fn title(panel: &Panel<'_>) -> String {
    match (panel.series.first(), panel.unit) {
        (None, _) => "Power as planned".to_owned(),
        (_, "A" | "kA") => "Current".to_owned(),
        (_, "V") => "Voltage".to_owned(),
        (Some(first), _) if first.kind == SeriesKind::Power => "Power".to_owned(),
        (Some(first), _) if panel.series.len() == 1 => first.name.clone(),
        _ => "Output".to_owned(),
    }
}

/// The panels in a window.
pub(super) fn points(record: &Record, frame: &Frame, gap_h: f64) -> Vec<PanelPoints> {
    let line = |series: &&Series| {
        let points = frame.with_neighbors(&series.points, |point| hours(point.0));
        let points = points.iter().map(|(at, value)| (hours(*at), Some(*value)));
        frame.thinned(points, gap_h)
    };
    let foreseen = foreseen(record);
    let points = |panel: Panel<'_>| PanelPoints {
        series: panel.series.iter().map(line).collect(),
        planned: panel.of_kw.map(|of_kw| planned(foreseen, frame, of_kw)),
    };
    all(record).into_iter().map(points).collect()
}

fn foreseen(record: &Record) -> &[PowerForeseen] {
    match &record.plan {
        Some((_, against)) => &against.powers,
        None => &[],
    }
}

/// Between two pieces of the plan the line is broken.
fn planned(foreseen: &[PowerForeseen], frame: &Frame, of_kw: f64) -> Thinned {
    let powers = frame.with_neighbors(foreseen, |power| power.at.h());
    let mut piece = None;
    let values = powers.iter().flat_map(|power| {
        let is_new = piece.is_some_and(|before| before != power.piece);
        piece = Some(power.piece);
        let broken = is_new.then_some((power.at.h(), None));
        let there = (power.at.h(), Some(of_kw * power.source_kw));
        broken.into_iter().chain([there])
    });
    frame.thinned(values, f64::INFINITY)
}
