//! What a named person decides: about a thermocouple, which becomes a `[[disposition]]` of the job file, or about a
//! deviation, which becomes an `[[accepted]]`. Both need a reason and a name.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use job::edit;
use job::folder::{Fingerprint, JobFolder};
use job::record::{Basis, Deviation};
use rules::thermocouple::Role;
use serde::Deserialize;

use super::basis_of;
use super::judged::{Wanted, unprocessable};
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
        "Say from when on, since the log began: 2.5 h or 2 h 30 min.",
    )?;
    given(
        &decision.reason,
        "A reason is needed: why does it leave the set?",
    )?;
    given(&decision.by, "A name is needed: who decides?")?;
    let from = hours_words(&decision.from);
    let read = folder.job_file()?;
    // A page that has an older file is told so, and nothing else.
    if read.fingerprint == Fingerprint(decision.tag.clone()) {
        possible(
            &basis_of(folder, &read.text).map_err(unprocessable)?,
            decision,
        )?;
    }
    let values = [
        ("channel", decision.channel.as_str()),
        ("from", &from),
        ("reason", &one_paragraph(&decision.reason)),
        ("by", &decision.by),
        ("replaced_by", &decision.replaced_by),
    ];
    add(folder, LIST, &[values.to_vec()], &decision.tag)
}

