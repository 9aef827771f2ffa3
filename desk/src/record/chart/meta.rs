//! What a chart needs besides readings: channels, limits, events, holds, the plan.

use job::record::Record;
use quantity::Units;
use rules::requirement::LimitKind;
use rules::thermocouple::told_as;
use serde::Serialize;

use super::panels::{PanelMeta, panels};
use super::planned::{PlanMeta, plan_meta};
use super::{hours, shown};

/// What a chart needs besides readings. Temperatures are in the units of the sheet.
#[derive(Debug, Serialize)]
pub struct Meta {
    end_h: f64,
    /// Local time of the first scan, `2026-10-20T07:30:00`.
    start: String,
    /// The same in UTC, where the zone is known.
    start_utc: Option<String>,
    unit: &'static str,
    readings: usize,
    highest: f64,
    channels: Vec<ChannelMeta>,
    limits: Vec<LimitMeta>,
    events: Vec<EventMeta>,
    /// Holds: from, to in h.
    holds: Vec<(f64, f64)>,
    /// The plan that was laid on the log.
    plan: Option<PlanMeta>,
    /// What stands below the temperatures.
    panels: Vec<PanelMeta>,
}

#[derive(Debug, Serialize)]
struct ChannelMeta {
    name: String,
    /// What it is for, in words; empty where the job does not know it.
    role: String,
    /// From when on it failed or left the set, in h, and why.
    failed_h: Option<f64>,
    failed: String,
}

#[derive(Debug, Serialize)]
struct LimitMeta {
    at: f64,
    /// Whether it limits readings, or only says above which rates are limited.
    threshold: bool,
    words: String,
}

#[derive(Debug, Serialize)]
struct EventMeta {
    h: f64,
    words: String,
}

/// What a chart of a record needs besides readings.
pub fn meta(record: &Record) -> Meta {
    let units = record.basis.units;
    let all = record.log.scans.iter().flat_map(|scan| &scan.readings);
    let said = all.clone().flatten().count();
    let highest = all.flatten().map(|t| shown(*t, units)).fold(0.0, f64::max);
    let attempts = record.findings.attempts.list.iter();
    Meta {
        end_h: hours(record.length()).max(1.0 / 60.0),
        start: record.log.start.local().to_string(),
        start_utc: record.log.start.moment().map(|at| at.to_string()),
        unit: match units {
            Units::Si => "°C",
            Units::Us => "°F",
        },
        readings: said,
        highest,
        channels: (0..record.log.channels.len())
            .map(|index| channel(record, index))
            .collect(),
        limits: limits(record),
        events: record
            .log
            .events
            .iter()
            .map(|event| EventMeta {
                h: hours(event.elapsed),
                words: event.text.clone(),
            })
            .collect(),
        holds: attempts
            .filter_map(|one| Some((one.hold_began?.h(), one.band_left.or(one.ended)?.h())))
            .collect(),
        plan: plan_meta(record),
        panels: panels(record),
    }
}

fn channel(record: &Record, index: usize) -> ChannelMeta {
    let known = record.matched.of_log(index);
    let name = known.map_or(&record.log.channels[index].name, |known| &known.name);
    let failures = record.findings.failures.iter();
    let failed = failures
        .filter(|one| one.channel == *name)
        .map(|one| (one.first_evidence.h(), one.kind.words().to_owned()));
    let removed = record.findings.removed.iter();
    let removed = removed
        .filter(|one| one.channel == *name)
        .map(|one| (one.from.h(), format!("left the set: {}", one.reason)));
    let first = failed.chain(removed).min_by(|a, b| a.0.total_cmp(&b.0));
    let (failed_h, failed) = match first {
        Some((h, words)) => (Some(h), words),
        None => (None, String::new()),
    };
    ChannelMeta {
        name: name.to_owned(),
        role: known
            .map_or("", |known| told_as(known.role, known.place))
            .to_owned(),
        failed_h,
        failed,
    }
}

fn limits(record: &Record) -> Vec<LimitMeta> {
    let units = record.basis.units;
    let mut limits: Vec<LimitMeta> = Vec::new();
    for limit in &record.basis.limits {
        let place = format!("{} {}", limit.clause.document, limit.clause.clause);
        let (at, threshold, words) = match limit.kind {
            LimitKind::HoldMin(min) => (shown(min, units), false, format!("at least, {place}")),
            LimitKind::HoldMax(max) => (shown(max, units), false, format!("at most, {place}")),
            LimitKind::HeatingRate { above, .. } | LimitKind::CoolingRate { above, .. } => (
                shown(above, units),
                true,
                "rates are limited above".to_owned(),
            ),
            _ => continue,
        };
        if !limits
            .iter()
            .any(|known| known.at == at && known.threshold == threshold)
        {
            limits.push(LimitMeta {
                at,
                threshold,
                words: words.trim().to_owned(),
            });
        }
    }
    limits
}
