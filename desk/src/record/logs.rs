//! How logs were understood, and what they leave open as questions with answers to choose.

use job::record::RecordError;
use maud::{Markup, html};
use readings::{JoinError, KEYS, Question};

use super::judged::{Judged, ReadFile};

/// Remarks on a file that are shown; the record has them all.
const REMARKS: usize = 40;
/// Marks an answer that is only an example.
const EXAMPLE: &str = " (for example)";
/// The key by which a column is said to be something.
const COLUMN: &str = "column.NAME";
/// The key by which statuses are said to be good.
const GOOD: &str = "good";
/// The key by which one of two files is said to hold.
const OVERLAP: &str = "overlap";
/// In place of it: a clock was wrong.
const CLOCK: &str = "clock";
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

/// Everything that is asked before anything is judged: of one file, or between two.
pub fn asked(judged: &Judged) -> Vec<Question> {
    let mut asked: Vec<Question> = Vec::new();
    for question in judged.read.iter().flat_map(|file| &file.questions) {
        // Several files of one logger leave the same thing open.
        if !asked.iter().any(|known| known.key == question.key) {
            asked.push(question.clone());
        }
    }
    if let Err(RecordError::Join(error)) = &judged.record {
        asked.extend(between_files(error));
    }
    asked
}

/// What two files leave open between them.
fn between_files(error: &JoinError) -> Option<Question> {
    match error {
        JoinError::Nothing => None,
        JoinError::Clocks { one, other } => Some(Question {
            file: other.clone(),
            line: None,
            key: "time_zone",
            asks: "In which time zone did the clock of this file run?".into(),
            evidence: format!("It tells only what a clock showed, and {one} tells moments of UTC."),
            answers: vec![format!("Europe/Lisbon{EXAMPLE}")],
        }),
        JoinError::Contradict {
            one,
            other,
            count,
            at,
            shows,
        } => Some(Question {
            file: other.clone(),
            line: None,
            key: OVERLAP,
            asks: format!("Which holds where {one} and {other} contradict each other?"),
            evidence: format!("They do so in {count} scans, first at {at}: {shows}."),
            answers: ["earlier", "later", "neither"].map(str::to_owned).to_vec(),
        }),
    }
}

fn questions(judged: &Judged) -> Markup {
    let asked = asked(judged);
    html! {
        @if !asked.is_empty() {
            form #answers .questions {
                h3 { "What the files leave open" }
                p.soft { "It is asked, never guessed. The answers are kept in the job file, under [log]; what goes by the name of a column, a channel or a file, in mapping.toml beside it." }
                @for (index, question) in asked.iter().enumerate() { (field(judged, index, question)) }
                button type="submit" { "Keep the answers and read again" }
                p.says role="status" {}
            }
        }
    }
}

fn field(judged: &Judged, index: usize, question: &Question) -> Markup {
    let id = format!("answer-{index}");
    let evidence = format!("{id}-evidence");
    let place = match question.line {
        Some(line) => format!("{}, line {line}: ", question.file),
        None => format!("{}: ", question.file),
    };
    let shown = html! { p.help id=(evidence) { (place) (question.evidence) } };
    html! {
        @if question.key == GOOD {
            fieldset.field aria-describedby=(evidence) {
                legend { (question.asks) }
                (shown)
                @for value in &question.answers { label.tick-line { input type="checkbox" name=(GOOD) value=(value); span { (value) } } }
            }
        } @else {
            div.field {
                label for=(id) { (question.asks) }
                (shown)
                @if question.key == COLUMN { (columns(judged, &id, question)) }
                @else if question.key == OVERLAP { (overlap(&id, &evidence, question)) }
                @else if let Some(choices) = choices(question) {
                    select id=(id) name=(question.key) required aria-describedby=(evidence) {
                        option value="" { "choose" }
                        @for choice in choices { option value=(choice) { (answer_words(question.key, &choice)) } }
                    }
                } @else {
                    input id=(id) name=(question.key) required autocomplete="off" placeholder=(example(question)) aria-describedby=(evidence);
                }
            }
        }
    }
}

