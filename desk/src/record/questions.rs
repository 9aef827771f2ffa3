//! What logs leave open, of one file or between two: questions with answers to choose.

use job::record::{RecordError, answer_words};
use maud::{Markup, html};
use quantity::{Celsius, Units};
use readings::{HEAT, JoinError, KEYS, OTHER_HEAT, Question, of_one_file};

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

/// Everything that is asked before anything is judged: of each file by itself, or between files.
pub fn asked(judged: &Judged) -> Vec<Question> {
    let mut asked: Vec<Question> = Vec::new();
    for question in judged.here().flat_map(|file| &file.questions) {
        // What a column is, is said of every file that has it.
        let of_all = question.key == COLUMN;
        if !of_all || !asked.iter().any(|known| known.key == question.key) {
            asked.push(question.clone());
        }
    }
    match &judged.record {
        Err(RecordError::Join(error)) => asked.extend(between_files(error, judged.basis.units)),
        Err(RecordError::Open { questions }) => {
            asked.extend(questions.iter().filter(|one| one.key == HEAT).cloned());
        }
        _ => {}
    }
    asked
}

/// What files leave open between them.
fn between_files(error: &JoinError, units: Units) -> Vec<Question> {
    match error {
        JoinError::Nothing => Vec::new(),
        JoinError::Clocks { one, others } => {
            others.iter().map(|file| clock_of(file, one)).collect()
        }
        JoinError::Contradict {
            one,
            other,
            count,
            at,
            channel,
            told,
        } => vec![Question {
            file: other.clone(),
            line: None,
            key: OVERLAP,
            asks: format!("Which holds where {one} and {other} contradict each other?"),
            evidence: format!(
                "They do so in {count} scans, first at {at}: {channel} {}.",
                told.map(|t| degrees(t, units)).join(" and ")
            ),
            answers: ["earlier", "later", "neither"].map(str::to_owned).to_vec(),
            instead: None,
        }],
    }
}

/// A clock that has to be compared with one whose zone is known.
fn clock_of(file: &str, known: &str) -> Question {
    Question {
        file: file.to_owned(),
        line: None,
        key: "time_zone",
        asks: "In which time zone did the clock of this file run?".into(),
        evidence: format!("It tells only what a clock showed, and {known} tells moments of UTC."),
        answers: vec![format!("Europe/Lisbon{EXAMPLE}")],
        instead: None,
    }
}

/// Questions that differ only in the file of which they are asked, each with its number among all.
fn alike(asked: &[Question]) -> Vec<Vec<(usize, &Question)>> {
    let mut groups: Vec<Vec<(usize, &Question)>> = Vec::new();
    for (index, question) in asked.iter().enumerate() {
        let is_like = |group: &&mut Vec<(usize, &Question)>| {
            let first = group[0].1;
            let same = |one: &Question| (one.key, one.asks.clone(), one.answers.clone());
            same(first) == same(question) && question.key != HEAT
        };
        match groups.iter_mut().find(is_like) {
            Some(group) => group.push((index, question)),
            None => groups.push(vec![(index, question)]),
        }
    }
    groups
}

/// The form that asks; nothing where nothing is open.
pub fn questions(judged: &Judged) -> Markup {
    let asked = asked(judged);
    html! {
        @if !asked.is_empty() {
            form #answers .questions {
                h3 { "What the files leave open" }
                p.soft { "It is asked, never guessed. An answer holds for the file of which it is asked. The answers are kept with the weld and stand on the record; what was said can be changed or taken back below." }
                @for group in alike(&asked) { (together(judged, &group)) }
                button type="submit" { "Keep the answers and read again" }
                p.says role="status" {}
            }
        }
    }
}

/// A question of one file, or the same question of several, which one answer may settle.
fn together(judged: &Judged, group: &[(usize, &Question)]) -> Markup {
    let field = |(index, question): &(usize, &Question)| field(judged, *index, question);
    let [first, others @ ..] = group else {
        return html! {};
    };
    if others.is_empty() {
        return field(first);
    }
    let names: Vec<&str> = group.iter().map(|(_, one)| one.file.as_str()).collect();
    let (all, count) = (names.join(", "), group.len());
    html! {
        div.alike data-alike=(serde_json::json!(names)) {
            (field(first))
            label.tick-line { input type="checkbox" data-same; span { "The same for all " (count) " files: " (all) } }
            div { @for other in others { (field(other)) } }
        }
    }
}

