//! The quick answer to a coil as it is wound now.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use cycle::at_rest::frequencies_tried;
use cycle::setup::Setup;
use job::at_rest::{Rested, WoundBy, at_rest};
use job::folder::{JOB_FILE, JobFolder};
use job::planned::Planned;
use job::rest_change::{Kept, RestChange, change};
use job::rest_numbers::RestNumber;
use job::shape::spoken;
use job::sheet::section_pictures;
use job::stands_against::stands_against;
use serde::{Deserialize, Serialize};

use super::drawing::{Drawing, drawing};
use super::faults::in_words;
use crate::desk::Desk;
use crate::refusal::Refusal;

/// What a page sends.
#[derive(Debug, Deserialize)]
pub struct Asked {
    text: String,
    /// The answer to compare with.
    before: Option<Kept>,
}

/// The answer.
#[derive(Debug, Serialize)]
pub struct Answer {
    numbers: Vec<RestNumber>,
    /// What a later answer can be compared with.
    kept: Kept,
    /// What was done since the answer before, which numbers it moved, and what made each of them move.
    change: Option<RestChange>,
    /// What stands against this coil whatever the numbers are.
    against: Vec<String>,
    /// Along the outside and along the bore: (mm, °C).
    outside: Vec<(f64, f64)>,
    bore: Vec<(f64, f64)>,
    /// Temperature, and loss with field lines.
    pictures: [String; 2],
    drawing: Option<Drawing>,
    /// With which turns and frequency.
    with: String,
}

/// Everything at rest at the set point, with the coil of a text.
pub async fn rest(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Json(asked): Json<Asked>,
) -> Result<Json<Answer>, Refusal> {
    let folder = desk.folder(&name)?;
    answered(&desk, folder, asked).await
}

/// The same with the coil of the saved file.
pub async fn rest_of_saved(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Result<Json<Answer>, Refusal> {
    let folder = desk.folder(&name)?;
    let text = folder.job_file()?.text;
    answered(&desk, folder, Asked { text, before: None }).await
}

async fn answered(desk: &Desk, folder: JobFolder, asked: Asked) -> Result<Json<Answer>, Refusal> {
    let unreadable = |words: String| Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, words);
    let confirmed = folder
        .confirmed()
        .map_err(|refused| unreadable(refused.to_string()))?;
    let job = job::read_with(&asked.text, JOB_FILE, &confirmed)
        .map_err(|refusal| unreadable(in_words(&refusal, &asked.text)))?;
    let _turn = desk.runs.quick_turn().await;
    let answered = tokio::task::spawn_blocking(move || {
        let planned = folder.planned(job.units);
        let rested = at_rest(&job, planned.as_ref())
            .map_err(|error| unreadable(spoken(&error.to_string())))?;
        Ok(answer(
            &job,
            planned.as_ref(),
            &rested,
            asked.before.as_ref(),
        ))
    });
    answered.await.map_err(|_| Refusal::broke_down())?.map(Json)
}

fn answer(
    job: &job::Job,
    planned: Option<&Planned>,
    rested: &Rested,
    before: Option<&Kept>,
) -> Answer {
    let (prepared, at_rest) = (&rested.prepared, &rested.at_rest);
    let pictures = section_pictures(
        &prepared.setup,
        job.units,
        &at_rest.snapshot,
        "at rest at the set point",
    );
    let kept = Kept::of(job.units, prepared, at_rest);
    Answer {
        numbers: kept.numbers.clone(),
        change: before.map(|before| change(before, &kept, job.units)),
        kept,
        against: stands_against(job, rested),
        outside: at_rest.outside.clone(),
        bore: at_rest.bore.clone(),
        pictures: pictures.map(|picture| report::svg_inline(&picture)),
        drawing: drawing(job, prepared, Some(&at_rest.coil), rested.wound_by),
        with: with(job, planned, rested),
    }
}

/// How the frequency was chosen where neither file nor plan says it.
fn tried_by_a_plan(setup: &Setup) -> String {
    let [low, high] = setup.source.frequency_range_hz.map(|hz| hz / 1e3);
    match frequencies_tried(setup) {
        1 => format!(", within the {low} to {high} kHz of the source"),
        many => format!(
            ", one of the {many} frequencies that a plan tries within the {low} to {high} kHz of the source to choose from"
        ),
    }
}

/// With which turns and frequency, in a sentence.
fn with(job: &job::Job, planned: Option<&Planned>, rested: &Rested) -> String {
    let is_of_this = planned.is_some_and(|plan| plan.is_of(&job.text, &job.weld.confirmed));
    let plan = if is_of_this {
        "of the plan"
    } else {
        "of the last plan, which was made before the job was changed"
    };
    let count = rested.at_rest.coil.turns.len();
    let turns = match rested.wound_by {
        WoundBy::File => format!("the {count} turns of the job file"),
        WoundBy::Plan => format!("the {count} turns {plan}"),
        WoundBy::Habit => format!(
            "{count} turns wound by the habit of the trade, for the job leaves them to the plan and there is none yet"
        ),
    };
    let frequency = match (rested.frequency_of_plan, rested.wound_by) {
        (true, WoundBy::Plan) => ", the frequency of that plan".to_owned(),
        (true, _) => format!(", the frequency {plan}"),
        (false, _) if job.source.working_frequency_hz.is_none() => {
            tried_by_a_plan(&rested.prepared.setup)
        }
        (false, _) => String::new(),
    };
    format!(
        "At {:.1} kHz{frequency}, with {turns}.",
        rested.at_rest.frequency_hz / 1e3
    )
}
