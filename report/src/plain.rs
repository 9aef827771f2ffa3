//! The sheet as plain text for a terminal.

use crate::marks::{Marks, sign};
use crate::sheet::{Align, Block, Column, Fact, Note, NoteKind, Row, Sheet, Table, WriteIn};
use crate::span::{Span, Text};

/// Gap between columns of a table.
const GAP: usize = 2;
/// Below this many characters a column is no column any more.
const NARROWEST: usize = 4;

/// The sheet as text of lines no longer than `width` characters (at least 20). Drawings are replaced by their captions.
#[must_use]
pub fn text(sheet: &Sheet, width: usize) -> String {
    written(sheet, width, false)
}

/// As [`text`] in fewer lines: empty ones stand above headings only, and headings have no line below them.
#[must_use]
pub fn close_text(sheet: &Sheet, width: usize) -> String {
    written(sheet, width, true)
}

fn written(sheet: &Sheet, width: usize, close: bool) -> String {
    let mut writer = Writer {
        width: width.max(20),
        close,
        marks: Marks::of_sheet(sheet),
        out: Vec::new(),
    };
    writer.title(sheet);
    writer.blocks(&sheet.blocks);
    writer.explanations();
    let mut text = writer.out.join("\n");
    text.push('\n');
    text
}

struct Writer {
    width: usize,
    /// Empty lines stand above headings only.
    close: bool,
    marks: Marks,
    out: Vec<String>,
}

impl Writer {
    fn title(&mut self, sheet: &Sheet) {
        let running = &sheet.running;
        let mark = running.mark.as_deref().unwrap_or("");
        let head = [
            running.head_left.as_str(),
            mark,
            running.head_right.as_str(),
        ];
        let head: Vec<&str> = head.into_iter().filter(|part| !part.is_empty()).collect();
        self.wrapped(&head.join("  ·  "), "", "");
        self.wrapped(&sheet.title, "", "");
        self.out
            .push("=".repeat(count(&sheet.title).min(self.width)));
        self.wrapped(&sheet.subject, "", "");
    }

    fn gap(&mut self) {
        if self.out.last().is_some_and(|line| !line.is_empty()) {
            self.out.push(String::new());
        }
    }

    fn blocks(&mut self, blocks: &[Block]) {
        for block in blocks {
            if !self.close || matches!(block, Block::Heading { .. }) {
                self.gap();
            }
            self.block(block);
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Heading { level, text } => self.heading(*level, text),
            Block::Paragraph(text) => self.wrapped_text(text, "", ""),
            Block::Notes(notes) => notes.iter().for_each(|note| self.note(note)),
            Block::Facts(facts) => self.facts(facts),
            Block::Table(table) => self.table(table),
            Block::Checks(texts) => texts
                .iter()
                .for_each(|text| self.wrapped_text(text, "[ ] ", "    ")),
            Block::WriteIns(lines) => lines.iter().for_each(|line| self.write_in(line)),
            Block::Figure(figure) => {
                let caption = self.words(&figure.caption);
                let name = if caption.is_empty() {
                    figure.drawing.title.clone()
                } else {
                    caption
                };
                self.wrapped(&format!("(Figure: {name})"), "", "  ");
            }
            Block::Columns(columns) => columns
                .iter()
                .for_each(|column: &Column| self.blocks(&column.blocks)),
            Block::PageBreak => {}
            Block::KeepTogether(inner) | Block::OnePage(inner) | Block::Close(inner) => {
                self.blocks(inner)
            }
        }
    }

    fn heading(&mut self, level: u8, text: &Text) {
        let words = self.words(text);
        if self.close {
            self.wrapped(&words, "== ", "   ");
            return;
        }
        self.wrapped(&words, "", "");
        if level < 3 {
            let line = if level < 2 { "=" } else { "-" };
            self.out.push(line.repeat(count(&words).min(self.width)));
        }
    }

    fn note(&mut self, note: &Note) {
        match note.kind {
            NoteKind::Note => self.wrapped_text(&note.text, "- ", "  "),
            NoteKind::Caution => self.wrapped_text(&note.text, "! Caution: ", "  "),
        }
    }

