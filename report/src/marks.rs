//! Marks beside values: each explanation gets one letter, in order of appearance.

use crate::sheet::{Block, Row, Sheet};
use crate::span::{Mark, Span, Text};

/// The marks met so far; equal marks share a letter.
#[derive(Debug, Clone, Default)]
pub(crate) struct Marks {
    met: Vec<Mark>,
}

impl Marks {
    /// All marks of a sheet in reading order.
    pub(crate) fn of_sheet(sheet: &Sheet) -> Marks {
        let mut marks = Marks::default();
        marks.of_blocks(&sheet.blocks);
        marks
    }

    /// All marks of these blocks in reading order, added to those met.
    pub(crate) fn of_blocks(&mut self, blocks: &[Block]) {
        for block in blocks {
            self.of_block(block);
        }
    }

    fn of_block(&mut self, block: &Block) {
        match block {
            Block::Heading { text, .. } | Block::Paragraph(text) => self.of_text(text),
            Block::Notes(notes) => notes.iter().for_each(|note| self.of_text(&note.text)),
            Block::Facts(facts) => facts.iter().for_each(|fact| {
                self.of_text(&fact.name);
                self.of_text(&fact.value);
            }),
            Block::Table(table) => {
                self.of_text(&table.caption);
                table
                    .columns
                    .iter()
                    .for_each(|column| self.of_text(&column.heading));
                table.rows.iter().for_each(|row| match row {
                    Row::Cells(cells) => cells.iter().for_each(|cell| self.of_text(cell)),
                    Row::Group(text) => self.of_text(text),
                });
            }
            Block::Checks(texts) => texts.iter().for_each(|text| self.of_text(text)),
            Block::Figure(figure) => self.of_text(&figure.caption),
            Block::Columns(columns) => columns
                .iter()
                .for_each(|column| self.of_blocks(&column.blocks)),
            Block::KeepTogether(inner) | Block::OnePage(inner) | Block::Close(inner) => {
                self.of_blocks(inner)
            }
            Block::WriteIns(_) | Block::PageBreak => {}
        }
    }

    fn of_text(&mut self, text: &Text) {
        for span in &text.0 {
            if let Span::Mark(mark) = span {
                self.number(mark);
            }
        }
    }

    /// Place of a mark in the order of appearance; a new one is added.
    pub(crate) fn number(&mut self, mark: &Mark) -> usize {
        match self.met.iter().position(|known| known == mark) {
            Some(number) => number,
            None => {
                self.met.push(mark.clone());
                self.met.len() - 1
            }
        }
    }

    /// The marks in order.
    pub(crate) fn all(&self) -> &[Mark] {
        &self.met
    }
}

/// The letter of a mark: a to z, then aa, ab and so on.
pub(crate) fn letter(number: usize) -> String {
    let last = char::from(b'a' + u8::try_from(number % 26).unwrap_or(0));
    if number < 26 {
        last.to_string()
    } else {
        format!("{}{last}", letter(number / 26 - 1))
    }
}
