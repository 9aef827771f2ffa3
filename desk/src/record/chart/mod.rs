//! The readings of a log as a chart asks for them: in each column of the screen the lowest and the highest reading of
//! each channel, so that half a million readings are a few thousand points and no peak is lost.

use std::sync::Arc;
use std::time::Duration;

use axum::Json;
use axum::extract::{Path, Query, State};
use job::record::Record;
use quantity::{Celsius, Units};
use readings::{Scan, Series, SeriesKind};
use rules::requirement::LimitKind;
use rules::thermocouple::Role;
use serde::{Deserialize, Serialize};

use super::judged::{Wanted, unprocessable};
use crate::desk::Desk;
use crate::refusal::Refusal;

/// Most columns that are answered, however wide the screen.
const MOST_COLUMNS: usize = 1500;
/// A silence of more than so many usual steps is a gap in the line.
const GAP_STEPS: u32 = 5;
/// Places in one column, and parts of a degree, so that points travel as whole numbers.
const TENTHS: f64 = 10.0;

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
    /// By channel in the order of the log: place in tenths of a column and tenths of a degree by turns; no degree is a
    /// gap.
    series: Vec<Vec<Option<i32>>>,
    /// The same for what was logged beside: set point.
    beside: Vec<Vec<Option<i32>>>,
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
    })
}

fn set_points(record: &Record) -> impl Iterator<Item = &Series> {
    let others = record.log.others.iter();
    others.filter(|series| series.kind == SeriesKind::SetPoint)
}

struct Frame {
    from: f64,
    column_h: f64,
    columns: usize,
}

impl Frame {
    /// What lies in the window, with one more on each side, so that lines run to its edges.
    fn with_neighbors<'a, T>(&self, all: &'a [T], at: impl Fn(&T) -> f64) -> &'a [T] {
        let to = self.from + self.column_h * self.columns as f64;
        let first = all.partition_point(|one| at(one) < self.from);
        let last = all.partition_point(|one| at(one) <= to);
        &all[first.saturating_sub(1)..(last + 1).min(all.len())]
    }

    /// The lowest and the highest reading of each column in the order in which they came.
    fn thinned(
        &self,
        readings: impl Iterator<Item = (f64, Option<f64>)>,
        gap_h: f64,
    ) -> Vec<Option<i32>> {
        let mut out = Vec::new();
        let mut column = Column::default();
        let mut before: Option<f64> = None;
        for (at, value) in readings {
            let place = (at - self.from) / self.column_h;
            let number = place.floor().clamp(-1.0, self.columns as f64) as i64;
            if column.number != Some(number) {
                column.end(&mut out);
                column = Column {
                    number: Some(number),
                    ..Column::default()
                };
            }
            let Some(value) = value else {
                before = None;
                column.gap |= !column.is_empty() || !out.is_empty();
                continue;
            };
            if before.is_some_and(|before| at - before > gap_h) {
                column.gap = true;
            }
            before = Some(at);
            column.take(
                (TENTHS * place).round() as i32,
                (TENTHS * value).round() as i32,
            );
        }
        column.end(&mut out);
        out
    }
}

/// One column of the screen as it fills.
#[derive(Default)]
struct Column {
    number: Option<i64>,
    low: Option<(i32, i32)>,
    high: Option<(i32, i32)>,
    /// Whether something was silent in it or before it.
    gap: bool,
}

impl Column {
    fn is_empty(&self) -> bool {
        self.low.is_none()
    }

    fn take(&mut self, place: i32, value: i32) {
        if self.low.is_none_or(|(_, low)| value < low) {
            self.low = Some((place, value));
        }
        if self.high.is_none_or(|(_, high)| value > high) {
            self.high = Some((place, value));
        }
    }

    fn end(&self, out: &mut Vec<Option<i32>>) {
        if self.gap && out.last().is_some_and(Option::is_some) {
            out.extend([Some(0), None]);
        }
        let (Some(low), Some(high)) = (self.low, self.high) else {
            return;
        };
        let (first, second) = if low.0 <= high.0 {
            (low, high)
        } else {
            (high, low)
        };
        out.extend([Some(first.0), Some(first.1)]);
        if first != second {
            out.extend([Some(second.0), Some(second.1)]);
        }
    }
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
        role: known.map_or("", |known| role_word(known.role)).to_owned(),
        failed_h,
        failed,
    }
}

/// What a thermocouple is for.
pub fn role_word(role: Role) -> &'static str {
    match role {
        Role::Control => "control",
        Role::Monitor => "monitor",
        Role::Spare => "spare",
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

#[cfg(test)]
mod tests {
    use super::*;

    fn frame(columns: usize) -> Frame {
        Frame {
            from: 0.0,
            column_h: 1.0 / columns as f64,
            columns,
        }
    }

    #[test]
    fn half_a_million_readings_are_two_points_a_column_and_no_peak_is_lost() {
        let readings = (0..500_000).map(|i| {
            let value = if i == 321_987 {
                999.0
            } else {
                600.0 + f64::from(i % 7)
            };
            (f64::from(i) / 500_000.0, Some(value))
        });
        let out = frame(1000).thinned(readings, 1.0);
        assert!(out.len() <= 2 * 2 * 1002, "{}", out.len());
        assert!(out.iter().skip(1).step_by(2).any(|v| *v == Some(9990)));
    }

    #[test]
    fn silence_is_a_gap_and_never_bridged() {
        let silent = [(0.1, Some(20.0)), (0.2, None), (0.3, Some(30.0))];
        let out = frame(10).thinned(silent.into_iter(), 1.0);
        assert!(
            out.iter().skip(1).step_by(2).any(Option::is_none),
            "{out:?}"
        );
        let missing = [(0.1, Some(20.0)), (0.9, Some(30.0))];
        let out = frame(10).thinned(missing.into_iter(), 0.5);
        assert!(
            out.iter().skip(1).step_by(2).any(Option::is_none),
            "{out:?}"
        );
        let steady = [(0.1, Some(20.0)), (0.3, Some(30.0))];
        let out = frame(10).thinned(steady.into_iter(), 0.5);
        assert_eq!(out.len(), 4, "{out:?}");
    }
}
