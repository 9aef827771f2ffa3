//! What the plan of a weld says, first of all: whether anything stands in the way of heating on it.

use job::folder::{JobFile, JobFolder};
use job::planned::{InTheWay, Planned};
use maud::{Markup, html};
use quantity::Units;

use super::against_before::since_before;

/// What was found, worst first; nothing where there is no plan.
pub fn verdict(folder: &JobFolder, file: &JobFile) -> Markup {
    match planned(folder, file) {
        Some((planned, is_current)) => told(&planned, is_current),
        None => html! {},
    }
}

/// The same in one line, with the way to the rest.
pub fn short(folder: &JobFolder, file: &JobFile) -> Markup {
    match planned(folder, file) {
        Some((planned, is_current)) => html! {
            (age(is_current))
            (statement(&planned))
            @if let Some(against) = folder.against_before(units_of(file)) { (since_before(&against)) }
            @if !planned.complies { p { a href="#verdict" { "Which, by how much, and what could help" } } }
        },
        None => html! {},
    }
}

/// The plan, and whether it is of the job file and the confirmed rows as they stand.
fn planned(folder: &JobFolder, file: &JobFile) -> Option<(Planned, bool)> {
    let planned = folder.planned(units_of(file))?;
    let confirmed = folder.confirmed().unwrap_or_default();
    let is_current = planned.is_of(&file.text, &confirmed);
    Some((planned, is_current))
}

fn units_of(file: &JobFile) -> Units {
    match job::edit::get(&file.text, "units").as_str() {
        "us" => Units::Us,
        _ => Units::Si,
    }
}

/// That the plan is of another text; the page shows and hides it as the desk says of the text that stands there.
fn age(is_current: bool) -> Markup {
    html! {
        p.look.plan-before role="status" hidden[is_current] { span.shape aria-hidden="true" { "▲ " } "The job was changed after this plan was made; what stands here is of the plan before. Compute the cycle again." }
    }
}

fn told(planned: &Planned, is_current: bool) -> Markup {
    html! {
        section.verdict #verdict aria-label="What the plan says" {
            (age(is_current))
            (statement(planned))
            @if !planned.limits_open.is_empty() || !planned.foreseen_open.is_empty() {
                ul.findings {
                    @for one in planned.limits_open.iter().chain(&planned.foreseen_open) { (line(one)) }
                }
            }
        }
    }
}

fn statement(planned: &Planned) -> Markup {
    let (missed, of) = (planned.missed(), planned.limits);
    let unjudged = planned.limits_open.len() - missed;
    let are = |count: usize| if count == 1 { "is" } else { "are" };
    html! {
        @if missed > 0 {
            p.passed.statement { span.shape aria-hidden="true" { "■ " } (missed) " of " (of) " limits " (are(missed)) " not met by the predicted values. Do not heat on this plan." }
        } @else if unjudged > 0 {
            p.look.statement { span.shape aria-hidden="true" { "▲ " } (unjudged) " of " (of) " limits could not be judged; predicted values meet the others." }
        } @else if !planned.foreseen_open.is_empty() {
            p.look.statement { span.shape aria-hidden="true" { "▲ " } "Predicted values meet all " (of) " limits, but something stands in the way that no thermocouple on site sees." }
        } @else {
            p.statement { span.shape aria-hidden="true" { "● " } "Predicted values meet all " (of) " limits, and nothing foreseen stands in the way"
                @match planned.cautions { 0 => {} 1 => "; 1 caution stands under “What the prediction says”" more => { "; " (more) " cautions stand under “What the prediction says”" } }
                ". A prediction proves nothing; the record of the heat does." }
        }
    }
}

fn line(one: &InTheWay) -> Markup {
    html! {
        li {
            p {
                @if one.is_missed { span.passed { span.shape aria-hidden="true" { "■ " } "not met" } }
                @else { span.look { span.shape aria-hidden="true" { "▲ " } "not judged" } }
                " " (one.what) ": " (one.says) "."
            }
            @if let Some(remedy) = &one.remedy { p.soft { "What could help: " (remedy) "." } }
        }
    }
}
