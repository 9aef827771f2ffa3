//! The chart: all channels with limits, events and times, readable in black and white.

use jiff::civil::DateTime;
use jiff::tz::Offset;
use quantity::Units;
use readings::SeriesKind;
use report::Block;
use report::chart::{
    Across, Chart, Clock, Event, Limit, Panel, Region, Series, SeriesMark, chart, thinned,
};
use rules::requirement::LimitKind;

use crate::record::Record;
use crate::record::deviation::is_gap;
use crate::sheet::axes::{axis_words, degrees, with_headroom};
use crate::sheet::words::{duration_h, first_c};

/// Size on paper in mm.
const SIZE_MM: [f64; 2] = [166.0, 214.0];
/// What the panel of the hold shows beyond the range at each end, as a part of it.
const AROUND_HOLD: f64 = 0.4;
/// Columns into which the width is parted: each keeps its lowest and highest reading.
const COLUMNS: f64 = 900.0;
/// Events named on the chart.
const EVENTS: usize = 12;
/// Letters of an event on the chart.
const LETTERS: usize = 24;
/// Dash pattern in points of a thermocouple that left the set.
const REMOVED: [f64; 2] = [1.0, 2.0];

pub(super) fn blocks(record: &Record) -> Vec<Block> {
    let end_h = (record.length().as_secs_f64() / 3600.0).max(0.1);
    let whole = temperatures(record, end_h);
    let hold = close_to_hold(record, &whole);
    let mut panels = vec![whole];
    panels.extend(hold);
    panels.extend(power(record));
    let drawing = chart(&Chart {
        title: "The heat as it was logged".into(),
        description: format!(
            "{} channels over {}, with the limits and events",
            record.log.channels.len(),
            duration_h(end_h)
        ),
        width_mm: SIZE_MM[0],
        height_mm: SIZE_MM[1],
        across: across(record, end_h),
        panels,
        events: events(record),
    });
    let zone = match record.log.start.moment() {
        Some(at) => format!("begins {} UTC", at.strftime("%Y-%m-%d %H:%M:%S")),
        None => "time zone of the recorder not stated".into(),
    };
    vec![Block::figure(
        drawing,
        format!(
            "All channels as logged, nothing altered. Hours since the first scan and time of day of the recorder; {zone}. Full \
             width is {}. Lines are broken where the log has a gap. A number with a × is a thermocouple that left the set.{}",
            duration_h(end_h),
            clock_words(record)
        ),
    )]
}

/// Hours since the first scan, the time of day of the recorder, and that in UTC where its zone is known.
pub(super) fn across(record: &Record, end_h: f64) -> Across {
    let clock = |name: &str, at: DateTime| Clock {
        name: name.into(),
        start_minute_of_day: f64::from(at.hour()) * 60.0
            + f64::from(at.minute())
            + f64::from(at.second()) / 60.0,
    };
    let mut clocks = vec![clock("local", record.log.start.local())];
    if let Some(at) = record.log.start.moment() {
        clocks.push(clock("UTC", Offset::UTC.to_datetime(at)));
    }
    Across::hours_and_clocks(0.0, end_h, clocks)
}

/// Clocks that change while the log runs: the axis goes on as they stood at its start.
fn clock_words(record: &Record) -> String {
    let readings::Start::Moment { at, zone } = &record.log.start else {
        return String::new();
    };
    let end = at.checked_add(jiff::SignedDuration::try_from(record.length()).unwrap_or_default());
    let change_s = end.map_or(0, |end| {
        zone.to_offset(end).seconds() - zone.to_offset(*at).seconds()
    });
    match change_s {
        0 => String::new(),
        change_s => format!(
            " Clocks changed by {:+} min meanwhile; the local times of day are those of before.",
            change_s / 60
        ),
    }
}

