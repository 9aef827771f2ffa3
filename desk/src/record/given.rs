//! What was said of the files, each answer in words, to be changed or taken back.

use job::record::{Said, about, answer_words, said};
use maud::{Markup, html};
use readings::{HEAT, KEYS, OTHER_HEAT, key_of_file};

use super::judged::Judged;

/// What a column can be said to be.
const ROLES: [&str; 12] = [
    "temperature",
    "set_point",
    "power",
    "output",
    "zone_state",
    "ambient",
    "event",
    "time",
    "date",
    "elapsed",
    "status",
    "ignore",
];

/// Everything that was said; what a name is of stands with the names.
pub fn given(judged: &Judged) -> Markup {
    let all = said(&judged.mapping);
    let all: Vec<&Said> = all
        .iter()
        .filter(|one| !one.key.starts_with("name."))
        .collect();
    // What was said of every file may be said otherwise of one.
    let several = judged.read.len() > 1;
    let unsaid = KEYS
        .iter()
        .filter(|(key, _)| several || all.iter().all(|one| one.key != *key));
    html! {
        details.group #given-box {
            summary { span.title { "Answers given about the files" } span.soft { ": " @if all.is_empty() { "none" } @else { (all.len()) } } }
            @for one in &all { p { (one.about) ": " strong { (one.words) } } }
            form #given {
                p.soft { "What is changed here holds from now on; records that were made keep what they were made by. An answer that is taken back is asked again where the file leaves it open." }
                @for (index, one) in all.iter().enumerate() { (field(judged, index, &one.key, &one.about, Some(&one.value))) }
                details.group {
                    summary { span.title { "Say something that was not asked" } }
                    @if judged.read.len() > 1 { (of_which(judged)) }
                    @for (index, (key, _)) in unsaid.enumerate() { (field(judged, all.len() + index, key, &about(key), None)) }
                    (column(judged))
                }
                button type="submit" { "Keep this and read again" }
                p.says role="status" {}
            }
        }
    }
}

fn field(judged: &Judged, index: usize, key: &str, about: &str, now: Option<&str>) -> Markup {
    let id = format!("given-{index}");
    let back = if now.is_some() {
        "take back what was said"
    } else {
        "nothing said"
    };
    let mut words = choices(judged, key);
    if let Some(now) = now.filter(|now| !words.is_empty() && !words.contains(now)) {
        words.push(now);
    }
    html! {
        div.field {
            label for=(id) { (about) }
            @if words.is_empty() { input id=(id) name=(key) value=[now] autocomplete="off" placeholder=(back); }
            @else {
                select id=(id) name=(key) {
                    option value="" selected[now.is_none()] { (back) }
                    @for word in words { option value=(word) selected[now == Some(word)] { (answer_words(key, word)) } }
                }
            }
        }
    }
}

/// The words that an answer can be; none where anything may be written.
fn choices<'j>(judged: &'j Judged, key: &str) -> Vec<&'j str> {
    if key.starts_with("column.") {
        return ROLES.to_vec();
    }
    if let Some((file, HEAT)) = key_of_file(key) {
        let names = judged.read.iter().map(|one| one.file.name.as_str());
        let others = names.filter(|name| *name != file);
        return others.chain([OTHER_HEAT]).collect();
    }
    let key = key_of_file(key).map_or(key, |(_, key)| key);
    let known = KEYS.iter().find(|(known, _)| *known == key);
    let words = known.map_or("", |(_, words)| *words);
    words.split(", ").filter(|word| !word.is_empty()).collect()
}

/// Of which file the answers below are given.
fn of_which(judged: &Judged) -> Markup {
    html! {
        div.field {
            label for="given-of" { "The answers below are said of" }
            select #given-of name="of" {
                option value="" { "every file" }
                @for one in &judged.read { option value=(one.file.name) { (one.file.name) " alone" } }
            }
        }
    }
}

fn column(judged: &Judged) -> Markup {
    let mut names: Vec<&str> = Vec::new();
    for column in judged.read.iter().flat_map(|file| &file.understood.columns) {
        if !names.contains(&column.name.as_str()) {
            names.push(&column.name);
        }
    }
    html! {
        div.field {
            label for="given-column" { "A column is something else" @if judged.read.len() > 1 { ", in every file that has it" } }
            div.pair {
                select #given-column name="column" aria-label="The column" {
                    option value="" { "choose a column" }
                    @for name in names { option { (name) } }
                }
                select name="is" aria-label="What it is" { @for role in ROLES { option value=(role) { (answer_words("column", role)) } } }
            }
        }
    }
}
