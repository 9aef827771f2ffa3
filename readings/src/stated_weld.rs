//! The weld that the lines above the rows name.

use crate::table::Table;
use crate::words::words;

/// Letters of the name of a weld.
const LONGEST: usize = 60;

/// A weld as a file names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StatedWeld {
    /// The line.
    pub line: usize,
    /// The name as it stands there.
    pub name: String,
}

/// The first line above the rows that begins with a word for a weld and goes on with its name.
pub(crate) fn stated_weld(table: &Table, lines: &[&str]) -> Option<StatedWeld> {
    let end = table.header.unwrap_or(table.first_row);
    let mut cells = Vec::new();
    lines
        .iter()
        .take(end)
        .enumerate()
        .find_map(|(index, line)| {
            table.delimiter.split(line, &mut cells);
            let mut parts = cells
                .iter()
                .flat_map(|cell| cell.split([':', '=', ';', '\t', '|']))
                .map(|part| part.trim().trim_matches('"').trim())
                .filter(|part| !part.is_empty());
            let is_weld = words().is_weld(parts.next()?);
            let name = parts.next().filter(|_| is_weld)?;
            (name.chars().count() <= LONGEST).then(|| StatedWeld {
                line: index + 1,
                name: name.to_owned(),
            })
        })
}
