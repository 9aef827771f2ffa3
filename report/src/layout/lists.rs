//! Notes, facts, boxes to tick and lines to write on.

use crate::drawing::{Face, Ink};
use crate::line::{break_lines, widths_pt};
use crate::sheet::{Fact, Note, NoteKind, WriteIn};
use crate::span::Text;

use super::blocks::{Setter, base_pt};
use super::slab::{Placed, Slab, What, stacked};
use super::{Kind, style};

/// Indent of items in points.
const INDENT_PT: f64 = 12.0;
/// Indent behind a box to tick in points.
const CHECK_INDENT_PT: f64 = 18.0;
/// Side of a box to tick in points: large enough for a thick pen.
const CHECK_SIDE_PT: f64 = 9.5;
/// Gap between a name and its value in points.
const FACT_GAP_PT: f64 = 14.0;
/// A name takes no more than this share of the width.
const NAME_SHARE: f64 = 0.45;

impl Setter {
    pub(super) fn notes<'a>(&mut self, notes: &[Note], width_pt: f64) -> Vec<Slab<'a>> {
        let list = self.tags.add(None, Kind::List);
        let mut slabs = Vec::new();
        for (i, note) in notes.iter().enumerate() {
            let mut slab = self.note(note, list, width_pt - INDENT_PT);
            slab.before_pt = if i == 0 {
                self.setting.block_gap_pt
            } else {
                self.setting.note_gap_pt
            };
            slabs.push(slab);
        }
        slabs
    }

    fn note<'a>(&mut self, note: &Note, list: usize, width_pt: f64) -> Slab<'a> {
        let item = self.tags.add(Some(list), Kind::Item);
        let look = style(self.setting.body, Face::Regular, Ink::Full);
        let text = match note.kind {
            NoteKind::Note => note.text.clone(),
            NoteKind::Caution => {
                let mut spans = Text::default().strong("Caution ").0;
                spans.extend(note.text.0.iter().cloned());
                Text(spans)
            }
        };
        let label =
            (note.kind == NoteKind::Note).then(|| self.tags.add(Some(item), Kind::ItemLabel));
        let body = self.tags.add(Some(item), Kind::ItemBody);
        let inner = stacked(self.lines(&text, look, self.setting.body, width_pt, body, 0.0));
        let mut slab = Slab::of_height(0.0, inner.height_pt);
        match label {
            Some(label) => self.put_word(&mut slab, "–", label),
            None => slab.put_bar(0.0, 1.5, 1.8, inner.height_pt - 3.0, Ink::Full),
        }
        slab.take(inner, INDENT_PT, 0.0);
        slab
    }

    fn put_word(&mut self, slab: &mut Slab, word: &str, tag: usize) {
        let look = style(self.setting.body, Face::Regular, Ink::Soft);
        for line in break_lines(&word.into(), look, INDENT_PT, &mut self.marks) {
            slab.put_line(line, 0.0, base_pt(self.setting.body), Some(tag));
        }
    }

    pub(super) fn facts<'a>(&mut self, facts: &[Fact], width_pt: f64) -> Vec<Slab<'a>> {
        let list = self.tags.add(None, Kind::List);
        let name_look = style(self.setting.body, Face::Regular, Ink::Soft);
        let widest = facts
            .iter()
            .map(|fact| widths_pt(&fact.name, name_look, &mut self.marks).1)
            .fold(0.0, f64::max);
        let name_pt = widest.min(width_pt * NAME_SHARE);
        let mut slabs = Vec::new();
        for (i, fact) in facts.iter().enumerate() {
            let item = self.tags.add(Some(list), Kind::Item);
            let label = self.tags.add(Some(item), Kind::ItemLabel);
            let body = self.tags.add(Some(item), Kind::ItemBody);
            let name = stacked(self.lines(
                &fact.name,
                name_look,
                self.setting.body,
                name_pt,
                label,
                0.0,
            ));
            let value_look = style(self.setting.body, Face::Regular, Ink::Full);
            let value_pt = width_pt - name_pt - FACT_GAP_PT;
            let value = stacked(self.lines(
                &fact.value,
                value_look,
                self.setting.body,
                value_pt,
                body,
                0.0,
            ));
            let before_pt = if i == 0 {
                self.setting.block_gap_pt
            } else {
                2.0
            };
            let mut slab = Slab::of_height(before_pt, name.height_pt.max(value.height_pt));
            slab.take(name, 0.0, 0.0);
            slab.take(value, name_pt + FACT_GAP_PT, 0.0);
            slabs.push(slab);
        }
        slabs
    }

