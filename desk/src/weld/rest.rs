//! The quick answer to a coil as it is wound now.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::at_rest::{AtRest, at_rest};
use job::folder::{JOB_FILE, JobFolder};
use job::plan::Prepared;
use job::rest_numbers::{RestNumber, numbers};
use job::sheet::section_pictures;
use serde::{Deserialize, Serialize};

use super::drawing::{Drawing, drawing};
use crate::desk::Desk;
use crate::refusal::Refusal;

/// What a page sends.
#[derive(Debug, Deserialize)]
pub struct Asked {
    text: String,
}

/// The answer.
#[derive(Debug, Serialize)]
pub struct Answer {
    /// Each with its name, so that the page can show how it changed.
    numbers: Vec<RestNumber>,
    /// Along the outside and along the bore: (mm, °C).
    outside: Vec<(f64, f64)>,
    bore: Vec<(f64, f64)>,
    /// Temperature, and loss with field lines.
    pictures: [String; 2],
    drawing: Option<Drawing>,
    frequency_khz: f64,
}

/// Everything at rest at the set point, with the coil of a text.
pub async fn rest(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Json(asked): Json<Asked>,
) -> Result<Json<Answer>, Refusal> {
    let folder = desk.folder(&name)?;
    answered(&desk, &folder, asked.text).await
}

/// The same with the coil of the saved file.
pub async fn rest_of_saved(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Result<Json<Answer>, Refusal> {
    let folder = desk.folder(&name)?;
    let text = folder.job_file()?.text;
    answered(&desk, &folder, text).await
}

async fn answered(desk: &Desk, folder: &JobFolder, text: String) -> Result<Json<Answer>, Refusal> {
    let unreadable = |words: String| Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, words);
    let confirmed = folder
        .confirmed()
        .map_err(|refused| unreadable(refused.to_string()))?;
    let job = job::read_with(&text, JOB_FILE, &confirmed)
        .map_err(|refusal| unreadable(refusal.to_string()))?;
    let _turn = desk.runs.quick_turn().await;
    let answered = tokio::task::spawn_blocking(move || {
        let (prepared, rested) = at_rest(&job).map_err(|error| unreadable(error.to_string()))?;
        Ok(answer(&job, &prepared, &rested))
    });
    answered.await.map_err(|_| Refusal::broke_down())?.map(Json)
}

fn answer(job: &job::Job, prepared: &Prepared, rested: &AtRest) -> Answer {
    let pictures = section_pictures(
        &prepared.setup,
        job.units,
        &rested.snapshot,
        "at rest at the set point",
    );
    Answer {
        numbers: numbers(job.units, prepared, rested),
        outside: rested.outside.clone(),
        bore: rested.bore.clone(),
        pictures: pictures.map(|picture| report::svg_inline(&picture)),
        drawing: drawing(job, prepared, Some(&rested.coil)),
        frequency_khz: rested.frequency_hz / 1e3,
    }
}
