//! What a named person decides about a thermocouple: it becomes a `[[disposition]]` of the job file.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::edit;
use job::folder::{Fingerprint, JobFolder};
use serde::Deserialize;

use super::judged::unprocessable;
use super::{basis_of, folder};
use crate::desk::Desk;
use crate::refusal::Refusal;

/// The list of the job file.
const LIST: &str = "disposition";

/// A decision.
#[derive(Debug, Deserialize)]
pub struct Decision {
    channel: String,
    /// Since the start of the log, as a person writes it: `2.5 h`.
    from: String,
    reason: String,
    by: String,
    #[serde(default)]
    replaced_by: String,
    /// The job file as the page had read it.
    tag: String,
}

/// Keeps a decision.
pub async fn decide(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Json(decision): Json<Decision>,
) -> Result<StatusCode, Refusal> {
    let folder = folder(&desk, &name)?;
    let kept = tokio::task::spawn_blocking(move || keep(&folder, &decision));
    kept.await.map_err(|_| Refusal::broke_down())??;
    Ok(StatusCode::NO_CONTENT)
}

fn keep(folder: &JobFolder, decision: &Decision) -> Result<(), Refusal> {
    for (value, says) in [
        (&decision.channel, "Say which thermocouple leaves the set."),
        (
            &decision.from,
            "Say from when on, in hours since the start of the log.",
        ),
        (
            &decision.reason,
            "A reason is needed: why does it leave the set?",
        ),
        (&decision.by, "A name is needed: who decides?"),
    ] {
        if value.trim().is_empty() {
            return Err(unprocessable(says.to_owned()));
        }
    }
    let before = folder.job_file()?.text;
    let number = edit::count(&before, LIST) + 1;
    let from = match decision.from.trim().parse::<f64>() {
        Ok(hours) => format!("{hours} h"),
        Err(_) => decision.from.clone(),
    };
    let mut text = before;
    for (key, value) in [
        ("channel", &decision.channel),
        ("from", &from),
        ("reason", &decision.reason),
        ("by", &decision.by),
        ("replaced_by", &decision.replaced_by),
    ] {
        text = edit::set(&text, &format!("{LIST}[{number}].{key}"), value)
            .map_err(|error| unprocessable(error.to_string()))?;
    }
    // A file that could not be read any more is not saved.
    basis_of(&text).map_err(unprocessable)?;
    folder.save_job(&text, &Fingerprint(decision.tag.clone()))?;
    Ok(())
}

/// A decision that is taken back.
#[derive(Debug, Deserialize)]
pub struct Back {
    /// Its number from 1.
    number: usize,
    tag: String,
}

/// Takes a decision back; revisions that rest on it stay as they are.
pub async fn take_back(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Json(back): Json<Back>,
) -> Result<StatusCode, Refusal> {
    let folder = folder(&desk, &name)?;
    let taken = tokio::task::spawn_blocking(move || {
        let text = folder.job_file()?.text;
        let text = edit::drop_table(&text, &format!("{LIST}[{}]", back.number))
            .map_err(|error| unprocessable(error.to_string()))?;
        folder.save_job(&text, &Fingerprint(back.tag))?;
        Ok::<_, Refusal>(())
    });
    taken.await.map_err(|_| Refusal::broke_down())??;
    Ok(StatusCode::NO_CONTENT)
}
