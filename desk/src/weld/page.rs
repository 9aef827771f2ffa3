//! The page of a weld, in the order of the work.

use std::sync::Arc;

use axum::Extension;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Redirect, Response};
use job::calendar::in_words;
use job::folder::{JobFile, JobFolder};
use job::record::{revisions, stem};
use maud::{Markup, html};

use super::named::number_and_folder;
use super::plan_document::plan_document;
use super::verdict::{short, verdict};
use crate::board::path_of;
use crate::desk::Desk;
use crate::entry::{Right, Visitor};
use crate::frame::{Frame, jumps, page, pdf};
use crate::refusal::Refusal;

/// The page of a weld.
pub async fn show(
    State(desk): State<Arc<Desk>>,
    Extension(visitor): Extension<Visitor>,
    Path(name): Path<String>,
) -> Result<Response, Refusal> {
    let folder = desk.folder(&name)?;
    let file = folder.job_file()?;
    if job::is_card(&file.text) {
        // A cycle card has limits and a log, and no weld to plan.
        let record = format!("/weld/{}/record", path_of(&name));
        return Ok(Redirect::to(&record).into_response());
    }
    let contents = folder.contents();
    let project = desk.project.name();
    let frame = Frame {
        title: &name,
        project: &project,
        visitor: &visitor,
        has_door: desk.entry.is_guarded(),
        script: "weld.js",
    };
    let may_act = visitor.right == Right::Act;
    let title = job::edit::get(&file.text, "identification.weld");
    let title = if title.is_empty() {
        name.clone()
    } else {
        title
    };
    let address = format!("/weld/{}", path_of(&name));
    Ok(page(
        &frame,
        &html! {
            div #weld data-address=(address) data-tag=(file.fingerprint) {
                div.head {
                    h1 { (title) }
                    (crate::board::state_line(&contents, folder.last_record().as_ref()))
                    (demo(&file.text, &folder, &address, may_act))
                }
                (jumps(&PARTS))
                (verdict(&folder, &file))
                div #stage-top {}
                figure #stage aria-labelledby="stage-caption" {
                    p.look #stale role="status" hidden { span.shape aria-hidden="true" { "▲ " } "The file as it stands can’t be used, see “How it is wrapped”. Drawing, limits and numbers are of the last file that could." }
                    div #drawing {}
                    figcaption #stage-caption { "The joint to scale, upper half of the section, with the temperature along it below. At rest means that everything has evened out at the set point, as after a very long hold. " span #turns-whose {} span #names-along {} span #only-predicted {} @if may_act { span.hint { "Drag a turn, or press it and step it." } } }
                    div.foot {
                        @if may_act { (turns()) }
                        div #short {
                            div #short-says role="status" {}
                            a #short-all href="#rest-heading" hidden { "All numbers with their limits" }
                        }
                        @if may_act { div #save-here hidden { span { "Not saved yet." } button #save-turns type="button" { "Save" } button.quiet #back-turns type="button" { "Back to the saved file" } } }
                    }
                }
                div #stage-below {}
                (needs())
                (wrap(&file.text, may_act))
                (course(&folder, &file, &address, may_act))
                (running(&address))
                (went(&folder, &address))
                (proven(&folder, &address))
                @if may_act { (number_and_folder(&title, contents.record)) }
            }
        },
    )
    .into_response())
}

/// The parts of the page, in the order of the work.
const PARTS: [(&str, &str); 5] = [
    ("needs-heading", "What it needs"),
    ("wrap-heading", "How it is wrapped"),
    ("course-heading", "How it will go"),
    ("went-heading", "How it went"),
    ("proven-heading", "What is proven"),
];

