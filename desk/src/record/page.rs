//! The record page of a weld: in the order of the work from log to record.

use std::sync::Arc;

use axum::Extension;
use axum::extract::{Path, State};
use job::calendar::in_words;
use job::folder::JobFolder;
use job::record::revisions;
use maud::{Markup, html};

use super::judged::LARGEST_READ;
use crate::board::{path_of, state_line};
use crate::desk::Desk;
use crate::entry::{Right, Visitor};
use crate::frame::{Frame, jumps, page, pdf};
use crate::refusal::Refusal;

/// The record page of a weld.
pub async fn show(
    State(desk): State<Arc<Desk>>,
    Extension(visitor): Extension<Visitor>,
    Path(name): Path<String>,
) -> Result<Markup, Refusal> {
    let folder = desk.folder(&name)?;
    let file = folder.job_file()?;
    let contents = folder.contents();
    let project = desk.project.name();
    let title = match job::edit::get(&file.text, "identification.weld") {
        weld if weld.is_empty() => name.clone(),
        weld => weld,
    };
    let heading = format!("Record of {title}");
    let frame = Frame {
        title: &heading,
        project: &project,
        visitor: &visitor,
        has_door: desk.entry.is_guarded(),
        script: "record.js",
    };
    let may_act = visitor.right == Right::Act;
    let address = format!("/weld/{}", path_of(&name));
    let scenario = job::edit::get(&file.text, "scenario");
    Ok(page(
        &frame,
        &html! {
            div #record data-address=(address) data-tag=(file.fingerprint) {
                div.head {
                    h1 { (title) span.soft { ", from log to record" } }
                    (state_line(&contents, folder.last_record().as_ref()))
                    @if !contents.is_card { p.state { a href=(address) { "What it needs, wrap and plan" } } }
                    @if !scenario.is_empty() { p.scenario { em { (scenario) } } }
                    (jumps(&PARTS))
                }
                (logs(&folder, may_act))
                (chart())
                (findings())
                (decided(may_act))
                (kept(&folder, &address, may_act))
                @if contents.is_card { (card(&file.text, may_act)) }
            }
        },
    ))
}

/// The parts of the page, in the order of the work.
const PARTS: [(&str, &str); 4] = [
    ("logs-heading", "The log"),
    ("findings-heading", "How it went"),
    ("decided-heading", "What was decided"),
    ("proven-heading", "What is proven"),
];

fn logs(folder: &JobFolder, may_drop: bool) -> Markup {
    let logs = folder.logs();
    html! {
        section aria-labelledby="logs-heading" {
            h2 #logs-heading { "The log" }
            @if logs.is_empty() { p.quiet-line { "No log yet. The technician brings the logger’s file as it is, unopened and unsaved by a spreadsheet." } }
            @else {
                fieldset #logs {
                    legend.soft { @if logs.len() == 1 { "The file of this heat" } @else { "The files of this heat; those that are ticked become one log" } }
                    @for log in &logs { label.tick-line { input type="checkbox" name="log" value=(log) checked; span { (log) } } }
                }
                @if may_drop {
                    details.group {
                        summary { span.title { "A file is not of this heat" } }
                        p.soft { "It is moved to the folder set-aside of this weld, as it came; records that were made of it carry it all the same." }
                        @for log in &logs { p { button.quiet type="button" data-aside=(log) { "Set " (log) " aside" } } }
                    }
                }
            }
            @if may_drop && logs.is_empty() { (drop()) }
            @if may_drop && !logs.is_empty() { details.group { summary { span.title { "Bring another log" } } (drop()) } }
            div #understood aria-live="polite" {}
        }
    }
}

fn drop() -> Markup {
    html! {
        div #drop {
            label for="log" { "Drop logs here, or choose them" }
            input #log type="file" multiple;
            p.help { "Text, print-outs or workbooks, as the logger wrote them. Several files of one heat become one log; " (LARGEST_READ >> 20) " MB can be read together." }
            progress #drop-part max="1" value="0" aria-label="Part of the log that is here" hidden {}
            p #drop-says role="status" {}
        }
    }
}

fn chart() -> Markup {
    html! {
        section #chart-section aria-labelledby="chart-heading" hidden {
            h2.hidden #chart-heading { "The chart" }
            div.sides {
                figure #joint aria-labelledby="joint-caption" hidden {
                    div #drawing {}
                    figcaption #joint-caption { "The joint to scale, upper half of the section. Press a name, and its line comes forward. Round: outside, square: bore. " span #only-predicted {} span.of-plan { "Pale: as planned." } }
                }
                div #chart {}
            }
        }
    }
}

fn findings() -> Markup {
    html! {
        section aria-labelledby="findings-heading" {
            h2 #findings-heading { "How it went" }
            div #findings aria-live="polite" { p.quiet-line { "Reading and judging …" } }
        }
    }
}

