//! The sheet: a document without a format, and the blocks it is made of.

use crate::drawing::Drawing;
use crate::span::Text;

/// A document without a format.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// Title of the document, also its first line.
    pub title: String,
    /// One line under the title: what it is about.
    pub subject: String,
    /// Who made it, for the metadata of the file.
    pub author: String,
    /// Language as a BCP 47 tag, for example `en-US`.
    pub language: String,
    /// Paper size.
    pub paper: Paper,
    /// How much paper is left white round the text.
    pub margins: Margins,
    /// What stands at the head and foot of every page.
    pub running: Running,
    /// The content in reading order.
    pub blocks: Vec<Block>,
}

/// Paper sizes in portrait.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 mm × 297 mm.
    #[default]
    A4,
    /// 8.5 in × 11 in.
    Letter,
}

impl Paper {
    /// Width and height in millimeters.
    #[must_use]
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
        }
    }
}

/// How much paper is left white round the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Margins {
    /// Room to hold the sheet and to write beside the text.
    #[default]
    Usual,
    /// As little as a printer and a punched hole leave, for a page that does not hold everything otherwise; the marks are
    /// explained in one paragraph.
    Narrow,
}

/// The running head and foot of every page. The page number (`page 2 of 5`) is added at the right of the foot.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Running {
    /// Head, left: for example the weld's id.
    pub head_left: String,
    /// Head, right: for example the revision.
    pub head_right: String,
    /// Foot, left: for example who made it and when.
    pub foot_left: String,
    /// A mark in the middle of every head, for example `demo`.
    pub mark: Option<String>,
}

/// A block of content.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading. Level 1 is a part of the document, 2 a section, 3 a paragraph's title.
    Heading {
        /// Level from 1 to 3; anything above is set as 3.
        level: u8,
        /// The words.
        text: Text,
    },
    /// A paragraph.
    Paragraph(Text),
    /// Notes and cautions in order.
    Notes(Vec<Note>),
    /// A list of names with their values.
    Facts(Vec<Fact>),
    /// A table.
    Table(Table),
    /// Statements with a box to tick before each.
    Checks(Vec<Text>),
    /// Labels with a line to write on, as many side by side as fit.
    WriteIns(Vec<WriteIn>),
    /// A drawing with its caption.
    Figure(Figure),
    /// Columns side by side; they stay on one page.
    Columns(Vec<Column>),
    /// What follows starts a new page.
    PageBreak,
    /// Blocks that stay on one page if they can.
    KeepTogether(Vec<Block>),
    /// Blocks that fill a page of their own and must fit on it; they are set closely.
    OnePage(Vec<Block>),
    /// Blocks with little room round them, for a page that does not hold them otherwise. The type stays as large.
    Close(Vec<Block>),
}

/// A note or a caution.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// How much it matters.
    pub kind: NoteKind,
    /// What it says.
    pub text: Text,
}

/// How much a note matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoteKind {
    /// Good to know.
    Note,
    /// To be heeded before work goes on; set with the word `Caution` and a bar at its side.
    Caution,
}

/// A name and its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// The name, for example `Wall`.
    pub name: Text,
    /// The value with its unit, for example `17.5 mm`.
    pub value: Text,
}

/// A table. Every row has as many cells as there are columns.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// What the table shows; empty for none.
    pub caption: Text,
    /// The columns in order.
    pub columns: Vec<TableColumn>,
    /// The rows in order.
    pub rows: Vec<Row>,
    /// Whether the first cell of a row names the row.
    pub first_cell_names_row: bool,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct TableColumn {
    /// The heading; its unit goes here once, for example `Rate, °C/h`.
    pub heading: Text,
    /// How cells are aligned. Numbers belong at the end.
    pub align: Align,
}

/// A row of a table.
#[derive(Debug, Clone, PartialEq)]
pub enum Row {
    /// One text a column.
    Cells(Vec<Text>),
    /// A line across the table that names the rows after it.
    Group(Text),
}

/// How text is aligned within its column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Align {
    /// At the left: words.
    #[default]
    Start,
    /// Centered: boxes and single letters.
    Center,
    /// At the right: numbers with the same number of decimals.
    End,
}

/// A label with a line to write on.
#[derive(Debug, Clone, PartialEq)]
pub struct WriteIn {
    /// What is to be written, for example `Welder`.
    pub label: String,
    /// Length of the line in mm on paper.
    pub width_mm: f64,
}

/// A drawing with its caption.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The drawing. If it is wider than the column, it is made smaller to fit.
    pub drawing: Drawing,
    /// What it shows; empty for none.
    pub caption: Text,
}

/// A column of blocks beside others.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Share of the width, relative to the other columns.
    pub share: f64,
    /// The blocks in it.
    pub blocks: Vec<Block>,
}

impl Block {
    /// A heading of the given level.
    pub fn heading(level: u8, text: impl Into<Text>) -> Block {
        Block::Heading {
            level,
            text: text.into(),
        }
    }

    /// A paragraph.
    pub fn paragraph(text: impl Into<Text>) -> Block {
        Block::Paragraph(text.into())
    }

    /// A drawing with a caption.
    pub fn figure(drawing: Drawing, caption: impl Into<Text>) -> Block {
        Block::Figure(Figure {
            drawing,
            caption: caption.into(),
        })
    }
}

impl Note {
    /// Good to know.
    pub fn plain(text: impl Into<Text>) -> Note {
        Note {
            kind: NoteKind::Note,
            text: text.into(),
        }
    }

    /// To be heeded.
    pub fn caution(text: impl Into<Text>) -> Note {
        Note {
            kind: NoteKind::Caution,
            text: text.into(),
        }
    }
}

impl Fact {
    /// A name and its value.
    pub fn new(name: impl Into<Text>, value: impl Into<Text>) -> Fact {
        Fact {
            name: name.into(),
            value: value.into(),
        }
    }
}

impl TableColumn {
    /// A column of words.
    pub fn words(heading: impl Into<Text>) -> TableColumn {
        TableColumn {
            heading: heading.into(),
            align: Align::Start,
        }
    }

    /// A column of numbers, aligned at the right.
    pub fn numbers(heading: impl Into<Text>) -> TableColumn {
        TableColumn {
            heading: heading.into(),
            align: Align::End,
        }
    }

    /// A centered column, for example of boxes to tick.
    pub fn centered(heading: impl Into<Text>) -> TableColumn {
        TableColumn {
            heading: heading.into(),
            align: Align::Center,
        }
    }
}

impl Row {
    /// A row from anything that makes text.
    pub fn cells<T: Into<Text>>(cells: impl IntoIterator<Item = T>) -> Row {
        Row::Cells(cells.into_iter().map(Into::into).collect())
    }
}

impl Column {
    /// A column that takes this share of the width.
    #[must_use]
    pub fn new(share: f64, blocks: Vec<Block>) -> Column {
        Column { share, blocks }
    }
}
