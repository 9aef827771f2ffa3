//! Where the rows of a file begin, what stands above them, and what its columns are called.

use std::collections::BTreeMap;

use crate::cell::{Cell, Decimal, cell};
use crate::delimiter::{Delimiter, usual_count};
use crate::moment::stamp;
use crate::scale::{self, Scale};
use crate::timer::hours_and_minutes;
use crate::words::{Unit, words};

/// The lines of a text, numbered from 1 at index 0, without their ends.
pub(crate) fn lines(text: &str) -> Vec<&str> {
    // Some machines end lines with a carriage return and nothing else.
    let end = match text.contains('\n') {
        true => '\n',
        false => '\r',
    };
    let mut lines: Vec<&str> = text
        .split(end)
        .map(|line| line.trim_end_matches('\r'))
        .collect();
    if lines.last().is_some_and(|last| last.is_empty()) {
        lines.pop();
    }
    lines
}

/// What stands above the rows.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    pub delimiter: Delimiter,
    /// Cells of a row.
    pub width: usize,
    /// Index of the first line that is a row.
    pub first_row: usize,
    /// Index of the line with the names, if there is one.
    pub header: Option<usize>,
    /// Index of the line behind the head, from which rows and words stand.
    pub from: usize,
    /// Index of the first line that belongs to its head.
    pub floor: usize,
    /// Lines of the file, from its begin, that speak of every part of it.
    pub preamble: usize,
    /// One name a column.
    pub names: Vec<String>,
    /// The unit that header or units row give a column.
    pub units: Vec<Option<Unit>>,
    /// The words of that unit.
    pub unit_words: Vec<String>,
    /// What header or a row of scales say that the numbers of a column are multiplied with.
    pub scales: Vec<Option<Scale>>,
}

/// Rows looked at for their usual number of cells.
const LOOKED_AT: usize = 2000;

/// Finds rows and names; `None` where no line is a row.
pub(crate) fn table(lines: &[&str], delimiter: Delimiter) -> Option<Table> {
    let mut cells = Vec::new();
    let mut counts = Vec::new();
    for line in lines
        .iter()
        .filter(|l| !l.trim().is_empty())
        .take(LOOKED_AT)
    {
        delimiter.split(line, &mut cells);
        if is_row(&cells) {
            counts.push(cells.len());
        }
    }
    let width = usual_count(counts.into_iter())?;
    let is_first = |line: &str| {
        let mut cells = Vec::new();
        delimiter.split(line, &mut cells);
        cells.len() == width && is_row(&cells)
    };
    let first_row = lines.iter().position(|line| is_first(line))?;
    Some(Table::above(lines, delimiter, width, first_row, 0))
}

/// A row has a time, a date or a plain number among its first cells, and a number or silence behind.
pub(crate) fn is_row(cells: &[&str]) -> bool {
    let number = |text: &&str| {
        let read = |decimal| matches!(cell(text, decimal), Cell::Number(..));
        read(Decimal::Point) || read(Decimal::Comma)
    };
    let leads = cells
        .first()
        .is_some_and(|c| stamp(c).is_some() || number(c) || is_beyond_a_day(c))
        || cells.get(1).is_some_and(|c| stamp(c).is_some());
    leads && cells.iter().skip(1).any(number)
}

/// `28:14:00` since the start, which no clock shows.
fn is_beyond_a_day(text: &str) -> bool {
    text.contains(':') && hours_and_minutes(text).is_some()
}

impl Table {
    /// The table whose first row is known, with the head that stands above it, no higher than `floor`.
    pub fn above(
        lines: &[&str],
        delimiter: Delimiter,
        width: usize,
        first_row: usize,
        floor: usize,
    ) -> Table {
        let mut found = Table {
            delimiter,
            width,
            first_row,
            header: None,
            from: first_row,
            floor,
            preamble: 0,
            names: (1..=width).map(|n| format!("column {n}")).collect(),
            units: vec![None; width],
            unit_words: vec![String::new(); width],
            scales: vec![None; width],
        };
        found.read_head(lines);
        found.from = found.header.map_or(first_row, |header| header + 1);
        found
    }

    /// Names from the line above the rows, units from a line of units between, names above empty cells from one line up.
    fn read_head(&mut self, lines: &[&str]) {
        let mut head: Vec<(usize, Vec<&str>)> = Vec::new();
        for index in (self.floor..self.first_row).rev().take(4) {
            let mut cells = Vec::new();
            self.delimiter.split(lines[index], &mut cells);
            let close = cells.len() + 1 >= self.width && cells.len() <= self.width + 1;
            if lines[index].trim().is_empty() || !is_rule(lines[index]) && !close {
                if head.is_empty() && lines[index].trim().is_empty() {
                    continue;
                }
                break;
            }
            if !is_rule(lines[index]) {
                head.push((index, cells));
            }
        }
        let mut of_units: Option<(usize, Vec<&str>)> = None;
        for (index, cells) in head {
            if self.header.is_none() && is_units_row(&cells) {
                for (column, text) in cells.iter().enumerate().take(self.width) {
                    self.units[column] = words().unit_of(text);
                    self.unit_words[column] = (*text).to_string();
                }
                of_units = Some((index, cells));
            } else if self.header.is_none() && scale::is_row(&cells) {
                for (column, text) in cells.iter().enumerate().take(self.width) {
                    self.scales[column] = scale::stated(text);
                }
            } else if self.header.is_none() {
                self.header = Some(index);
                self.name(&cells);
            } else {
                self.name_empty(&cells);
                break;
            }
        }
        if self.header.is_none()
            && let Some((index, cells)) = of_units
            && are_letters(&cells)
        {
            self.header = Some(index);
            (self.units, self.unit_words) =
                (vec![None; self.width], vec![String::new(); self.width]);
            self.name(&cells);
        }
    }

