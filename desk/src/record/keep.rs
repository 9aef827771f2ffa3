//! Revisions of the record: made, handed out, accepted.

use std::sync::Arc;
use std::time::SystemTime;

use axum::Json;
use axum::extract::{Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use job::calendar::utc;
use job::folder::{AcceptError, Signatory};
use job::record::{KeepError, Looked, RecordError, revisions, stem};
use serde::{Deserialize, Serialize};

use super::judged::{Wanted, unprocessable};
use crate::desk::Desk;
use crate::refusal::Refusal;

/// Files of a revision: ending and kind. The browser shows each.
const FILES: [(&str, &str); 3] = [
    ("pdf", "application/pdf"),
    ("json", "application/json"),
    ("html", "text/html; charset=utf-8"),
];

/// The record as a page carries its own style and type, which no page of the desk may, and nothing that runs.
const RECORD_PAGE: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; form-action 'none'; \
                           base-uri 'none'; frame-ancestors 'none'; sandbox";

/// What comes with the wish to make a record.
#[derive(Debug, Default, Deserialize)]
pub struct Making {
    /// Who looked at how the files were understood.
    #[serde(default)]
    looked_at_by: String,
}

/// A revision that was made.
#[derive(Debug, Serialize)]
pub struct Made {
    revision: u32,
}

/// Makes the record of the logs as they are judged now.
pub async fn keep(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Query(wanted): Query<Wanted>,
    making: Option<Json<Making>>,
) -> Result<Json<Made>, Refusal> {
    let looked_at_by = making.map(|Json(making)| making.looked_at_by);
    let folder = desk.folder(&name)?;
    let judged = desk.records.of(folder.clone(), &wanted).await;
    let judged = judged.map_err(unprocessable)?;
    let kept = tokio::task::spawn_blocking(move || {
        let record = judged
            .record
            .as_ref()
            .map_err(|error| unprocessable(error.to_string()))?;
        let at = utc(SystemTime::now());
        let mut record = record.clone();
        record.looked_at = Looked::by(&looked_at_by.unwrap_or_default(), at);
        match folder.save_record(record, env!("CARGO_PKG_VERSION"), at) {
            Ok(record) => Ok(Made {
                revision: record.revision.number,
            }),
            Err(KeepError::Folder(error)) => Err(Refusal::from(error)),
            Err(KeepError::Record(error)) => Err(not_set(&error)),
            Err(error @ KeepError::OtherWeld { .. }) => Err(unprocessable(error.to_string())),
        }
    });
    kept.await.map_err(|_| Refusal::broke_down())?.map(Json)
}

fn not_set(error: &RecordError) -> Refusal {
    Refusal::new(StatusCode::INTERNAL_SERVER_ERROR, error.to_string())
}

/// A file of a revision, `record-2.pdf`.
pub async fn record_file(
    State(desk): State<Arc<Desk>>,
    Path((name, file)): Path<(String, String)>,
) -> Result<Response, Refusal> {
    let folder = desk.folder(&name)?;
    let known = revisions(&folder.record_path());
    let wanted = known.iter().find_map(|revision| {
        let ending = file
            .strip_prefix(&stem(revision.number))?
            .strip_prefix('.')?;
        FILES.iter().find(|(known, _)| *known == ending)
    });
    let (_, kind) = wanted.ok_or_else(|| {
        Refusal::new(
            StatusCode::NOT_FOUND,
            "There is no such revision of the record.",
        )
    })?;
    let bytes = tokio::fs::read(folder.record_path().join(&file)).await;
    let bytes = bytes.map_err(|_| Refusal::no_page())?;
    let headers = [
        (CONTENT_TYPE, (*kind).to_owned()),
        (
            CONTENT_DISPOSITION,
            format!("inline; filename=\"{}-{file}\"", crate::weld::ascii(&name)),
        ),
    ];
    let mut response = (headers, bytes).into_response();
    if file.ends_with(".html") {
        let policy = HeaderValue::from_static(RECORD_PAGE);
        response
            .headers_mut()
            .insert(CONTENT_SECURITY_POLICY, policy);
    }
    Ok(response)
}

/// Puts a name under the last revision.
pub async fn accept(
    State(desk): State<Arc<Desk>>,
    Path(weld): Path<String>,
    Json(signatory): Json<Signatory>,
) -> Result<StatusCode, Refusal> {
    let records = desk.folder(&weld)?.records();
    let at = utc(SystemTime::now());
    let accepted = tokio::task::spawn_blocking(move || {
        records.accept(&signatory, env!("CARGO_PKG_VERSION"), at)
    });
    match accepted.await.map_err(|_| Refusal::broke_down())? {
        Ok(_) => Ok(StatusCode::NO_CONTENT),
        Err(AcceptError::Folder(error)) => Err(error.into()),
        Err(error @ AcceptError::Already { .. }) => {
            Err(Refusal::new(StatusCode::CONFLICT, error.to_string()))
        }
        Err(AcceptError::Waiting { deviations, .. }) => Err(unprocessable(format!(
            "These deviations wait for an answer with a reason and a name. Answer under “Deviations” on this page, make the \
             next revision, and accept that:\n{}",
            deviations.join("\n")
        ))),
        Err(error) => Err(unprocessable(error.to_string())),
    }
}
