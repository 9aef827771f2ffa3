//! A new weld, after the pattern of another.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::edit;
use job::new_welds::{DEMOS, Taken, begin_with, bring_demo_log, make};
use serde::{Deserialize, Serialize};

use crate::board::path_of;
use crate::desk::Desk;
use crate::refusal::Refusal;

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
    let taken = match asked.is_tour {
        true => Taken::WholeDemo,
        false => Taken::WhatFits,
    };
    let text = begin_with(&desk.project, &asked.pattern, taken)?;
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
