//! All thermocouples over time with the limits, and power, current and voltage below.

use cycle::outcome::{Moment, Stage};
use report::Block;
use report::chart::{Across, Allowed, Chart, Course, Event, Limit, Panel, Region, Series, chart};
use rules::requirement::LimitKind;

use crate::sheet::PlanSheet;
use crate::sheet::axes::{axis_words, degrees, with_headroom};
use crate::sheet::site::number;
use crate::sheet::words::{duration_h, first_c};

/// Size on paper in mm.
const SIZE_MM: [f64; 2] = [166.0, 190.0];

/// The chart of the predicted cycle.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let scans = &plan.outcome.scans;
    let end = scans.last().map(|scan| scan.elapsed.as_secs_f64());
    let end_h = end.unwrap_or(3600.0) / 3600.0;
    let history = &plan.outcome.history;
    let drawing = chart(&Chart {
        title: "The predicted cycle".into(),
        description: format!(
            "{} channels over {}, with the limits; power, current and voltage at the source below",
            plan.outcome.channels.len(),
            duration_h(end_h)
        ),
        width_mm: SIZE_MM[0],
        height_mm: SIZE_MM[1],
        across: Across::hours(0.0, end_h),
        panels: vec![
            temperatures(plan),
            electric("Power, kW", "P", history, |m| m.source_power_w / 1e3),
            electric("Current, A", "I", history, |m| m.current_rms_a),
            electric("Voltage, V", "U", history, |m| m.voltage_rms_v),
        ],
        events: events(plan),
    });
    vec![Block::figure(
        drawing,
        "What the thermocouples will read, and what the source gives. Hours since heat on.",
    )]
}

fn temperatures(plan: &PlanSheet) -> Panel {
    let units = plan.job.units;
    let mut panel = Panel::new(axis_words(units));
    panel.share = 4.5;
    for (index, channel) in plan.outcome.channels.iter().enumerate() {
        let points = plan.outcome.scans.iter().map(|scan| {
            let reading = scan.readings.get(index).copied().flatten();
            let hours = scan.elapsed.as_secs_f64() / 3600.0;
            (hours, reading.map(|t| degrees(t.c(), units)))
        });
        panel.series.push(Series {
            name: number(&channel.name).to_string(),
            title: channel.name.clone(),
            points: points.collect(),
            mark: Default::default(),
        });
    }
    panel.regions = hold(plan);
    panel.limits = limits(plan, panel.regions.first());
    panel.range = with_headroom(&panel, HEADROOM);
    panel
}

/// Room above the highest limit for the texts of limits, as a part of it.
const HEADROOM: f64 = 0.25;

fn hold(plan: &PlanSheet) -> Vec<Region> {
    let stages = plan.outcome.stages.iter();
    let held = stages.filter(|one| one.stage == Stage::Hold);
    held.map(|one| Region {
        from: one.from_s / 3600.0,
        to: one.to_s / 3600.0,
        low: None,
        high: None,
        text: format!("hold {}", duration_h((one.to_s - one.from_s) / 3600.0)),
    })
    .collect()
}

fn events(plan: &PlanSheet) -> Vec<Event> {
    let short = plan.outcome.source.first_shortfall.iter();
    short
        .map(|one| Event {
            at: one.time_s / 3600.0,
            text: "source falls behind".into(),
        })
        .collect()
}

/// Longest name of a clause on the chart; the whole name stands with the limits.
const LONGEST_PLACE: usize = 40;

/// The ends of the hold range with who sets them; equal ones share a line and the first names it.
fn limits(plan: &PlanSheet, hold: Option<&Region>) -> Vec<Limit> {
    let units = plan.job.units;
    let mut limits: Vec<Limit> = Vec::new();
    for limit in &plan.requirement.limits {
        let place = shortened(&format!(
            "{} {}",
            limit.clause.document, limit.clause.clause
        ));
        let drawn = match limit.kind {
            LimitKind::HoldMin(min) => Limit {
                course: within(degrees(min.c(), units), hold),
                text: format!("at least {}, {place}", first_c(min.c(), units)),
                allowed: Allowed::Above,
            },
            LimitKind::HoldMax(max) => Limit::at_most(
                degrees(max.c(), units),
                format!("at most {}, {place}", first_c(max.c(), units)),
            ),
            _ => continue,
        };
        let is_there = limits
            .iter()
            .any(|one| one.course == drawn.course && one.allowed == drawn.allowed);
        if !is_there {
            limits.push(drawn);
        }
    }
    limits
}

fn shortened(place: &str) -> String {
    if place.chars().count() <= LONGEST_PLACE {
        return place.to_string();
    }
    let kept: String = place.chars().take(LONGEST_PLACE).collect();
    format!(
        "{} …",
        kept.rsplit_once(' ')
            .map_or(kept.as_str(), |(words, _)| words)
    )
}

fn within(level: f64, hold: Option<&Region>) -> Course {
    match hold {
        None => Course::Level(level),
        Some(region) => Course::Span {
            level,
            from: region.from,
            to: region.to,
        },
    }
}

fn electric(label: &str, name: &str, history: &[Moment], of: fn(&Moment) -> f64) -> Panel {
    let mut panel = Panel::new(label);
    let points: Vec<[f64; 2]> = history.iter().map(|m| [m.time_s / 3600.0, of(m)]).collect();
    panel.series.push(Series::line(name, &points));
    panel
}
