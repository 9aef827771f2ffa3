//! Blocks that stand on the page of a need and on a plan alike.

mod bake_out;
mod exposure;
mod preheat;
mod time_temperature;

use report::{Block, Row, Table, TableColumn, Text};
use rules::requirement::Clause;

pub(crate) use bake_out::{after_cycle, bake_out};
pub(crate) use exposure::exposure;
pub(crate) use preheat::{compared, off, preheat};
pub(crate) use time_temperature::time_temperature;

use crate::sheet::words::marked;

/// A document and its clause with the mark that the value needs.
pub(crate) fn cited(clause: &Clause) -> Text {
    let words = format!("{} {}", clause.document, clause.clause);
    marked(Text::plain(words), clause.status)
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
