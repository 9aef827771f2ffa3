//! A new weld, after the pattern of another.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::folder::{NewFile, name_for, write_whole};
use job::{edit, weld_list};
use serde::{Deserialize, Serialize};

use crate::board::path_of;
use crate::desk::Desk;
use crate::refusal::Refusal;

/// The demo welds: what a form calls them, and what a person reads.
pub const DEMOS: [(&str, &str); 3] = [
    ("demo:carbon-steel-line", "carbon steel line"),
    ("demo:thick-9cr-header", "thick 9Cr-1Mo-V header"),
    ("demo:unequal-heavy-fitting", "unequal heavy fitting"),
];

const DEMO_FILES: [&str; 3] = [
    include_str!("../../../jobs/carbon-steel-line.toml"),
    include_str!("../../../jobs/thick-9cr-header.toml"),
    include_str!("../../../jobs/unequal-heavy-fitting.toml"),
];

/// The invented log of the first demo weld, and the name under which it is brought.
const DEMO_LOG: (&str, &str) = (
    "demo-log.csv",
    include_str!("../../../jobs/carbon-steel-line-log.csv"),
);

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
    let weld = asked.weld.trim().to_owned();
    if weld.is_empty() {
        return Err(Refusal::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "A weld needs a number.",
        ));
    }
    let text = pattern(&desk, &asked.pattern)?;
    // A pattern that is no whole file is copied as it is; the form says what is wrong with it.
    let text = edit::set(&text, weld_list::WELD, &weld).unwrap_or(text);
    let folder = desk.project.create(&name_for(&weld), &text)?;
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
    if edit::get(&folder.job_file()?.text, "demo") != "true" {
        return Err(Refusal::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "The invented log is for demo welds only; this weld is none.",
        ));
    }
    let (file, text) = DEMO_LOG;
    if folder.logs().is_empty() {
        let file = NewFile {
            name: file.to_owned(),
            bytes: text.as_bytes().to_owned(),
        };
        write_whole(&folder.logs_path(), &[file])?;
    }
    Ok(StatusCode::NO_CONTENT)
}

/// The text of a pattern: a demo or a weld of the project.
pub fn pattern(desk: &Desk, asked: &str) -> Result<String, Refusal> {
    if let Some(demo) = DEMOS.iter().position(|(key, _)| *key == asked) {
        return Ok(DEMO_FILES[demo].to_owned());
    }
    let folder = desk
        .project
        .folder(asked)
        .ok_or_else(|| Refusal::no_weld(asked))?;
    Ok(folder.job_file()?.text)
}
