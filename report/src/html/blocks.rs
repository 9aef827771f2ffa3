//! Blocks as HTML elements.

use std::fmt::Write;

use crate::line::glued;
use crate::marks::{Marks, sign};
use crate::sheet::{
    Align, Block, Column, Fact, Figure, Note, NoteKind, Row, Sheet, Table, WriteIn,
};
use crate::span::{Span, State, Text};
use crate::svg::{escape, number, svg_inline};

pub(super) struct Writer {
    marks: Marks,
    out: String,
}

impl Writer {
    pub(super) fn new(marks: Marks) -> Writer {
        Writer {
            marks,
            out: String::new(),
        }
    }

    pub(super) fn finish(self) -> String {
        self.out
    }

    pub(super) fn title(&mut self, sheet: &Sheet) {
        if !sheet.title.is_empty() {
            self.line(&format!("<h1>{}</h1>", escape(&sheet.title)));
        }
        if !sheet.subject.is_empty() {
            self.line(&format!(
                "<p class=\"subject\">{}</p>",
                escape(&sheet.subject)
            ));
        }
    }

    pub(super) fn blocks(&mut self, blocks: &[Block]) {
        for block in blocks {
            self.block(block);
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Heading { level, text } => {
                let tag = (*level).clamp(1, 3) + 1;
                self.element(&format!("h{tag}"), "", text);
            }
            Block::Paragraph(text) => self.element("p", "", text),
            Block::Notes(notes) => self.notes(notes),
            Block::Facts(facts) => self.facts(facts),
            Block::Table(table) => self.table(table),
            Block::Checks(texts) => {
                self.line("<ul class=\"checks\">");
                texts.iter().for_each(|text| self.element("li", "", text));
                self.line("</ul>");
            }
            Block::WriteIns(lines) => self.write_ins(lines),
            Block::Figure(figure) => self.figure(figure),
            Block::Columns(columns) => self.columns(columns),
            Block::PageBreak => self.line("<div class=\"page-break\"></div>"),
            Block::KeepTogether(inner) => self.section("together", inner),
            Block::Close(inner) => inner.iter().for_each(|block| self.block(block)),
            Block::OnePage(inner) => self.section("one-page", inner),
        }
    }

    fn section(&mut self, class: &str, inner: &[Block]) {
        self.line(&format!("<section class=\"{class}\">"));
        self.blocks(inner);
        self.line("</section>");
    }

    fn notes(&mut self, notes: &[Note]) {
        self.line("<ul class=\"notes\">");
        for note in notes {
            match note.kind {
                NoteKind::Note => self.element("li", "", &note.text),
                NoteKind::Caution => {
                    let words = self.spans(&note.text);
                    self.line(&format!(
                        "<li class=\"caution\"><strong>Caution</strong> {words}</li>"
                    ));
                }
            }
        }
        self.line("</ul>");
    }

    fn facts(&mut self, facts: &[Fact]) {
        self.line("<dl class=\"facts\">");
        for fact in facts {
            let (name, value) = (self.spans(&fact.name), self.spans(&fact.value));
            self.line(&format!("<div><dt>{name}</dt><dd>{value}</dd></div>"));
        }
        self.line("</dl>");
    }

    fn table(&mut self, table: &Table) {
        self.line("<div class=\"wide\"><table>");
        if !table.caption.is_empty() {
            self.element("caption", "", &table.caption);
        }
        self.line("<thead><tr>");
        for column in &table.columns {
            self.element(
                "th",
                &format!(" scope=\"col\"{}", align_class(column.align)),
                &column.heading,
            );
        }
        self.line("</tr></thead><tbody>");
        for row in &table.rows {
            self.row(table, row);
        }
        self.line("</tbody></table></div>");
    }

    fn row(&mut self, table: &Table, row: &Row) {
        self.out.push_str("<tr>");
        match row {
            Row::Group(text) => {
                let span = format!(
                    " scope=\"rowgroup\" class=\"group\" colspan=\"{}\"",
                    table.columns.len().max(1)
                );
                self.element("th", &span, text);
            }
            Row::Cells(cells) => {
                for (i, cell) in cells.iter().enumerate() {
                    let align = align_class(
                        table
                            .columns
                            .get(i)
                            .map_or(Align::Start, |column| column.align),
                    );
                    if i == 0 && table.first_cell_names_row {
                        self.element("th", &format!(" scope=\"row\"{align}"), cell);
                    } else {
                        self.element("td", align, cell);
                    }
                }
            }
        }
        self.line("</tr>");
    }

