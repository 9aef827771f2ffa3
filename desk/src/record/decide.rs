//! What a named person decides: about a thermocouple, which becomes a `[[disposition]]` of the job file, or about a
//! deviation, which becomes an `[[accepted]]`. Both need a reason and a name.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::edit;
use job::folder::{Fingerprint, JobFolder};
use serde::Deserialize;

use super::basis_of;
use super::judged::unprocessable;
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
    let folder = desk.folder(&name)?;
    let kept = tokio::task::spawn_blocking(move || keep(&folder, &decision));
    kept.await.map_err(|_| Refusal::broke_down())??;
    Ok(StatusCode::NO_CONTENT)
}

fn keep(folder: &JobFolder, decision: &Decision) -> Result<(), Refusal> {
    given(&decision.channel, "Say which thermocouple leaves the set.")?;
    given(
        &decision.from,
        "Say from when on, in hours since the start of the log.",
    )?;
    given(
        &decision.reason,
        "A reason is needed: why does it leave the set?",
    )?;
    given(&decision.by, "A name is needed: who decides?")?;
    let from = match decision.from.trim().parse::<f64>() {
        Ok(hours) => format!("{hours} h"),
        Err(_) => decision.from.clone(),
    };
    let values = [
        ("channel", decision.channel.as_str()),
        ("from", &from),
        ("reason", &decision.reason),
        ("by", &decision.by),
        ("replaced_by", &decision.replaced_by),
    ];
    add(folder, LIST, &values, &decision.tag)
}

/// The list of deviations that somebody answers for.
const ANSWERED: &str = "accepted";

/// Somebody answers for a deviation.
#[derive(Debug, Deserialize)]
pub struct Account {
    /// Its words.
    deviation: String,
    reason: String,
    by: String,
    /// The job file as the page had read it.
    tag: String,
}

/// Keeps an answer for a deviation.
pub async fn answer_for(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Json(account): Json<Account>,
) -> Result<StatusCode, Refusal> {
    let folder = desk.folder(&name)?;
    let kept = tokio::task::spawn_blocking(move || {
        given(&account.deviation, "Say which deviation it is.")?;
        given(&account.reason, "A reason is needed: why may it stand?")?;
        given(&account.by, "A name is needed: who says so?")?;
        let values = [
            ("deviation", account.deviation.as_str()),
            ("reason", &account.reason),
            ("by", &account.by),
        ];
        add(&folder, ANSWERED, &values, &account.tag)
    });
    kept.await.map_err(|_| Refusal::broke_down())??;
    Ok(StatusCode::NO_CONTENT)
}

fn given(value: &str, says: &str) -> Result<(), Refusal> {
    match value.trim().is_empty() {
        true => Err(unprocessable(says.to_owned())),
        false => Ok(()),
    }
}

/// Adds a table to a list of the job file, if the file still is what the page had read.
fn add(folder: &JobFolder, list: &str, values: &[(&str, &str)], tag: &str) -> Result<(), Refusal> {
    let mut text = folder.job_file()?.text;
    let number = edit::count(&text, list) + 1;
    for (key, value) in values {
        text = edit::set(&text, &format!("{list}[{number}].{key}"), value)
            .map_err(|error| unprocessable(error.to_string()))?;
    }
    // A file that could not be read any more is not saved.
    basis_of(&text).map_err(unprocessable)?;
    folder.save_job(&text, &Fingerprint(tag.to_owned()))?;
    Ok(())
}

/// A decision that is taken back.
#[derive(Debug, Deserialize)]
pub struct Back {
    /// Which list: `disposition` or `accepted`.
    list: String,
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
    let folder = desk.folder(&name)?;
    let taken = tokio::task::spawn_blocking(move || {
        let list = [LIST, ANSWERED].into_iter().find(|list| *list == back.list);
        let list = list.ok_or_else(|| unprocessable("There is no such list.".to_owned()))?;
        let text = folder.job_file()?.text;
        let text = edit::drop_table(&text, &format!("{list}[{}]", back.number))
            .map_err(|error| unprocessable(error.to_string()))?;
        folder.save_job(&text, &Fingerprint(back.tag))?;
        Ok::<_, Refusal>(())
    });
    taken.await.map_err(|_| Refusal::broke_down())??;
    Ok(StatusCode::NO_CONTENT)
}
