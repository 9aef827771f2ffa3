//! The readings of a log as a chart asks for them, with what the plan foresaw and what was logged beside.

mod meta;
mod panels;
mod planned;
mod thin;

use std::sync::Arc;
use std::time::Duration;

use axum::Json;
use axum::extract::{Path, Query, State};
use job::record::Record;
use quantity::{Celsius, Units};
use readings::{Scan, Series, SeriesKind};
use serde::{Deserialize, Serialize};

pub use meta::{Meta, meta};

use super::judged::{Wanted, unprocessable};
use crate::desk::Desk;
use crate::refusal::Refusal;
use panels::PanelPoints;
use thin::{Frame, Thinned};

/// Most columns that are answered, however wide the screen.
const MOST_COLUMNS: usize = 1500;
/// A silence of more than so many usual steps is a gap in the line.
const GAP_STEPS: u32 = 5;
/// What was planned bends slowly: it has one column where readings have so many.
const PLANNED_COARSER: usize = 3;

/// The window that is asked for.
#[derive(Debug, Deserialize)]
pub struct Window {
    from: f64,
    to: f64,
    columns: usize,
}

/// Points in the window.
#[derive(Debug, Serialize)]
pub struct Points {
    from: f64,
    to: f64,
    columns: usize,
    /// By channel in the order of the log.
    series: Vec<Thinned>,
    /// What was logged beside: set point.
    beside: Vec<Thinned>,
    /// Columns of the next two.
    planned_columns: usize,
    /// What the plan foresaw, by channel in the order of the log; empty where it foresaw nothing.
    planned: Vec<Thinned>,
    /// Measured less planned.
    gaps: Vec<Thinned>,
    /// By panel below the temperatures.
    panels: Vec<PanelPoints>,
}

/// The points of a window.
pub async fn chart(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Query(wanted): Query<Wanted>,
    Query(window): Query<Window>,
) -> Result<Json<Points>, Refusal> {
    let folder = desk.folder(&name)?;
    let judged = desk.records.of(folder, &wanted).await;
    let judged = judged.map_err(unprocessable)?;
    let points = tokio::task::spawn_blocking(move || {
        let record = judged.record.as_ref().map_err(ToString::to_string)?;
        points(record, &window)
    });
    let points = points.await.map_err(|_| Refusal::broke_down())?;
    points.map(Json).map_err(unprocessable)
}

fn points(record: &Record, window: &Window) -> Result<Points, String> {
    let sound = window.from.is_finite() && window.to.is_finite() && window.to > window.from;
    if !sound || window.columns == 0 {
        return Err("The window of the chart has no width.".to_owned());
    }
    let columns = window.columns.min(MOST_COLUMNS);
    let frame = Frame {
        from: window.from,
        column_h: (window.to - window.from) / columns as f64,
        columns,
    };
    let scans = frame.with_neighbors(&record.log.scans, |scan| hours(scan.elapsed));
    let gap_h = GAP_STEPS as f64 * usual_step_h(&record.log.scans);
    let units = record.basis.units;
    let coarse = frame.coarser(PLANNED_COARSER);
    let channel = |index: usize| {
        let readings = scans.iter().map(|scan: &Scan| {
            let reading = scan.readings.get(index).copied().flatten();
            (hours(scan.elapsed), reading.map(|t| shown(t, units)))
        });
        frame.thinned(readings, gap_h)
    };
    let beside = |series: &Series| {
        let points = frame.with_neighbors(&series.points, |point| hours(point.0));
        let points = points.iter().map(|(at, value)| (hours(*at), Some(*value)));
        frame.thinned(points, f64::INFINITY)
    };
    Ok(Points {
        from: window.from,
        to: window.to,
        columns,
        series: (0..record.log.channels.len()).map(channel).collect(),
        beside: set_points(record).map(beside).collect(),
        planned_columns: coarse.columns,
        planned: planned::thinned(record, &coarse, planned::foreseen),
        gaps: planned::thinned(record, &coarse, planned::gap),
        panels: panels::points(record, &frame, gap_h),
    })
}

fn set_points(record: &Record) -> impl Iterator<Item = &Series> {
    let others = record.log.others.iter();
    others.filter(|series| series.kind == SeriesKind::SetPoint)
}

fn hours(elapsed: Duration) -> f64 {
    elapsed.as_secs_f64() / 3600.0
}

fn shown(t: Celsius, units: Units) -> f64 {
    match units {
        Units::Si => t.c(),
        Units::Us => t.f(),
    }
}

/// The step in the middle of all steps.
fn usual_step_h(scans: &[Scan]) -> f64 {
    let mut steps: Vec<f64> = scans
        .windows(2)
        .map(|pair| hours(pair[1].elapsed.saturating_sub(pair[0].elapsed)))
        .collect();
    if steps.is_empty() {
        return f64::INFINITY;
    }
    let middle = steps.len() / 2;
    *steps.select_nth_unstable_by(middle, f64::total_cmp).1
}
