//! A weld gets another number, or leaves the project; nothing of it is lost.

use std::sync::Arc;
use std::time::SystemTime;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::calendar::utc;
use job::folder::REMOVED;
use maud::{Markup, html};
use serde::{Deserialize, Serialize};

use crate::board::path_of;
use crate::desk::Desk;
use crate::refusal::Refusal;

/// What the form sends.
#[derive(Debug, Deserialize)]
pub struct Asked {
    weld: String,
}

/// Where the weld is now.
#[derive(Debug, Serialize)]
pub struct Renamed {
    address: String,
}

/// Where a weld gets another number or leaves.
pub fn number_and_folder(title: &str, has_record: bool) -> Markup {
    html! {
        section aria-labelledby="number-heading" {
            h2 #number-heading { "Number and folder" }
            @if has_record { p.quiet-line { "There is a record under this number, so the number stays." } }
            @else {
                form #rename .fields {
                    label { span { "Weld number" } input name="weld" value=(title) required maxlength="80" autocomplete="off"; }
                    button type="submit" { "Give it this number" }
                }
            }
            p { button.quiet #remove type="button" { "Remove this weld" } " " span.soft { "Its folder moves into the project’s folder “" (REMOVED) "”; nothing in it is lost." } }
            div #sure hidden { p { "Remove weld " strong { (title) } " from the board?" } p { button #remove-now type="button" { "Remove it" } " " button.quiet #keep type="button" { "Keep it" } } }
            p.says #number-says role="status" {}
        }
    }
}

/// Where a cycle is being computed, its plan would come to lie in a folder that is gone.
fn at_rest(desk: &Desk, name: &str) -> Result<(), Refusal> {
    if desk.runs.is_busy(name) {
        let says =
            "The cycle of this weld is being computed. Stop it or wait for it, then try again.";
        return Err(Refusal::new(StatusCode::CONFLICT, says));
    }
    Ok(())
}

/// Gives a weld another number: in its job file, and as the name of its folder.
pub async fn rename(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Json(asked): Json<Asked>,
) -> Result<Json<Renamed>, Refusal> {
    let folder = desk.folder(&name)?;
    at_rest(&desk, &name)?;
    let weld = desk.project.renumber(&folder, &asked.weld)?;
    Ok(Json(Renamed {
        address: format!("/weld/{}", path_of(&weld.name())),
    }))
}

/// Takes a weld off the board.
pub async fn remove(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Result<StatusCode, Refusal> {
    let folder = desk.folder(&name)?;
    at_rest(&desk, &name)?;
    desk.project.remove(&folder, utc(SystemTime::now()))?;
    Ok(StatusCode::NO_CONTENT)
}
