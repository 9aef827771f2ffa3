//! A new weld, after the pattern of another.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::edit;
use job::folder::Project;
use job::new_welds::{DEMOS, NotMade, bring_demo_log, make, pattern};
use serde::{Deserialize, Serialize};

use crate::board::path_of;
use crate::desk::Desk;
use crate::refusal::Refusal;

/// Empty welds: what a form calls them, what a person reads, and whether inches come first.
pub const EMPTY: [(&str, &str, bool); 2] = [
    ("empty:si", "nothing, in mm and °C", false),
    ("empty:us", "nothing, in inches and °F", true),
];

/// What the form sends.
#[derive(Debug, Deserialize)]
pub struct Asked {
    weld: String,
    pattern: String,
    /// The demo weld itself, with everything that is invented about it, for the tour.
    #[serde(default)]
    is_tour: bool,
}

/// Where the new weld is.
#[derive(Debug, Serialize)]
pub struct Made {
    address: String,
}

/// Makes a weld.
pub async fn create(
    State(desk): State<Arc<Desk>>,
    Json(asked): Json<Asked>,
) -> Result<Json<Made>, Refusal> {
    let text = begin_with(&desk.project, &asked.pattern, asked.is_tour)?;
    let folder = make(&desk.project, &asked.weld, &text)?;
    Ok(Json(Made {
        address: format!("/weld/{}", path_of(&folder.name())),
    }))
}

/// Brings the invented log to a demo weld; one that is there stays.
pub async fn demo_log(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Result<StatusCode, Refusal> {
    let folder = desk.folder(&name)?;
    bring_demo_log(&folder)?;
    Ok(StatusCode::NO_CONTENT)
}

/// Whether the invented log is of the weld of a text.
pub fn has_demo_log(text: &str) -> bool {
    let line = |text: &str| edit::get(text, "identification.line");
    edit::get(text, "demo") == "true" && line(text) == line(DEMOS[0].2)
}

/// The text to begin from: an empty weld, or what may be taken over from a demo or from a weld of the project. The tour
/// alone takes a demo with all that is invented about it.
pub fn begin_with(project: &Project, asked: &str, is_tour: bool) -> Result<String, NotMade> {
    if let Some((.., us_units)) = EMPTY.iter().find(|(key, ..)| *key == asked) {
        return Ok(job::pattern::empty(*us_units));
    }
    let text = pattern(project, asked)?;
    Ok(if is_tour {
        text
    } else {
        job::pattern::pattern(&text)
    })
}
