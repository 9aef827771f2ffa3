//! Findings in the language of the record: never a bare pass, each with its place on the chart and its definition.

use checks::{Disposition, Failure, Finding, Origin, Removed, Verdict, time_words};
use job::record::{Against, Deviation, Record, RecordError};
use maud::{Markup, html};
use quantity::{Celsius, Units};
use readings::JoinError;
use rules::thermocouple::told_as;

use super::judged::Judged;

/// Lists and tables of no more rows are not folded.
const SHORT: usize = 6;
/// How much of the log is shown round a finding, in h.
const ROUND_H: f64 = 0.75;

/// Everything that was found.
pub fn findings(record: &Record) -> Markup {
    let all = &record.findings.findings;
    let mut sorted: Vec<&Finding> = all.iter().collect();
    sorted.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
    html! {
        p.statement { strong { (statement(record)) } }
        p.soft { "Each finding names the definition by which the log was read for it, with its issue: hold-time/3 is issue 3 of the hold time. All stand below." }
        ul.findings { @for finding in sorted { (one(record, finding)) } }
        (deviations(record))
        (thermocouples(record))
        (against(record))
        (definitions(record))
    }
}

/// Why there is nothing to judge.
pub fn none(error: &RecordError) -> Markup {
    html! {
        @match error {
            RecordError::NoLog => p.quiet-line { "Nothing to judge before there is a log. The technician brings the logger’s file as it is." },
            RecordError::Open { .. } | RecordError::Join(JoinError::Contradict { .. } | JoinError::Clocks { .. }) => p.quiet-line { "Nothing is judged before what the files leave open is answered above." },
            RecordError::NoChannel { .. } | RecordError::SeveralFit { .. } => p.quiet-line { "Nothing is judged before it is said above which channel of the log is which thermocouple." },
            RecordError::AllLeftOut { .. } => p.quiet-line { "Every file here was said to be of another heat, so nothing is left to judge. Change that under the answers given about the files, or bring the log of this heat." },
            error => {
                @for line in error.to_string().lines() { p { span.look { span aria-hidden="true" { "▲ " } (line) } } }
            }
        }
    }
}

fn statement(record: &Record) -> String {
    format!(
        "{}. The definitions stand below; the code of the contract decides.",
        record.statement()
    )
}

fn one(record: &Record, finding: &Finding) -> Markup {
    let by = record.findings.names_for(&finding.limit.kind);
    let sentence = finding.sentence(Origin::Measured, record.basis.units, &by);
    let words = capital(finding.verdict.words(Origin::Measured));
    let rest = sentence
        .get(finding.verdict.words(Origin::Measured).len()..)
        .unwrap_or_default();
    let (class, sign) = match finding.verdict {
        Verdict::Met => ("met", "● "),
        Verdict::NotJudged => ("look", "▲ "),
        Verdict::NotMet => ("passed", "■ "),
    };
    let (before, definition) = rest.split_once(finding.definition).unwrap_or((rest, ""));
    html! {
        li {
            p {
                span class=(class) { span aria-hidden="true" { (sign) } (words) }
                (before)
                a href={ "#" (anchor(finding.definition)) } { (finding.definition) }
                (definition)
            }
            @if let Some(when) = finding.when {
                button.quiet type="button" data-show=(when.h()) data-round=(ROUND_H) data-channel=[finding.channel.as_deref()] {
                    "Show it on the chart, " (when.words()) @if let Some(channel) = &finding.channel { ", " (channel) }
                }
            }
        }
    }
}

pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn anchor(definition: &str) -> String {
    format!("definition-{}", definition.replace(['/', ' ', '.'], "-"))
}

fn told_words(count: usize) -> String {
    match count {
        0 => String::new(),
        1 => "Told, and needs no answer".to_owned(),
        many => format!("{many} are told, and need no answer"),
    }
}

/// What is long is folded, so that what matters comes first.
fn folded(is_long: bool, title: &str, content: &Markup) -> Markup {
    html! {
        @if is_long { details.group { summary { span.title { (title) } } (content) } }
        @else { (content) }
    }
}

