//! What logs leave open, of one file or between two: questions with answers to choose.

use job::record::{RecordError, answer_words};
use maud::{Markup, html};
use quantity::{Celsius, Units};
use readings::{JoinError, KEYS, Question};

use super::judged::Judged;

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
        asked.extend(between_files(error, judged.basis.units));
    }
    asked
}

/// What two files leave open between them.
fn between_files(error: &JoinError, units: Units) -> Option<Question> {
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
            channel,
            told,
        } => Some(Question {
            file: other.clone(),
            line: None,
            key: OVERLAP,
            asks: format!("Which holds where {one} and {other} contradict each other?"),
            evidence: format!(
                "They do so in {count} scans, first at {at}: {channel} {}.",
                told.map(|t| degrees(t, units)).join(" and ")
            ),
            answers: ["earlier", "later", "neither"].map(str::to_owned).to_vec(),
        }),
    }
}

/// The form that asks; nothing where nothing is open.
pub fn questions(judged: &Judged) -> Markup {
    let asked = asked(judged);
    html! {
        @if !asked.is_empty() {
            form #answers .questions {
                h3 { "What the files leave open" }
                p.soft { "It is asked, never guessed. The answers are kept with the weld and stand on the record; what was said can be changed or taken back below." }
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
    // What is to be written on the command line, the form has a field for.
    let told = question.evidence.split("; more than one").next();
    let shown = html! { p.help id=(evidence) { (place) (told.unwrap_or_default().trim_end_matches('.')) "." } };
    html! {
        @if question.key == GOOD {
            fieldset.field aria-describedby=(evidence) {
                legend { (question.asks) }
                (shown)
                @for value in &question.answers { label.tick-line { input type="checkbox" name=(GOOD) value=(value); span { (answer_words(GOOD, value)) } } }
                @for name in statuses(judged, question) { label.tick-line { input type="checkbox" name={ "column." (name) } value="ignore"; span { (name) " is no status, and is not read" } } }
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

/// Columns that look like a status and are asked about.
fn statuses<'j>(judged: &'j Judged, question: &Question) -> Vec<&'j str> {
    let of_file = judged
        .read
        .iter()
        .filter(|file| file.file.name == question.file);
    let columns = of_file.flat_map(|file| &file.understood.columns);
    let statuses = columns.filter(|column| column.role.starts_with("status"));
    let names = statuses.map(|column| column.name.as_str());
    names
        .filter(|name| question.evidence.contains(name))
        .collect()
}

/// A reading no finer than loggers write it.
fn degrees(t: Celsius, units: Units) -> String {
    match units {
        Units::Si => format!("{:.1} °C", t.c()),
        Units::Us => format!("{:.1} °F", t.f()),
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
                @for answer in &question.answers { option value=(answer) { (answer_words("column", answer)) } }
            }
        }
    }
}
