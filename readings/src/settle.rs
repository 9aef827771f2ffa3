//! What has to be settled before rows can be read: said by a person, shown by the file, or asked.

use jiff::tz::TimeZone;

use crate::clock::TimeBase;
use crate::column::{Column, is_time, of_role};
use crate::complaint::ComplaintKind;
use crate::file::File;
use crate::its90::ThermocoupleType;
use crate::log::Start;
use crate::mapping::Mapping;
use crate::moment::{DateOrder, DateParts, date_time, stamp};
use crate::read::Reading;
use crate::role::Role;
use crate::timer::{Timer, Told};
use crate::words::Unit;

/// Rows without an open date after which none is looked for.
const ENOUGH: usize = 10;

/// What the dates of a part show of the order of day and month.
#[derive(Default)]
struct Dates {
    /// The first date that could be taken two ways, with its line.
    open: Option<(usize, String)>,
    /// Whether dates are three numbers of two digits.
    short: bool,
    decided: Option<DateOrder>,
}

impl File<'_> {
    fn dates(&self) -> Dates {
        let mut found = Dates::default();
        let places: Vec<usize> = (0..self.columns.len())
            .filter(|c| matches!(self.columns[*c].role, Role::Date | Role::Time))
            .collect();
        let mut cells = Vec::new();
        for (index, line) in self.lines.iter().enumerate().skip(self.table.first_row) {
            self.table.delimiter.split(line, &mut cells);
            for date in places
                .iter()
                .filter_map(|c| cells.get(*c))
                .filter_map(|c| stamp(c)?.date)
            {
                found.decided = date.decides();
                found.short |= matches!(date, DateParts::Short(_));
                if date.is_open() && found.open.is_none() {
                    found.open = Some((index + 1, line.chars().take(40).collect()));
                }
            }
            // Dates that are written without doubt need no search.
            if found.decided.is_some()
                || found.open.is_none() && index > self.table.first_row + ENOUGH
            {
                break;
            }
        }
        if found.open.is_none()
            && let (Some(date), Some(line)) = (self.head.date, self.head.date_line)
            && date.is_open()
        {
            found.short |= matches!(date, DateParts::Short(_));
            found.decided = date.decides();
            found.open = Some((line, self.lines[line - 1].chars().take(40).collect()));
        }
        found
    }
}

