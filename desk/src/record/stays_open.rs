//! What a record that is made now leaves open, told before it is made.

use checks::{Finding, Verdict, clause_words, limit_words};
use job::record::Record;
use maud::{Markup, html};

/// What a record that is made now leaves open, to be known before it is made; `address` is that of the weld.
pub fn stays_open(record: &Record, address: &str) -> Markup {
    let of = |verdict| -> Vec<&Finding> {
        let all = record.findings.findings.iter();
        all.filter(|finding| finding.verdict == verdict).collect()
    };
    let (missed, unjudged) = (of(Verdict::NotMet), of(Verdict::NotJudged));
    let waiting = record.deviations.iter().filter(|d| d.open).count();
    let units = record.basis.units;
    let named = |findings: &[&Finding]| {
        let names = findings.iter().map(|finding| {
            let limit = &finding.limit;
            format!(
                "{} ({})",
                limit_words(&limit.kind, units),
                clause_words(limit)
            )
        });
        names.collect::<Vec<_>>().join("; ")
    };
    let unanswered = record.basis.unanswered();
    html! {
        @if missed.is_empty() && unjudged.is_empty() && waiting == 0 {
            p { span aria-hidden="true" { "● " } @if unanswered.is_empty() { "Nothing stays open: measured" } @else { "Measured" } " values met every limit, and no deviation waits for an answer." }
        } @else {
            p { strong { "A record made now says on its first page:" } }
            ul.plain {
                @if !missed.is_empty() { li { span.passed { span aria-hidden="true" { "■ " } "Not met: " } (named(&missed)) } }
                @if !unjudged.is_empty() { li { span.look { span aria-hidden="true" { "▲ " } "Not judged: " } (named(&unjudged)) } }
                @if waiting > 0 { li { span.look { span aria-hidden="true" { "▲ " } (waiting_words(waiting)) } ". " a href="#deviations-heading" { "Answer first" } " or make it as it is; a later revision can carry the answers." } }
            }
        }
        @if let Some(first) = unanswered.first() {
            p { span.look { span aria-hidden="true" { "▲ " } (questions_words(unanswered.len())) } ", and " @if unanswered.len() == 1 { "it stands" } @else { "they stand" } " so on the record. "
                a href={ (address) "#f-" (first.replace(['.', '[', ']'], "-")) } { "Answer on the page of the weld" } "." }
        }
    }
}

/// How many questions of the rules are open.
fn questions_words(count: usize) -> String {
    match count {
        1 => "1 question of the rules is not answered".to_owned(),
        many => format!("{many} questions of the rules are not answered"),
    }
}

/// How many deviations wait.
fn waiting_words(count: usize) -> String {
    match count {
        1 => "1 deviation waits for an answer".to_owned(),
        many => format!("{many} deviations wait for an answer"),
    }
}
