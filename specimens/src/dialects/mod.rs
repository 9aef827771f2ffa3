//! Ways in which loggers write files. Each writes a good one and a broken twin.

mod blocks;
mod coded;
mod days;
mod elapsed;
mod eventful;
mod fahrenheit;
mod iso;
mod long;
mod months;
mod preamble;
mod serial;
mod status;
mod wide_text;

use crate::recording::Recording;
use crate::sheet::{Damage, Specimen};

pub use months::{CALENDARS, Calendar, written};

/// A way in which a logger writes files.
#[derive(Clone, Copy, Debug)]
pub struct Dialect {
    /// Its number.
    pub id: &'static str,
    /// What it is like.
    pub what: &'static str,
    /// Writes a good file.
    pub write: fn(&Recording) -> Specimen,
    /// Writes its broken twin; `usize` is the row that is broken.
    pub broken: fn(&Recording, usize) -> (Specimen, Damage),
}

/// Every dialect.
pub const ALL: [Dialect; 15] = [
    Dialect {
        id: "d01",
        what: "commas, ISO times without a zone",
        write: iso::write,
        broken: iso::broken,
    },
    Dialect {
        id: "d02",
        what: "Latin-1, semicolons, decimal commas, date and time apart, preamble, units row",
        write: preamble::write,
        broken: preamble::broken,
    },
    Dialect {
        id: "d03",
        what: "°F, month first, AM and PM, quotes, thousands",
        write: fahrenheit::write,
        broken: fahrenheit::broken,
    },
    Dialect {
        id: "d04",
        what: "tabs, minutes since a start that stands above",
        write: elapsed::write,
        broken: elapsed::broken,
    },
    Dialect {
        id: "d05",
        what: "seconds since 1970, whole tenths, codes",
        write: coded::write,
        broken: coded::broken,
    },
    Dialect {
        id: "d06",
        what: "a status behind each reading",
        write: status::write,
        broken: status::broken,
    },
    Dialect {
        id: "d07",
        what: "one reading a line, at different paces, out of order",
        write: long::write,
        broken: long::broken,
    },
    Dialect {
        id: "d08",
        what: "words between the rows",
        write: eventful::write,
        broken: eventful::broken,
    },
    Dialect {
        id: "d09",
        what: "dates as a spreadsheet counts them",
        write: serial::write,
        broken: serial::broken,
    },
    Dialect {
        id: "d09-1904",
        what: "dates as a spreadsheet counts them from 1904",
        write: serial::write_1904,
        broken: serial::broken_1904,
    },
    Dialect {
        id: "d09-german",
        what: "Latin-1, dates such as 03-Mär-2026",
        write: months::german,
        broken: months::broken_german,
    },
    Dialect {
        id: "d09-french",
        what: "dates such as 3 mars 2026 and 1er avril 2026",
        write: months::french,
        broken: months::broken_french,
    },
    Dialect {
        id: "d10",
        what: "a file a day, overlapping, headers again",
        write: days::write,
        broken: days::broken,
    },
    Dialect {
        id: "d11",
        what: "UTF-16, set point, power, outputs, states, ambient",
        write: wide_text::write,
        broken: wide_text::broken,
    },
    Dialect {
        id: "d12",
        what: "a print-out in pages of two blocks",
        write: blocks::write,
        broken: blocks::broken,
    },
];

/// Replaces one cell of a line.
fn with_cell(line: &str, delimiter: char, cell: usize, text: &str) -> String {
    let mut cells: Vec<&str> = line.split(delimiter).collect();
    cells[cell] = text;
    cells.join(&delimiter.to_string())
}

/// The names of the channels with something behind each, with a delimiter before each.
fn names(recording: &Recording, delimiter: &str, behind: &str) -> String {
    recording
        .channels
        .iter()
        .map(|name| format!("{delimiter}{name}{behind}"))
        .collect()
}
