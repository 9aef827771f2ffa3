//! Blocks become slabs.

use crate::drawing::{Face, Ink};
use crate::error::ReportError;
use crate::line::{Style, break_lines};
use crate::marks::Marks;
use crate::sheet::{Block, Figure, Sheet};
use crate::span::Text;

use super::page::explanation_lines;
use super::slab::{Placed, Slab, What, stacked};
use super::{CLOSE, Fit, Frame, HEADING, Kind, ROOMY, Setting, Size, TIGHT, Tags, style};

/// Space below a heading in points.
const BELOW_HEADING_PT: f64 = 5.0;
/// Where the base line lies within the leading, from its top.
const BASE_IN_LEADING: f64 = 0.74;

/// Space between two blocks: little below a heading, more below what is wide.
fn gap_pt(above: &Block, wanted_pt: f64, wide_gap_pt: f64) -> f64 {
    match above {
        Block::Heading { .. } => wanted_pt.min(BELOW_HEADING_PT),
        Block::Table(_) | Block::Figure(_) | Block::Columns(_) => wanted_pt.max(wide_gap_pt),
        _ => wanted_pt,
    }
}

/// Sets blocks; keeps the marks and the logical structure.
pub(crate) struct Setter {
    pub marks: Marks,
    pub tags: Tags,
    pub frame: Frame,
    /// How closely blocks are set at the moment.
    pub setting: Setting,
    /// Lines that each explanation takes at the foot of a page.
    pub explanation_lines: Vec<usize>,
}

fn is_page(block: &Block) -> bool {
    matches!(block, Block::OnePage(_))
}

/// What is read aloud in place of a drawing without a name: its caption, or what it is.
fn or_else(told: String, caption: &Text) -> String {
    let words = caption.words();
    match (told.is_empty(), words.is_empty()) {
        (false, _) => told,
        (true, false) => words,
        (true, true) => "Drawing".to_string(),
    }
}

/// Base line of a line of this size, from the top of its leading.
pub(super) fn base_pt(size: Size) -> f64 {
    size.leading_pt * BASE_IN_LEADING
}

impl Setter {
    pub(super) fn new(marks: Marks, frame: Frame) -> Setter {
        Setter {
            explanation_lines: explanation_lines(&marks, frame),
            marks,
            tags: Tags::default(),
            frame,
            setting: ROOMY,
        }
    }

