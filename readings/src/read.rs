//! From the bytes of one file to a log.

use std::time::Duration;

use jiff::tz::TimeZone;
use quantity::Celsius;
use sha2::{Digest, Sha256};

use crate::cell::Decimal;
use crate::clock::{Back, TimeBase, time_base};
use crate::column::{Column, Role, columns, is_time, of_role};
use crate::complaint::{Complaint, ComplaintKind};
use crate::decimal::{Shown, shown};
use crate::head::{Head, head, scale};
use crate::its90::ThermocoupleType;
use crate::log::{Log, LogEvent, LogFile, Series, SeriesKind, Start};
use crate::mapping::Mapping;
use crate::moment::{DateOrder, date_time, stamp, zone};
use crate::question::Question;
use crate::reading_cell::Reader;
use crate::scan::{Channel, Scan};
use crate::table::{Table, lines, table};
use crate::text::decoded;
use crate::timer::{TimeKind, Timer, Told, clock_of};
use crate::understood::{PreviewRow, Understood, UnderstoodColumn};
use crate::wide::{self, Rows};
use crate::words::{Unit, words};
use crate::{delimiter, long};

/// Rows shown as they were understood.
const PREVIEW: usize = 10;

/// What came of reading a file.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The file.
    pub file: LogFile,
    /// How it was understood.
    pub understood: Understood,
    /// What it leaves open. As long as there is anything, there is no log.
    pub questions: Vec<Question>,
    /// What was not as it should be, by line.
    pub complaints: Vec<Complaint>,
    /// What it says; `None` while questions are open, and where nothing could be read.
    pub log: Option<Log>,
}

/// Reads the bytes of a file. `name` is only for the messages.
pub fn read(name: &str, bytes: &[u8], mapping: &Mapping) -> Reading {
    let decoded = decoded(bytes, mapping.encoding.as_deref());
    let text: &str = &decoded.text;
    let lines = lines(text);
    let mut reading = Reading {
        file: LogFile {
            name: name.to_string(),
            bytes: bytes.len(),
            sha256: hex(&Sha256::digest(bytes)),
            lines: lines.len(),
        },
        understood: Understood {
            encoding: decoded.encoding.to_string(),
            ..Understood::default()
        },
        questions: Vec::new(),
        complaints: Vec::new(),
        log: None,
    };
    if let Some(line) = decoded.bad_line {
        reading.complain(Some(line), ComplaintKind::BadBytes);
    }
    let delimiter = delimiter::chosen(&lines, mapping.delimiter.as_deref());
    let Some(table) = table(&lines, delimiter) else {
        let first: String = lines
            .first()
            .copied()
            .unwrap_or("")
            .chars()
            .take(60)
            .collect();
        reading.complain(Some(1), ComplaintKind::RowNotUnderstood(first));
        return reading;
    };
    let decimal = reading.decimal(&lines, &table, mapping);
    let columns = columns(&table, &lines, decimal, mapping);
    let file = File {
        lines: &lines,
        head: head(&table, &lines),
        table: &table,
        columns: &columns,
        decimal,
        mapping,
        open_end: !text.ends_with('\n') && !text.is_empty(),
    };
    reading.understand(&file);
    reading.read_rows(&file);
    reading
}

/// A file with all that was found out about it.
struct File<'a> {
    lines: &'a [&'a str],
    head: Head,
    table: &'a Table,
    columns: &'a [Column],
    decimal: Decimal,
    mapping: &'a Mapping,
    open_end: bool,
}

impl Reading {
    fn complain(&mut self, line: Option<usize>, kind: ComplaintKind) {
        let file = self.file.name.clone();
        self.complaints.push(Complaint { file, line, kind });
    }

    fn ask(
        &mut self,
        line: Option<usize>,
        key: &'static str,
        asks: &str,
        evidence: String,
        answers: &[&str],
    ) {
        self.questions.push(Question {
            file: self.file.name.clone(),
            line,
            key,
            asks: asks.to_string(),
            evidence,
            answers: answers.iter().map(ToString::to_string).collect(),
        });
    }