/// How an answer is written that may be anything; of voltages, the last answer is that of the cold junction.
fn example(question: &Question) -> &str {
    let answer = match question.key {
        "cold_junction" => question.answers.last(),
        _ => question.answers.first(),
    };
    answer.map_or("", |answer| answer.trim_end_matches(EXAMPLE))
}

/// Which file holds, or by how much the clock of one was wrong.
fn overlap(id: &str, evidence: &str, question: &Question) -> Markup {
    let file = &question.file;
    html! {
        select id=(id) name=(OVERLAP) required aria-describedby=(evidence) data-or-clock {
            option value="" { "choose" }
            option value="earlier" { "the file that begins earlier" }
            option value="later" { "the file that begins later, " (file) }
            option value="neither" { "neither: what both tell there is left out" }
            option value=(CLOCK) { "both: the clock of " (file) " was wrong" }
        }
        div #clock-was-wrong hidden {
            label for={ (id) "-clock" } { "Seconds to be added to the clock of " (file) }
            p.help id={ (id) "-clock-help" } { "300 where it was five minutes slow, -3600 where it was an hour fast." }
            input id={ (id) "-clock" } name={ "clock." (file) } inputmode="numeric" autocomplete="off" placeholder="300" aria-describedby={ (id) "-clock-help" };
        }
    }
}

/// The words among which is to be chosen; `None` where anything may be written.
fn choices(question: &Question) -> Option<Vec<String>> {
    let (_, words) = KEYS.iter().find(|(key, _)| *key == question.key)?;
    if words.is_empty() {
        return (question.key == "scale").then(|| question.answers.clone());
    }
    let offered = &question.answers;
    let known: Vec<String> = words.split(", ").map(str::to_owned).collect();
    let narrower = offered.iter().all(|answer| known.contains(answer)) && offered.len() > 1;
    Some(if narrower { offered.clone() } else { known })
}

fn columns(judged: &Judged, id: &str, question: &Question) -> Markup {
    let of_file = judged
        .read
        .iter()
        .find(|file| file.file.name == question.file);
    html! {
        div.pair {
            select id=(id) name="column" required aria-label="The column" {
                option value="" { "choose a column" }
                @for column in of_file.iter().flat_map(|file| &file.understood.columns) { option { (column.name) } }
            }
            select name="is" required aria-label="What it is" {
                @for answer in &question.answers { option value=(answer) { (answer_words(COLUMN, answer)) } }
            }
        }
    }
}

/// An answer as a person says it.
fn answer_words(key: &str, answer: &str) -> String {
    let words = match (key, answer) {
        ("unit", "C") => "°C",
        ("unit", "F") => "°F",
        ("unit", "K") => "kelvins",
        ("unit", "mV") => "millivolts of thermocouples",
        ("date_order", "day_first") => "day first: 03/04 is the 3rd of April",
        ("date_order", "month_first") => "month first: 03/04 is the 4th of March",
        ("date_order", "year_first") => "year first",
        ("decimal", "comma") => "the comma is the decimal sign",
        ("decimal", "point") => "the point is the decimal sign, a comma parts thousands",
        ("time_unit", "s") => "seconds",
        ("time_unit", "min") => "minutes",
        ("time_unit", "h") => "hours",
        ("time_unit", "epoch_s") => "seconds since 1970",
        ("time_unit", "epoch_ms") => "milliseconds since 1970",
        ("clock_back", "summer_time_ends") => "summer time ended, the hour is there twice",
        ("clock_back", "leave_out") => "leave those rows out",
        (COLUMN, "time") => "the time of day",
        (COLUMN, "elapsed") => "the time since the start",
        _ => answer,
    };
    words.to_owned()
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
                div { dt { "Dates" } dd { @match &shown.date_order { Some(order) => (order.replace('_', " ")), None => "not in numbers that could be taken two ways" } } }
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
                    caption { "The first rows as understood, in °C" }
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
