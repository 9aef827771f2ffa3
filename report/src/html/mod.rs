//! The sheet as one self-contained HTML file, and as a fragment for a page that brings its own frame.

mod blocks;
mod faces;

use std::fmt::Write;

use crate::marks::Marks;
use crate::sheet::{Paper, Sheet};
use crate::svg::escape;
use blocks::Writer;
pub use faces::{WebFace, faces_css, web_faces};

/// Style sheet of the fragments that [`html_fragment`] makes: inks for light, dark and print, and the blocks.
pub const STYLE: &str = concat!(include_str!("ink.css"), include_str!("blocks.css"));

/// Style of a page that stands alone.
const PAGE_STYLE: &str = include_str!("page.css");

/// One file without anything outside it: style, drawings and typeface are in it.
#[must_use]
pub fn html(sheet: &Sheet) -> String {
    let language = escape(if sheet.language.is_empty() {
        "en"
    } else {
        &sheet.language
    });
    let paper = match sheet.paper {
        Paper::A4 => "A4",
        Paper::Letter => "letter",
    };
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"{language}\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta name=\"color-scheme\" content=\"light dark\"/>\n<title>{}</title>\n",
        escape(&sheet.title)
    );
    if !sheet.author.is_empty() {
        let _ = writeln!(
            out,
            "<meta name=\"author\" content=\"{}\"/>",
            escape(&sheet.author)
        );
    }
    let _ = writeln!(
        out,
        "<style>\n{}{STYLE}{PAGE_STYLE}@page{{size:{paper};margin:18mm}}\n</style>\n</head>\n<body>",
        faces_css()
    );
    push_head(&mut out, sheet);
    let _ = write!(out, "<main>\n{}</main>\n", html_fragment(sheet));
    push_foot(&mut out, sheet);
    out.push_str("</body>\n</html>\n");
    out
}

fn push_head(out: &mut String, sheet: &Sheet) {
    let running = &sheet.running;
    out.push_str("<header class=\"running\">");
    let _ = write!(out, "<span>{}</span>", escape(&running.head_left));
    if let Some(mark) = &running.mark {
        let _ = write!(out, "<strong>{}</strong>", escape(mark));
    }
    let _ = writeln!(out, "<span>{}</span></header>", escape(&running.head_right));
}

fn push_foot(out: &mut String, sheet: &Sheet) {
    if !sheet.running.foot_left.is_empty() {
        let _ = writeln!(
            out,
            "<footer class=\"running\"><span>{}</span></footer>",
            escape(&sheet.running.foot_left)
        );
    }
}

/// Title, blocks and explanations of marks, to stand within a page that includes [`STYLE`].
#[must_use]
pub fn html_fragment(sheet: &Sheet) -> String {
    let mut writer = Writer::new(Marks::of_sheet(sheet));
    writer.title(sheet);
    writer.blocks(&sheet.blocks);
    writer.explanations();
    writer.finish()
}