/// Causes that several open deviations share, and how many.
fn shared(deviations: &[Deviation]) -> Vec<(&str, usize)> {
    let mut causes: Vec<(&str, usize)> = Vec::new();
    for cause in deviations
        .iter()
        .filter(|d| d.open)
        .filter_map(|d| d.cause.as_deref())
    {
        match causes.iter_mut().find(|(known, _)| *known == cause) {
            Some((_, count)) => *count += 1,
            None => causes.push((cause, 1)),
        }
    }
    causes.retain(|(_, count)| *count > 1);
    causes
}

fn deviations(record: &Record) -> Markup {
    let (waiting, told): (Vec<&Deviation>, Vec<&Deviation>) =
        record.deviations.iter().partition(|one| one.open);
    html! {
        h3 #deviations-heading { "Deviations" }
        @if record.deviations.is_empty() { p.quiet-line { "None found around the log." } }
        @if !waiting.is_empty() {
            ul.plain { @for deviation in waiting {
                li { span.look { span aria-hidden="true" { "▲ " } "Waits for an answer: " } (deviation.says) " "
                    button.quiet type="button" data-deviation=(deviation.says) data-cause=[&deviation.cause] { "Answer for it" } }
            } }
        }
        @for (cause, count) in shared(&record.deviations) {
            p { (count) " of those that wait come from one cause: " (cause) ". "
                button.quiet type="button" data-answers-all=(cause) { @if count == 2 { "Give both one answer" } @else { "Give all " (count) " one answer" } } }
        }
        @if !told.is_empty() && told.len() <= SHORT { h4 { (told_words(told.len())) } }
        (folded(told.len() > SHORT, &told_words(told.len()), &html! { ul.plain { @for one in &told { li { (one.says) } } } }))
        @if !record.findings.failures.is_empty() {
            h3 { "Thermocouples that failed" }
            ul.findings { @for failure in &record.findings.failures { (failed(failure, &record.findings.removed)) } }
        }
    }
}

fn failed(failure: &Failure, removed: &[Removed]) -> Markup {
    let at = failure.first_evidence;
    let left = removed.iter().find(|one| one.channel == failure.channel);
    html! {
        li {
            p { strong { (failure.channel) } ": " (failure.kind.words()) ", first evidence at " (at.words()) ". " (capital(&failure.evidence)) ". " (capital(&failure.counts_words(left))) "." }
            button.quiet type="button" data-show=(at.h()) data-round=(ROUND_H) data-channel=(failure.channel) { "Show it on the chart" }
            @if left.is_none() { button.quiet type="button" data-decide=(failure.channel) data-from=(at.h()) { "Decide about it" } }
        }
    }
}

fn thermocouples(record: &Record) -> Markup {
    let units = record.basis.units;
    let temperature = |t: Option<Celsius>| t.map_or("–".to_owned(), |t| degrees(t, units));
    let table = &record.findings.table;
    html! {
        h3 { "Thermocouple by thermocouple" }
        (folded(table.len() > SHORT, &format!("Highest and lowest of each of the {}", table.len()), &html! {
        p.soft { "A name brings its line forward on the chart. Lowest and highest in hold: of that thermocouple alone, as read, while the hold of the whole soak band lasted. Longest in range: its own longest run inside the range of the hold." }
        div.wide tabindex="0" role="region" aria-label="Table of thermocouples" {
            table {
                thead { tr {
                    th scope="col" { "Name" } th scope="col" { "For" } th.end scope="col" { "Highest" } th.end scope="col" { "Lowest in hold" }
                    th.end scope="col" { "Highest in hold" } th.end scope="col" { "Longest in range" } th.end scope="col" { "Readings" }
                } }
                tbody { @for one in table {
                    tr {
                        th scope="row" { button.quiet type="button" data-channel=(one.channel) aria-pressed="false" { (one.channel) } }
                        td { (told_as(one.role, one.place)) }
                        td.end { (temperature(one.highest)) }
                        @match one.unjudged() {
                            Some(words) => td.end colspan="3" { span.soft { (words) } },
                            None => {
                                td.end { (temperature(one.lowest_in_hold)) } td.end { (temperature(one.highest_in_hold)) }
                                td.end { @match one.longest_hold() { Some(h) => (time_words(h)), None => span.soft { "not judged" } } }
                            }
                        }
                        td.end { (one.readings) }
                    }
                } }
            }
        }
        }))
    }
}

