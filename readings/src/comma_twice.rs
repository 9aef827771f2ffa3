//! Lines in which the comma parts the cells and is the decimal sign too: `2026-03-28 21:15,748,3,751,0`.
//!
//! Where a line of names says how many cells there are, the count of a row proves which comma is which. Without names it is
//! asked.

use crate::delimiter::Delimiter;
use crate::moment::stamp;

/// Rows looked at.
const LOOKED_AT: usize = 400;
/// Lines above the first row among which names are looked for.
const ABOVE: usize = 4;

/// What the commas of a file show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Commas {
    /// They only part cells.
    Part,
    /// They do both; the lines with semicolons between the cells instead, and how many rows have another count of cells.
    Both(Vec<String>),
    /// They may do both, and nothing proves it: the first such line.
    Open(usize),
}

/// Looks at lines that commas part; `said` tells that the comma is the decimal sign.
pub(crate) fn commas(lines: &[&str], said: Option<&str>) -> Commas {
    if said == Some("point") {
        return Commas::Part;
    }
    let mut cells = Vec::new();
    let mut first_row = None;
    let mut rows: Vec<Vec<&str>> = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        Delimiter::Comma.split(line, &mut cells);
        if leading_times(&cells) > 0 {
            first_row.get_or_insert(index);
            rows.push(cells.clone());
        }
        if rows.len() == LOOKED_AT {
            break;
        }
    }
    let Some(first_row) = first_row else {
        return Commas::Part;
    };
    let times = leading_times(&rows[0]);
    let width = crate::delimiter::usual_count(rows.iter().map(Vec::len)).unwrap_or(0);
    let of_width = || rows.iter().filter(|row| row.len() == width);
    let paired = width > times && (width - times).is_multiple_of(2);
    if !paired || !of_width().all(|row| row[times..].iter().all(|c| is_digits(c))) {
        return Commas::Part;
    }
    let names = lines[first_row.saturating_sub(ABOVE)..first_row]
        .iter()
        .rev()
        .find(|line| line.contains(',') && line.chars().any(char::is_alphabetic))
        .map(|line| line.split(',').count());
    let expected = times + (width - times) / 2;
    match names {
        Some(count) if count == expected => {}
        Some(_) => return Commas::Part,
        None if said == Some("comma") => {}
        None if looks_paired(of_width(), times) => return Commas::Open(first_row + 1),
        None => return Commas::Part,
    }
    let parted = |line: &&str| with_semicolons(line, times, width);
    Commas::Both(lines.iter().map(parted).collect())
}

/// Cells at the begin that tell a date or a time.
fn leading_times(cells: &[&str]) -> usize {
    cells.iter().take_while(|c| stamp(c).is_some()).count()
}

fn is_digits(cell: &str) -> bool {
    let digits = cell.strip_prefix('-').unwrap_or(cell);
    digits.is_empty() || digits.bytes().all(|b| b.is_ascii_digit())
}

/// Whether every second cell has one length and reaches from the lowest to the highest digits, as decimals do.
fn looks_paired<'r>(rows: impl Iterator<Item = &'r Vec<&'r str>>, times: usize) -> bool {
    let decimals: Vec<&str> = rows
        .flat_map(|row| row[times..].iter().skip(1).step_by(2).copied())
        .collect();
    let length = decimals.first().map_or(0, |d| d.len());
    let firsts: Vec<u8> = decimals.iter().filter_map(|d| d.bytes().next()).collect();
    let (low, high) = (firsts.iter().min(), firsts.iter().max());
    (1..=3).contains(&length)
        && decimals.iter().all(|d| d.len() == length)
        && low.is_some_and(|low| *low <= b'1')
        && high.is_some_and(|high| *high >= b'8')
}

fn with_semicolons(line: &str, times: usize, width: usize) -> String {
    let mut cells = Vec::new();
    Delimiter::Comma.split(line, &mut cells);
    let is_row = leading_times(&cells) == times && cells.len() == width;
    if !is_row {
        return line.replace(',', ";");
    }
    let (told, values) = cells.split_at(times);
    let values = values.chunks(2).map(|pair| match pair {
        ["", ""] => String::new(),
        pair => pair.join(","),
    });
    let told = told.iter().map(ToString::to_string);
    told.chain(values).collect::<Vec<_>>().join(";")
}