fn field(judged: &Judged, index: usize, question: &Question) -> Markup {
    let id = format!("answer-{index}");
    let evidence = format!("{id}-evidence");
    let key = question.key_of_file();
    let several = judged.read.len() > 1;
    // Among several the label names the file.
    let place = match (question.line, several) {
        (Some(line), false) => format!("{}, line {line}: ", question.file),
        (Some(line), true) => format!("Line {line}: "),
        (None, false) => format!("{}: ", question.file),
        (None, true) => String::new(),
    };
    // What is to be written on the command line, the form has a field for.
    let told = question.evidence.split("; more than one").next();
    let shown = html! { p.help id=(evidence) { (place) (told.unwrap_or_default().trim_end_matches('.')) "." (before(judged, question)) } };
    html! {
        @if question.key == GOOD {
            fieldset.field aria-describedby=(evidence) {
                legend { @if several { (question.file) ": " } (question.asks) }
                (shown)
                @for value in &question.answers { label.tick-line { input type="checkbox" name=(key) value=(value); span { (answer_words(GOOD, value)) } } }
                @for name in statuses(judged, question) { label.tick-line { input type="checkbox" name={ "column." (name) } value="ignore"; span { (name) " is no status, and is not read" } } }
            }
        } @else {
            div.field {
                label for=(id) { @if several { (question.file) ": " } (question.asks) }
                (shown)
                @if question.key == COLUMN { (columns(judged, &id, question)) }
                @else if question.key == OVERLAP { (overlap(&id, &evidence, question)) }
                @else if question.key == HEAT { (heat(&id, &evidence, question)) }
                @else if let Some(choices) = choices(question) {
                    select id=(id) name=(key) required aria-describedby=(evidence) {
                        option value="" { "choose" }
                        @for choice in choices { option value=(choice) { (answer_words(question.key, &choice)) (as_before(judged, question, &choice)) } }
                    }
                } @else {
                    input id=(id) name=(key) required autocomplete="off" placeholder=(example(question)) aria-describedby=(evidence);
                }
            }
        }
    }
}

/// Other files of which the same was asked and answered, with the answer.
fn answered<'j>(judged: &'j Judged, question: &Question) -> Vec<(&'j str, &'j str)> {
    let others = judged.here().map(|file| file.file.name.as_str());
    others
        .filter_map(|file| Some((file, judged.mapping.said_of(file, question.key)?)))
        .collect()
}

/// What was said of other files; it is not taken over.
fn before(judged: &Judged, question: &Question) -> String {
    let said = answered(judged, question);
    let said: Vec<String> = said
        .iter()
        .map(|(file, answer)| format!("{file} {}", answer_words(question.key, answer)))
        .collect();
    match question.key == HEAT || question.key == OVERLAP || said.is_empty() {
        true => String::new(),
        false => format!(" Said before, of that file alone: {}.", said.join("; ")),
    }
}

fn as_before(judged: &Judged, question: &Question, choice: &str) -> String {
    let said = answered(judged, question);
    let files: Vec<&str> = said
        .iter()
        .filter(|(_, answer)| *answer == choice)
        .map(|(file, _)| *file)
        .collect();
    match files.is_empty() {
        true => String::new(),
        false => format!(", as said of {}", files.join(", ")),
    }
}

/// One heat, or which of the files is of another.
fn heat(id: &str, evidence: &str, question: &Question) -> Markup {
    let (file, with) = (&question.file, question.answers.first());
    let earlier = question.instead.as_ref().and(with);
    let key = |file: &str| of_one_file(file, HEAT);
    html! {
        select id=(id) name=(key(file)) required aria-describedby=(evidence) {
            option value="" { "choose" }
            option value=[with] { "yes, one heat: all scans count, and the silence is told" }
            option value=(OTHER_HEAT) { "no: leave " (file) " out of this record" }
            @if let Some(earlier) = earlier { option value=(OTHER_HEAT) data-key=(key(earlier)) { "no: leave " (earlier) " out of this record" } }
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
        select id=(id) name=(question.key_of_file()) required aria-describedby=(evidence) data-or-clock {
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
