//! What was changed in a job folder since a record was made: the record carries what it was made from.

use readings::Mapping;

use super::{AcceptError, FolderError, JOB_FILE, JobFolder, MAPPING_FILE};
use crate::confirmed::FILE_NAME;
use crate::file::card::is_card;
use crate::record::{Carried, carried};

/// What differs from what a record carries, in words. The plan is left out: it decides nothing.
pub fn changed_since(folder: &JobFolder, pdf: &[u8]) -> Result<Vec<String>, AcceptError> {
    let carried = carried(pdf).map_err(|problem| AcceptError::Unverified {
        path: folder.record_path(),
        problem: problem.to_string(),
    })?;
    let mut changed = texts(folder, &carried)?;
    changed.extend(logs(folder, &carried));
    Ok(changed)
}

/// The same of what is known of a record, and the logs of the folder that it does not carry.
pub(super) fn changed_from(
    folder: &JobFolder,
    carried: &Carried,
) -> Result<Vec<String>, FolderError> {
    let mut changed = texts(folder, carried)?;
    changed.extend(logs(folder, carried));
    changed.extend(not_carried(folder, carried));
    Ok(changed)
}

fn texts(folder: &JobFolder, carried: &Carried) -> Result<Vec<String>, FolderError> {
    let mut changed = Vec::new();
    let file = folder.job_file()?;
    if file.fingerprint.0 != carried.job {
        changed.push(format!("{JOB_FILE} was changed"));
    }
    let now = confirmed_now(folder).map(|bytes| readings::sha256(&bytes));
    if !is_card(&file.text) && now != carried.confirmed {
        changed.push(format!(
            "{FILE_NAME} was changed (the rows of the rules that somebody read)"
        ));
    }
    let now = mapping_of(folder, &file.text).map(|text| readings::sha256(text.as_bytes()));
    if now
        .zip(carried.mapping.as_ref())
        .is_some_and(|(now, then)| now != *then)
    {
        changed.push(format!(
            "{MAPPING_FILE} was changed (the answers given about the logger's files)"
        ));
    }
    Ok(changed)
}

/// Logs that came later, or whose tick was taken when it was made; not those that are said to be of another heat.
fn not_carried(folder: &JobFolder, carried: &Carried) -> Vec<String> {
    let is_carried = |name: &String| carried.logs.iter().any(|(known, _)| known == name);
    let kept = folder.mapping().map(|text| Mapping::from_toml(&text));
    let mapping = kept.and_then(Result::ok).unwrap_or_default();
    let names = folder.logs().into_iter();
    names
        .filter(|name| !is_carried(name) && !mapping.leaves_out(name))
        .map(|name| format!("the log {name} lies in the folder and is not in it"))
        .collect()
}

/// How the logs would be read now; `None` where the job file, which is told already, cannot say it.
fn mapping_of(folder: &JobFolder, text: &str) -> Option<String> {
    match folder.mapping() {
        Some(kept) => Some(
            Mapping::from_toml(&kept)
                .map(|mapping| mapping.to_toml())
                .unwrap_or(kept),
        ),
        None => folder
            .basis(text)
            .ok()
            .map(|basis| basis.paper.mapping.to_toml()),
    }
}

fn confirmed_now(folder: &JobFolder) -> Option<Vec<u8>> {
    std::fs::read(folder.path().join(FILE_NAME)).ok()
}

fn logs<'a>(folder: &'a JobFolder, carried: &'a Carried) -> impl Iterator<Item = String> + 'a {
    carried.logs.iter().filter_map(|(name, sha256)| {
        let now = std::fs::read(folder.logs_path().join(name));
        match now {
            Ok(bytes) if readings::sha256(&bytes) == *sha256 => None,
            Ok(_) => Some(format!("the log {name} was changed")),
            Err(_) => Some(format!("the log {name} is no longer there")),
        }
    })
}
