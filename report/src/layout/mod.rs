//! From blocks to pages: blocks become slabs, slabs are stacked on pages.

mod blocks;
mod columns;
mod lists;
mod page;
mod slab;
mod table;
mod tags;
#[cfg(test)]
mod tests;

use crate::drawing::{Clip, Drawing, Face, Ink, Item, Label, Path, Segment};
use crate::error::ReportError;
use crate::line::Style;
use crate::marks::Marks;
use crate::sheet::{Block, Margins, Paper, Row, Sheet, Table};
use blocks::Setter;
pub(crate) use page::{Bookmark, Page};
pub(crate) use slab::{Placed, What};
pub(crate) use tags::{Kind, Tags};

/// Type size and leading in points.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Size {
    pub pt: f64,
    pub leading_pt: f64,
}

/// The title of the document.
pub(crate) const TITLE: Size = Size {
    pt: 19.0,
    leading_pt: 23.0,
};
/// Headings of parts.
pub(crate) const HEADING: Size = Size {
    pt: 13.0,
    leading_pt: 17.0,
};
/// Running text.
pub(crate) const BODY: Size = Size {
    pt: 9.75,
    leading_pt: 13.5,
};
/// Captions, heads of tables, running head and foot.
pub(crate) const SMALL: Size = Size {
    pt: 8.25,
    leading_pt: 11.0,
};

/// How closely blocks are set: sizes of type and the room round them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Setting {
    /// The title of the document.
    pub title: Size,
    /// Running text.
    pub body: Size,
    /// Captions and heads of tables.
    pub small: Size,
    /// Cells of tables.
    pub cell: Size,
    /// Before paragraphs and lists, in points.
    pub block_gap_pt: f64,
    /// Before tables, figures and columns, in points.
    pub wide_gap_pt: f64,
    /// Between columns of a table, in points.
    pub cell_gap_pt: f64,
    /// Above and below the text of a row, in points.
    pub pad_pt: f64,
    /// Between columns of blocks, in points.
    pub column_gap_pt: f64,
    /// Above the heading of a section, in points.
    pub heading_gap_pt: f64,
    /// Between notes of a list, in points.
    pub note_gap_pt: f64,
    /// Between statements to tick, in points.
    pub check_gap_pt: f64,
    /// Height of a line to write on, in points.
    pub write_in_pt: f64,
}

/// Pages that are read at a desk.
pub(crate) const ROOMY: Setting = Setting {
    title: TITLE,
    body: BODY,
    small: SMALL,
    cell: Size {
        pt: 9.25,
        leading_pt: 12.5,
    },
    block_gap_pt: 8.0,
    wide_gap_pt: 13.0,
    cell_gap_pt: 15.0,
    pad_pt: 2.4,
    column_gap_pt: 22.0,
    heading_gap_pt: 15.0,
    note_gap_pt: 4.0,
    check_gap_pt: 4.5,
    write_in_pt: 23.0,
};

/// A page of its own that must hold everything; its type is still read on a second copy.
pub(crate) const TIGHT: Setting = Setting {
    title: Size {
        pt: 14.0,
        leading_pt: 16.0,
    },
    body: Size {
        pt: 8.0,
        leading_pt: 9.5,
    },
    small: Size {
        pt: 8.0,
        leading_pt: 9.2,
    },
    cell: Size {
        pt: 8.0,
        leading_pt: 9.6,
    },
    block_gap_pt: 3.0,
    wide_gap_pt: 5.0,
    cell_gap_pt: 8.0,
    pad_pt: 0.6,
    column_gap_pt: 14.0,
    heading_gap_pt: 15.0,
    note_gap_pt: 4.0,
    check_gap_pt: 1.6,
    write_in_pt: 17.0,
};

/// Where a page of its own does not hold everything otherwise: the same sizes of type, less room round them.
pub(crate) const CLOSE: Setting = Setting {
    body: Size {
        pt: 8.0,
        leading_pt: 9.0,
    },
    small: Size {
        pt: 8.0,
        leading_pt: 8.8,
    },
    cell: Size {
        pt: 8.0,
        leading_pt: 9.0,
    },
    block_gap_pt: 1.6,
    wide_gap_pt: 2.6,
    pad_pt: 0.3,
    heading_gap_pt: 3.0,
    note_gap_pt: 1.2,
    ..TIGHT
};

pub(crate) fn style(size: Size, face: Face, ink: Ink) -> Style {
    Style {
        size_pt: size.pt,
        face,
        ink,
    }
}

/// The frame of a page in points.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Frame {
    pub paper_width_pt: f64,
    pub paper_height_pt: f64,
    pub left_pt: f64,
    pub top_pt: f64,
    pub width_pt: f64,
    pub height_pt: f64,
    /// Explanations of marks go on in the same line.
    pub explains_in_one: bool,
}

/// Margins of the text in mm: sides, top with the running head, bottom with the running foot.
fn margins_mm(margins: Margins) -> [f64; 3] {
    match margins {
        Margins::Usual => [22.0, 21.0, 18.0],
        Margins::Narrow => [12.7, 17.5, 14.5],
    }
}

/// The frame of this paper within its margins.
pub(crate) fn frame(paper: Paper, margins: Margins) -> Frame {
    let (width_mm, height_mm) = paper.size_mm();
    let [side_mm, top_mm, bottom_mm] = margins_mm(margins);
    let pt = |mm: f64| mm / crate::MM_PER_PT;
    Frame {
        paper_width_pt: pt(width_mm),
        paper_height_pt: pt(height_mm),
        left_pt: pt(side_mm),
        top_pt: pt(top_mm),
        width_pt: pt(width_mm - 2.0 * side_mm),
        height_pt: pt(height_mm - top_mm - bottom_mm),
        explains_in_one: margins == Margins::Narrow,
    }
}

