//! What a person says of a logger's files, or takes back: kept in the job file where it has a key for it, else beside it.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::edit;
use job::folder::{Fingerprint, JobFolder};
use readings::{KEYS, Mapping};
use serde::Deserialize;

use super::judged::unprocessable;
use super::{basis_of, mapping_of};
use crate::desk::Desk;
use crate::refusal::Refusal;

/// Answers: key of a mapping and value, which is empty where an answer is taken back.
#[derive(Debug, Deserialize)]
pub struct Asked {
    answers: Vec<(String, String)>,
    /// The job file as the page had read it.
    tag: String,
}

/// Keeps answers.
pub async fn answer(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Json(asked): Json<Asked>,
) -> Result<StatusCode, Refusal> {
    let folder = desk.folder(&name)?;
    let kept = tokio::task::spawn_blocking(move || keep(&folder, &asked));
    kept.await.map_err(|_| Refusal::broke_down())??;
    Ok(StatusCode::NO_CONTENT)
}

fn keep(folder: &JobFolder, asked: &Asked) -> Result<(), Refusal> {
    let file = folder.job_file()?;
    let basis = basis_of(folder, &file.text).map_err(unprocessable)?;
    let mut mapping = mapping_of(folder, &basis).map_err(unprocessable)?;
    for (key, value) in &asked.answers {
        // An empty value takes back what was said.
        mapping
            .choose(&format!("{key}={value}"))
            .map_err(|error| unprocessable(error.to_string()))?;
    }
    let in_job = |key: &str| KEYS.iter().any(|(known, _)| *known == key);
    let all_in_job = asked.answers.iter().all(|(key, _)| in_job(key));
    if folder.mapping().is_none() && all_in_job {
        return in_the_job_file(folder, &file.text, asked);
    }
    beside(folder, &mapping)
}

fn in_the_job_file(folder: &JobFolder, text: &str, asked: &Asked) -> Result<(), Refusal> {
    let mut text = text.to_owned();
    for (key, value) in &asked.answers {
        text = edit::set(&text, &format!("log.{key}"), value)
            .map_err(|error| unprocessable(error.to_string()))?;
    }
    folder.save_job(&text, &Fingerprint(asked.tag.clone()))?;
    Ok(())
}

fn beside(folder: &JobFolder, mapping: &Mapping) -> Result<(), Refusal> {
    Ok(folder.save_mapping(&mapping.to_toml())?)
}