    fn write_ins(&mut self, lines: &[WriteIn]) {
        self.line("<ul class=\"write-ins\">");
        for line in lines {
            let width = number(line.width_mm);
            let label = escape(&line.label);
            self.line(&format!(
                "<li>{label} <span class=\"write-in\" style=\"width:{width}mm\"></span></li>"
            ));
        }
        self.line("</ul>");
    }

    fn figure(&mut self, figure: &Figure) {
        self.line(&format!(
            "<figure><div class=\"wide\">{}</div>",
            svg_inline(&figure.drawing)
        ));
        if !figure.caption.is_empty() {
            self.element("figcaption", "", &figure.caption);
        }
        self.line("</figure>");
    }

    fn columns(&mut self, columns: &[Column]) {
        self.line("<div class=\"columns\">");
        for column in columns {
            self.line(&format!("<div style=\"--share:{}\">", number(column.share)));
            self.blocks(&column.blocks);
            self.line("</div>");
        }
        self.line("</div>");
    }

    pub(super) fn explanations(&mut self) {
        if self.marks.all().is_empty() {
            return;
        }
        let mut list =
            String::from("<aside class=\"marks\" aria-label=\"Explanation of marks\">\n<dl>\n");
        for (i, mark) in self.marks.all().iter().enumerate() {
            let (place, sign) = (i + 1, sign(i));
            let (word, explanation) = (escape(&mark.word), escape(&mark.explanation));
            let _ = writeln!(
                list,
                "<div id=\"mark-{place}\"><dt>{sign}</dt><dd><em>{word}</em>: {explanation}</dd></div>"
            );
        }
        list.push_str("</dl>\n</aside>");
        self.line(&list);
    }

    fn element(&mut self, tag: &str, attributes: &str, text: &Text) {
        let words = self.spans(text);
        self.line(&format!("<{tag}{attributes}>{words}</{tag}>"));
    }

    fn line(&mut self, markup: &str) {
        self.out.push_str(markup);
        self.out.push('\n');
    }

    fn spans(&mut self, text: &Text) -> String {
        let mut out = String::new();
        for span in &text.0 {
            match span {
                Span::Plain(words) => out.push_str(&escape(&glued(words))),
                Span::Strong(words) => {
                    out.push_str(&format!("<strong>{}</strong>", escape(&glued(words))))
                }
                Span::Italic(words) => out.push_str(&format!("<em>{}</em>", escape(&glued(words)))),
                Span::Mark(mark) => {
                    let number = self.marks.number(mark);
                    let (place, sign) = (number + 1, sign(number));
                    let word = escape(&mark.word);
                    let _ = write!(
                        out,
                        "<sup class=\"mark\"><a href=\"#mark-{place}\" title=\"{word}\" aria-label=\"{sign} {word}\">{sign}</a></sup>"
                    );
                }
                Span::Status { state, word } => {
                    let _ = write!(
                        out,
                        "<span class=\"status {}\"><span aria-hidden=\"true\">{}\u{a0}</span>{}</span>",
                        state_class(*state),
                        state.shape(),
                        escape(word)
                    );
                }
                Span::TickBox => out.push_str("<span class=\"tick\"></span>"),
                Span::WriteIn { width_mm } => {
                    let _ = write!(
                        out,
                        "<span class=\"write-in\" style=\"width:{}mm\"></span>",
                        number(*width_mm)
                    );
                }
            }
        }
        out
    }
}

fn state_class(state: State) -> &'static str {
    match state {
        State::Fine => "fine",
        State::Look => "look",
        State::Passed => "passed",
        State::Open => "open",
    }
}

fn align_class(align: Align) -> &'static str {
    match align {
        Align::Start => "",
        Align::Center => " class=\"center\"",
        Align::End => " class=\"end\"",
    }
}
