//! What can go wrong when a sheet is set.

use thiserror::Error;

/// Why a sheet could not be made into a file.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ReportError {
    /// A block that must fit on one page does not.
    #[error(
        "the page \"{page}\" is full: its content needs {needed_mm:.0} mm and the paper has {available_mm:.0} mm; \
         shorten it or move a part to a page of its own"
    )]
    OnePageOverflow {
        /// First words on the page.
        page: String,
        /// Height of the content in mm.
        needed_mm: f64,
        /// Height that the paper offers in mm.
        available_mm: f64,
    },
    /// A piece that cannot be divided is taller than a page.
    #[error(
        "\"{what}\" cannot be divided and is {needed_mm:.0} mm high; a page has {available_mm:.0} mm; \
         make the drawing smaller or take it out of its columns"
    )]
    TallerThanPage {
        /// First words of the piece.
        what: String,
        /// Height of the piece in mm.
        needed_mm: f64,
        /// Height that the paper offers in mm.
        available_mm: f64,
    },
    /// A row of a table has not as many cells as the table has columns.
    #[error(
        "row {row} of the table \"{table}\" has {found} cells; the table has {expected} columns"
    )]
    CellsOfRow {
        /// Caption of the table, or the heading of its first column.
        table: String,
        /// Number of the row, from 1.
        row: usize,
        /// Cells found.
        found: usize,
        /// Columns of the table.
        expected: usize,
    },
    /// A drawing has no size, or a coordinate that is not a number.
    #[error("the drawing \"{title}\" cannot be drawn: {reason}")]
    Drawing {
        /// Title of the drawing.
        title: String,
        /// What is wrong.
        reason: String,
    },
    /// Two attachments carry the same name.
    #[error("two attachments are named \"{name}\"; give each a name of its own")]
    AttachmentNamedTwice {
        /// The name.
        name: String,
    },
    /// A media type that is not of the form `type/subtype`.
    #[error("the attachment \"{name}\" has the media type \"{mime}\"; it must look like text/csv")]
    AttachmentMime {
        /// Name of the attachment.
        name: String,
        /// The media type found.
        mime: String,
    },
    /// A date that is in no calendar.
    #[error(
        "the date {year:04}-{month:02}-{day:02} {hour:02}:{minute:02}:{second:02} does not exist"
    )]
    Date {
        /// Year.
        year: u16,
        /// Month.
        month: u8,
        /// Day.
        day: u8,
        /// Hour.
        hour: u8,
        /// Minute.
        minute: u8,
        /// Second.
        second: u8,
    },
    /// A document that cannot be opened.
    #[error("no PDF that can be opened: {reason}")]
    Unopened {
        /// What the reader found.
        reason: String,
    },
    /// The file would not keep the archival standard.
    #[error("the PDF would not keep PDF/A-3: {reason}")]
    Archival {
        /// What the validator found.
        reason: String,
    },
}
