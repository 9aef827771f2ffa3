//! What the lines above the rows say: unit, start, scale.

use jiff::civil::{Date, Time};

use jiff::tz::TimeZone;

use crate::moment::{DateParts, Stamp, stamp, zone};
use crate::scale::{Scale, is_heading, stated};
use crate::table::Table;
use crate::words::{Unit, words};

/// What the lines above the rows say.
#[derive(Clone, Debug, Default)]
pub(crate) struct Head {
    pub unit: Option<Unit>,
    pub date: Option<DateParts>,
    pub time: Option<Time>,
    /// The line with the date.
    pub date_line: Option<usize>,
    /// Whether a line says when the log began, with date and time.
    pub started: bool,
    /// What whole numbers are to be multiplied with.
    pub scale: Option<Scale>,
    /// The line that says so.
    pub scale_line: Option<usize>,
    /// The day from which a spreadsheet counts.
    pub date_base: Option<&'static str>,
    /// The zone of the clock.
    pub zone: Option<TimeZone>,
}

/// Reads the lines above the rows; those close above a part of the file count more than those above all of it.
pub(crate) fn head(table: &Table, lines: &[&str]) -> Head {
    let mut head = Head::default();
    head.take_lines(lines, table.floor..table.first_row);
    head.take_lines(lines, 0..table.preamble);
    head
}

impl Head {
    pub fn take_lines(&mut self, lines: &[&str], range: std::ops::Range<usize>) {
        // A line that speaks of the start counts more than one that speaks of any date.
        let about_start = |index: &usize| lines[*index].to_lowercase().contains("start");
        for index in range.clone().filter(about_start).chain(range) {
            self.take(index + 1, lines[index]);
        }
    }

    fn take(&mut self, line: usize, text: &str) {
        let parts: Vec<&str> = text
            .split([';', '\t', '=', '|'])
            .flat_map(|part| part.split(": "))
            .map(|part| part.trim().trim_matches('"').trim_end_matches(':').trim())
            .filter(|part| !part.is_empty())
            .collect();
        let lower = text.to_lowercase();
        let speaks_of_unit =
            lower.contains("unit") || lower.contains("einheit") || lower.contains("temp");
        if speaks_of_unit && self.unit.is_none_or(|unit| !unit.is_sure()) {
            let tokens = parts.iter().flat_map(|p| p.split([',', ' ']).chain([*p]));
            let mut found: Vec<Unit> = tokens.filter_map(|t| words().unit_of(t)).collect();
            found.retain(|unit| *unit != Unit::Other);
            let sure = found.iter().copied().find(|unit| unit.is_sure());
            self.unit = sure.or(self.unit).or(found.first().copied());
        }
        if lower.contains("1904") {
            self.date_base = Some("1904");
        }
        if self.scale.is_none() && is_heading(text) {
            self.scale = parts.iter().find_map(|part| stated(part));
            self.scale_line = self.scale.map(|_| line);
        }
        let speaks_of_zone = ["zone", "utc", "gmt", "fuseau"]
            .iter()
            .any(|w| lower.contains(w));
        if speaks_of_zone && self.zone.is_none() {
            self.zone = stated_zone(&parts);
        }
        let about_start = ["start", "begin", "début", "inicio"]
            .iter()
            .any(|w| lower.contains(w));
        for read in stamps(&parts) {
            self.started |= about_start && read.date.is_some() && read.time.is_some();
            self.take_stamp(line, read);
        }
    }

    fn take_stamp(&mut self, line: usize, read: Stamp) {
        if self.date.is_none() && read.date.is_some() {
            (self.date, self.date_line) = (read.date, Some(line));
            self.time = read.time.or(self.time);
        } else if self.time.is_none() {
            self.time = read.time;
        }
    }

    /// The date, where its order is known or given.
    pub fn date_in(&self, order: Option<crate::moment::DateOrder>) -> Option<Date> {
        match (self.date?, order) {
            (DateParts::Sure(date), _) => Some(date),
            (open, Some(order)) => open.in_order(order),
            (_, None) => None,
        }
    }
}

/// Dates and times in the parts of a line, alone or with the part behind.
fn stamps(parts: &[&str]) -> Vec<Stamp> {
    let mut found = Vec::new();
    for (index, part) in parts.iter().enumerate() {
        let words_before = part.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
        let read = stamp(part)
            .or_else(|| stamp(&part[words_before..]))
            .or_else(|| {
                parts
                    .get(index + 1)
                    .and_then(|next| stamp(&format!("{part} {next}")))
            });
        found.extend(read);
    }
    found
}

/// A zone by its name (`Europe/Lisbon`), as an offset (`UTC+1`, `+01:00`) or as `UTC`.
pub(crate) fn stated_zone(parts: &[&str]) -> Option<TimeZone> {
    let tokens = || {
        let tokens = parts
            .iter()
            .flat_map(|part| part.split([' ', ',', '(', ')', '[', ']']));
        tokens.filter(|token| !token.is_empty())
    };
    let named = tokens().filter(|t| t.contains('/')).find_map(zone);
    named.or_else(|| tokens().find_map(offset_zone))
}

/// `UTC`, `UTC+1`, `GMT-05:30`, `+01:00`.
fn offset_zone(token: &str) -> Option<TimeZone> {
    let upper = token.to_uppercase();
    let behind = upper
        .strip_prefix("UTC")
        .or_else(|| upper.strip_prefix("GMT"));
    let offset = match behind {
        Some("") => return Some(TimeZone::UTC),
        Some(behind) => behind,
        None => upper.as_str(),
    };
    let sign = offset.chars().next().filter(|c| matches!(c, '+' | '-'))?;
    let (hours, minutes) = offset[1..].split_once(':').unwrap_or((&offset[1..], "00"));
    let hours = match hours.len() {
        1 => format!("0{hours}"),
        2 => hours.to_string(),
        _ => return None,
    };
    zone(&format!("{sign}{hours}:{minutes}"))
}