    pub(super) fn checks<'a>(&mut self, texts: &[Text], width_pt: f64) -> Vec<Slab<'a>> {
        let list = self.tags.add(None, Kind::List);
        let mut slabs = Vec::new();
        for (i, text) in texts.iter().enumerate() {
            let item = self.tags.add(Some(list), Kind::Item);
            let body = self.tags.add(Some(item), Kind::ItemBody);
            let look = style(self.setting.body, Face::Regular, Ink::Full);
            let inner = stacked(self.lines(
                text,
                look,
                self.setting.body,
                width_pt - CHECK_INDENT_PT,
                body,
                0.0,
            ));
            let mut slab = Slab::of_height(
                if i == 0 {
                    self.setting.block_gap_pt
                } else {
                    self.setting.check_gap_pt
                },
                inner.height_pt,
            );
            let what = What::TickBox {
                side_pt: CHECK_SIDE_PT,
            };
            slab.placed.push(Placed {
                x_pt: 0.0,
                y_pt: base_pt(self.setting.body) + 0.4,
                tag: None,
                what,
            });
            slab.take(inner, CHECK_INDENT_PT, 0.0);
            slabs.push(slab);
        }
        slabs
    }

    pub(super) fn write_ins<'a>(&mut self, lines: &[WriteIn], width_pt: f64) -> Vec<Slab<'a>> {
        let look = style(self.setting.small, Face::Regular, Ink::Soft);
        let mut rows: Vec<Vec<(f64, f64, &WriteIn)>> = vec![Vec::new()];
        let mut used_pt = 0.0;
        for line in lines {
            let label_pt = widths_pt(&Text::plain(&line.label), look, &mut self.marks).1;
            let line_pt = (line.width_mm / crate::MM_PER_PT)
                .min(width_pt - label_pt - 5.0)
                .max(20.0);
            let whole_pt = label_pt + 5.0 + line_pt;
            if used_pt > 0.0 && used_pt + FACT_GAP_PT + whole_pt > width_pt {
                rows.push(Vec::new());
                used_pt = 0.0;
            }
            used_pt += whole_pt + if used_pt > 0.0 { FACT_GAP_PT } else { 0.0 };
            if let Some(row) = rows.last_mut() {
                row.push((label_pt, line_pt, line));
            }
        }
        rows.iter()
            .filter(|row| !row.is_empty())
            .map(|row| self.write_in_row(row, width_pt))
            .collect()
    }

    /// A row of lines, lengthened so that the last ends at the margin.
    fn write_in_row<'a>(&mut self, row: &[(f64, f64, &WriteIn)], width_pt: f64) -> Slab<'a> {
        let look = style(self.setting.small, Face::Regular, Ink::Soft);
        let gaps_pt = FACT_GAP_PT * (row.len() - 1) as f64;
        let used_pt: f64 = row
            .iter()
            .map(|(label_pt, line_pt, _)| label_pt + 5.0 + line_pt)
            .sum();
        let extra_pt = ((width_pt - used_pt - gaps_pt) / row.len() as f64).max(0.0);
        let mut slab = Slab::of_height(0.0, self.setting.write_in_pt);
        let base = self.setting.write_in_pt - 3.0;
        let mut x_pt = 0.0;
        for (label_pt, line_pt, line) in row {
            let tag = self.tags.add(None, Kind::Paragraph);
            for set in break_lines(
                &Text::plain(&line.label),
                look,
                f64::INFINITY,
                &mut self.marks,
            ) {
                slab.put_line(set, x_pt, base, Some(tag));
            }
            let start_pt = x_pt + label_pt + 5.0;
            slab.put_bar(
                start_pt,
                base + 1.5,
                line_pt + extra_pt,
                crate::THIN_PT,
                Ink::Full,
            );
            x_pt = start_pt + line_pt + extra_pt + FACT_GAP_PT;
        }
        slab
    }
}