fn degrees(t: Celsius, units: Units) -> String {
    match units {
        Units::Si => format!("{:.0} °C", t.c()),
        Units::Us => format!("{:.0} °F", t.f()),
    }
}

fn against(record: &Record) -> Markup {
    let units = record.basis.units;
    html! {
        @if let Some((_, against)) = &record.plan {
            h3 { "Beside the plan" }
            p.soft { "What was planned decides nothing; it tells the next plan what to assume." }
            @if !against.same_job { p { span.look { span aria-hidden="true" { "▲ " } "The plan was made from another version of the job file than the one by which the log is judged." } } }
            ul.plain { @for one in against.says(units) { li { (one) } } }
            @if !against.channels.is_empty() { (folded(against.channels.len() > SHORT, &format!("The difference at each of {} thermocouples", against.channels.len()), &gaps(against, units))) }
        }
    }
}

/// Measured less planned, thermocouple by thermocouple.
fn gaps(against: &Against, units: Units) -> Markup {
    html! {
        div.wide tabindex="0" role="region" aria-label="Table of differences from the plan" {
            table {
                caption { "Measured less planned: mean over time, and the largest with its time since the first scan" }
                thead { tr { th scope="col" { "Name" } @for piece in &against.laid { th scope="col" { "In the " (piece.part.words()) } } } }
                tbody { @for channel in &against.channels {
                    tr {
                        th scope="row" { button.quiet type="button" data-channel=(channel.name) aria-pressed="false" { (channel.name) } }
                        @for gap in &channel.gaps { td { @match gap { Some(gap) => (gap.words(units)), None => "not compared" } } }
                    }
                } }
            }
        }
    }
}

fn definitions(record: &Record) -> Markup {
    html! {
        details.group #definitions {
            summary { span.title { "Definitions used" } }
            p.soft { "No standard that we know defines how a chart is read. These are the program’s own; a procedure may set other numbers, which then stand here." }
            dl.facts { @for one in &record.findings.definitions {
                div { dt #(anchor(one.id)) { (one.id) } dd { (one.text) } }
            } }
        }
    }
}

/// What was decided about thermocouples, and the form for more.
pub fn decided(judged: &Judged) -> Markup {
    let all = &judged.basis.paper.dispositions;
    html! {
        @if all.is_empty() && judged.basis.paper.accepted.is_empty() { p.quiet-line { "Nothing was decided. A thermocouple leaves the set only by a reason and a name." } }
        @for one in judged.basis.confirmed.iter().flat_map(|file| &file.rows) {
            p { "Judged with the row " code { (one.row) } ", read by " (one.by) " on " (one.on) "." }
        }
        ul.plain {
            @for (index, one) in all.iter().enumerate() { (decision(index, one)) }
            @for (index, one) in judged.basis.paper.accepted.iter().enumerate() {
                li { (one.by) " answers for “" (one.deviation) "”: " (one.reason) ". "
                    button.quiet type="button" data-take-back=(index + 1) data-list="accepted" { "Take this back" } }
            }
        }
    }
}

fn decision(index: usize, one: &Disposition) -> Markup {
    html! {
        li {
            strong { (one.channel) } " leaves the set at " (one.from.words()) ", by " (one.by) ": " (one.reason)
            @if let Some(spare) = &one.replaced_by { ". " (spare) " takes its place" }
            ". "
            button.quiet type="button" data-take-back=(index + 1) data-list="disposition" { "Take this back" }
        }
    }
}
