//! The requirement with its clauses, editions, levels and statuses, and the remarks.

use checks::{level_words, limit_words};
use quantity::{Status, Units};
use report::{Block, Note, Row, Table, TableColumn, Text};
use rules::Confirmation;
use rules::requirement::{Clause, Remark, Requirement};

use crate::file::shape::spoken;
use crate::sheet::words::{both_dimension, marked};

/// Governing thickness, limits and remarks.
pub(crate) fn blocks(requirement: &Requirement, units: Units) -> Vec<Block> {
    let governing = &requirement.governing_thickness;
    let thickness = Text::plain("Governing thickness ")
        .strong(both_dimension(governing.thickness, units))
        .and(format!(": {} (", governing.reason));
    let thickness = cite(thickness, &governing.clause).and(").");
    let mut blocks = vec![Block::paragraph(thickness), limits(requirement, units)];
    let remarks: Vec<Note> = requirement.remarks.iter().map(note).collect();
    if !remarks.is_empty() {
        blocks.push(Block::heading(2, "Remarks"));
        blocks.push(Block::Notes(remarks));
    }
    blocks
}

/// What the limits are, and what a status means that asks for a look into the document.
fn limits_words(requirement: &Requirement) -> String {
    let mut limits = requirement.limits.iter();
    let recalled = limits.any(|limit| limit.clause.status == Status::FromMemory);
    let meant = match recalled {
        true => {
            " “From memory”: the program knows the value from memory, and nobody has checked it against the clause yet."
        }
        false => "",
    };
    format!("Every limit of every level, with the edition in which it stands.{meant}")
}

/// The rows that somebody read himself, with name and day.
pub(crate) fn confirmed(rows: &[Confirmation]) -> Vec<Block> {
    if rows.is_empty() {
        return Vec::new();
    }
    let notes = rows.iter().map(|one| Note::plain(confirmed_words(one)));
    vec![
        Block::heading(2, "Rows that were confirmed or entered"),
        Block::Notes(notes.collect()),
    ]
}

/// Which row, by whom, when, and what a reader should know.
fn confirmed_words(one: &Confirmation) -> String {
    let entered = match one.value {
        Some(_) => ", with another value",
        None => "",
    };
    let note = one.note.as_ref().map(|note| format!(": {note}"));
    format!(
        "{}: {} on {}{entered}{}",
        one.row,
        one.by,
        one.on,
        note.unwrap_or_default()
    )
}

/// What is heeded while the heat is set up.
pub(super) fn advice(advice: &[Remark]) -> Vec<Block> {
    if advice.is_empty() {
        return Vec::new();
    }
    vec![
        Block::heading(2, "To heed while it is set up"),
        Block::Notes(advice.iter().map(note).collect()),
    ]
}

/// A remark with where it stands.
pub(super) fn note(remark: &Remark) -> Note {
    let text = Text::plain(spoken(&remark.text));
    Note::plain(match &remark.clause {
        Some(clause) => cite(text.and(" ("), clause).and(")"),
        None => text,
    })
}

/// A document and its clause with the mark that the value needs.
pub(super) fn cite(text: Text, clause: &Clause) -> Text {
    let words = format!("{} {}", clause.document, clause.clause);
    marked(text.and(words), clause.status)
}

fn limits(requirement: &Requirement, units: Units) -> Block {
    let rows = requirement.limits.iter().map(|limit| {
        Row::Cells(vec![
            limit_words(&limit.kind, units).into(),
            level_words(limit.level).into(),
            cite(Text::default(), &limit.clause),
            limit.clause.status.words().into(),
            spoken(&limit.reason).into(),
        ])
    });
    Block::Table(Table {
        caption: limits_words(requirement).into(),
        columns: vec![
            TableColumn::words("Limit"),
            TableColumn::words("Level"),
            TableColumn::words("Where it stands"),
            TableColumn::words("Status"),
            TableColumn::words("Why"),
        ],
        rows: rows.collect(),
        first_cell_names_row: true,
    })
}
