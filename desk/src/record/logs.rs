//! How logs were understood, below what they leave open.

use job::record::RecordError;
use maud::{Markup, html};

use super::judged::{Judged, ReadFile};
use super::questions::questions;

/// Remarks on a file that are shown; the record has them all.
const REMARKS: usize = 40;
/// What the reader calls a column of temperatures.
const TEMPERATURE: &str = "temperature";

/// Every file as it was understood, with questions first.
pub fn understood(judged: &Judged) -> Markup {
    html! {
        (questions(judged))
        @for file in &judged.read { (one(file)) }
        @if !judged.read.is_empty() { (names(judged)) }
    }
}

fn one(file: &ReadFile) -> Markup {
    let shown = &file.understood;
    let count = |role: &str| shown.columns.iter().filter(|c| c.role == role).count();
    html! {
        details.group.file open[!file.questions.is_empty() || count(TEMPERATURE) == 0] {
            summary {
                span.title { (file.file.name) }
                span.soft { ": " (file.file.lines) " lines, " (count(TEMPERATURE)) " columns of temperatures, "
                    (units(file)) @if let Some(order) = &shown.date_order { ", " (order.replace('_', " ")) } ", " (remarks_words(file)) }
            }
            dl.facts {
                div { dt { "Text" } dd { (shown.encoding) ", cells parted by " (shown.delimiter) ", decimal sign " (shown.decimal) } }
                div { dt { "Dates" } dd { @match &shown.date_order { Some(order) => (order.replace('_', " ")), None if file.questions.iter().any(|question| question.key == "date_order") => "day and month open, see the question", None => "not in numbers that could be taken two ways" } } }
                div { dt { "Header" } dd { @match shown.header_line { Some(line) => { "line " (line) }, None => "none" } @if let Some(line) = shown.first_row_line { ", first row in line " (line) } } }
                div { dt { "SHA-256" } dd.hash { (file.file.sha256) } }
            }
            (first_rows(file))
            (remarks(file))
        }
    }
}

fn units(file: &ReadFile) -> String {
    let mut units: Vec<&str> = Vec::new();
    for column in file
        .understood
        .columns
        .iter()
        .filter(|c| c.role == TEMPERATURE)
    {
        if !units.contains(&column.unit.as_str()) {
            units.push(&column.unit);
        }
    }
    let units: Vec<&str> = units.into_iter().filter(|unit| !unit.is_empty()).collect();
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

fn first_rows(file: &ReadFile) -> Markup {
    let shown = &file.understood;
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
        div.wide tabindex="0" role="region" aria-label={ "Columns of " (file.file.name) } {
            table {
                caption { "Columns as they were taken" }
                thead { tr { th scope="col" { "In the file" } th scope="col" { "Taken as" } th scope="col" { "Unit" } } }
                tbody { @for column in &shown.columns { tr { th scope="row" { (column.name) } td { (column.role) } td { (column.unit) } } } }
            }
        }
        @if !shown.preview.is_empty() {
            div.wide tabindex="0" role="region" aria-label={ "First rows of " (file.file.name) } {
                table {
                    caption { @if file.questions.iter().any(|question| question.key == "unit") { "The first rows, as they would be in °C; the unit is open" } @else { "The first rows as understood, in °C" } }
                    thead { tr { th.end scope="col" { "Line" } th scope="col" { "Time" } @for place in 0..width { th.end scope="col" { (name(place)) } } } }
                    tbody { @for row in &shown.preview {
                        tr { td.end { (row.line) } td { (row.time) } @for reading in &row.readings { td.end { (reading) } } }
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

/// Channels of the log beside thermocouples of the job, where names differ.
fn names(judged: &Judged) -> Markup {
    let wanted: Vec<&str> = judged
        .basis
        .channels
        .iter()
        .map(|(c, _)| c.name.as_str())
        .collect();
    let mut found: Vec<&str> = Vec::new();
    for column in judged.read.iter().flat_map(|file| &file.understood.columns) {
        if column.role == TEMPERATURE && !found.contains(&column.name.as_str()) {
            found.push(&column.name);
        }
    }
    let fits = match &judged.record {
        Ok(record) => record.matched.missing.is_empty(),
        Err(RecordError::NoChannel { .. } | RecordError::SeveralFit { .. }) => false,
        Err(_) => true,
    };
    html! {
        details.group open[!fits] {
            summary { span.title { "Which channel is which thermocouple" } @if !fits { " " span.look { span aria-hidden="true" { "▲ " } "not all were found by their names" } } }
            form #names {
                p.soft { "Names that agree need nothing. What is chosen here is kept beside the job file, in mapping.toml." }
                div.fields { @for (index, name) in found.iter().enumerate() {
                    @let now = judged.mapping.name.get(*name).map_or(*name, String::as_str);
                    label for={ "name-" (index) } { span { (name) " of the log" }
                        select id={ "name-" (index) } name=(name) {
                            option value="" selected[now == *name && !wanted.contains(&now)] { "as it is called" }
                            @for one in &wanted { option value=(one) selected[*one == now] { (one) } }
                            @let none = format!("{name}, of no thermocouple");
                            option value=(none) selected[none == now] { "no thermocouple of this job" }
                        }
                    }
                } }
                button type="submit" { "Keep the names and judge again" }
                p.says role="status" {}
            }
        }
    }
}
