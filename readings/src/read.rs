//! From the bytes of one file to a log.

use jiff::tz::TimeZone;

use crate::assemble::{log, preview};
use crate::cell::Decimal;
use crate::clock::{Back, time_base};
use crate::column::{Column, columns, from_start, told_apart};
use crate::complaint::{Complaint, ComplaintKind, told_once};
use crate::digest::sha256;
use crate::file::File;
use crate::gathered::Gathered;
use crate::head::head;
use crate::log::{Log, LogFile, Start};
use crate::mapping::Mapping;
use crate::moment::{DateOrder, zone};
use crate::part::{MOST_PARTS, Part, parts};
use crate::question::Question;
use crate::reading_cell::Reader;
use crate::role::Role;
use crate::settle::couple;
use crate::stated_weld::stated_weld;
use crate::table::{lines, table};
use crate::timer::{TimeKind, Timer};
use crate::understood::{Understood, UnderstoodColumn};

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

/// Reads the bytes of a file. `name` is for the messages, and for what was said of this file alone.
pub fn read(name: &str, bytes: &[u8], mapping: &Mapping) -> Reading {
    let mapping = &*mapping.of(name);
    let mut reading = Reading::of(name, bytes);
    let Some(text) = reading.text(bytes, mapping) else {
        return reading;
    };
    let mut lines = lines(&text);
    reading.file.lines = lines.len();
    let laid_out = reading.laid_out(&lines, mapping);
    if let Some(again) = &laid_out.again {
        lines = again.iter().map(String::as_str).collect();
    }
    let Some(table) = table(&lines, laid_out.delimiter) else {
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
    let ends_open = !text.is_empty() && !text.ends_with(['\n', '\r']);
    let mut files = Vec::new();
    for part in &parts {
        files.push(File {
            lines: &lines[..part.end],
            head: head(&part.table, &lines),
            table: &part.table,
            columns: reading.columns(part, &lines, decimal, mapping),
            decimal,
            mapping,
            print_out: laid_out.is_print_out,
            open_end: part.end == lines.len() && ends_open,
        });
    }
    reading.understand(&files);
    reading.read_rows(&files);
    reading
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

    fn columns(
        &mut self,
        part: &Part,
        lines: &[&str],
        decimal: Decimal,
        mapping: &Mapping,
    ) -> Vec<Column> {
        let mut columns = columns(&part.table, &lines[..part.end], decimal, mapping);
        let started = head(&part.table, lines).started;
        from_start(&mut columns, &part.table, lines, started);
        for kind in told_apart(&mut columns) {
            self.complain(part.table.header.map(|index| index + 1), kind);
        }
        columns
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
            instead: None,
        });
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
                Role::Epoch if c.looks.is_milliseconds() => "milliseconds since 1970",
                role => role.words(),
            },
            unit: c.unit_words.clone(),
        };
        for one in files.iter().flat_map(|file| &file.columns).map(column) {
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
        let zone = said.or_else(|| file.zone());
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
        if self.questions.iter().any(|q| q.key == "date_order") {
            self.times_as_written(files.first().unwrap_or(file), timer);
        }
        let mut log = log(file, names, rows, &base, &others);
        self.flag_fahrenheit(files, &log);
        if self.questions.is_empty() && !log.scans.is_empty() {
            log.files = vec![self.file.clone()];
            log.complaints = self.complaints.clone();
            self.log = Some(log);
        }
    }

    /// As long as the order of day and month is open, the first rows show their dates as the file has them.
    fn times_as_written(&mut self, file: &File<'_>, timer: &Timer) {
        let mut cells = Vec::new();
        for row in &mut self.understood.preview {
            let Some(line) = row.line.checked_sub(1).and_then(|at| file.lines.get(at)) else {
                continue;
            };
            file.table.delimiter.split(line, &mut cells);
            if let Some(written) = timer.as_written(&cells) {
                row.time = written;
            }
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
}

fn zone_words(zone: &TimeZone) -> String {
    match zone.iana_name() {
        Some(name) => name.to_owned(),
        None => zone.to_offset(jiff::Timestamp::UNIX_EPOCH).to_string(),
    }
}
