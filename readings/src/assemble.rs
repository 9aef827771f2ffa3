//! From rows on a time base to a log, and the first of them as they were understood.

use std::time::Duration;

use crate::clock::TimeBase;
use crate::column::Column;
use crate::file::File;
use crate::log::{Log, LogEvent, Series, SeriesKind};
use crate::role::Role;
use crate::scan::{Channel, Scan};
use crate::timer::{TimeKind, clock_of};
use crate::understood::PreviewRow;
use crate::wide::Rows;

/// Rows shown as they were understood.
const PREVIEW: usize = 10;

pub(crate) fn log(
    file: &File<'_>,
    names: Vec<String>,
    rows: Rows,
    base: &TimeBase,
    beside: &[Column],
) -> Log {
    let elapsed = |row: usize| base.elapsed_ns.get(row).copied().flatten().map(duration);
    let (before, after) = neighbors(&base.elapsed_ns);
    let others = rows.others.iter().map(|(column, points)| Series {
        name: beside[*column].name.clone(),
        kind: kind_of(beside[*column].role),
        unit: beside[*column].unit_words.clone(),
        points: points
            .iter()
            .filter_map(|(row, number)| Some((elapsed(*row)?, *number)))
            .collect(),
    });
    let others = others.collect();
    let times_ns = &rows.times_ns;
    let events = rows.events.iter().map(|words| {
        let next = after.get(words.row).copied().flatten().map(duration);
        // Words with a time of their own stand that much before the next row, but not before the last one.
        let early_ns = words
            .at_ns
            .zip(times_ns.get(words.row))
            .map_or(0, |(at_ns, next_ns)| (next_ns - at_ns).max(0));
        let late_ns = words
            .at_ns
            .zip(times_ns.last())
            .map_or(0, |(at_ns, last_ns)| (at_ns - last_ns).max(0));
        let before = before.get(words.row).copied().flatten().map(duration);
        let elapsed = match next {
            Some(next) => next
                .saturating_sub(duration(early_ns))
                .max(before.unwrap_or_default()),
            None => before.unwrap_or_default() + duration(late_ns),
        };
        LogEvent {
            elapsed,
            line: words.line,
            text: words.text.clone(),
        }
    });
    let events = events.collect();
    let name = |name: String| Channel {
        name: file.mapping.name.get(&name).cloned().unwrap_or(name),
    };
    let scans = rows
        .readings
        .into_iter()
        .enumerate()
        .filter_map(|(row, readings)| {
            Some(Scan {
                elapsed: elapsed(row)?,
                readings,
            })
        });
    Log {
        files: Vec::new(),
        channels: names.into_iter().map(name).collect(),
        scans: scans.collect(),
        start: base.start.clone(),
        others,
        events,
        complaints: Vec::new(),
    }
}

/// For each row and behind the last: the last time before it, and the first at it or behind it.
fn neighbors(elapsed_ns: &[Option<i64>]) -> (Vec<Option<i64>>, Vec<Option<i64>>) {
    let mut last = None;
    let mut before = vec![None];
    for at in elapsed_ns {
        last = at.or(last);
        before.push(last);
    }
    let mut next = None;
    let mut after = vec![None];
    for at in elapsed_ns.iter().rev() {
        next = at.or(next);
        after.push(next);
    }
    after.reverse();
    (before, after)
}

fn duration(ns: i64) -> Duration {
    Duration::from_nanos(u64::try_from(ns).unwrap_or(0))
}

fn kind_of(role: Role) -> SeriesKind {
    match role {
        Role::SetPoint => SeriesKind::SetPoint,
        Role::Power => SeriesKind::Power,
        Role::Output => SeriesKind::Output,
        Role::ZoneState => SeriesKind::ZoneState,
        Role::Ambient => SeriesKind::Ambient,
        _ => SeriesKind::Other,
    }
}

pub(crate) fn preview(rows: &Rows, kind: TimeKind) -> Vec<PreviewRow> {
    let shown = rows
        .times_ns
        .iter()
        .zip(&rows.readings)
        .zip(&rows.lines)
        .take(PREVIEW);
    shown
        .map(|((ns, readings), line)| PreviewRow {
            line: *line,
            time: match kind {
                TimeKind::Start => format!("{:.1} s", *ns as f64 / 1e9),
                TimeKind::Clock => clock_of(*ns).to_string().replacen('T', " ", 1),
                TimeKind::Utc => format!("{} UTC", clock_of(*ns).to_string().replacen('T', " ", 1)),
            },
            readings: readings.clone(),
        })
        .collect()
}