    fn facts(&mut self, facts: &[Fact]) {
        let names: Vec<String> = facts.iter().map(|fact| self.words(&fact.name)).collect();
        let widest = names
            .iter()
            .map(|name| count(name))
            .max()
            .unwrap_or(0)
            .min(self.width / 2);
        for (fact, name) in facts.iter().zip(names) {
            let value = self.words(&fact.value);
            let mut lines = wrap(&value, self.width - widest - GAP).into_iter();
            let mut name_lines = wrap(&name, widest).into_iter();
            loop {
                let (name, value) = (name_lines.next(), lines.next());
                if name.is_none() && value.is_none() {
                    break;
                }
                let name = pad(&name.unwrap_or_default(), widest, Align::Start);
                self.push(&format!(
                    "{name}{}{}",
                    " ".repeat(GAP),
                    value.unwrap_or_default()
                ));
            }
        }
    }

    fn write_in(&mut self, line: &WriteIn) {
        // A character is about 2 mm wide on a printed terminal page.
        let wanted = (line.width_mm / 2.0).clamp(4.0, 200.0) as usize;
        let blank = wanted
            .min(self.width.saturating_sub(count(&line.label) + 2))
            .max(4);
        self.wrapped(&format!("{}: {}", line.label, "_".repeat(blank)), "", "  ");
    }

    fn table(&mut self, table: &Table) {
        let caption = self.words(&table.caption);
        self.wrapped(&caption, "", "");
        let head: Vec<String> = table
            .columns
            .iter()
            .map(|column| self.words(&column.heading))
            .collect();
        let rows: Vec<RowWords> = table
            .rows
            .iter()
            .map(|row| self.row_words(row, head.len()))
            .collect();
        let widths = column_widths(&head, &rows, self.width);
        let aligns: Vec<Align> = table.columns.iter().map(|column| column.align).collect();
        self.row(&head, &widths, &aligns);
        let whole: usize = widths.iter().sum::<usize>() + GAP * widths.len().saturating_sub(1);
        self.out.push("-".repeat(whole.min(self.width)));
        for row in &rows {
            match row {
                RowWords::Cells(cells) => self.row(cells, &widths, &aligns),
                RowWords::Group(words) => self.wrapped(words, "", ""),
            }
        }
    }

    fn row_words(&self, row: &Row, columns: usize) -> RowWords {
        match row {
            Row::Cells(cells) => {
                let mut words: Vec<String> = cells.iter().map(|cell| self.words(cell)).collect();
                words.resize(columns, String::new());
                RowWords::Cells(words)
            }
            Row::Group(text) => RowWords::Group(self.words(text)),
        }
    }

    fn row(&mut self, cells: &[String], widths: &[usize], aligns: &[Align]) {
        let wrapped: Vec<Vec<String>> = cells
            .iter()
            .zip(widths)
            .map(|(cell, width)| wrap(cell, *width))
            .collect();
        let height = wrapped.iter().map(Vec::len).max().unwrap_or(0);
        for i in 0..height {
            let parts: Vec<String> = (0..widths.len())
                .map(|c| {
                    pad(
                        wrapped[c].get(i).map_or("", String::as_str),
                        widths[c],
                        aligns[c],
                    )
                })
                .collect();
            self.push(&parts.join(&" ".repeat(GAP)));
        }
    }

    fn explanations(&mut self) {
        let lines: Vec<(String, String)> = self
            .marks
            .all()
            .iter()
            .enumerate()
            .map(|(i, mark)| {
                (
                    format!("[{}] ", sign(i)),
                    format!("{}: {}", mark.word, mark.explanation),
                )
            })
            .collect();
        if !lines.is_empty() {
            self.gap();
        }
        if self.close {
            let all: Vec<String> = lines
                .iter()
                .map(|(label, words)| format!("{label}{words}"))
                .collect();
            self.wrapped(&all.join(" "), "", "");
            return;
        }
        for (label, words) in lines {
            self.wrapped(&words, &label, "    ");
        }
    }

