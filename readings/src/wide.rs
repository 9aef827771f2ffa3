//! Files with one row a time: all channels side by side.

use std::collections::BTreeMap;

use quantity::Celsius;

use crate::cell::{Cell, Decimal, cell};
use crate::column::Column;
use crate::complaint::ComplaintKind;
use crate::reading_cell::Reader;
use crate::role::Role;
use crate::status::Good;
use crate::table::Table;
use crate::tally::{Tally, Why};
use crate::timer::Timer;
use crate::words::words;

/// Rows as they stand in the file.
#[derive(Debug, Default)]
pub(crate) struct Rows {
    /// Line of each row.
    pub lines: Vec<usize>,
    /// Its time.
    pub times_ns: Vec<i64>,
    /// Its readings, one a temperature column.
    pub readings: Vec<Vec<Option<Celsius>>>,
    /// Other numbers: column, and for each row with one the row's index and the number.
    pub others: Vec<(usize, Vec<(usize, f64)>)>,
    /// Words between the rows.
    pub events: Vec<Words>,
    /// Complaints by line.
    pub complaints: Vec<(usize, ComplaintKind)>,
    pub tally: Tally,
    /// Words without a time that were told already, but for their numbers: the place of their complaint.
    untimed: BTreeMap<String, usize>,
}

/// Words as they stand between the rows.
#[derive(Debug)]
pub(crate) struct Words {
    /// Index of the row that they belong to or come before.
    pub row: usize,
    pub line: usize,
    pub text: String,
    /// Their own time, where they have one.
    pub at_ns: Option<i64>,
}

/// What is needed to read rows.
pub(crate) struct Plan<'a> {
    pub table: &'a Table,
    pub columns: &'a [Column],
    /// Places of the temperature columns with how they are read.
    pub temperatures: Vec<(usize, Reader)>,
    /// What each column of statuses calls good, by its place.
    pub good: &'a [Option<Good>],
    /// Places of the statuses of whole rows.
    pub row_statuses: Vec<usize>,
    /// Places of the columns of words.
    pub events: Vec<usize>,
    /// Places of the columns that tell the time.
    pub times: Vec<usize>,
    pub decimal: Decimal,
    /// Whether the last line has no end.
    pub open_end: bool,
    /// Whether the head of every page says the names again.
    pub print_out: bool,
}

/// Letters of a row that are shown.
const SHOWN: usize = 60;

/// Reads every row.
pub(crate) fn rows(lines: &[&str], plan: &Plan<'_>, timer: &mut Timer) -> Rows {
    let mut rows = Rows::default();
    let is_other = |role| {
        matches!(
            role,
            Role::SetPoint | Role::Power | Role::Output | Role::ZoneState | Role::Ambient
        )
    };
    for (index, column) in plan.columns.iter().enumerate() {
        if is_other(column.role) {
            rows.others.push((index, Vec::new()));
        }
    }
    let mut cells: Vec<&str> = Vec::new();
    let mut before: Vec<&str> = Vec::new();
    let (table, from) = (plan.table, plan.table.from);
    let heads = lines[..table.preamble]
        .iter()
        .chain(&lines[table.floor..from]);
    let head: Vec<String> = heads.map(|l| without_digits(l)).collect();
    for (index, line) in lines.iter().enumerate().skip(from) {
        if line.trim().is_empty() {
            continue;
        }
        plan.table.delimiter.split(line, &mut cells);
        let is_last = plan.open_end && index + 1 == lines.len();
        let cut = is_last && is_cut(&cells, &before, plan.table.width);
        if cut {
            cells.pop();
            rows.complaints
                .push((index + 1, ComplaintKind::LastLineCut));
        }
        rows.take(index + 1, line, (&cells, cut), plan, timer, &head, lines);
        std::mem::swap(&mut cells, &mut before);
    }
    rows
}

impl Rows {
    #[allow(clippy::too_many_arguments)] // One row with all that says how it is read.
    fn take(
        &mut self,
        line: usize,
        text: &str,
        (cells, cut): (&[&str], bool),
        plan: &Plan<'_>,
        timer: &mut Timer,
        head: &[String],
        lines: &[&str],
    ) {
        if plan.table.is_header(text, lines) {
            if !plan.print_out {
                self.complaints.push((line, ComplaintKind::HeaderAgain));
            }
            return;
        }
        let at_ns = timer.at(cells);
        let has_number = plan.temperatures.iter().any(|(column, _)| {
            let text = cells.get(*column).copied().unwrap_or("");
            matches!(cell(text, plan.decimal), Cell::Number(..))
        });
        let Some(at_ns) = at_ns else {
            return self.no_time(line, text, cells, timer, (head, plan));
        };
        if !has_number && let Some(words) = event_words(cells, plan) {
            return self.note(line, words, Some(at_ns));
        }
        self.check_blocks(line, cells, plan, timer, at_ns);
        self.keep(line, at_ns, (cells, cut), plan);
    }

