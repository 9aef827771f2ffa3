//! A new weld, after the pattern of another.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::new_welds::{bring_demo_log, make, pattern};
use serde::{Deserialize, Serialize};

use crate::board::path_of;
use crate::desk::Desk;
use crate::refusal::Refusal;

/// What the form sends.
#[derive(Debug, Deserialize)]
pub struct Asked {
    weld: String,
    pattern: String,
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
    let text = pattern(&desk.project, &asked.pattern)?;
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