    fn name(&mut self, cells: &[&str]) {
        let mut stems: BTreeMap<&str, usize> = BTreeMap::new();
        for (stem, _) in cells.iter().filter_map(|cell| stem_and_letter(cell)) {
            *stems.entry(stem).or_default() += 1;
        }
        for (column, text) in cells.iter().enumerate().take(self.width) {
            let (text, scaled) = match scale::behind_name(text) {
                Some((name, scale)) => (name, Some(scale)),
                None => (*text, None),
            };
            self.scales[column] = scaled.or(self.scales[column]);
            let (name, unit, unit_words) = match letter_of_a_row(text, &stems) {
                true => (text.trim().to_string(), None, String::new()),
                false => name_and_unit(text),
            };
            if !name.is_empty() {
                self.names[column] = name;
            }
            if unit.is_some() {
                self.units[column] = unit;
                self.unit_words[column] = unit_words;
            }
        }
    }

    /// A merged header leaves cells empty: the cell over them names them.
    fn name_empty(&mut self, cells: &[&str]) {
        for (column, text) in cells.iter().enumerate().take(self.width) {
            if !text.is_empty() && self.names[column].starts_with("column ") {
                self.names[column] = (*text).to_string();
            }
        }
    }

    /// Index of the line with which its head begins.
    pub fn begins(&self) -> usize {
        self.header
            .filter(|header| *header >= self.floor)
            .unwrap_or(self.floor)
    }

    /// Whether a line says the names again.
    pub fn is_header(&self, line: &str, lines: &[&str]) -> bool {
        self.header
            .is_some_and(|index| lines[index].trim() == line.trim())
    }
}

/// A line of strokes that only separates.
pub(crate) fn is_rule(line: &str) -> bool {
    let line = line.trim_matches(|c: char| c.is_whitespace() || c == '\u{c}');
    !line.is_empty()
        && line
            .chars()
            .all(|c| matches!(c, '-' | '=' | '_' | '+' | ' ' | '|'))
}

pub(crate) fn is_units_row(cells: &[&str]) -> bool {
    let units = cells
        .iter()
        .filter(|c| words().unit_of(c).is_some())
        .count();
    let strange = cells
        .iter()
        .filter(|c| !c.is_empty() && words().unit_of(c).is_none() && words().role_of(c).is_none())
        .count();
    units > 0 && strange <= 1
}

/// `min a b c`: different single letters with no names above them are the names, not amperes and degrees Celsius.
fn are_letters(cells: &[&str]) -> bool {
    let letters: Vec<&str> = cells.iter().skip(1).map(|c| c.trim()).collect();
    let alone = |c: &&str| c.chars().count() == 1 && c.chars().all(char::is_alphabetic);
    let different = |(place, c): (usize, &&str)| !letters[..place].contains(c);
    letters.iter().all(alone) && letters.iter().enumerate().all(different)
}

/// `TC A`, `TC C`, `TC F`: a single letter behind a name is no unit where other columns have the same name before another
/// letter, or where the name has no number and is not one of a quantity.
fn letter_of_a_row(text: &str, stems: &BTreeMap<&str, usize>) -> bool {
    let Some((stem, _)) = stem_and_letter(text) else {
        return false;
    };
    let same = stems.get(stem).copied().unwrap_or(0);
    let plain = !stem.contains(|c: char| c.is_ascii_digit()) && words().role_of(stem).is_none();
    same > 1 || plain
}

/// The name before a single letter that stands alone, not in brackets.
fn stem_and_letter(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    let at = text.rfind([' ', '_', '/', '-'])?;
    let (stem, letter) = (text[..at].trim(), &text[at + 1..]);
    let alone = letter.chars().count() == 1 && letter.chars().all(char::is_alphabetic);
    (alone && !stem.is_empty()).then_some((stem, letter))
}

/// `TC1 (°C)`, `TC1 [degF]`, `TC1_C`, `Power kW`: the name without its unit, and the unit.
fn name_and_unit(text: &str) -> (String, Option<Unit>, String) {
    let text = text.trim();
    let at = text
        .rfind(['(', '['])
        .or_else(|| text.rfind([' ', '_', '/']));
    let Some(at) = at.filter(|at| *at > 0) else {
        return (text.to_string(), None, String::new());
    };
    let unit_text =
        text[at..].trim_matches(|c: char| matches!(c, '(' | ')' | '[' | ']' | ' ' | '_' | '/'));
    let bracketed = text[at..].starts_with(['(', '[']);
    let unit = words().unit_of(unit_text);
    match unit.filter(|unit| *unit != Unit::PerhapsKelvin || bracketed) {
        Some(unit) => (
            text[..at].trim().to_string(),
            Some(unit),
            unit_text.to_string(),
        ),
        None => (text.to_string(), None, String::new()),
    }
}