    fn decimal(&mut self, lines: &[&str], table: &Table, mapping: &Mapping) -> Decimal {
        match mapping.decimal.as_deref() {
            Some("comma") => return Decimal::Comma,
            Some(_) => return Decimal::Point,
            None => {}
        }
        match shown(&lines[table.first_row..], table.delimiter) {
            Shown::Sure(decimal) => decimal,
            Shown::Open => {
                let evidence = "Every comma in a number has three digits behind it.".to_string();
                self.ask(
                    Some(table.first_row + 1),
                    "decimal",
                    "Is the comma the decimal sign, or does it part thousands?",
                    evidence,
                    &["comma", "point"],
                );
                Decimal::Point
            }
        }
    }

    fn understand(&mut self, file: &File<'_>) {
        let shown = &mut self.understood;
        shown.delimiter = file.table.delimiter.word().to_string();
        shown.decimal = match file.decimal {
            Decimal::Point => "point",
            Decimal::Comma => "comma",
        }
        .to_string();
        shown.header_line = file.table.header.map(|index| index + 1);
        shown.first_row_line = Some(file.table.first_row + 1);
        let column = |c: &Column| UnderstoodColumn {
            name: c.name.clone(),
            role: c.role.words(),
            unit: c.unit_words.clone(),
        };
        shown.columns = file.columns.iter().map(column).collect();
    }

    fn read_rows(&mut self, file: &File<'_>) {
        let order = self.date_order(file);
        let Some(mut timer) = self.timer(file, order) else {
            return;
        };
        let Some(unit) = self.unit(file) else {
            return;
        };
        let factor = self.scale(file);
        let reader = |column: &Column| Reader {
            decimal: file.decimal,
            unit: match file.mapping.unit.as_deref() {
                Some(_) => unit,
                None => column.unit.filter(|u| *u != Unit::Other).unwrap_or(unit),
            },
            scale: scale(&column.name).unwrap_or(factor),
            codes: column.looks.whole == column.looks.numbers,
            couple: couple(file.mapping),
        };
        let values = of_role(file.columns, Role::Value);
        let (names, rows) = match values.first() {
            Some(value) => long::rows(
                file.lines,
                file.table,
                file.columns,
                reader(&file.columns[*value]),
                &mut timer,
            ),
            None => {
                let places = of_role(file.columns, Role::Temperature);
                let names = places
                    .iter()
                    .map(|c| file.columns[*c].name.clone())
                    .collect();
                let plan = wide::Plan {
                    table: file.table,
                    columns: file.columns,
                    temperatures: places
                        .iter()
                        .map(|c| (*c, reader(&file.columns[*c])))
                        .collect(),
                    decimal: file.decimal,
                    open_end: file.open_end,
                };
                (names, wide::rows(file.lines, &plan, &mut timer))
            }
        };
        self.finish(file, &timer, order, names, rows);
    }

    /// The order of day and month: said, or decided by a row with a day above 12, or asked.
    fn date_order(&mut self, file: &File<'_>) -> Option<DateOrder> {
        let said = match file.mapping.date_order.as_deref() {
            Some("day_first") => Some(DateOrder::DayFirst),
            Some("month_first") => Some(DateOrder::MonthFirst),
            _ => None,
        };
        let places: Vec<usize> = (0..file.columns.len())
            .filter(|c| matches!(file.columns[*c].role, Role::Date | Role::Time))
            .collect();
        let mut cells = Vec::new();
        let mut open: Option<(usize, String)> = None;
        let mut decided = None;
        for (index, line) in file.lines.iter().enumerate().skip(file.table.first_row) {
            file.table.delimiter.split(line, &mut cells);
            for date in places
                .iter()
                .filter_map(|c| cells.get(*c))
                .filter_map(|c| stamp(c)?.date)
            {
                decided = date.decides();
                if matches!(date, crate::moment::DateParts::Open(..)) && open.is_none() {
                    open = Some((index + 1, line.chars().take(40).collect()));
                }
            }
            // Dates that are written without doubt need no search.
            if decided.is_some() || open.is_none() && index > file.table.first_row + PREVIEW {
                break;
            }
        }
        if open.is_none()
            && let (Some(date), Some(line)) = (file.head.date, file.head.date_line)
            && matches!(date, crate::moment::DateParts::Open(..))
        {
            decided = date.decides();
            open = Some((line, file.lines[line - 1].chars().take(40).collect()));
        }
        let order = said.or(decided);
        self.understood.date_order = open.as_ref().and(order).map(|order| {
            match order {
                DateOrder::DayFirst => "day first",
                DateOrder::MonthFirst => "month first",
            }
            .to_string()
        });
        if let (Some((line, shown)), None) = (open, order) {
            self.ask(
                Some(line),
                "date_order",
                "Does the day or the month stand first?",
                format!("No date of the file has a number above 12 there: \"{shown}\"."),
                &["day_first", "month_first"],
            );
        }
        order
    }

