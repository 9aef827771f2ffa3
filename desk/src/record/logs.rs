//! How logs were understood, below what they leave open.

use job::record::{answer_words, first_rows_words, reading_words};
use maud::{Markup, html};
use quantity::Units;

use super::findings::capital;
use super::given::given;
use super::judged::{Judged, ReadFile};
use super::names::names;
use super::questions::questions;
use super::together::together;

/// Remarks on a file that are shown; the record has them all.
const REMARKS: usize = 40;
/// Lists and tables of no more rows are not folded.
const SHORT: usize = 6;
/// What the reader calls a column of temperatures.
pub const TEMPERATURE: &str = "temperature";

/// Every file as it was understood, with questions first.
pub fn understood(judged: &Judged) -> Markup {
    html! {
        (questions(judged))
        (together(judged))
        @if !judged.read.is_empty() { (names(judged)) }
        @for file in &judged.read { (one(file, judged)) }
        @if !judged.read.is_empty() { (given(judged)) }
    }
}

fn one(file: &ReadFile, judged: &Judged) -> Markup {
    let shown = &file.understood;
    let count = |role: &str| shown.columns.iter().filter(|c| c.role == role).count();
    html! {
        details.group.file open[!file.left_out && (!file.questions.is_empty() || count(TEMPERATURE) == 0)] {
            summary {
                span.title { (file.file.name) }
                span.soft { ": " @if file.left_out { "left out, of another heat; " } (file.file.lines) " lines, " (count(TEMPERATURE)) " columns of temperatures, "
                    (units_of(file)) @if let Some(order) = &shown.date_order { ", " (order.replace('_', " ")) } ", " (remarks_words(file)) }
            }
            dl.facts {
                div { dt { "Text" } dd { "written as " (shown.encoding) ", columns separated by " (shown.delimiter) ", decimal sign " (shown.decimal) } }
                div { dt { "Dates" } dd { @match &shown.date_order { Some(order) => (order.replace('_', " ")), None if file.questions.iter().any(|question| question.key == "date_order") => "day and month open, see the question", None => "not in numbers that could be taken two ways" } } }
                div { dt { "Header" } dd { @match shown.header_line { Some(line) => { "line " (line) }, None => "none" } @if let Some(line) = shown.first_row_line { ", first row in line " (line) } } }
                div { dt { "Fingerprint of the file (SHA-256)" } dd.hash { (file.file.sha256) } }
            }
            (columns(file))
            (first_rows(file, judged))
            (remarks(file))
        }
    }
}

fn units_of(file: &ReadFile) -> String {
    let mut units: Vec<String> = Vec::new();
    let columns = file.understood.columns.iter();
    let stated = columns.filter(|c| c.role == TEMPERATURE && !c.unit.is_empty());
    for unit in stated.map(|column| answer_words("unit", &column.unit)) {
        if !units.contains(&unit) {
            units.push(unit);
        }
    }
    match units.is_empty() {
        true => "unit not in the file".to_owned(),
        false => units.join(" and "),
    }
}

fn remarks_words(file: &ReadFile) -> String {
    match file.complaints.len() {
        0 => "no remarks".to_owned(),
        1 => "1 remark".to_owned(),
        many => format!("{many} remarks"),
    }
}

fn columns(file: &ReadFile) -> Markup {
    let columns = &file.understood.columns;
    html! {
        details.group open[columns.len() <= SHORT] {
            summary { span.title { "Columns as they were taken" } span.soft { ": " (columns.len()) } }
            div.wide tabindex="0" role="region" aria-label={ "Columns of " (file.file.name) } {
                table {
                    thead { tr { th scope="col" { "In the file" } th scope="col" { "Taken as" } th scope="col" { "Unit" } } }
                    tbody { @for column in columns { tr { th scope="row" { (column.name) } td { (column.role) } td { (column.unit) } } } }
                }
            }
        }
    }
}

fn first_rows(file: &ReadFile, judged: &Judged) -> Markup {
    let shown = &file.understood;
    // As long as the unit is open, the numbers stand as they are written.
    let is_open = file.questions.iter().any(|question| question.key == "unit");
    let (units, caption) = match is_open {
        true => (
            Units::Si,
            "The first rows with their numbers as written; the unit is open".to_owned(),
        ),
        false => {
            let (units, said) = (judged.basis.units, judged.mapping.of(&file.file.name));
            let words = first_rows_words(shown, said.unit.as_deref(), units);
            (units, capital(&words))
        }
    };
    let temperatures: Vec<&str> = shown
        .columns
        .iter()
        .filter(|column| column.role == TEMPERATURE)
        .map(|column| column.name.as_str())
        .collect();
    let width = shown
        .preview
        .iter()
        .map(|row| row.readings.len())
        .max()
        .unwrap_or(0);
    let name = |place: usize| match temperatures.len() == width {
        true => temperatures[place].to_owned(),
        false => format!("{}", place + 1),
    };
    html! {
        @if !shown.preview.is_empty() {
            div.wide tabindex="0" role="region" aria-label={ "First rows of " (file.file.name) } {
                table {
                    caption { (caption) }
                    thead { tr { th.end scope="col" { "Line" } th scope="col" { "Time" } @for place in 0..width { th.end scope="col" { (name(place)) } } } }
                    tbody { @for row in &shown.preview {
                        tr { td.end { (row.line) } td { (row.time) } @for reading in &row.readings { td.end { (reading_words(*reading, units)) } } }
                    } }
                }
            }
        }
    }
}

fn remarks(file: &ReadFile) -> Markup {
    html! {
        @if !file.complaints.is_empty() {
            h3 { "What was not as it should be" }
            ul.plain {
                @for complaint in file.complaints.iter().take(REMARKS) { li { (complaint) } }
                @if file.complaints.len() > REMARKS { li { (file.complaints.len() - REMARKS) " more stand in the record" } }
            }
        }
    }
}