fn temperatures(record: &Record, end_h: f64) -> Panel {
    let units = record.basis.units;
    let mut panel = Panel::new(axis_words(units));
    panel.share = 4.5;
    for (index, channel) in record.log.channels.iter().enumerate() {
        let points: Vec<(f64, Option<f64>)> = record
            .log
            .scans
            .iter()
            .map(|scan| {
                let reading = scan.readings.get(index).copied().flatten();
                (
                    scan.elapsed.as_secs_f64() / 3600.0,
                    reading.map(|t| degrees(t.c(), units)),
                )
            })
            .collect();
        let removed = record
            .findings
            .removed
            .iter()
            .any(|r| r.channel == channel.name);
        panel.series.push(Series {
            name: match removed {
                true => format!("{}×", short(&channel.name)),
                false => short(&channel.name),
            },
            title: channel.name.clone(),
            points: kept(&points, end_h / COLUMNS, is_gap(&record.findings.settings)),
            mark: match removed {
                true => SeriesMark::Dashed(REMOVED.to_vec()),
                false => SeriesMark::Line,
            },
        });
    }
    if let Some(set_point) = record
        .log
        .others
        .iter()
        .find(|s| s.kind == SeriesKind::SetPoint)
    {
        let points: Vec<[f64; 2]> = set_point
            .points
            .iter()
            .map(|(at, value)| [at.as_secs_f64() / 3600.0, *value])
            .collect();
        panel.series.push(Series {
            title: "set point as logged".into(),
            ..Series::line("set", &thinned(&points, end_h / COLUMNS))
        });
    }
    panel.limits = limits(record);
    panel.regions = holds(record);
    panel.range = with_headroom(&panel, HEADROOM);
    panel
}

/// Room above the highest limit and reading for the texts of limits, as a part of it.
const HEADROOM: f64 = 0.12;

/// Stretches between gaps, each thinned to the lowest and highest reading of a column. A thermocouple that speaks more
/// slowly than the scans come has no gap between two of its own readings.
fn kept(
    points: &[(f64, Option<f64>)],
    column: f64,
    gaps: impl Fn(f64, f64) -> bool,
) -> Vec<(f64, Option<f64>)> {
    let mut kept: Vec<(f64, Option<f64>)> = Vec::new();
    let mut stretch: Vec<[f64; 2]> = Vec::new();
    let mut pace_s = f64::INFINITY;
    let mut end = |stretch: &mut Vec<[f64; 2]>| {
        let few = thinned(stretch, column);
        if let (Some(last), false) = (kept.last().map(|k| k.0), few.is_empty()) {
            kept.push((last, None));
        }
        kept.extend(few.iter().map(|[x, y]| (*x, Some(*y))));
        stretch.clear();
    };
    for (at, value) in points
        .iter()
        .filter_map(|(at, value)| Some((*at, (*value)?)))
    {
        if let Some([before, _]) = stretch.last() {
            let step_s = 3600.0 * (at - before);
            if gaps(step_s, pace_s) {
                end(&mut stretch);
            } else {
                pace_s = step_s;
            }
        }
        stretch.push([at, value]);
    }
    end(&mut stretch);
    kept
}

/// The same lines close to the range of the hold, where they lie on each other in the panel of the whole heat.
fn close_to_hold(record: &Record, whole: &Panel) -> Option<Panel> {
    let units = record.basis.units;
    let of_hold = record
        .basis
        .limits
        .iter()
        .filter_map(|limit| match limit.kind {
            LimitKind::HoldMin(level) | LimitKind::HoldMax(level) => {
                Some(degrees(level.c(), units))
            }
            _ => None,
        });
    let levels: Vec<f64> = of_hold.collect();
    let low = levels.iter().copied().reduce(f64::min)?;
    let high = levels.iter().copied().reduce(f64::max)?;
    let around = AROUND_HOLD * (high - low);
    if around <= 0.0 || whole.regions.is_empty() {
        return None;
    }
    let mut panel = Panel::new(format!("Close to the hold, {}", degrees_word(units)));
    panel.share = 2.0;
    panel.series.clone_from(&whole.series);
    panel.range = Some((low - around, high + around));
    for level in levels {
        let limit = match level == low {
            true => Limit::at_least(level, ""),
            false => Limit::at_most(level, ""),
        };
        if !panel
            .limits
            .iter()
            .any(|known| known.course == limit.course)
        {
            panel.limits.push(limit);
        }
    }
    Some(panel)
}

