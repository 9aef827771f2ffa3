//! Files with one reading a row: time, channel, reading, and perhaps its unit.

use quantity::Celsius;

use crate::column::{Column, Role, of_role};
use crate::complaint::ComplaintKind;
use crate::reading_cell::Reader;
use crate::table::Table;
use crate::tally::Why;
use crate::timer::Timer;
use crate::wide::Rows;
use crate::words::words;

struct Single {
    at_ns: i64,
    line: usize,
    channel: usize,
    reading: Option<Celsius>,
}

/// Reads every row; the names of the channels come in the order in which they first stand in the file.
pub(crate) fn rows(
    lines: &[&str],
    table: &Table,
    columns: &[Column],
    reader: Reader,
    timer: &mut Timer,
) -> (Vec<String>, Rows) {
    let of = |role| of_role(columns, role).first().copied();
    let (Some(channel_at), Some(value_at)) = (of(Role::Channel), of(Role::Value)) else {
        return (Vec::new(), Rows::default());
    };
    let (unit_at, status_at) = (of(Role::Unit), of(Role::Status));
    let mut names: Vec<String> = Vec::new();
    let mut rows = Rows::default();
    let mut singles: Vec<Single> = Vec::new();
    let mut cells = Vec::new();
    for (index, line) in lines.iter().enumerate().skip(table.first_row) {
        if line.trim().is_empty() {
            continue;
        }
        if table.is_header(line, lines) {
            rows.complaints
                .push((index + 1, ComplaintKind::HeaderAgain));
            continue;
        }
        table.delimiter.split(line, &mut cells);
        let text_at = |place: usize| cells.get(place).copied().unwrap_or("").trim();
        let name = text_at(channel_at);
        let Some(at_ns) = timer.at(&cells).filter(|_| !name.is_empty()) else {
            let shown: String = line.trim().chars().take(60).collect();
            rows.complaints
                .push((index + 1, ComplaintKind::RowNotUnderstood(shown)));
            continue;
        };
        let channel = names
            .iter()
            .position(|known| known == name)
            .unwrap_or_else(|| {
                names.push(name.to_string());
                names.len() - 1
            });
        let mut reader = reader;
        if let Some(unit) = unit_at.and_then(|place| words().unit_of(text_at(place))) {
            reader.unit = unit;
        }
        let bad = status_at
            .map(text_at)
            .filter(|status| !words().is_good(status));
        let reading = match bad {
            Some(status) => {
                rows.tally.count(channel, Why::BadStatus, status, index + 1);
                None
            }
            None => reader.read(text_at(value_at), channel, index + 1, &mut rows.tally),
        };
        singles.push(Single {
            at_ns,
            line: index + 1,
            channel,
            reading,
        });
    }
    sorted(&mut singles, &mut rows);
    gathered(&singles, names.len(), &mut rows);
    (names, rows)
}

fn sorted(singles: &mut [Single], rows: &mut Rows) {
    let late = singles
        .windows(2)
        .filter(|pair| pair[1].at_ns < pair[0].at_ns)
        .count();
    if late > 0 {
        let first = singles
            .windows(2)
            .find(|pair| pair[1].at_ns < pair[0].at_ns);
        let line = first.map_or(1, |pair| pair[1].line);
        rows.complaints
            .push((line, ComplaintKind::Sorted { count: late }));
        singles.sort_by_key(|single| single.at_ns);
    }
}

/// Readings of one time become one row; a second reading of a channel at one time is left out.
fn gathered(singles: &[Single], channels: usize, rows: &mut Rows) {
    let mut told: Vec<bool> = Vec::new();
    for single in singles {
        if rows.times_ns.last() != Some(&single.at_ns) {
            rows.times_ns.push(single.at_ns);
            rows.lines.push(single.line);
            rows.readings.push(vec![None; channels]);
            told = vec![false; channels];
        }
        if told[single.channel] {
            rows.complaints
                .push((single.line, ComplaintKind::SameTimeAgain { count: 1 }));
            continue;
        }
        told[single.channel] = true;
        if let Some(last) = rows.readings.last_mut() {
            last[single.channel] = single.reading;
        }
    }
}