/// The invented scenario of a demo weld, and the quiet ways back into the tour.
fn demo(text: &str, folder: &JobFolder, address: &str, may_act: bool) -> Markup {
    let scenario = job::edit::get(text, "scenario");
    let is_demo = job::edit::get(text, "demo") == "true";
    html! {
        @if !scenario.is_empty() || is_demo {
            p.scenario {
                em { (scenario) } " "
                @if is_demo && may_act {
                    a href={ (address) "?#tour" } { "Take the tour again" } " "
                    @if folder.logs().is_empty() && crate::board::has_demo_log(text) { button.quiet #demo-log type="button" { "Bring the demo weld’s invented log" } }
                }
            }
        }
    }
}

/// What is done to the turns, beside the drawing that shows them.
fn turns() -> Markup {
    html! {
        div.tools role="group" aria-label="Turns" {
            div #one-turn role="group" aria-label="The chosen turn" hidden {
                output #one-turn-says {}
                @for by in [-16, -1, 1, 16] { button.quiet type="button" data-move=(by) {} }
                button.quiet #take-turn type="button" { "Take it away" }
            }
            label { span { "Standoff of all turns" } input #standoff type="range" min="2" max="200" step="1"; }
            output #standoff-says for="standoff" {}
            button.quiet #closer type="button" { "Turns closer together" }
            button.quiet #farther type="button" { "Turns farther apart" }
            button.quiet #more type="button" { "One turn more" }
            button.quiet #fewer type="button" { "One turn less" }
            button.quiet #propose type="button" { "Let the plan propose them" }
            span.soft #turns-will {}
            span.soft #turns-says role="status" tabindex="-1" {}
        }
    }
}

fn needs() -> Markup {
    html! {
        section aria-labelledby="needs-heading" {
            h2 #needs-heading { "What it needs" }
            div #needs .sheet { p.quiet-line { "The limits stand here as soon as code, edition, weld and both sides are said." } }
        }
    }
}

fn wrap(text: &str, may_act: bool) -> Markup {
    html! {
        section aria-labelledby="wrap-heading" {
            h2 #wrap-heading { "How it is wrapped" }
            div #faults role="status" {}
            div.wrap {
                div.answers {
                    h3 #rest-heading tabindex="-1" { "At rest at the set point" }
                    p.soft.says { "One state of the metal, answered at once, in which nothing warms up any more. How it comes to be, the cycle below tells: its hold begins sooner, while the pipe beyond still takes up heat, so power and current of a plan are higher, for heating up takes more than holding, and its coldest place is colder." }
                    div #rest {}
                    button.quiet #compare type="button" hidden { "Compare from here on" }
                    div #pictures {}
                }
                div.job {
                    div.saves {
                        @if may_act { button #save type="button" disabled { "Save" } button.quiet #back type="button" disabled { "Back to the saved file" } }
                        span #saved role="status" {}
                    }
                    div.views role="tablist" aria-label="The job" {
                        button.tab #tab-form type="button" role="tab" aria-selected="true" aria-controls="view-form" { "As a form" }
                        button.tab #tab-file type="button" role="tab" aria-selected="false" aria-controls="view-file" tabindex="-1" { "As the file" }
                    }
                    form #view-form role="tabpanel" aria-labelledby="tab-form" {}
                    div #view-file role="tabpanel" aria-labelledby="tab-file" hidden {
                        label.hidden for="file" { "The job file" }
                        textarea #file spellcheck="false" autocomplete="off" wrap="off" rows="40" readonly[!may_act] { (text) }
                    }
                }
            }
        }
    }
}

fn course(folder: &JobFolder, file: &JobFile, address: &str, may_act: bool) -> Markup {
    let plan = folder
        .plan_file("plan.html")
        .and_then(|bytes| String::from_utf8(bytes).ok());
    let document = plan.as_deref().and_then(plan_document);
    html! {
        section aria-labelledby="course-heading" {
            h2 #course-heading { "How it will go" }
            (short(folder, file))
            div.tools {
                @if may_act { button #run type="button" { "Compute the cycle" } button.quiet #stop type="button" hidden { "Stop" } }
                progress #part max="1" value="0" aria-label="Part of the cycle that is computed" hidden {}
                span #run-says role="status" {}
            }
            @match document {
                Some(document) => {
                    p.files { (pdf(&format!("{address}/plan/plan.pdf"), "The plan as PDF")) " " a href={ (address) "/plan/plan.html" } { "as a page" } " " a href={ (address) "/plan/plan.json" } { "for other programs" } }
                    div #walk {}
                    div.sheet.plan { (document) }
                }
                None => p.quiet-line { "No plan yet. Computing the cycle takes some seconds to a few minutes; whoever may act can start it." },
            }
        }
    }
}

fn running(address: &str) -> Markup {
    html! {
        section aria-labelledby="running-heading" {
            h2 #running-heading { "While it runs" }
            p.quiet-line { "No instrument is connected. The technician’s recorder keeps the log; bring it below when the heat has ended. " a href={ (address) "/running" } { "What will stand here" } }
        }
    }
}

fn went(folder: &JobFolder, address: &str) -> Markup {
    let logs = folder.logs();
    html! {
        section aria-labelledby="went-heading" {
            h2 #went-heading { "How it went" }
            @if logs.is_empty() { p.quiet-line { "No log yet. The technician brings the logger’s file as it is, unopened and unsaved by a spreadsheet." } }
            @else { ul.logs { @for log in &logs { li { (log) } } } }
            p { a.next href={ (address) "/record" } { @if logs.is_empty() { "Bring the log" } @else { "Chart, findings and decisions" } } }
        }
    }
}

fn proven(folder: &JobFolder, address: &str) -> Markup {
    let last = revisions(&folder.record_path()).pop();
    html! {
        section aria-labelledby="proven-heading" {
            h2 #proven-heading { "What is proven" }
            @match last {
                None => p.quiet-line { "No record yet. It is made from the log and the limits above; the engineer accepts it with name and role, and the day is kept with them." },
                Some(last) => {
                    p { "Revision " (last.number) " of the record, made " (in_words(&last.made)) "." }
                    p.files { (pdf(&format!("{address}/record/{}.pdf", stem(last.number)), "The record as PDF")) " " a href={ (address) "/record#proven-heading" } { "all revisions" } }
                }
            }
        }
    }
}
