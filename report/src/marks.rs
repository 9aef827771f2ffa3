//! Marks beside values: each explanation gets one sign, in order of appearance.

use crate::sheet::{Block, Row, Sheet};
use crate::span::{Mark, Span, Text};

/// The marks met so far; equal marks share a sign.
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

/// Signs in the order of printers: none of them can be part of a clause, a dimension or a name, as a letter, a digit or § can.
const SIGNS: [&str; 5] = ["*", "†", "‡", "¶", "‖"];

/// The sign of a mark: each alone, then doubled, then three times and so on.
pub(crate) fn sign(number: usize) -> String {
    SIGNS[number % SIGNS.len()].repeat(number / SIGNS.len() + 1)
}

#[cfg(test)]
mod tests {
    use super::{SIGNS, sign};
    use crate::drawing::Face;
    use crate::face::shape;

    #[test]
    fn no_sign_reads_as_a_part_of_a_clause_and_none_stands_for_two() {
        let signs: Vec<String> = (0..40).map(sign).collect();
        for (index, sign) in signs.iter().enumerate() {
            let of_a_clause = |c: char| c.is_alphanumeric() || "§.()-/".contains(c);
            assert!(!sign.contains(of_a_clause), "{sign}");
            assert!(!signs[..index].contains(sign), "{sign}");
        }
        assert_eq!(signs[..7], ["*", "†", "‡", "¶", "‖", "**", "††"]);
    }

    #[test]
    fn the_typeface_has_every_sign() {
        let stand_in = |face| shape(face, "□").glyphs[0].id;
        for face in [Face::Regular, Face::Italic, Face::Strong] {
            for sign in SIGNS {
                let id = shape(face, sign).glyphs[0].id;
                assert!(id != 0 && id != stand_in(face), "{sign} of {face:?}");
            }
        }
    }
}
