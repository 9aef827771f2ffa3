//! Blocks that stand on the page of a need and on a plan alike.

mod bake_out;
mod bands;
mod exposure;
mod limits;
mod preheat;
mod thermocouples;
mod time_temperature;

use report::{Block, Row, Table, TableColumn, Text};
use rules::requirement::Clause;

pub(crate) use bake_out::{after_cycle, bake_out};
pub(crate) use bands::bands;
pub(crate) use exposure::{exposure, exposure_in_short};
pub(crate) use limits::limits;
pub(crate) use preheat::{compared, preheat};
pub(crate) use time_temperature::time_temperature;

use crate::sheet::words::marked;

/// A document and its clause with the mark that the value needs.
pub(crate) fn cited(clause: &Clause) -> Text {
    let words = format!("{} {}", clause.document, clause.clause);
    marked(Text::plain(words), clause.status)
}

/// As [`cited`], without the document's name where it is the one that the page is about.
pub(crate) fn cited_in(home: &str, clause: &Clause) -> Text {
    match clause.document == home && !clause.clause.is_empty() {
        true => marked(Text::plain(&clause.clause), clause.status),
        false => cited(clause),
    }
}

/// Who says it, and where it stands.
pub(crate) fn by(who: &str, clause: &Clause, home: &str) -> Text {
    let place = cited_in(home, clause);
    match who.is_empty() {
        true => place,
        false => Text([Text::plain(format!("{who}: ")).0, place.0].concat()),
    }
}

/// Words with where they stand behind them; what they name already is not named again.
pub(crate) fn with_clause(words: &str, clause: Option<&Clause>, home: &str) -> Text {
    let text = Text::plain(words.replace(&format!("{home} "), ""));
    match clause {
        None => text,
        Some(clause) if words.contains(&format!("{} {}", clause.document, clause.clause)) => {
            marked(text, clause.status)
        }
        Some(clause) => Text([text.and(" (").0, cited_in(home, clause).and(")").0].concat()),
    }
}

/// A table of words whose first cell names its row.
pub(crate) fn table<const N: usize>(heads: [&str; N], rows: Vec<Row>) -> Block {
    Block::Table(Table {
        caption: Text::default(),
        columns: heads.into_iter().map(TableColumn::words).collect(),
        rows,
        first_cell_names_row: true,
    })
}
