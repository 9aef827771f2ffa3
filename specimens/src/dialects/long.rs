//! One reading a line: time with its offset, channel, value, unit; later channels at half the pace, out of order.

use jiff::tz::Offset;

use super::with_cell;
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Scan, Sheet, Specimen, shown_c, tenth};

pub(super) fn write(recording: &Recording) -> Specimen {
    let above = vec!["time;channel;value;unit".to_owned()];
    let mut sheet = Sheet::new("log.csv", above, "\n", Encoding::Utf8);
    let order = order(recording.rows.len());
    for index in order {
        let stamp = stamp(recording, &recording.rows[index]);
        let first = sheet.lines.len();
        // The first row has the channels in their order, the others against it.
        for channel in channels(recording, index) {
            let reading = tenth(recording.rows[index].shown[channel], "");
            let line = format!("{stamp};{};{reading};°C", recording.channels[channel]);
            if index == 0 {
                sheet.lines.push(line);
            } else {
                sheet.lines.insert(first, line);
            }
        }
        sheet.rows.push(sheet.lines.len() - 1);
    }
    let mut whole = Specimen::new(sheet, recording);
    whole.scans = scans(recording);
    whole
}

/// Every third row changes places with the one behind it.
fn order(rows: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..rows).collect();
    for at in (2..rows.saturating_sub(1)).step_by(3) {
        order.swap(at, at + 1);
    }
    order
}

/// The first half of the channels in every row, the others in every second.
fn channels(recording: &Recording, row: usize) -> std::ops::Range<usize> {
    let all = recording.channels.len();
    0..if row.is_multiple_of(2) {
        all
    } else {
        all.div_ceil(2)
    }
}

fn stamp(recording: &Recording, row: &Row) -> String {
    let as_utc = |at| {
        Offset::UTC
            .to_timestamp(at)
            .map_or(0, |t: jiff::Timestamp| t.as_second())
    };
    let start_s = recording
        .rows
        .first()
        .map_or(0, |first| as_utc(first.clock));
    let ahead_s = as_utc(row.clock) - start_s - row.told_s + recording.ahead_of_utc_s;
    format!(
        "{}+{:02}:00",
        row.clock.strftime("%Y-%m-%dT%H:%M:%S"),
        ahead_s / 3600
    )
}

fn scans(recording: &Recording) -> Vec<Scan> {
    let scan = |(index, row): (usize, &Row)| {
        let there = channels(recording, index);
        let reading = |channel: usize| {
            there
                .contains(&channel)
                .then(|| shown_c(row.shown[channel]))
                .flatten()
        };
        Scan {
            elapsed_s: row.told_s as f64,
            readings_c: (0..recording.channels.len()).map(reading).collect(),
        }
    };
    recording.rows.iter().enumerate().map(scan).collect()
}

/// The last line of a row is its first channel.
pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    let place = order(recording.rows.len())
        .iter()
        .position(|r| *r == row)
        .unwrap_or(row);
    whole.scans[row].readings_c[0] = None;
    whole.break_row(place, Harm::WordForNumber, |line| {
        with_cell(line, ';', 2, "n.d.")
    })
}