    /// The title and all blocks. A sheet that starts with a page of its own carries its title there.
    pub(super) fn sheet<'a>(&mut self, sheet: &'a Sheet) -> Result<Vec<Slab<'a>>, ReportError> {
        let starts_with_page = matches!(sheet.blocks.first(), Some(Block::OnePage(_)));
        let mut slabs = if starts_with_page {
            Vec::new()
        } else {
            self.title(sheet)
        };
        for (i, part) in sheet
            .blocks
            .chunk_by(|one, next| !is_page(one) && !is_page(next))
            .enumerate()
        {
            match part {
                [Block::OnePage(inner)] => slabs.push(self.page((i == 0).then_some(sheet), inner)?),
                _ => slabs.extend(self.blocks(part, self.frame.width_pt)),
            }
        }
        Ok(slabs)
    }

    fn title<'a>(&mut self, sheet: &Sheet) -> Vec<Slab<'a>> {
        let mut slabs = Vec::new();
        if !sheet.title.is_empty() {
            let tag = self.tags.add(None, Kind::Title);
            let look = style(self.setting.title, Face::Strong, Ink::Full);
            slabs.extend(self.lines(
                &Text::plain(&sheet.title),
                look,
                self.setting.title,
                self.frame.width_pt,
                tag,
                0.0,
            ));
        }
        if !sheet.subject.is_empty() {
            let tag = self.tags.add(None, Kind::Paragraph);
            let look = style(self.setting.body, Face::Regular, Ink::Soft);
            slabs.extend(self.lines(
                &Text::plain(&sheet.subject),
                look,
                self.setting.body,
                self.frame.width_pt,
                tag,
                2.0,
            ));
        }
        if let Some(last) = slabs.last_mut() {
            last.height_pt += self.setting.block_gap_pt;
        }
        slabs.iter_mut().for_each(|slab| slab.keep_with_next = true);
        slabs
    }

    /// A page of its own.
    fn page<'a>(
        &mut self,
        title: Option<&Sheet>,
        inner: &'a [Block],
    ) -> Result<Slab<'a>, ReportError> {
        let mut slab = self.page_slab(title, inner);
        let fit = self.fit(&slab);
        if !fit.fits() {
            return Err(ReportError::OnePageOverflow {
                page: slab.first_words(),
                needed_mm: fit.needed_mm,
                available_mm: fit.available_mm,
            });
        }
        (
            slab.before_pt,
            slab.starts_page,
            slab.ends_page,
            slab.keep_with_next,
        ) = (0.0, true, true, false);
        Ok(slab)
    }

    fn page_slab<'a>(&mut self, title: Option<&Sheet>, inner: &'a [Block]) -> Slab<'a> {
        self.setting = TIGHT;
        let mut slabs = title.map(|sheet| self.title(sheet)).unwrap_or_default();
        slabs.extend(self.blocks(inner, self.frame.width_pt));
        self.setting = ROOMY;
        stacked(slabs)
    }

    /// Measures a page of its own.
    pub(super) fn measure_page(
        &mut self,
        title: Option<&Sheet>,
        inner: &[Block],
    ) -> Result<Fit, ReportError> {
        let slab = self.page_slab(title, inner);
        Ok(self.fit(&slab))
    }

    fn fit(&self, slab: &Slab) -> Fit {
        let needed_pt = slab.height_pt + self.explanations_height_pt(&slab.marks);
        Fit {
            needed_mm: needed_pt * crate::MM_PER_PT,
            available_mm: self.frame.height_pt * crate::MM_PER_PT,
        }
    }

    /// Blocks one after the other.
    pub(super) fn blocks<'a>(&mut self, blocks: &'a [Block], width_pt: f64) -> Vec<Slab<'a>> {
        let mut slabs: Vec<Slab> = Vec::new();
        let mut before: Option<&Block> = None;
        for block in blocks {
            let mut next = self.block(block, width_pt);
            if let (Some(before), Some(first)) = (before, next.first_mut()) {
                first.before_pt = gap_pt(before, first.before_pt, self.setting.wide_gap_pt);
            }
            slabs.extend(next);
            before = Some(block);
        }
        slabs
    }

    fn block<'a>(&mut self, block: &'a Block, width_pt: f64) -> Vec<Slab<'a>> {
        match block {
            Block::Heading { level, text } => self.heading(*level, text, width_pt),
            Block::Paragraph(text) => self.paragraph(text, width_pt),
            Block::Notes(notes) => self.notes(notes, width_pt),
            Block::Facts(facts) => self.facts(facts, width_pt),
            Block::Table(table) => self.table(table, width_pt),
            Block::Checks(texts) => self.checks(texts, width_pt),
            Block::WriteIns(lines) => self.write_ins(lines, width_pt),
            Block::Figure(figure) => vec![self.figure(figure, width_pt)],
            Block::Columns(columns) => vec![self.columns(columns, width_pt)],
            Block::PageBreak => vec![Slab {
                starts_page: true,
                ..Slab::default()
            }],
            Block::KeepTogether(inner) => self.together(inner, width_pt),
            Block::OnePage(inner) => self.blocks(inner, width_pt),
            Block::Close(inner) => self.close(inner, width_pt),
        }
    }

    fn close<'a>(&mut self, inner: &'a [Block], width_pt: f64) -> Vec<Slab<'a>> {
        let around = std::mem::replace(&mut self.setting, CLOSE);
        let slabs = self.blocks(inner, width_pt);
        self.setting = around;
        slabs
    }

    fn together<'a>(&mut self, inner: &'a [Block], width_pt: f64) -> Vec<Slab<'a>> {
        let slabs = self.blocks(inner, width_pt);
        let height_pt: f64 = slabs
            .iter()
            .map(|slab| slab.before_pt + slab.height_pt)
            .sum();
        if height_pt > self.frame.height_pt {
            slabs
        } else {
            vec![stacked(slabs)]
        }
    }

    fn heading<'a>(&mut self, level: u8, text: &Text, width_pt: f64) -> Vec<Slab<'a>> {
        let (size, face, before_pt) = match level {
            0 | 1 => (HEADING, Face::Strong, 22.0),
            2 => (self.setting.body, Face::Strong, self.setting.heading_gap_pt),
            _ => (self.setting.body, Face::Italic, 11.0),
        };
        let words = text.words();
        let kind = Kind::Heading {
            level: u16::from(level.clamp(1, 3)),
            title: words.clone(),
        };
        let tag = self.tags.add(None, kind);
        let mut slabs = self.lines(
            text,
            style(size, face, Ink::Full),
            size,
            width_pt,
            tag,
            before_pt,
        );
        if let Some(first) = slabs.first_mut() {
            first.bookmarks.push((level.clamp(1, 3), words, 0.0));
        }
        slabs.iter_mut().for_each(|slab| slab.keep_with_next = true);
        slabs
    }

    fn paragraph<'a>(&mut self, text: &Text, width_pt: f64) -> Vec<Slab<'a>> {
        let tag = self.tags.add(None, Kind::Paragraph);
        let look = style(self.setting.body, Face::Regular, Ink::Full);
        let mut slabs = self.lines(
            text,
            look,
            self.setting.body,
            width_pt,
            tag,
            self.setting.block_gap_pt,
        );
        let count = slabs.len();
        // Neither the first nor the last line of a paragraph stands alone on a page.
        for (i, slab) in slabs.iter_mut().enumerate() {
            slab.keep_with_next = i + 1 < count && (i == 0 || i + 2 == count);
        }
        slabs
    }

    fn figure<'a>(&mut self, figure: &'a Figure, width_pt: f64) -> Slab<'a> {
        let (width_mm, height_mm) = figure.drawing.size_mm();
        let told = [
            figure.drawing.title.as_str(),
            figure.drawing.description.as_str(),
        ];
        let told: Vec<&str> = told.into_iter().filter(|part| !part.is_empty()).collect();
        let group = self.tags.add(None, Kind::Part);
        let tag = self.tags.add(
            Some(group),
            Kind::Figure {
                told: or_else(told.join(". "), &figure.caption),
            },
        );
        let caption = self.figure_caption(&figure.caption, group, width_pt);
        let room_pt =
            self.frame.height_pt - caption.as_ref().map_or(0.0, |slab| slab.height_pt + 6.0);
        let (own_width_pt, own_height_pt) =
            (width_mm / crate::MM_PER_PT, height_mm / crate::MM_PER_PT);
        let shrink = (width_pt / own_width_pt)
            .min(room_pt / own_height_pt)
            .min(1.0);
        let mut slab = Slab::of_height(self.setting.wide_gap_pt, own_height_pt * shrink);
        let what = What::Drawing {
            drawing: &figure.drawing,
            shrink,
        };
        slab.placed.push(Placed {
            x_pt: 0.0,
            y_pt: 0.0,
            tag: Some(tag),
            what,
        });
        match caption {
            Some(caption) => stacked(vec![slab, caption]),
            None => slab,
        }
    }

    fn figure_caption<'a>(
        &mut self,
        caption: &Text,
        group: usize,
        width_pt: f64,
    ) -> Option<Slab<'a>> {
        if caption.is_empty() {
            return None;
        }
        let tag = self.tags.add(Some(group), Kind::Caption);
        let look = style(self.setting.small, Face::Regular, Ink::Soft);
        Some(stacked(self.lines(
            caption,
            look,
            self.setting.small,
            width_pt,
            tag,
            6.0,
        )))
    }

    /// Text as one slab a line.
    pub(super) fn lines<'a>(
        &mut self,
        text: &Text,
        look: Style,
        size: Size,
        width_pt: f64,
        tag: usize,
        before_pt: f64,
    ) -> Vec<Slab<'a>> {
        let lines = break_lines(text, look, width_pt, &mut self.marks);
        let mut slabs = Vec::with_capacity(lines.len());
        for (i, line) in lines.into_iter().enumerate() {
            let mut slab = Slab::of_height(if i == 0 { before_pt } else { 0.0 }, size.leading_pt);
            slab.put_line(line, 0.0, base_pt(size), Some(tag));
            slabs.push(slab);
        }
        slabs
    }
}
