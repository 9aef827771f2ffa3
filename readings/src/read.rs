//! From the bytes of one file to a log.

use std::borrow::Cow;

use jiff::tz::TimeZone;

use crate::assemble::{log, preview};
use crate::cell::Decimal;
use crate::clock::{Back, time_base};
use crate::column::{Column, Role, columns, from_start, is_milliseconds, of_role, told_apart};
use crate::comma_twice::{Commas, commas};
use crate::complaint::{Complaint, ComplaintKind, told_once};
use crate::decimal::{Shown, shown};
use crate::delimiter::Delimiter;
use crate::digest::sha256;
use crate::gathered::Gathered;
use crate::head::{Head, head, stated_zone};
use crate::log::{Log, LogFile, Start};
use crate::mapping::Mapping;
use crate::moment::{DateOrder, zone};
use crate::part::{MOST_PARTS, parts};
use crate::question::Question;
use crate::reading_cell::Reader;
use crate::settle::couple;
use crate::stated_weld::stated_weld;
use crate::status::Good;
use crate::table::{Table, lines, table};
use crate::text::decoded;
use crate::timer::{TimeKind, Timer};
use crate::understood::{Understood, UnderstoodColumn};
use crate::wide;
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
    let (parts, more) = parts(&lines, table);
    if let Some(index) = more {
        let most = MOST_PARTS;
        reading.complain(Some(index + 1), ComplaintKind::TooManyHeads { most });
    }
    let mut of_parts = Vec::new();
    for part in &parts {
        let mut columns = columns(&part.table, &lines[..part.end], decimal, mapping);
        let started = head(&part.table, &lines).started;
        from_start(&mut columns, &part.table, &lines, started);
        for kind in told_apart(&mut columns) {
            reading.complain(part.table.header.map(|index| index + 1), kind);
        }
        of_parts.push(columns);
    }
    let files: Vec<File<'_>> = parts
        .iter()
        .zip(&of_parts)
        .map(|(part, columns)| File {
            lines: &lines[..part.end],
            head: head(&part.table, &lines),
            table: &part.table,
            columns,
            decimal,
            mapping,
            print_out: reading.understood.delimiter == "spaces",
            open_end: part.end == lines.len() && !text.ends_with(['\n', '\r']) && !text.is_empty(),
        })
        .collect();
    reading.understand(&files);
    reading.read_rows(&files);
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