    fn words(&self, text: &Text) -> String {
        let mut words = String::new();
        for span in &text.0 {
            match span {
                Span::Plain(part) | Span::Strong(part) | Span::Italic(part) => words.push_str(part),
                Span::Status { state, word } => {
                    words.push_str(&format!("{} {word}", state.shape()))
                }
                Span::Mark(mark) => {
                    let known = self
                        .marks
                        .all()
                        .iter()
                        .position(|met| met == mark)
                        .unwrap_or(0);
                    words.push_str(&format!("[{}]", sign(known)));
                }
                Span::TickBox => words.push_str("[ ]"),
                Span::WriteIn { width_mm } => {
                    words.push_str(&"_".repeat((width_mm / 2.0).clamp(2.0, 60.0) as usize))
                }
            }
        }
        words
    }

    fn wrapped_text(&mut self, text: &Text, first: &str, later: &str) {
        let words = self.words(text);
        self.wrapped(&words, first, later);
    }

    fn wrapped(&mut self, words: &str, first: &str, later: &str) {
        if words.trim().is_empty() {
            return;
        }
        let indent = count(first).max(count(later));
        for (i, line) in wrap(words, self.width - indent).iter().enumerate() {
            let lead = if i == 0 { first } else { later };
            self.push(&format!("{lead}{line}"));
        }
    }

    fn push(&mut self, line: &str) {
        self.out.push(line.trim_end().to_string());
    }
}

enum RowWords {
    Cells(Vec<String>),
    Group(String),
}

/// Natural widths if they fit; else the widest columns give way first, as long as there is room down to their longest word,
/// so that no word is divided.
fn column_widths(head: &[String], rows: &[RowWords], width: usize) -> Vec<usize> {
    let mut widths: Vec<usize> = head.iter().map(|words| count(words)).collect();
    let mut floors: Vec<usize> = head.iter().map(|words| longest_word(words)).collect();
    for row in rows {
        if let RowWords::Cells(cells) = row {
            for (index, cell) in cells.iter().enumerate().take(widths.len()) {
                widths[index] = widths[index].max(count(cell));
                floors[index] = floors[index].max(longest_word(cell));
            }
        }
    }
    let room = width.saturating_sub(GAP * widths.len().saturating_sub(1));
    if floors.iter().sum::<usize>() > room {
        floors.fill(NARROWEST);
    }
    while widths.iter().sum::<usize>() > room {
        let wide = widths
            .iter_mut()
            .zip(&floors)
            .filter(|(width, floor)| **width > (**floor).max(NARROWEST));
        match wide.map(|(width, _)| width).max() {
            Some(widest) => *widest -= 1,
            None => break,
        }
    }
    widths
}

fn longest_word(words: &str) -> usize {
    words.split(' ').map(count).max().unwrap_or_default()
}

fn count(words: &str) -> usize {
    words.chars().count()
}

fn pad(words: &str, width: usize, align: Align) -> String {
    let room = width.saturating_sub(count(words));
    let (before, after) = match align {
        Align::Start => (0, room),
        Align::Center => (room / 2, room - room / 2),
        Align::End => (room, 0),
    };
    format!("{}{words}{}", " ".repeat(before), " ".repeat(after))
}

/// Lines of at most `width` characters; longer words are divided.
fn wrap(words: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines: Vec<String> = vec![String::new()];
    for word in words
        .split(|c: char| c == ' ' || c.is_control())
        .filter(|word| !word.is_empty())
    {
        let mut letters: Vec<char> = word.chars().collect();
        while !letters.is_empty() {
            let line = lines.last_mut().expect("there is always a line");
            let gap = usize::from(!line.is_empty());
            if count(line) + gap + letters.len() <= width {
                line.push_str(&" ".repeat(gap));
                line.extend(letters.drain(..));
            } else if line.is_empty() {
                line.extend(letters.drain(..width));
                lines.push(String::new());
            } else {
                lines.push(String::new());
            }
        }
    }
    if lines.len() > 1 && lines.last().is_some_and(String::is_empty) {
        lines.pop();
    }
    lines
}