/// A sheet set on pages.
pub(crate) struct Laid<'a> {
    pub frame: Frame,
    pub pages: Vec<Page<'a>>,
    pub bookmarks: Vec<Bookmark>,
    pub tags: Tags,
}

/// Sets a sheet on pages.
///
/// # Errors
/// A page that must hold everything and does not; a piece taller than a page; a table whose rows do not fit its columns;
/// a drawing that cannot be drawn.
pub(crate) fn lay(sheet: &Sheet) -> Result<Laid<'_>, ReportError> {
    check(&sheet.blocks)?;
    let frame = frame(sheet.paper, sheet.margins);
    let mut setter = Setter::new(Marks::of_sheet(sheet), frame);
    let slabs = setter.sheet(sheet)?;
    let (mut pages, bookmarks) = page::stack_on_pages(slabs, &mut setter)?;
    page::add_running(&mut pages, sheet, frame);
    Ok(Laid {
        frame,
        pages,
        bookmarks,
        tags: setter.tags,
    })
}

/// How much of its page a block that must fit on one page takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// Height of the content in mm.
    pub needed_mm: f64,
    /// Height that the paper offers in mm.
    pub available_mm: f64,
}

impl Fit {
    /// Whether the content fits.
    #[must_use]
    pub fn fits(&self) -> bool {
        self.needed_mm <= self.available_mm
    }
}

/// Measures each [`Block::OnePage`] of a sheet in order, whether it fits or not, so that the caller can trim.
///
/// # Errors
/// A table whose rows do not fit its columns; a drawing that cannot be drawn.
pub fn one_page_fits(sheet: &Sheet) -> Result<Vec<Fit>, ReportError> {
    check(&sheet.blocks)?;
    let mut setter = Setter::new(Marks::of_sheet(sheet), frame(sheet.paper, sheet.margins));
    let mut fits = Vec::new();
    for (i, block) in sheet.blocks.iter().enumerate() {
        if let Block::OnePage(inner) = block {
            let title = (i == 0).then_some(sheet);
            fits.push(setter.measure_page(title, inner)?);
        }
    }
    Ok(fits)
}

fn check(blocks: &[Block]) -> Result<(), ReportError> {
    for block in blocks {
        match block {
            Block::Table(table) => check_table(table)?,
            Block::Figure(figure) => check_drawing(&figure.drawing)?,
            Block::Columns(columns) => columns
                .iter()
                .try_for_each(|column| check(&column.blocks))?,
            Block::KeepTogether(inner) | Block::OnePage(inner) | Block::Close(inner) => {
                check(inner)?
            }
            _ => {}
        }
    }
    Ok(())
}

fn check_table(table: &Table) -> Result<(), ReportError> {
    let expected = table.columns.len();
    for (i, row) in table.rows.iter().enumerate() {
        let found = if let Row::Cells(cells) = row {
            cells.len()
        } else {
            expected
        };
        if found != expected {
            let caption = table.caption.words();
            let first = table
                .columns
                .first()
                .map(|column| column.heading.words())
                .unwrap_or_default();
            let name = if caption.is_empty() { first } else { caption };
            return Err(ReportError::CellsOfRow {
                table: name,
                row: i + 1,
                found,
                expected,
            });
        }
    }
    Ok(())
}

fn check_drawing(drawing: &Drawing) -> Result<(), ReportError> {
    let wrong = |reason: &str| ReportError::Drawing {
        title: drawing.title.clone(),
        reason: reason.to_string(),
    };
    let sizes = [drawing.width, drawing.height, drawing.mm_per_unit];
    if !sizes.iter().all(|size| size.is_finite() && *size > 0.0) {
        return Err(wrong("its width, height and scale must be above zero"));
    }
    if !drawing.items.iter().all(is_finite) || !drawing.left.is_finite() || !drawing.top.is_finite()
    {
        return Err(wrong("a coordinate is not a number"));
    }
    Ok(())
}

fn is_finite(item: &Item) -> bool {
    match item {
        Item::Path(path) => is_finite_path(path),
        Item::Label(Label {
            at,
            size_pt,
            turn_deg,
            ..
        }) => at
            .iter()
            .chain([size_pt, turn_deg])
            .all(|number| number.is_finite()),
        Item::Group(group) => is_finite_clip(group.clip) && group.items.iter().all(is_finite),
    }
}

fn is_finite_clip(clip: Option<Clip>) -> bool {
    clip.is_none_or(|clip| {
        [clip.left, clip.top, clip.width, clip.height]
            .iter()
            .all(|number| number.is_finite())
    })
}

fn is_finite_path(path: &Path) -> bool {
    let finite = |point: &[f64; 2]| point.iter().all(|number| number.is_finite());
    let stroke = path.stroke.as_ref();
    stroke.is_none_or(|stroke| {
        stroke.width_pt.is_finite() && stroke.dash_pt.iter().all(|dash| dash.is_finite())
    }) && path.segments.iter().all(|segment| match segment {
        Segment::Move(to) | Segment::Line(to) => finite(to),
        Segment::Curve(first, second, to) => finite(first) && finite(second) && finite(to),
        Segment::Close => true,
    })
}
