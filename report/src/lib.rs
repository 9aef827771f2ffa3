//! A sheet is a document without a format: headings, tables, figures and boxes to tick. It becomes PDF/A-3, HTML, SVG or
//! plain text. This room takes values and returns bytes; it knows no weld, takes no clock and opens no file.

pub mod chart;
mod drawing;
mod error;
mod face;
mod html;
mod layout;
mod line;
mod marks;
mod pdf;
mod plain;
pub mod scale;
pub mod section_picture;
mod sheet;
mod simplify;
mod span;
mod svg;
mod ticks;

pub use drawing::{
    Anchor, Clip, Drawing, Face, Group, HAIRLINE_PT, Ink, Item, LABEL_PT, Label, Path, STRONG_PT,
    Segment, Stand, Stroke, THIN_PT, contour,
};
pub use error::ReportError;
pub use face::text_width_pt;
pub use html::{STYLE, WebFace, faces_css, html, html_fragment, web_faces};
pub use layout::{Fit, one_page_fits};
pub use pdf::{Attachment, Moment, Relationship, attached, pdf};
pub use plain::{close_text, text};
pub use sheet::{
    Align, Block, Column, Fact, Figure, Margins, Note, NoteKind, Paper, Row, Running, Sheet, Table,
    TableColumn, WriteIn,
};
pub use span::{Mark, Span, State, Text};
pub use svg::{svg, svg_inline};
pub use ticks::{Tick, decimal_ticks, hour_ticks, round_range};

/// Millimeters in a typographic point.
pub(crate) const MM_PER_PT: f64 = 25.4 / 72.0;