impl File<'_> {
    /// Its rows, with the names and series that they have.
    fn gathered(
        &self,
        reader: &dyn Fn(usize, &Column) -> Reader,
        good: &[Option<Good>],
        timer: &mut Timer,
    ) -> Gathered {
        let value = of_role(self.columns, Role::Value).first().copied();
        let long = value.and_then(|value| {
            let reader = reader(value, &self.columns[value]);
            long::rows(self.lines, self.table, self.columns, good, reader, timer)
        });
        let mut gathered = long.unwrap_or_else(|| self.wide(reader, good, timer));
        let called = |name: &String| match self.columns.iter().find(|c| c.name == *name) {
            Some(column) if !column.unit_words.is_empty() => {
                format!("{name} ({})", column.unit_words)
            }
            _ => name.clone(),
        };
        let called: Vec<String> = gathered.names.iter().map(called).collect();
        gathered.now = called.join(", ");
        gathered
    }

    fn wide(
        &self,
        reader: &dyn Fn(usize, &Column) -> Reader,
        good: &[Option<Good>],
        timer: &mut Timer,
    ) -> Gathered {
        let places = of_role(self.columns, Role::Temperature);
        let name = |place: &usize| self.columns[*place].name.clone();
        let read = |place: &usize| (*place, reader(*place, &self.columns[*place]));
        let plan = wide::Plan {
            table: self.table,
            columns: self.columns,
            temperatures: places.iter().map(read).collect(),
            good,
            row_statuses: of_role(self.columns, Role::RowStatus),
            events: of_role(self.columns, Role::Event),
            times: of_role(self.columns, Role::Time),
            decimal: self.decimal,
            open_end: self.open_end,
            print_out: self.print_out,
        };
        Gathered {
            names: places.iter().map(name).collect(),
            rows: wide::rows(self.lines, &plan, timer),
            others: self.columns.to_vec(),
            now: String::new(),
        }
    }
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
        let more = Vec::new();
        self.complaints.push(Complaint {
            file,
            line,
            kind,
            more,
        });
    }

    pub(crate) fn ask(
        &mut self,
        line: Option<usize>,
        key: &'static str,
        asks: &str,
        evidence: String,
        answers: &[&str],
    ) {
        // Parts of one file leave the same thing open.
        if self
            .questions
            .iter()
            .any(|q| q.key == key && q.asks == asks)
        {
            return;
        }
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

    fn understand(&mut self, files: &[File<'_>]) {
        let Some(file) = files.first() else {
            return;
        };
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
            role: match c.role {
                Role::Epoch if is_milliseconds(&c.looks) => "milliseconds since 1970",
                role => role.words(),
            },
            unit: c.unit_words.clone(),
        };
        for one in files.iter().flat_map(|file| file.columns).map(column) {
            if files.len() == 1 || !shown.columns.contains(&one) {
                shown.columns.push(one);
            }
        }
    }

    fn read_rows(&mut self, files: &[File<'_>]) {
        let Some(file) = files.first() else {
            return;
        };
        let order = self.date_order(files);
        let mut so_far: Option<(Gathered, Timer)> = None;
        for part in files {
            let Some(read) = self.rows_of(part, order, so_far.as_ref()) else {
                return;
            };
            so_far = Some(match so_far {
                None => read,
                Some((all, before)) if before.kind != read.1.kind => {
                    self.complain(Some(part.table.begins() + 1), ComplaintKind::OtherTime);
                    (all, before)
                }
                Some((all, _)) => (self.put_together(all, read.0, part), read.1),
            });
        }
        if let Some((gathered, timer)) = so_far {
            self.finish(files, file, &timer, order, gathered);
        }
    }

    /// The rows of one part of the file.
    fn rows_of(
        &mut self,
        file: &File<'_>,
        order: Option<DateOrder>,
        so_far: Option<&(Gathered, Timer)>,
    ) -> Option<(Gathered, Timer)> {
        let fresh = self.timer(file, order)?;
        let unit = self.unit(file)?;
        let scales = self.scales(file);
        let good = self.statuses(file);
        let reader = |place: usize, column: &Column| Reader {
            decimal: file.decimal,
            unit: match file.mapping.unit.as_deref() {
                Some(_) => unit,
                None => column.unit.filter(|u| u.is_sure()).unwrap_or(unit),
            },
            scale: scales[place],
            codes: column.looks.whole == column.looks.numbers,
            couple: couple(file.mapping),
        };
        let Some((all, before)) = so_far else {
            let mut timer = fresh;
            return Some((file.gathered(&reader, &good, &mut timer), timer));
        };
        // A block below a block begins its days anew; anything else goes on where the rows above end.
        let mut anew = fresh.clone();
        let block = file.gathered(&reader, &good, &mut anew);
        if all.stands_within(&block) || !before.goes_on_by_days() {
            return Some((block, anew));
        }
        let mut on = fresh.after(before);
        Some((file.gathered(&reader, &good, &mut on), on))
    }

    fn put_together(&mut self, mut all: Gathered, part: Gathered, file: &File<'_>) -> Gathered {
        let beside = all.stands_beside(&part);
        let line = file.table.begins() + 1;
        self.complain(
            Some(line),
            ComplaintKind::HeadChanged {
                was: all.now.clone(),
                now: part.now.clone(),
                beside,
            },
        );
        all.append(part);
        if beside {
            all.side_by_side();
        }
        all
    }

    fn finish(
        &mut self,
        files: &[File<'_>],
        file: &File<'_>,
        timer: &Timer,
        order: Option<DateOrder>,
        gathered: Gathered,
    ) {
        let Gathered {
            names,
            rows,
            others,
            ..
        } = gathered;
        self.note_strangers(files, &names);
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
            let first_ns = rows.times_ns.first().copied().unwrap_or(0);
            self.start_of_elapsed(file, order, zone.as_ref(), &mut base, first_ns);
        }
        self.move_clock(file.mapping, &mut base.start);
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
        told_once(&mut self.complaints);
        self.understood.preview = preview(&rows, timer.kind);
        let mut log = log(file, names, rows, &base, &others);
        self.flag_fahrenheit(files, &log);
        if self.questions.is_empty() && !log.scans.is_empty() {
            log.files = vec![self.file.clone()];
            log.complaints = self.complaints.clone();
            self.log = Some(log);
        }
    }

    /// Adds the seconds by which a person says that the clock of this file was slow.
    fn move_clock(&mut self, mapping: &Mapping, start: &mut Start) {
        let said = mapping.clock.get(&self.file.name);
        let Some(by_s) = said.and_then(|s| s.parse::<i32>().ok()).map(i64::from) else {
            return;
        };
        let by = jiff::SignedDuration::from_secs(by_s);
        match start {
            Start::Moment { at, .. } => *at = at.checked_add(by).unwrap_or(*at),
            Start::Local(local) => *local = local.checked_add(by).unwrap_or(*local),
        }
        self.complain(None, ComplaintKind::ClockMoved { by_s });
    }

    /// Names of the mapping that the file does not have, and a name that it gives to two channels.
    fn note_strangers(&mut self, files: &[File<'_>], channels: &[String]) {
        let Some(file) = files.first() else {
            return;
        };
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
        let columns = files.iter().flat_map(|file| file.columns);
        let columns = columns.map(|c| c.name.as_str());
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
    fn flag_fahrenheit(&mut self, files: &[File<'_>], log: &Log) {
        let of_fahrenheit = |unit: &Option<Unit>| *unit == Some(Unit::Fahrenheit);
        let stated = |file: &File<'_>| {
            file.columns.iter().any(|c| of_fahrenheit(&c.unit)) || of_fahrenheit(&file.head.unit)
        };
        if files
            .iter()
            .any(|file| file.mapping.unit.is_some() || stated(file))
        {
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
