//! What was changed in a job folder since a record was made: the record carries what it was made from.

use readings::Mapping;

use super::{AcceptError, JOB_FILE, JobFolder, MAPPING_FILE};
use crate::confirmed::FILE_NAME;
use crate::file::card::is_card;
use crate::record::{Carried, carried, revisions, stem};

/// What differs from what a record carries, in words. The plan is left out: it decides nothing.
pub fn changed_since(folder: &JobFolder, pdf: &[u8]) -> Result<Vec<String>, AcceptError> {
    let carried = carried(pdf).map_err(|problem| AcceptError::Unverified {
        path: folder.record_path(),
        problem: problem.to_string(),
    })?;
    let mut changed = Vec::new();
    let text = folder.job_file()?.text;
    if text != carried.job {
        changed.push(format!("{JOB_FILE} was changed"));
    }
    if !is_card(&text) && confirmed_now(folder) != carried.confirmed {
        changed.push(format!(
            "{FILE_NAME} was changed: the rows of the rules that somebody read"
        ));
    }
    if mapping_of(folder, &text).is_some_and(|now| now != carried.mapping) {
        changed.push(format!(
            "{MAPPING_FILE} was changed: the answers given about the logger's files"
        ));
    }
    changed.extend(logs(folder, &carried));
    Ok(changed)
}

impl JobFolder {
    /// What was changed since the last revision of the record was made, in words; nothing where there is none, or where
    /// it cannot be opened, which verifying it tells.
    pub fn changed_since_record(&self) -> Vec<String> {
        let last = revisions(&self.record_path()).pop();
        let pdf = last.and_then(|last| {
            let name = format!("{}.pdf", stem(last.number));
            std::fs::read(self.record_path().join(name)).ok()
        });
        let changed = pdf.and_then(|pdf| changed_since(self, &pdf).ok());
        changed.unwrap_or_default()
    }
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
