//! Files whose head changes below: each part is read under the names and units that stand above it.

use crate::cell::{Cell, Decimal, cell};
use crate::head::Head;
use crate::moment::stamp;
use crate::scale;
use crate::table::{Table, is_row, is_rule, is_units_row};
use crate::words::words;

/// Parts of one file that are kept.
pub(crate) const MOST_PARTS: usize = 64;
/// Lines above a head that may speak of its part.
const ABOVE: usize = 20;
/// Lines between a head and its first row.
const BETWEEN: usize = 4;

/// The part of a file under one head.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    pub table: Table,
    /// Index of the line behind its last.
    pub end: usize,
}

/// The parts of a file, and the index of the line at which there are too many of them.
pub(crate) fn parts(lines: &[&str], first: Table) -> (Vec<Part>, Option<usize>) {
    let preamble = first.header.unwrap_or(first.first_row);
    let mut tables = vec![first];
    let (mut cells, mut more) = (Vec::new(), None);
    let mut index = tables[0].first_row + 1;
    while index < lines.len() {
        let current = &tables[tables.len() - 1];
        let begins = may_be_head(lines[index])
            .then(|| begins_at(lines, index, current, preamble, &mut cells))
            .flatten();
        let Some(table) = begins else {
            index += 1;
            continue;
        };
        if tables.len() == MOST_PARTS {
            more = Some(index);
            break;
        }
        index = table.first_row + 1;
        tables.push(table);
    }
    let mut ends: Vec<usize> = tables.iter().skip(1).map(Table::begins).collect();
    ends.push(more.unwrap_or(lines.len()));
    let parts = tables.into_iter().zip(ends);
    (
        parts.map(|(table, end)| Part { table, end }).collect(),
        more,
    )
}

/// Rows begin with digits nearly always; looking at them twice would cost as much as reading them.
fn may_be_head(line: &str) -> bool {
    let first = line.bytes().find(|b| !matches!(b, b'"' | b' ' | b'\t'));
    first.is_some_and(|byte| !byte.is_ascii_digit())
}

/// The table that begins at a line, if one does.
fn begins_at<'l>(
    lines: &[&'l str],
    index: usize,
    current: &Table,
    preamble: usize,
    cells: &mut Vec<&'l str>,
) -> Option<Table> {
    current.delimiter.split(lines[index], cells);
    let (first_row, width) = next_row(lines, index, current)?;
    if is_units_row(cells) {
        return other_units(cells, index, first_row, current);
    }
    if scale::is_row(cells) || !is_head(cells, width, current) {
        return None;
    }
    let floor = floor(lines, index, current);
    if is_same(lines[index], current, lines) && !speaks_otherwise(lines, floor..index, current) {
        return None;
    }
    let mut found = Table::above(lines, current.delimiter, width, first_row, floor);
    found.preamble = preamble;
    (found.header == Some(index)).then_some(found)
}

/// The first row close below a line, and its number of cells.
fn next_row(lines: &[&str], index: usize, current: &Table) -> Option<(usize, usize)> {
    let mut cells = Vec::new();
    let below = lines.iter().enumerate().skip(index + 1);
    let filled = below.filter(|(_, l)| !l.trim().is_empty() && !is_rule(l));
    for (below, line) in filled.take(BETWEEN) {
        current.delimiter.split(line, &mut cells);
        if is_row(&cells) {
            return Some((below, cells.len()));
        }
    }
    None
}

/// Names over the cells of a row: words in most of them, among them one of a time or names that are known. Other words are a
/// row that could not be read, which waits for an answer.
fn is_head(cells: &[&str], width: usize, current: &Table) -> bool {
    let filled: Vec<&str> = cells
        .iter()
        .map(|c| c.trim())
        .filter(|c| !c.is_empty())
        .collect();
    let again = filled.first() == Some(&current.names[0].as_str());
    let is_name = |text: &&str| {
        let number = |decimal| matches!(cell(text, decimal), Cell::Number(..));
        // Under the name of the time a plain number is the name of a channel.
        let numbered = again && text.bytes().all(|b| b.is_ascii_digit());
        let read = number(Decimal::Point) || number(Decimal::Comma) || stamp(text).is_some();
        (numbered || !read) && text.chars().count() <= LONGEST
    };
    if cells.len().abs_diff(width) > 1 || filled.len() * 2 <= cells.len() || filled.len() < 2 {
        return false;
    }
    let of_time =
        |text: &&str| matches!(words().role_of(text), Some("clock" | "elapsed" | "epoch"));
    let known = |text: &&str| {
        current
            .names
            .iter()
            .any(|name| text.starts_with(name.as_str()))
    };
    let speaks = filled.iter().any(of_time)
        || filled.iter().filter(|t| known(t)).count() * 2 >= filled.len();
    speaks && filled.iter().all(is_name)
}

/// Letters of the longest name.
const LONGEST: usize = 60;

fn is_same(line: &str, current: &Table, lines: &[&str]) -> bool {
    let Some(header) = current.header else {
        return false;
    };
    line.split_whitespace().eq(lines[header].split_whitespace())
}

/// The lines close above that are no rows and may speak of the part below.
fn floor(lines: &[&str], index: usize, current: &Table) -> usize {
    let mut cells = Vec::new();
    let above = (current.from..index).rev().take(ABOVE);
    let mut lowest = index;
    for line in above {
        current.delimiter.split(lines[line], &mut cells);
        if is_row(&cells) {
            break;
        }
        lowest = line;
    }
    lowest
}

/// Whether lines above a head that stands there again state another unit or scale.
fn speaks_otherwise(lines: &[&str], above: std::ops::Range<usize>, current: &Table) -> bool {
    let mut here = Head::default();
    here.take_lines(lines, above);
    let before = crate::head::head(current, lines);
    let differs = here.unit.is_some() && here.unit != before.unit;
    differs || here.scale.is_some() && here.scale != before.scale
}

/// A row of units that gives a column another unit than the one it has.
fn other_units(cells: &[&str], index: usize, first_row: usize, current: &Table) -> Option<Table> {
    let stated = |column: usize| cells.get(column).and_then(|text| words().unit_of(text));
    let width = current.width;
    let differs = |column: usize| stated(column).is_some_and(|u| current.units[column] != Some(u));
    (0..width).any(differs).then(|| {
        let mut found = current.clone();
        (found.from, found.first_row, found.floor) = (index + 1, first_row, index);
        for column in (0..width).filter(|column| stated(*column).is_some()) {
            found.units[column] = stated(column);
            found.unit_words[column] = cells[column].trim().to_string();
        }
        found
    })
}
