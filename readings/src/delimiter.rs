//! What parts the cells of a line.

use crate::cell::{Cell, Decimal, cell};
use crate::moment::stamp;

/// What parts the cells of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Delimiter {
    Comma,
    Semicolon,
    Tab,
    Bar,
    /// Two blanks or more.
    Blanks,
    /// Any blank.
    Blank,
}

const ALL: [Delimiter; 6] = [
    Delimiter::Tab,
    Delimiter::Semicolon,
    Delimiter::Comma,
    Delimiter::Bar,
    Delimiter::Blanks,
    Delimiter::Blank,
];

/// Lines looked at to choose the delimiter.
const LOOKED_AT: usize = 400;

impl Delimiter {
    /// The word of a mapping.
    pub fn word(self) -> &'static str {
        match self {
            Delimiter::Comma => "comma",
            Delimiter::Semicolon => "semicolon",
            Delimiter::Tab => "tab",
            Delimiter::Bar => "bar",
            Delimiter::Blanks | Delimiter::Blank => "spaces",
        }
    }

    /// Parts a line; quotes round a cell are taken off.
    pub fn split<'l>(self, line: &'l str, cells: &mut Vec<&'l str>) {
        cells.clear();
        match self {
            Delimiter::Comma => split_at(line, b',', cells),
            Delimiter::Semicolon => split_at(line, b';', cells),
            Delimiter::Tab => split_at(line, b'\t', cells),
            Delimiter::Bar => split_at(line, b'|', cells),
            Delimiter::Blanks => {
                cells.extend(line.split("  ").map(str::trim).filter(|c| !c.is_empty()))
            }
            Delimiter::Blank => cells.extend(line.split_whitespace()),
        }
    }
}

fn split_at<'l>(line: &'l str, sign: u8, cells: &mut Vec<&'l str>) {
    let bytes = line.as_bytes();
    let (mut from, mut quoted) = (0, false);
    for (at, &byte) in bytes.iter().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            b if b == sign && !quoted => {
                cells.push(unquoted(&line[from..at]));
                from = at + 1;
            }
            _ => {}
        }
    }
    cells.push(unquoted(&line[from..]));
}

fn unquoted(cell: &str) -> &str {
    // Most cells are bare numbers; looking for blanks of every script costs more than reading them.
    let bare = |byte: Option<&u8>| byte.is_none_or(u8::is_ascii_alphanumeric);
    if bare(cell.as_bytes().first()) && bare(cell.as_bytes().last()) {
        return cell;
    }
    let cell = cell.trim();
    cell.strip_prefix('"')
        .and_then(|c| c.strip_suffix('"'))
        .map_or(cell, str::trim)
}

/// The delimiter under which most cells of rows with equally many cells are numbers, dates or times.
pub(crate) fn chosen(lines: &[&str], wanted: Option<&str>) -> Delimiter {
    let candidates = ALL
        .iter()
        .copied()
        .filter(|d| wanted.is_none_or(|word| word == d.word()));
    let mut best = (0, Delimiter::Comma);
    for candidate in candidates {
        let score = score(candidate, lines);
        // Words of a name are parted by single blanks; only where nothing else parts cells do they count.
        let better = match candidate {
            Delimiter::Blank => best.0 == 0 && score > 0,
            _ => score > best.0,
        };
        if better {
            best = (score, candidate);
        }
    }
    best.1
}

fn score(delimiter: Delimiter, lines: &[&str]) -> usize {
    let mut cells = Vec::new();
    let mut rows: Vec<(usize, usize)> = Vec::new();
    for line in lines
        .iter()
        .filter(|line| !line.trim().is_empty())
        .take(LOOKED_AT)
    {
        delimiter.split(line, &mut cells);
        let clean = cells.iter().filter(|c| is_clean(c)).count();
        if clean >= 2 {
            rows.push((cells.len(), clean));
        }
    }
    let usual = usual_count(rows.iter().map(|(count, _)| *count));
    rows.iter()
        .filter(|(count, _)| Some(*count) == usual)
        .map(|(_, clean)| clean)
        .sum()
}

/// The count that stands most often.
pub(crate) fn usual_count(counts: impl Iterator<Item = usize>) -> Option<usize> {
    let mut seen: Vec<(usize, usize)> = Vec::new();
    for count in counts {
        match seen.iter_mut().find(|(known, _)| *known == count) {
            Some((_, times)) => *times += 1,
            None => seen.push((count, 1)),
        }
    }
    seen.into_iter()
        .max_by_key(|(count, times)| (*times, *count))
        .map(|(count, _)| count)
}

fn is_clean(text: &str) -> bool {
    let number = |decimal| matches!(cell(text, decimal), Cell::Number(..));
    number(Decimal::Point) || number(Decimal::Comma) || stamp(text).is_some()
}