fn decided(may_act: bool) -> Markup {
    html! {
        section aria-labelledby="decided-heading" {
            h2 #decided-heading { "What was decided" }
            div #decided {}
            @if may_act {
                details.group #answer-box hidden {
                    summary { span.title { "Answer for a deviation" } }
                    p.soft { "It stays on the record, with the reason and the name beside it. It is kept in the job file." }
                    form #answer-for .fields {
                        label.long { span { "Deviation; those that wait stand first" } select name="deviation" required { option value="" { "choose" } } }
                        p.long #chosen hidden {}
                        fieldset #also hidden { legend {} div {} }
                        label.long { span { "Why it may stand" } textarea.words name="reason" rows="3" required autocomplete="off" {} }
                        label { span { "Said by" } input name="by" required autocomplete="name"; }
                        button type="submit" { "Keep the answer and judge again" }
                        p.says role="status" {}
                    }
                }
                details.group #decide-box hidden {
                    summary { span.title { "Take a thermocouple out of the set" } }
                    p.soft { "It stands on the record with its reason and the name. It is kept in the job file." }
                    form #decide .fields {
                        label { span { "Thermocouple" } select name="channel" required { option value="" { "choose" } } }
                        label { span { "From, since the log began: 2.5 h or 2 h 30 min" } input name="from" required autocomplete="off"; }
                        label.long { span { "Reason" } textarea.words name="reason" rows="3" required autocomplete="off" {} }
                        label { span { "Decided by" } input name="by" required autocomplete="name"; }
                        label { span { "Its place is taken by a spare" } select name="replaced_by" { option value="" { "by none" } } }
                        button type="submit" { "Keep the decision and judge again" }
                        p.says role="status" {}
                    }
                }
            }
        }
    }
}

fn kept(folder: &JobFolder, address: &str, may_act: bool) -> Markup {
    let mut kept = revisions(&folder.record_path());
    let next = kept.len() + 1;
    let records = folder.records();
    let accepted = records.accepted();
    kept.reverse();
    let (changed, waiting) = folder
        .last_record()
        .map(|last| (last.changed, last.waiting))
        .unwrap_or_default();
    html! {
        section aria-labelledby="proven-heading" {
            h2 #proven-heading { "What is proven" }
            @if kept.is_empty() { p.quiet-line { "No record yet. It is made from the log and the limits above; the engineer accepts it with name and role, and the day is kept with them." } }
            @else {
                ol.revisions reversed { @for (place, one) in kept.iter().enumerate() {
                    @let stem = job::record::stem(one.number);
                    li value=(one.number) {
                        p { strong { "Revision " (one.number) } span.soft { ", made " (in_words(&one.made)) @if place > 0 { ", replaced by revision " (one.number + 1) } } }
                        p.files { (pdf(&format!("{address}/record/{stem}.pdf"), "PDF with everything attached")) " " (pdf(&format!("{address}/record/{stem}.html"), "as a page")) " " (pdf(&format!("{address}/record/{stem}.json"), "for other programs")) }
                        p.hash.soft { "Fingerprint of the PDF, by which a changed one is known (SHA-256): " (one.sha256) }
                        @if place == 0 && !changed.is_empty() {
                            p { span.look { span aria-hidden="true" { "▲ " } "What stands above is no longer what this revision proves: " (changed.join("; ")) "." } }
                        }
                        @if let Some(name) = records.accepted_of(one) {
                            p { "Accepted by " strong { (name.by) } @if !name.role.is_empty() { ", " (name.role) } ", " (in_words(&name.at)) "." @if !name.remark.is_empty() { " " (name.remark) } }
                            @if place == 0 { p { "This revision stands with the name under it and is not changed any more. Where a log comes late or a mistake is found, bring the log or change what was said above, and make revision " (one.number + 1) ": it names this one as the one before, and needs a name of its own." } }
                        }
                    }
                } }
                p { a href="/verify" { "Verify a record" } span.soft { " that somebody sends" } }
            }
            @if may_act {
                form #make .fields {
                    div #stays-open role="status" {}
                    label.tick-line { input type="checkbox" name="confirmed" required; span { "I have looked at how the files were understood, and it is what the logger wrote." } }
                    label { span { "Looked at by; the name and the time stand on the record" } input name="looked_at_by" required autocomplete="name"; }
                    button type="submit" disabled aria-describedby="stays-open" { @if next == 1 { "Make the record" } @else { "Make revision " (next) } }
                    p.says role="status" {}
                }
                @if !kept.is_empty() && accepted.is_none() && waiting > 0 {
                    p { span.look { span aria-hidden="true" { "▲ " } (waits(waiting)) " for an answer." } " Revision " (next - 1) " cannot be accepted so: answer under " a href="#deviations-heading" { "Deviations" } ", then make revision " (next) " and accept that." }
                }
                @if !kept.is_empty() && accepted.is_none() && waiting == 0 {
                    form #accept .fields {
                        label { span { "Accepted by" } input name="by" required autocomplete="name"; }
                        label { span { "As what" } input name="role" required autocomplete="organization-title"; }
                        label.long { span { "Remark, if there is one" } input name="remark" autocomplete="off"; }
                        button type="submit" { "Put the name under revision " (next - 1) }
                        p.says role="status" {}
                    }
                    p.soft { "A name typed here says who accepted the record in this folder; what counts for the contract is the signature on the record." }
                }
            }
        }
    }
}

fn waits(deviations: usize) -> String {
    match deviations {
        1 => "1 deviation of the last revision waits".to_owned(),
        many => format!("{many} deviations of the last revision wait"),
    }
}

/// A cycle card has no page of a weld; it is written here.
fn card(text: &str, may_act: bool) -> Markup {
    html! {
        section aria-labelledby="card-heading" {
            h2 #card-heading { "The cycle card" }
            details.group {
                summary { span.title { "Limits and channels, as the file" } }
                label.hidden for="file" { "The cycle card" }
                textarea #file spellcheck="false" autocomplete="off" wrap="off" rows="30" readonly[!may_act] { (text) }
                @if may_act { div.saves { button #save type="button" { "Save and judge again" } span #saved role="status" {} } }
            }
        }
    }
}
