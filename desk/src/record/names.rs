//! Which thermocouples of the job the log has, which it lacks and what follows, and which channels are of none.

use checks::{ChannelUse, Verdict, limit_words};
use job::record::{NO_THERMOCOUPLE, Record, RecordError};
use maud::{Markup, html};
use rules::thermocouple::told_as;

use super::judged::Judged;
use super::logs::TEMPERATURE;

/// The statement, and the form that changes it.
pub fn names(judged: &Judged) -> Markup {
    let record = judged.record.as_ref();
    let (lacks, unsaid) = match &record {
        Ok(record) => (!record.matched.missing.is_empty(), has_unsaid(record)),
        Err(RecordError::NoChannel { .. } | RecordError::SeveralFit { .. }) => (true, true),
        Err(_) => (false, false),
    };
    html! {
        details.group open[lacks && unsaid] {
            summary { span.title { "Which channel is which thermocouple" } " " (in_short(judged)) }
            @match record {
                Ok(record) => (statement(record)),
                Err(RecordError::NoChannel { wanted, found, .. }) => p { "The job has " (wanted) ". The log has " (found) ". Say below which is which; nothing is judged before." },
                Err(RecordError::SeveralFit { wanted, fit, .. }) => p { "Several channels of the log fit the name " (wanted) ": " (fit.join(", ")) ". Say below which of them it is not." },
                Err(_) => {}
            }
            (form(judged))
        }
    }
}

fn has_unsaid(record: &Record) -> bool {
    let mut unknown = record.matched.unknown.iter();
    unknown.any(|name| !name.ends_with(NO_THERMOCOUPLE))
}

fn in_short(judged: &Judged) -> Markup {
    let look = |words: &str| html! { span.look { span aria-hidden="true" { "▲ " } (words) } };
    match &judged.record {
        Ok(record) => match record.matched.missing.as_slice() {
            [] => html! { span.soft { "the log has all of the job" } },
            [one] => look(&format!("{one} is not in the log")),
            more => look(&format!("{} are not in the log", more.join(", "))),
        },
        Err(RecordError::NoChannel { .. }) => look("none was found by its name"),
        Err(RecordError::SeveralFit { wanted, .. }) => {
            look(&format!("several fit the name {wanted}"))
        }
        Err(_) => html! {},
    }
}

fn statement(record: &Record) -> Markup {
    let matched = &record.matched;
    let fitted = matched.channels.iter().filter(|c| c.fitted);
    let (missing, there): (Vec<_>, Vec<_>) =
        fitted.partition(|c| matched.missing.contains(&c.name));
    let unjudged = record
        .findings
        .findings
        .iter()
        .filter(|f| f.verdict == Verdict::NotJudged);
    let unjudged: Vec<String> = unjudged
        .map(|f| limit_words(&f.limit.kind, record.basis.units))
        .collect();
    let (none, unsaid): (Vec<&str>, Vec<&str>) = {
        let unknown = matched.unknown.iter().map(String::as_str);
        unknown.partition(|name| name.ends_with(NO_THERMOCOUPLE))
    };
    let none: Vec<&str> = none
        .iter()
        .map(|name| name.trim_end_matches(NO_THERMOCOUPLE))
        .collect();
    let names = |some: &[&ChannelUse]| {
        let names = some
            .iter()
            .map(|c| format!("{} ({})", c.name, told_as(c.role, c.place)));
        names.collect::<Vec<_>>().join(", ")
    };
    html! {
        p { "Of the " (there.len() + missing.len()) " thermocouples that the job fits, the log has " (there.len()) ": " (names(&there)) "." }
        @if !missing.is_empty() {
            p { span.look { span aria-hidden="true" { "▲ " } "It lacks " (names(&missing)) ". " }
                "Nothing is known of their places, and silence never counts as compliance. "
                @if unjudged.is_empty() { "Every limit could be judged by the others; somebody answers for what is missing." }
                @else { "Could not be judged: " (unjudged.join("; ")) ". The reason stands with each finding below." } }
        }
        @if !matched.without_wire.is_empty() { p { "It also has " (matched.without_wire.join(", ")) ", where the job fits no wire and the plan only predicts them: they are drawn and judge nothing." } }
        @if !none.is_empty() { p { "Of no thermocouple of this job, as was said: " (none.join(", ")) "." } }
        @if !unsaid.is_empty() { p { "Of no thermocouple of this job by their names: " (unsaid.join(", ")) ". They judge nothing." } }
    }
}

fn form(judged: &Judged) -> Markup {
    let wanted = judged.basis.channels.iter().map(|(c, _)| c.name.as_str());
    let wanted: Vec<&str> = wanted.collect();
    let mut found: Vec<&str> = Vec::new();
    for column in judged.here().flat_map(|file| &file.understood.columns) {
        if column.role == TEMPERATURE && !found.contains(&column.name.as_str()) {
            found.push(&column.name);
        }
    }
    html! {
        form #names {
            p.soft { "Names that agree need nothing. What is chosen here is kept with the weld and stands on the record." }
            div.fields { @for (index, name) in found.iter().enumerate() {
                @let now = judged.mapping.name.get(*name).map_or(*name, String::as_str);
                label for={ "name-" (index) } { span { (name) " of the log" }
                    select id={ "name-" (index) } name=(name) {
                        option value="" selected[now == *name && !wanted.contains(&now)] { "as it is called" }
                        @for one in &wanted { option value=(one) selected[*one == now] { (one) } }
                        @let none = format!("{name}{NO_THERMOCOUPLE}");
                        option value=(none) selected[none == now] { "no thermocouple of this job" }
                    }
                }
            } }
            button type="submit" { "Keep the names and judge again" }
            p.says role="status" {}
        }
    }
}