    fn timer(&mut self, file: &File<'_>, order: Option<DateOrder>) -> Option<Timer> {
        let elapsed = of_role(file.columns, Role::Elapsed).first().copied();
        let serial = of_role(file.columns, Role::Serial).first().copied();
        let clocked = file
            .columns
            .iter()
            .any(|c| matches!(c.role, Role::Time | Role::Date | Role::Epoch));
        let unit_s = match (elapsed, clocked) {
            (Some(column), false) => self.elapsed_unit_s(file, column),
            _ => None,
        };
        let base = file.mapping.date_base.as_deref().or(file.head.date_base);
        if let (Some(_), None, false) = (serial, base, clocked) {
            self.ask(
                Some(file.table.first_row + 1),
                "date_base",
                "From which year does the spreadsheet count its days?",
                "The dates are plain numbers of days.".into(),
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
        let timer = Timer::new(file.columns, told);
        let Some(timer) = timer else {
            let evidence = format!("The columns are {}.", names_of(file.columns).join(", "));
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
    fn unit(&mut self, file: &File<'_>) -> Option<Unit> {
        let of_heat: Vec<&Column> = file
            .columns
            .iter()
            .filter(|c| matches!(c.role, Role::Temperature | Role::Value))
            .collect();
        if of_heat.is_empty() {
            let evidence = format!("The columns are {}.", names_of(file.columns).join(", "));
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
            Some(_) => Some(Unit::Celsius),
            None => None,
        };
        let rows_say = !of_role(file.columns, Role::Unit).is_empty();
        let stated = of_heat
            .iter()
            .find_map(|c| c.unit.filter(|u| *u != Unit::Other));
        let unit = said
            .or(stated)
            .or(file.head.unit)
            .or(rows_say.then_some(Unit::Celsius));
        if said.is_none() {
            self.note_mixed(&of_heat);
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
            self.ask(
                Some(file.table.first_row + 1),
                "unit",
                "Are the temperatures in °C or °F?",
                format!("The file does not say; the first rows reach {highest}."),
                &["C", "F"],
            );
        }
        Some(unit.unwrap_or(Unit::Celsius))
    }

    fn note_mixed(&mut self, of_heat: &[&Column]) {
        let mut units: Vec<Unit> = of_heat
            .iter()
            .filter_map(|c| c.unit)
            .filter(|u| *u != Unit::Other)
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

    /// What whole numbers are multiplied with: said, or above the rows, or asked where readings could not be temperatures.
    fn scale(&mut self, file: &File<'_>) -> f64 {
        let said = file
            .mapping
            .scale
            .as_deref()
            .and_then(|s| s.parse::<f64>().ok());
        if let Some(factor) = said.or(file.head.scale) {
            return factor;
        }
        let of_heat = file
            .columns
            .iter()
            .filter(|c| matches!(c.role, Role::Temperature | Role::Value));
        let strange = |c: &&Column| {
            let whole = c.looks.numbers > 0 && c.looks.whole == c.looks.numbers;
            let coded = words().code(c.looks.highest as i64).is_some()
                || words().code(c.looks.lowest as i64).is_some();
            whole
                && scale(&c.name).is_none()
                && (c.looks.highest > words().reach.highest_c || coded)
        };
        let found: Vec<&Column> = of_heat.filter(strange).collect();
        if let Some(column) = found.first() {
            self.ask(
                Some(file.table.first_row + 1),
                "scale",
                "What are the whole numbers to be multiplied with?",
                format!(
                    "{} holds whole numbers from {} to {}.",
                    column.name, column.looks.lowest, column.looks.highest
                ),
                &["0.1", "1"],
            );
        }
        1.0
    }

    fn finish(
        &mut self,
        file: &File<'_>,
        timer: &Timer,
        order: Option<DateOrder>,
        names: Vec<String>,
        rows: Rows,
    ) {
        let zone = file.mapping.time_zone.as_deref().and_then(zone);
        let back = match file.mapping.clock_back.as_deref() {
            Some("summer_time_ends") => Back::SummerTimeEnds,
            Some(_) => Back::LeaveOut,
            None => Back::Ask,
        };
        let mut base = time_base(&rows.times_ns, timer.kind, zone.as_ref(), back);
        if timer.kind == TimeKind::Start {
            self.start_of_elapsed(file, order, zone.as_ref(), &mut base);
        }
        if let Some((row, back_s)) = base.asked {
            self.ask(
                Some(rows.lines[row]),
                "clock_back",
                "Why does the clock go back here?",
                format!("It goes back by {back_s} s."),
                &["summer_time_ends", "leave_out"],
            );
        }
        for (row, kind) in std::mem::take(&mut base.complaints) {
            self.complain(Some(rows.lines[row]), kind);
        }
        for (line, kind) in &rows.complaints {
            self.complain(Some(*line), kind.clone());
        }
        for (line, kind) in rows.tally.clone().complaints(&names) {
            self.complain(Some(line), kind);
        }
        self.complaints.sort_by_key(|c| c.line);
        self.understood.preview = preview(&rows, timer.kind);
        let mut log = log(file, names, rows, &base);
        self.flag_fahrenheit(file, &log);
        if self.questions.is_empty() && !log.scans.is_empty() {
            log.files = vec![self.file.clone()];
            log.complaints = self.complaints.clone();
            self.log = Some(log);
        }
    }

    /// When a file that counts from its start began: said, or above the rows, or asked.
    fn start_of_elapsed(
        &mut self,
        file: &File<'_>,
        order: Option<DateOrder>,
        zone: Option<&TimeZone>,
        base: &mut TimeBase,
    ) {
        let written = file
            .head
            .date_in(order)
            .zip(file.head.time)
            .map(|(d, t)| d.to_datetime(t));
        let said = file.mapping.start.as_deref().and_then(date_time);
        let Some(start) = said.or(written) else {
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

    /// Degrees Celsius at a plateau where a hold in °F would lie.
    fn flag_fahrenheit(&mut self, file: &File<'_>, log: &Log) {
        if file.mapping.unit.is_some() {
            return;
        }
        let mut hottest: Vec<f64> = log
            .scans
            .iter()
            .filter_map(|scan| {
                scan.readings
                    .iter()
                    .flatten()
                    .map(|t| t.c())
                    .reduce(f64::max)
            })
            .collect();
        hottest.sort_by(f64::total_cmp);
        let reach = &words().reach;
        // The temperature above which the hottest tenth of the log lies: a hold takes at least that long.
        if let Some(plateau) = hottest.get(hottest.len() * 9 / 10)
            && (reach.fahrenheit_hold_from..=reach.fahrenheit_hold_to).contains(plateau)
        {
            let plateau = plateau.round() as i64;
            self.complain(None, ComplaintKind::LooksLikeFahrenheit { plateau });
        }
    }
}

fn log(file: &File<'_>, names: Vec<String>, rows: Rows, base: &TimeBase) -> Log {
    let elapsed = |row: usize| base.elapsed_ns.get(row).copied().flatten().map(duration);
    let first_after = |row: usize| (row..base.elapsed_ns.len()).find_map(elapsed);
    let last_before = |row: usize| (0..row.min(base.elapsed_ns.len())).rev().find_map(elapsed);
    let others = rows.others.iter().map(|(column, points)| Series {
        name: file.columns[*column].name.clone(),
        kind: kind_of(file.columns[*column].role),
        unit: file.columns[*column].unit_words.clone(),
        points: points
            .iter()
            .filter_map(|(row, number)| Some((elapsed(*row)?, *number)))
            .collect(),
    });
    let others = others.collect();
    let events = rows.events.iter().map(|(row, line, text)| LogEvent {
        elapsed: first_after(*row)
            .or_else(|| last_before(*row))
            .unwrap_or_default(),
        line: *line,
        text: text.clone(),
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

fn couple(mapping: &Mapping) -> Option<(ThermocoupleType, f64)> {
    let couple = ThermocoupleType::of_letter(mapping.thermocouple_type.as_deref()?)?;
    Some((couple, mapping.cold_junction.as_deref()?.parse().ok()?))
}

fn names_of(columns: &[Column]) -> Vec<&str> {
    columns
        .iter()
        .filter(|c| !is_time(c.role))
        .map(|c| c.name.as_str())
        .collect()
}

fn preview(rows: &Rows, kind: TimeKind) -> Vec<PreviewRow> {
    let reading = |r: &Option<Celsius>| r.map_or("–".to_string(), |t| format!("{:.1}", t.c()));
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
            readings: readings.iter().map(reading).collect(),
        })
        .collect()
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