/// A reason may be written on several lines; it stands on the record as one paragraph.
fn one_paragraph(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A plain number is hours, and `2 h 22 min` is one number with one unit; what else is written, the job file reads or refuses.
fn hours_words(from: &str) -> String {
    let words: Vec<&str> = from.split_whitespace().collect();
    let hours_of = |pair: &[&str]| -> Option<f64> {
        let [number, unit] = pair else { return None };
        let per_hour = match *unit {
            "h" => 1.0,
            "min" => 60.0,
            "s" => 3600.0,
            _ => return None,
        };
        Some(number.parse::<f64>().ok()? / per_hour)
    };
    match (
        &words[..],
        words.chunks(2).map(hours_of).sum::<Option<f64>>(),
    ) {
        ([number], _) if number.parse::<f64>().is_ok() => format!("{number} h"),
        ([_, _, _, ..], Some(hours)) => one_unit(hours),
        _ => from.to_owned(),
    }
}

/// Hours where they are short to write, else whole minutes or seconds: the job file keeps one unit and no long decimals.
fn one_unit(hours: f64) -> String {
    let seconds = (3600.0 * hours).round();
    match (seconds % 36.0 == 0.0, seconds % 60.0 == 0.0) {
        (true, _) => format!("{} h", seconds / 3600.0),
        (false, true) => format!("{} min", seconds / 60.0),
        (false, false) => format!("{seconds} s"),
    }
}

/// Whether there is such a thermocouple, whether it has not left already, and whether a spare can stand in for it.
fn possible(basis: &Basis, decision: &Decision) -> Result<(), Refusal> {
    let role_of = |name: &str| {
        let mut channels = basis.channels.iter().map(|(channel, _)| channel);
        channels.find(|c| c.name == name).map(|c| c.role)
    };
    let named = |wanted: Option<Role>| {
        let channels = basis.channels.iter().map(|(channel, _)| channel);
        let names = channels.filter(|c| wanted.is_none_or(|role| c.role == role));
        match names
            .map(|c| c.name.as_str())
            .collect::<Vec<_>>()
            .join(", ")
        {
            names if names.is_empty() => "none".to_owned(),
            names => names,
        }
    };
    let (channel, spare) = (decision.channel.trim(), decision.replaced_by.trim());
    if role_of(channel).is_none() {
        let known = named(None);
        return Err(unprocessable(format!(
            "The job has no thermocouple {channel}; it has {known}."
        )));
    }
    if let Some(left) = basis
        .paper
        .dispositions
        .iter()
        .find(|d| d.channel == channel)
    {
        let (from, by) = (left.from.words(), &left.by);
        return Err(unprocessable(format!(
            "{channel} leaves the set at {from} already, by {by}; take that back first."
        )));
    }
    if !spare.is_empty() && role_of(spare) != Some(Role::Spare) {
        let spares = named(Some(Role::Spare));
        return Err(unprocessable(format!(
            "{spare} is no spare of this job, and only a spare takes a place; spares: {spares}."
        )));
    }
    Ok(())
}

/// The list of deviations that somebody answers for.
const ANSWERED: &str = "accepted";

/// Somebody answers for a deviation.
#[derive(Debug, Deserialize)]
pub struct Account {
    /// Its words.
    deviation: String,
    /// Others of the same cause that the answer holds for.
    #[serde(default)]
    also: Vec<String>,
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
    given(&account.deviation, "Say which deviation it is.")?;
    let judged = desk.records.of(folder.clone(), &Wanted::default()).await;
    let answered: Vec<String> = std::iter::once(&account.deviation)
        .chain(&account.also)
        .cloned()
        .collect();
    if let Ok(Ok(record)) = judged.as_ref().map(|judged| &judged.record) {
        for deviation in &answered {
            is_told(&record.deviations, deviation)?;
        }
    }
    let kept = tokio::task::spawn_blocking(move || {
        given(&account.reason, "A reason is needed: why may it stand?")?;
        given(&account.by, "A name is needed: who says so?")?;
        let reason = one_paragraph(&account.reason);
        let tables: Vec<Vec<(&str, &str)>> = answered
            .iter()
            .map(|deviation| {
                vec![
                    ("deviation", deviation.as_str()),
                    ("reason", reason.as_str()),
                    ("by", account.by.as_str()),
                ]
            })
            .collect();
        add(&folder, ANSWERED, &tables, &account.tag)
    });
    kept.await.map_err(|_| Refusal::broke_down())??;
    Ok(StatusCode::NO_CONTENT)
}

/// Whether the record tells such a deviation.
fn is_told(told: &[Deviation], deviation: &str) -> Result<(), Refusal> {
    if told
        .iter()
        .any(|one| one.says.starts_with(deviation.trim()))
    {
        return Ok(());
    }
    let waiting = told
        .iter()
        .filter(|one| one.open)
        .map(|one| one.says.as_str());
    let waiting = match waiting.collect::<Vec<_>>().join("; ") {
        waiting if waiting.is_empty() => {
            let told: Vec<&str> = told.iter().map(|one| one.says.as_str()).collect();
            format!(
                "those that it tells, none of which waits: {}",
                told.join("; ")
            )
        }
        waiting => format!("those that wait for an answer: {waiting}"),
    };
    Err(unprocessable(format!(
        "No deviation of this record begins with these words; {waiting}."
    )))
}

fn given(value: &str, says: &str) -> Result<(), Refusal> {
    match value.trim().is_empty() {
        true => Err(unprocessable(says.to_owned())),
        false => Ok(()),
    }
}

/// Adds tables to a list of the job file, all or none, if the file still is what the page had read.
fn add(
    folder: &JobFolder,
    list: &str,
    tables: &[Vec<(&str, &str)>],
    tag: &str,
) -> Result<(), Refusal> {
    let mut text = folder.job_file()?.text;
    for values in tables {
        let number = edit::count(&text, list) + 1;
        for (key, value) in values {
            text = edit::set(&text, &format!("{list}[{number}].{key}"), value)
                .map_err(|error| unprocessable(error.to_string()))?;
        }
    }
    // A file that could not be read any more is not saved.
    basis_of(folder, &text).map_err(unprocessable)?;
    folder.save_job(&text, &Fingerprint(tag.to_owned()))?;
    Ok(())
}

/// Moves a log that is not of this heat aside; records that were made of it carry it.
pub async fn set_aside(
    State(desk): State<Arc<Desk>>,
    Path((name, log)): Path<(String, String)>,
) -> Result<StatusCode, Refusal> {
    let folder = desk.folder(&name)?;
    let aside = tokio::task::spawn_blocking(move || folder.set_log_aside(&log));
    aside.await.map_err(|_| Refusal::broke_down())??;
    Ok(StatusCode::NO_CONTENT)
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

#[cfg(test)]
mod tests {
    use super::hours_words;

    #[test]
    fn what_is_kept_has_one_unit_and_no_long_decimals() {
        let kept = [
            ("2.5", "2.5 h"),
            ("2 h 30 min", "2.5 h"),
            ("2 h 22 min", "142 min"),
            ("3 h 1 min 59 s", "10919 s"),
            ("half past two", "half past two"),
        ];
        for (written, wanted) in kept {
            assert_eq!(hours_words(written), wanted);
        }
    }
}