impl Reading {
    /// The order of day and month: said, or decided by a row with a day above 12, or asked.
    pub(crate) fn date_order(&mut self, files: &[File<'_>]) -> Option<DateOrder> {
        let said = match files.first()?.mapping.date_order.as_deref() {
            Some("day_first") => Some(DateOrder::Day),
            Some("month_first") => Some(DateOrder::Month),
            Some("year_first") => Some(DateOrder::Year),
            _ => None,
        };
        let mut open: Option<(usize, String)> = None;
        let (mut short, mut decided) = (false, None);
        for file in files {
            let dates = file.dates();
            open = open.or(dates.open);
            short |= dates.short;
            decided = decided.or(dates.decided);
        }
        let order = said.or(decided);
        self.understood.date_order = open.as_ref().and(order).map(|order| {
            match order {
                DateOrder::Day => "day first",
                DateOrder::Month => "month first",
                DateOrder::Year => "year first",
            }
            .to_string()
        });
        if let (Some((line, shown)), None) = (open, order) {
            let (asks, evidence, answers): (_, _, &[&str]) = match short {
                true => (
                    "Does the day, the month or the year stand first?",
                    "Dates are written in three numbers of two digits",
                    &["day_first", "month_first", "year_first"],
                ),
                false => (
                    "Does the day or the month stand first?",
                    "No date of the file has a number above 12 there",
                    &["day_first", "month_first"],
                ),
            };
            let evidence = format!("{evidence}: \"{shown}\".");
            self.ask(Some(line), "date_order", asks, evidence, answers);
        }
        order
    }

    pub(crate) fn timer(&mut self, file: &File<'_>, order: Option<DateOrder>) -> Option<Timer> {
        let elapsed = of_role(&file.columns, Role::Elapsed).first().copied();
        let serial = of_role(&file.columns, Role::Serial).first().copied();
        let clocked = file
            .columns
            .iter()
            .any(|c| matches!(c.role, Role::Time | Role::Date | Role::Epoch));
        let unit_s = match (elapsed, clocked) {
            (Some(column), false) => self.elapsed_unit_s(file, column),
            _ => None,
        };
        let base = file.mapping.date_base.as_deref().or(file.head.date_base);
        if let (Some(serial), None, false) = (serial, base, clocked) {
            self.ask(
                Some(file.table.first_row + 1),
                "date_base",
                "From which year does the spreadsheet count its days?",
                both_dates(file.columns[serial].looks.lowest),
                &["1900", "1904"],
            );
        }
        let said: Option<jiff::civil::Date> =
            file.mapping.date.as_deref().and_then(|d| d.parse().ok());
        let day = said.or_else(|| file.head.date_in(order));
        let told = Told {
            decimal: file.decimal,
            order,
            unit_s,
            base_1904: base == Some("1904"),
            day,
        };
        let timer = Timer::new(&file.columns, told);
        let Some(timer) = timer else {
            let evidence = format!("The columns are {}.", names_of(&file.columns).join(", "));
            self.ask(
                None,
                "column.NAME",
                "Which column tells the time?",
                evidence,
                &["time", "elapsed"],
            );
            return None;
        };
        let mut cells = Vec::new();
        file.table
            .delimiter
            .split(file.lines[file.table.first_row], &mut cells);
        if timer.lacks_day(&cells)
            && day.is_none()
            && self.questions.iter().all(|q| q.key != "date_order")
        {
            self.ask(
                Some(file.table.first_row + 1),
                "date",
                "On which day does the file begin?",
                "It tells the time of day only.".into(),
                &["2026-03-28 (for example)"],
            );
        }
        Some(timer)
    }

    /// Seconds in the unit of a time since the start: said, or in the name of its column, or asked.
    fn elapsed_unit_s(&mut self, file: &File<'_>, column: usize) -> Option<f64> {
        let column = &file.columns[column];
        let unit_s = |word: &str| match word {
            "s" | "sec" | "secs" | "second" | "seconds" | "epoch_s" => Some(1.0),
            "min" | "mins" | "minute" | "minutes" => Some(60.0),
            "h" | "hr" | "hrs" | "hour" | "hours" => Some(3600.0),
            "ms" | "epoch_ms" => Some(1e-3),
            _ => None,
        };
        if let Some(said) = file.mapping.time_unit.as_deref().and_then(unit_s) {
            return Some(said);
        }
        let name = format!("{} {}", column.name, column.unit_words).to_lowercase();
        let named = name.split(|c: char| !c.is_alphabetic()).find_map(unit_s);
        if named.is_none() && column.looks.numbers > 0 {
            self.ask(
                Some(file.table.first_row + 1),
                "time_unit",
                "In which unit is the time?",
                format!(
                    "Column \"{}\" holds {} to {}.",
                    column.name, column.looks.lowest, column.looks.highest
                ),
                &["s", "min", "h"],
            );
        }
        named
    }

    /// The unit of the temperatures: said, or in the file, or asked.
    pub(crate) fn unit(&mut self, file: &File<'_>) -> Option<Unit> {
        let of_heat: Vec<&Column> = file
            .columns
            .iter()
            .filter(|c| matches!(c.role, Role::Temperature | Role::Value))
            .collect();
        if of_heat.is_empty() {
            let evidence = format!("The columns are {}.", names_of(&file.columns).join(", "));
            self.ask(
                None,
                "column.NAME",
                "Which column holds a temperature?",
                evidence,
                &["temperature"],
            );
            return None;
        }
        let said = match file.mapping.unit.as_deref() {
            Some("F") => Some(Unit::Fahrenheit),
            Some("mV") => Some(Unit::Millivolt),
            Some("K") => Some(Unit::Kelvin),
            Some(_) => Some(Unit::Celsius),
            None => None,
        };
        let rows_say = !of_role(&file.columns, Role::Unit).is_empty();
        let stated = of_heat.iter().find_map(|c| c.unit.filter(|u| u.is_sure()));
        let unit = said
            .or(stated)
            .or(file.head.unit.filter(|u| u.is_sure()))
            .or(rows_say.then_some(Unit::Celsius));
        match (said, stated.or(file.head.unit)) {
            (None, _) => self.note_mixed(&of_heat),
            (Some(said), Some(stated)) if said != stated => {
                self.complain(
                    None,
                    ComplaintKind::SaidOtherwise {
                        said: file.mapping.unit.clone().unwrap_or_default(),
                        stated: stated.words().to_string(),
                    },
                );
            }
            _ => {}
        }
        if unit == Some(Unit::Millivolt) && couple(file.mapping).is_none() {
            let key = match file.mapping.thermocouple_type {
                None => "thermocouple_type",
                Some(_) => "cold_junction",
            };
            let asks = "Which thermocouples, and how warm is their cold junction in °C?";
            self.ask(
                None,
                key,
                asks,
                "The file holds voltages.".into(),
                &["K", "25"],
            );
        }
        if unit.is_none() {
            let highest = of_heat
                .iter()
                .map(|c| c.looks.highest)
                .fold(f64::NEG_INFINITY, f64::max);
            let letter = of_heat.iter().any(|c| c.unit == Some(Unit::PerhapsKelvin));
            if letter || file.head.unit == Some(Unit::PerhapsKelvin) {
                self.ask(
                    Some(file.table.first_row + 1),
                    "unit",
                    "Are the temperatures in kelvins, or does the K mark thermocouples of type K?",
                    format!(
                        "The file says K and nothing else; the rows looked at reach {highest}."
                    ),
                    &["K", "C", "F"],
                );
                return Some(Unit::Celsius);
            }
            self.ask(
                Some(file.table.first_row + 1),
                "unit",
                "Are the temperatures in °C or °F?",
                format!("The file does not say; the rows looked at reach {highest}."),
                &["C", "F"],
            );
        }
        Some(unit.unwrap_or(Unit::Celsius))
    }

    fn note_mixed(&mut self, of_heat: &[&Column]) {
        let mut units: Vec<Unit> = of_heat
            .iter()
            .filter_map(|c| c.unit)
            .filter(|u| u.is_sure())
            .collect();
        units.dedup();
        if units.len() > 1 {
            let told: Vec<String> = of_heat
                .iter()
                .map(|c| format!("{} {}", c.name, c.unit_words))
                .collect();
            self.complain(None, ComplaintKind::MixedUnits(told.join(", ")));
        }
    }

    /// When a file that counts from its start began: said, or above the rows, or asked.
    pub(crate) fn start_of_elapsed(
        &mut self,
        file: &File<'_>,
        order: Option<DateOrder>,
        zone: Option<&TimeZone>,
        base: &mut TimeBase,
        first_ns: i64,
    ) {
        let written = file
            .head
            .date_in(order)
            .zip(file.head.time)
            .map(|(d, t)| d.to_datetime(t));
        let said = file.mapping.start.as_deref().and_then(date_time);
        // What is said or written is the moment from which the file counts; its first row may be later.
        let first_row = |start: jiff::civil::DateTime| {
            start
                .checked_add(jiff::SignedDuration::from_nanos(first_ns))
                .ok()
        };
        let Some(start) = said.or(written).and_then(first_row) else {
            if self.questions.iter().all(|q| q.key != "date_order") {
                self.ask(
                    Some(1),
                    "start",
                    "When did the log begin?",
                    "It counts from its start and does not say when that was.".into(),
                    &["2026-03-28 21:15 (for example)"],
                );
            }
            return;
        };
        base.start = match zone.and_then(|zone| zone.to_zoned_datetime(start).ok()) {
            Some(zoned) => Start::Moment {
                at: zoned.timestamp(),
                zone: zoned.time_zone().clone(),
            },
            None => Start::Local(start),
        };
    }
}

/// The thermocouples whose voltages were logged, and their cold junction in °C.
pub(crate) fn couple(mapping: &Mapping) -> Option<(ThermocoupleType, f64)> {
    let couple = ThermocoupleType::of_letter(mapping.thermocouple_type.as_deref()?)?;
    Some((couple, mapping.cold_junction.as_deref()?.parse().ok()?))
}

/// The first day of a spreadsheet by both ways to count.
fn both_dates(days: f64) -> String {
    let from = |first: jiff::civil::Date| {
        let days = jiff::Span::new().try_days(days.floor() as i64).ok()?;
        first.checked_add(days).ok()
    };
    let ways = from(jiff::civil::date(1899, 12, 30)).zip(from(jiff::civil::date(1904, 1, 1)));
    let first = ways.map_or(String::new(), |(by_1900, by_1904)| {
        format!(" The first is {by_1900} counted from 1900, {by_1904} counted from 1904.")
    });
    format!("The dates are plain numbers of days.{first}")
}

fn names_of(columns: &[Column]) -> Vec<&str> {
    columns
        .iter()
        .filter(|c| !is_time(c.role))
        .map(|c| c.name.as_str())
        .collect()
}
