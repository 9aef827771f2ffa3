//! A print-out: fixed columns, a head on every page, two blocks side by side, a letter behind each reading.

use jiff::ToSpan;
use jiff::civil::DateTime;

use crate::fault::Shown;
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen, Told, tenth};

/// Rows on a page.
const PAGE: usize = 55;

pub(super) fn write(recording: &Recording) -> Specimen {
    let mut sheet = Sheet::new("log.prn", Vec::new(), "\r\n", Encoding::Utf8);
    for (index, row) in recording.rows.iter().enumerate() {
        if index.is_multiple_of(PAGE) {
            sheet.lines.extend(head(recording, index / PAGE + 1));
        }
        sheet.row(line(row, row.clock));
    }
    let mut whole = Specimen::new(sheet, recording);
    whole.told.push(Told::DayFirst);
    whole
}

fn head(recording: &Recording, page: usize) -> [String; 3] {
    let (left, right) = recording
        .channels
        .split_at(recording.channels.len().div_ceil(2));
    let block = |names: &[String]| {
        let names: String = names.iter().map(|name| format!("{name:>12}")).collect();
        format!("   {:<17}{names}", "TIME")
    };
    [
        format!("HEAT TREATMENT RECORD{:>40} {page}", "PAGE"),
        String::new(),
        format!("{}   {}", block(left), block(right)),
    ]
}

fn line(row: &Row, second_clock: DateTime) -> String {
    let (left, right) = row.shown.split_at(row.shown.len().div_ceil(2));
    format!(
        "{}   {}",
        block(row.clock, left),
        block(second_clock, right)
    )
}

fn block(clock: DateTime, shown: &[Shown]) -> String {
    let reading = |s: &Shown| format!("{:>12}", format!("{} C", tenth(*s, "---")));
    let readings: String = shown.iter().map(reading).collect();
    format!("   {}{readings}", clock.strftime("%d/%m/%y %H:%M:%S"))
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let later = recording.rows[row].clock.saturating_add(1.minutes());
    let changed = line(&recording.rows[row], later);
    write(recording).break_row(row, Harm::BlocksDisagree, |_| changed.clone())
}
