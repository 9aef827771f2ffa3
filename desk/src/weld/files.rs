//! The files of a weld: the job file as text, and those of the plan.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE, ETAG, IF_MATCH};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use job::folder::{Fingerprint, JobFolder};

use crate::desk::Desk;
use crate::refusal::Refusal;

/// Files of a plan: name, kind, and whether the browser shows them.
const PLAN_FILES: [(&str, &str, bool); 4] = [
    ("plan.pdf", "application/pdf", true),
    ("plan.json", "application/json", true),
    ("frames.json", "application/json", true),
    // It carries its own style, which no page of the desk may; so it is handed over as a file.
    ("plan.html", "text/html; charset=utf-8", false),
];

fn weld(desk: &Desk, name: &str) -> Result<JobFolder, Refusal> {
    desk.project
        .folder(name)
        .ok_or_else(|| Refusal::no_weld(name))
}

fn tag(fingerprint: &Fingerprint) -> String {
    format!("\"{fingerprint}\"")
}

/// The job file, with its fingerprint as its tag.
pub async fn read_job(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Result<Response, Refusal> {
    let file = weld(&desk, &name)?.job_file()?;
    let headers = [
        (ETAG, tag(&file.fingerprint)),
        (CONTENT_TYPE, "text/plain; charset=utf-8".to_owned()),
    ];
    Ok((headers, file.text).into_response())
}

/// Saves the job file, if it still is what the page had read.
pub async fn save_job(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    headers: HeaderMap,
    text: String,
) -> Result<Response, Refusal> {
    let folder = weld(&desk, &name)?;
    let read = headers.get(IF_MATCH).and_then(|value| value.to_str().ok());
    let Some(read) = read.map(|tag| Fingerprint(tag.trim_matches('"').to_owned())) else {
        let says =
            "The page did not say which file it had read, so nothing was saved. Load it again.";
        return Err(Refusal::new(StatusCode::PRECONDITION_REQUIRED, says));
    };
    let saved = tokio::task::spawn_blocking(move || folder.save_job(&text, &read));
    let fingerprint = saved.await.map_err(|_| Refusal::broke_down())??;
    Ok(([(ETAG, tag(&fingerprint))], StatusCode::NO_CONTENT).into_response())
}

/// A file of the plan.
pub async fn plan_file(
    State(desk): State<Arc<Desk>>,
    Path((name, file)): Path<(String, String)>,
) -> Result<Response, Refusal> {
    let folder = weld(&desk, &name)?;
    let known = PLAN_FILES
        .iter()
        .find(|(known, ..)| *known == file)
        .ok_or_else(Refusal::no_page)?;
    let bytes = folder.plan_file(known.0).ok_or_else(|| {
        Refusal::new(
            StatusCode::NOT_FOUND,
            "There is no plan yet. Compute the cycle on the page of the weld.",
        )
    })?;
    let how = if known.2 { "inline" } else { "attachment" };
    let headers = [
        (CONTENT_TYPE, known.1.to_owned()),
        (
            CONTENT_DISPOSITION,
            format!("{how}; filename=\"{}-{}\"", ascii(&name), known.0),
        ),
    ];
    Ok((headers, bytes).into_response())
}

/// A name as a header may carry it.
pub fn ascii(name: &str) -> String {
    name.chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.') {
                c
            } else {
                '-'
            }
        })
        .collect()
}
