//! From the bytes of one file to a log.

use std::borrow::Cow;

use jiff::tz::TimeZone;

use crate::assemble::{log, preview};
use crate::cell::Decimal;
use crate::clock::{Back, time_base};
use crate::column::{Column, Role, columns, of_role, told_apart};
use crate::comma_twice::{Commas, commas};
use crate::complaint::{Complaint, ComplaintKind};
use crate::decimal::{Shown, shown};
use crate::delimiter::Delimiter;
use crate::digest::sha256;
use crate::head::{Head, head, scale, stated_zone};
use crate::log::{Log, LogFile};
use crate::mapping::Mapping;
use crate::moment::{DateOrder, zone};
use crate::question::Question;
use crate::reading_cell::Reader;
use crate::settle::couple;
use crate::stated_weld::stated_weld;
use crate::table::{Table, lines, table};
use crate::text::decoded;
use crate::timer::{TimeKind, Timer};
use crate::understood::{Understood, UnderstoodColumn};
use crate::wide::{self, Rows};
use crate::words::{Unit, words};
use crate::{delimiter, long, print_out, workbook};

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
    let mut reading = Reading::of(name, bytes);
    let Some(text) = reading.text(bytes, mapping) else {
        return reading;
    };
    let mut lines = lines(&text);
    reading.file.lines = lines.len();
    let mut delimiter = delimiter::chosen(&lines, mapping.delimiter.as_deref());
    reading.understood.delimiter = delimiter.word().to_string();
    let laid_out = match delimiter.word() {
        "spaces" => print_out::with_tabs(&lines),
        _ => None,
    };
    if let Some(laid_out) = &laid_out {
        lines = laid_out.iter().map(String::as_str).collect();
        delimiter = Delimiter::Tab;
    }
    let said = mapping.decimal.as_deref();
    let commas = match delimiter {
        Delimiter::Comma => commas(&lines, said),
        _ => Commas::Part,
    };
    match &commas {
        Commas::Part => {}
        Commas::Both(parted) => {
            reading.complain(None, ComplaintKind::CommaTwice);
            lines = parted.iter().map(String::as_str).collect();
            delimiter = Delimiter::Semicolon;
        }
        Commas::Open(line) => reading.ask(
            Some(*line),
            "decimal",
            "Is the comma the decimal sign too, or are these whole numbers?",
            "Commas part the cells, and every second cell looks like the decimals of the one before.".into(),
            &["comma", "point"],
        ),
    }
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
    reading.file.weld = stated_weld(&table, &lines);
    let decimal = reading.decimal(&lines, &table, mapping);
    let mut columns = columns(&table, &lines, decimal, mapping);
    for kind in told_apart(&mut columns) {
        reading.complain(table.header.map(|index| index + 1), kind);
    }
    let file = File {
        lines: &lines,
        head: head(&table, &lines),
        table: &table,
        columns: &columns,
        decimal,
        mapping,
        print_out: reading.understood.delimiter == "spaces",
        open_end: !text.ends_with('\n') && !text.is_empty(),
    };
    reading.understand(&file);
    reading.read_rows(&file);
    reading
}

/// A file with all that was found out about it.
pub(crate) struct File<'a> {
    pub lines: &'a [&'a str],
    pub head: Head,
    pub table: &'a Table,
    pub columns: &'a [Column],
    pub decimal: Decimal,
    pub mapping: &'a Mapping,
    /// Whether columns are parted by blanks on pages.
    pub print_out: bool,
    pub open_end: bool,
}

impl Reading {
    fn of(name: &str, bytes: &[u8]) -> Reading {
        Reading {
            file: LogFile {
                name: name.to_string(),
                bytes: bytes.len(),
                sha256: sha256(bytes),
                lines: 0,
                weld: None,
            },
            understood: Understood::default(),
            questions: Vec::new(),
            complaints: Vec::new(),
            log: None,
        }
    }

