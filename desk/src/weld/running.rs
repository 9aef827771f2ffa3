//! The place of a running cycle: what will stand here once an instrument is connected.

use std::sync::Arc;

use axum::Extension;
use axum::extract::{Path, State};
use maud::{Markup, html};

use crate::board::path_of;
use crate::desk::Desk;
use crate::entry::Visitor;
use crate::frame::{Frame, page};
use crate::refusal::Refusal;

/// The page of a running cycle.
pub async fn running(
    State(desk): State<Arc<Desk>>,
    Extension(visitor): Extension<Visitor>,
    Path(name): Path<String>,
) -> Result<Markup, Refusal> {
    desk.folder(&name)?;
    let project = desk.project.name();
    let heading = format!("{name}, while it runs");
    let frame = Frame {
        title: &heading,
        project: &project,
        visitor: &visitor,
        has_door: desk.entry.is_guarded(),
        script: "talk.js",
    };
    let address = format!("/weld/{}", path_of(&name));
    Ok(page(
        &frame,
        &html! {
            h1 { (name) span.soft { ", while it runs" } }
            p.quiet-line { "No instrument is connected, and this version connects none. Nothing on this page is live." }
            p { "Once it can, this stands here:" }
            ul.plain {
                li { "the joint to scale with the last reading at each thermocouple, and how old it is;" }
                li { "the chart as it grows, with the limits, on top of the predicted course;" }
                li { "what the limits say so far, by the same definitions as in the record, and how long the hold still lasts;" }
                li { "a thermocouple that fails, as soon as there is evidence, and what remains to judge by;" }
                li { "what the crew notes: power off, power on, hold begins, with time and name." }
            }
            p { "It will read and never write: the program sends nothing to a controller." }
            p { "Until then the recorder keeps the log." }
            p { a.next href={ (address) "/record" } { "Bring the log" } }
        },
    ))
}