fn degrees_word(units: Units) -> &'static str {
    match units {
        Units::Si => "°C",
        Units::Us => "°F",
    }
}

/// The digits of a name, where it has any.
pub(super) fn short(name: &str) -> String {
    let digits: String = name.chars().filter(char::is_ascii_digit).collect();
    match digits.as_str() {
        "" => name.chars().take(4).collect(),
        _ => digits,
    }
}

fn limits(record: &Record) -> Vec<Limit> {
    let units = record.basis.units;
    let mut limits: Vec<Limit> = Vec::new();
    for limit in &record.basis.limits {
        let place = &limit.clause.document;
        let drawn = match limit.kind {
            LimitKind::HoldMin(min) => Limit::at_least(
                degrees(min.c(), units),
                format!("hold at least {}, {place}", first_c(min.c(), units)),
            ),
            LimitKind::HoldMax(max) => Limit::at_most(
                degrees(max.c(), units),
                format!("at most {}, {place}", first_c(max.c(), units)),
            ),
            LimitKind::HeatingRate { above, .. } | LimitKind::CoolingRate { above, .. } => {
                Limit::at_least(
                    degrees(above.c(), units),
                    format!("rates are limited above {}", first_c(above.c(), units)),
                )
            }
            _ => continue,
        };
        if !limits.iter().any(|known| known.course == drawn.course) {
            limits.push(drawn);
        }
    }
    limits
}

/// The holds of the attempts.
/// A longest run shorter than this part of the hold is told apart from it.
const MOST_OF_IT: f64 = 0.95;

fn holds(record: &Record) -> Vec<Region> {
    let attempts = record.findings.attempts.list.iter();
    attempts
        .filter_map(|attempt| {
            let (from, to) = (attempt.hold_began?, attempt.band_left.or(attempt.ended)?);
            Some(Region {
                from: from.h(),
                to: to.h(),
                low: None,
                high: None,
                text: match attempt.holds.first() {
                    Some(hold) if hold.longest.h() < MOST_OF_IT * (to.h() - from.h()) => {
                        let counted = duration_h(hold.longest.h());
                        format!("hold, of which {counted} count as one run")
                    }
                    Some(hold) => format!("hold, longest run {}", duration_h(hold.longest.h())),
                    None => "hold".into(),
                },
            })
        })
        .collect()
}

fn events(record: &Record) -> Vec<Event> {
    let events = record.log.events.iter().take(EVENTS);
    events
        .map(|event| Event {
            at: event.elapsed.as_secs_f64() / 3600.0,
            text: event.text.chars().take(LETTERS).collect(),
        })
        .collect()
}

fn power(record: &Record) -> Option<Panel> {
    let series: Vec<_> = record
        .log
        .others
        .iter()
        .filter(|s| s.kind == SeriesKind::Power)
        .collect();
    let first = series.first()?;
    let mut panel = Panel::new(match first.unit.as_str() {
        "" => "Power".to_string(),
        unit => format!("Power, {unit}"),
    });
    let end_h = record.length().as_secs_f64() / 3600.0;
    let count = series.len();
    for (index, one) in series.into_iter().enumerate() {
        let name = match count {
            1 => "P".to_string(),
            _ => format!("P{}", index + 1),
        };
        let points = one.points.iter();
        let points: Vec<(f64, Option<f64>)> = points
            .map(|(at, value)| (at.as_secs_f64() / 3600.0, Some(*value)))
            .collect();
        let gaps = is_gap(&record.findings.settings);
        panel.series.push(Series {
            name,
            title: one.name.clone(),
            points: kept(&points, end_h / COLUMNS, gaps),
            mark: SeriesMark::Line,
        });
    }
    Some(panel)
}