    /// The text of the file, or of the sheet of a workbook with one line a row.
    fn text<'b>(&mut self, bytes: &'b [u8], mapping: &Mapping) -> Option<Cow<'b, str>> {
        if workbook::is_one(bytes) {
            self.understood.encoding = "workbook".to_string();
            return match workbook::text(bytes, mapping.sheet.as_deref()) {
                Ok(sheet) => {
                    if let Some(others) = sheet.others {
                        self.complain(
                            None,
                            ComplaintKind::OtherSheets {
                                read: sheet.name,
                                others,
                            },
                        );
                    }
                    Some(Cow::Owned(sheet.text))
                }
                Err(problem) => {
                    self.complain(None, ComplaintKind::WorkbookNotRead(problem));
                    None
                }
            };
        }
        let decoded = decoded(bytes, mapping.encoding.as_deref());
        self.understood.encoding = decoded.encoding.to_string();
        if let Some(line) = decoded.bad_line {
            self.complain(Some(line), ComplaintKind::BadBytes);
        }
        Some(decoded.text)
    }

    pub(crate) fn complain(&mut self, line: Option<usize>, kind: ComplaintKind) {
        let file = self.file.name.clone();
        self.complaints.push(Complaint { file, line, kind });
    }

    pub(crate) fn ask(
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
        let value = of_role(file.columns, Role::Value).first().copied();
        let gathered = value.and_then(|value| {
            let reader = reader(&file.columns[value]);
            long::rows(file.lines, file.table, file.columns, reader, &mut timer)
        });
        if let Some(gathered) = gathered {
            let beside = &gathered.others;
            return self.finish(file, &timer, order, gathered.names, gathered.rows, beside);
        }
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
            events: of_role(file.columns, Role::Event),
            times: of_role(file.columns, Role::Time),
            decimal: file.decimal,
            open_end: file.open_end,
            print_out: file.print_out,
        };
        let rows = wide::rows(file.lines, &plan, &mut timer);
        self.finish(file, &timer, order, names, rows, file.columns);
    }

    fn finish(
        &mut self,
        file: &File<'_>,
        timer: &Timer,
        order: Option<DateOrder>,
        names: Vec<String>,
        rows: Rows,
        beside: &[Column],
    ) {
        self.note_strangers(file, &names);
        let said = file.mapping.time_zone.as_deref().and_then(zone);
        let zone = said.or_else(|| zone_of(file));
        self.understood.time_zone = zone.as_ref().map(zone_words);
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
        let mut log = log(file, names, rows, &base, beside);
        self.flag_fahrenheit(file, &log);
        if self.questions.is_empty() && !log.scans.is_empty() {
            log.files = vec![self.file.clone()];
            log.complaints = self.complaints.clone();
            self.log = Some(log);
        }
    }

    /// Names of the mapping that the file does not have, and a name that it gives to two channels.
    fn note_strangers(&mut self, file: &File<'_>, channels: &[String]) {
        let called = |name: &String| file.mapping.name.get(name).unwrap_or(name).clone();
        for (index, name) in channels.iter().enumerate() {
            if channels[..index]
                .iter()
                .any(|other| called(other) == called(name))
            {
                let (channel, name) = (name.clone(), called(name));
                self.complain(None, ComplaintKind::NameTwice { channel, name });
            }
        }
        let columns = file.columns.iter().map(|c| c.name.as_str());
        let known: Vec<&str> = columns.chain(channels.iter().map(String::as_str)).collect();
        let strange = |name: &&String| !known.contains(&name.as_str());
        let columns = file
            .mapping
            .column
            .keys()
            .filter(strange)
            .map(|n| format!("column.{n}"));
        let names = file
            .mapping
            .name
            .keys()
            .filter(strange)
            .map(|n| format!("name.{n}"));
        let mut found: Vec<&str> = channels.iter().map(String::as_str).collect();
        if found.is_empty() {
            found.clone_from(&known);
        }
        let found = found.join(", ");
        for key in columns.chain(names).collect::<Vec<_>>() {
            let found = found.clone();
            self.complain(None, ComplaintKind::MappedNotThere { key, found });
        }
    }

    /// Degrees Celsius at a plateau where a hold in °F would lie.
    fn flag_fahrenheit(&mut self, file: &File<'_>, log: &Log) {
        let of_fahrenheit = |unit: &Option<Unit>| *unit == Some(Unit::Fahrenheit);
        let stated = file.columns.iter().any(|c| of_fahrenheit(&c.unit));
        if file.mapping.unit.is_some() || stated || of_fahrenheit(&file.head.unit) {
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

/// The zone that the file states, above its rows or in the name of its time.
fn zone_of(file: &File<'_>) -> Option<TimeZone> {
    let times = file.columns.iter().filter(|c| c.role == Role::Time);
    let named = || {
        times
            .into_iter()
            .find_map(|c| stated_zone(&[c.name.as_str(), c.unit_words.as_str()]))
    };
    file.head.zone.clone().or_else(named)
}

fn zone_words(zone: &TimeZone) -> String {
    match zone.iana_name() {
        Some(name) => name.to_owned(),
        None => zone.to_offset(jiff::Timestamp::UNIX_EPOCH).to_string(),
    }
}
