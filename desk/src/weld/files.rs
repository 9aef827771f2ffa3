//! The files of a weld: the job file as text, those of the plan, and logs that are dropped in.

use std::sync::Arc;

use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_LENGTH, CONTENT_TYPE, ETAG, IF_MATCH};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use futures_util::StreamExt;
use job::folder::{Fingerprint, JobFolder, checked_name};
use tokio::fs::{File, create_dir_all, remove_file};
use tokio::io::AsyncWriteExt;

use crate::desk::Desk;
use crate::refusal::Refusal;

/// The largest log: half a million scans of 24 channels are some 80 MB of text.
pub const LARGEST_LOG: u64 = 256 << 20;

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

/// Takes a log as it comes, straight to the disk: whole under its name, or not at all.
pub async fn drop_log(
    State(desk): State<Arc<Desk>>,
    Path((name, file)): Path<(String, String)>,
    headers: HeaderMap,
    body: Body,
) -> Result<StatusCode, Refusal> {
    let folder = weld(&desk, &name)?;
    let file = checked_name(&file)?.to_owned();
    let stated = headers
        .get(CONTENT_LENGTH)
        .and_then(|value| value.to_str().ok()?.parse::<u64>().ok());
    if stated.is_some_and(|bytes| bytes > LARGEST_LOG) {
        return Err(too_large());
    }
    let logs = folder.logs_path();
    let target = logs.join(&file);
    if target.exists() {
        let says = format!(
            "A log {file:?} is here already, and a log is never changed. Give the new one another name."
        );
        return Err(Refusal::new(StatusCode::CONFLICT, says));
    }
    create_dir_all(&logs)
        .await
        .map_err(|error| not_written(&error))?;
    let part = logs.join(format!(".{file}.part"));
    let taken = take(&part, body).await;
    let kept = match taken {
        Ok(()) => tokio::fs::rename(&part, &target)
            .await
            .map_err(|error| not_written(&error)),
        Err(refusal) => Err(refusal),
    };
    if kept.is_err() {
        // It may not be there; then there is nothing to take away.
        let _ = remove_file(&part).await;
    }
    kept.map(|()| StatusCode::CREATED)
}

async fn take(part: &std::path::Path, body: Body) -> Result<(), Refusal> {
    let mut file = File::create(part)
        .await
        .map_err(|error| not_written(&error))?;
    let mut stream = body.into_data_stream();
    let mut bytes: u64 = 0;
    while let Some(piece) = stream.next().await {
        let piece = piece.map_err(|_| {
            Refusal::new(
                StatusCode::BAD_REQUEST,
                "The log broke off on its way; nothing was kept. Drop it again.",
            )
        })?;
        bytes += piece.len() as u64;
        if bytes > LARGEST_LOG {
            return Err(too_large());
        }
        file.write_all(&piece)
            .await
            .map_err(|error| not_written(&error))?;
    }
    if bytes == 0 {
        return Err(Refusal::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "The file is empty; nothing was kept.",
        ));
    }
    file.sync_all().await.map_err(|error| not_written(&error))
}

fn too_large() -> Refusal {
    let says = format!(
        "The file is larger than {} MB, which no log of one heat is. Nothing was kept; is it the right file?",
        LARGEST_LOG >> 20
    );
    Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, says)
}

fn not_written(error: &std::io::Error) -> Refusal {
    let says = format!("The log could not be written: {error}. Nothing was kept.");
    Refusal::new(StatusCode::INSUFFICIENT_STORAGE, says)
}