    fn note(&mut self, line: usize, text: String, at_ns: Option<i64>) {
        let row = self.times_ns.len();
        self.events.push(Words {
            row,
            line,
            text,
            at_ns,
        });
    }

    /// In a row with another number of cells nothing tells which of them is missing: its readings are silence. A last line
    /// that was cut lacks what stands behind the cut and nothing else.
    fn keep(&mut self, line: usize, at_ns: i64, (cells, cut): (&[&str], bool), plan: &Plan<'_>) {
        let expected = plan.table.width;
        let trailing = cells.len() == expected + 1 && cells.last().is_some_and(|c| c.is_empty());
        let odd = cells.len() != expected && !trailing && !cut;
        if odd {
            let found = cells.len();
            self.complaints
                .push((line, ComplaintKind::OddRow { found, expected }));
        }
        let row = self.times_ns.len();
        let taken = if odd { &[][..] } else { cells };
        let text_at = |column: usize| taken.get(column).copied().unwrap_or("");
        let is_bad = |column: usize| {
            let good = plan.good.get(column)?.as_ref()?;
            let status = text_at(column);
            (!good.is(status)).then_some(status)
        };
        let row_is_bad = plan.row_statuses.iter().find_map(|column| is_bad(*column));
        let mut readings = Vec::with_capacity(plan.temperatures.len());
        for (channel, (column, reader)) in plan.temperatures.iter().enumerate() {
            let own = plan.columns.get(column + 1);
            let own = own.filter(|c| c.role == Role::Status);
            let bad = own.and_then(|_| is_bad(column + 1)).or(row_is_bad);
            readings.push(match bad {
                // Silence beside an empty status is silence.
                Some("") if words().is_silent(text_at(*column)) => None,
                Some(status) => {
                    self.tally.count(channel, Why::BadStatus, status, line);
                    None
                }
                None => reader.read(text_at(*column), channel, line, &mut self.tally),
            });
        }
        for (column, points) in &mut self.others {
            match cell(text_at(*column), plan.decimal) {
                Cell::Number(number, _) => points.push((row, number)),
                Cell::Words => {
                    let on = words().is_on(text_at(*column).trim());
                    points.extend(on.map(|on| (row, f64::from(u8::from(on)))));
                }
                Cell::Silent => {}
            }
        }
        for column in &plan.events {
            let words = text_at(*column).trim();
            if !crate::words::words().is_silent(words) {
                self.note(line, words.to_string(), Some(at_ns));
            }
        }
        self.lines.push(line);
        self.times_ns.push(at_ns);
        self.readings.push(readings);
    }

    /// A line without a time: the head of a page, or words, or nothing that can be read.
    fn no_time(
        &mut self,
        line: usize,
        text: &str,
        cells: &[&str],
        timer: &mut Timer,
        (head, plan): (&[String], &Plan<'_>),
    ) {
        let page_date = cells.iter().find_map(|c| crate::moment::stamp(c)?.date);
        if let (Some(crate::moment::DateParts::Sure(date)), Some(_)) = (page_date, timer.day) {
            timer.day = Some(date);
        }
        let is_head = crate::table::is_rule(text) || head.contains(&without_digits(text));
        let is_units = cells
            .iter()
            .filter(|c| words().unit_of(c).is_some())
            .count()
            * 2
            > cells.len();
        if is_head || is_units {
            return;
        }
        let first = cells.iter().map(|c| c.trim()).find(|c| !c.is_empty());
        if first.is_some_and(|word| words().is_summary(word)) {
            let shown: String = text.trim().chars().take(60).collect();
            return self
                .complaints
                .push((line, ComplaintKind::SummaryRow(shown)));
        }
        let digits = text.bytes().filter(u8::is_ascii_digit).count();
        let letters = text.chars().filter(|c| c.is_alphabetic()).count();
        let shown: String = text.trim().chars().take(SHOWN).collect();
        if letters > digits && !is_filled(cells, plan) {
            self.note(line, joined(cells), None);
            self.without_time(line, shown);
        } else {
            self.complaints
                .push((line, ComplaintKind::RowNotUnderstood(shown)));
        }
    }

    /// What differs in numbers only, as the heads of pages do, is told once.
    fn without_time(&mut self, line: usize, shown: String) {
        let alike = without_digits(&shown);
        if let Some((_, ComplaintKind::WordsWithoutTime { count, .. })) = self
            .untimed
            .get(&alike)
            .and_then(|place| self.complaints.get_mut(*place))
        {
            *count += 1;
            return;
        }
        self.untimed.insert(alike, self.complaints.len());
        let (words, count) = (shown, 1);
        self.complaints
            .push((line, ComplaintKind::WordsWithoutTime { words, count }));
    }

    /// Blocks side by side tell the time again.
    fn check_blocks(
        &mut self,
        line: usize,
        cells: &[&str],
        plan: &Plan<'_>,
        timer: &Timer,
        at_ns: i64,
    ) {
        for column in plan.times.iter().skip(1) {
            let mut shifted: Vec<&str> = cells.to_vec();
            if let (Some(first), Some(again)) = (plan.times.first(), cells.get(*column)) {
                shifted[*first] = again;
            }
            if timer.clone().at(&shifted) != Some(at_ns) {
                self.complaints.push((line, ComplaintKind::BlocksDisagree));
            }
        }
    }
}

/// Whether something stands for every channel of a row: then it is a row of readings, whatever became of them. On a
/// print-out words are parted by blanks as cells are, and nothing follows from it.
fn is_filled(cells: &[&str], plan: &Plan<'_>) -> bool {
    let stands = |column: usize| {
        cells
            .get(column)
            .is_some_and(|cell| !cell.trim().is_empty())
    };
    !plan.print_out
        && plan.temperatures.len() > 1
        && plan.temperatures.iter().all(|(column, _)| stands(*column))
}

/// The words of a row that holds words besides its time.
fn event_words(cells: &[&str], plan: &Plan<'_>) -> Option<String> {
    if is_filled(cells, plan) {
        return None;
    }
    let told: Vec<&str> = cells
        .iter()
        .enumerate()
        .filter(|(column, _)| {
            plan.columns
                .get(*column)
                .is_none_or(|c| !crate::column::is_time(c.role))
        })
        .map(|(_, text)| text.trim())
        .filter(|text| text.chars().filter(|c| c.is_alphabetic()).count() > 1)
        .filter(|text| !is_state_word(text))
        .collect();
    if told.is_empty() {
        return lone_word(cells, plan);
    }
    Some(told.join(" "))
}

/// A single word in a row that has room for several readings is an event too, if it is no known status.
fn lone_word(cells: &[&str], plan: &Plan<'_>) -> Option<String> {
    let is_time = |column: usize| {
        plan.columns
            .get(column)
            .is_some_and(|c| crate::column::is_time(c.role))
    };
    let mut told = cells
        .iter()
        .enumerate()
        .filter(|(column, text)| !is_time(*column) && !text.is_empty());
    let (_, word) = told.next()?;
    let lone = told.next().is_none() && plan.temperatures.len() > 1;
    let is_word = word.chars().filter(|c| c.is_alphabetic()).count() > 1;
    (lone && is_word && !words().is_status(word) && !words().is_silent(word))
        .then(|| word.trim().to_string())
}

/// Short words that stand in place of a reading.
fn is_state_word(text: &str) -> bool {
    let placeholder = text.starts_with('#') || text.chars().all(|c| !c.is_alphanumeric());
    placeholder
        || words().is_silent(text)
        || text.len() <= 5 && text.chars().all(|c| c.is_ascii_uppercase())
}

fn joined(cells: &[&str]) -> String {
    let told: Vec<&str> = cells
        .iter()
        .map(|c| c.trim())
        .filter(|c| !c.is_empty())
        .collect();
    told.join(" ")
}

fn without_digits(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_ascii_digit() && !c.is_whitespace())
        .collect()
}

/// A last line without an end: too few cells, or a last cell written shorter than the one above it.
fn is_cut(cells: &[&str], above: &[&str], width: usize) -> bool {
    let written = |cell: &str| (cell.len(), cell.rfind(['.', ',']).map(|at| cell.len() - at));
    let (Some(last), Some(over)) = (cells.last(), above.get(cells.len().saturating_sub(1))) else {
        return above.is_empty();
    };
    let shorter = written(last).0 < written(over).0
        && (written(last).1 != written(over).1 || written(last).1.is_none());
    cells.len() < width.min(above.len()) || shorter
}
