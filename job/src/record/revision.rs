//! Revisions: a record that is made again stands beside the ones before, and names the last of them by its hash.

use std::path::Path;

use report::Moment;
use serde_json::Value;

use crate::calendar;
use crate::folder::{FolderError, NewFile, write_whole};

use super::{Record, RecordError};

/// Which revision a record is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Revision {
    /// From 1.
    pub number: u32,
    /// SHA-256 of the revision before.
    pub previous_sha256: Option<String>,
}

/// Why a record could not be kept.
#[derive(Debug, thiserror::Error)]
pub enum KeepError {
    /// It could not be set.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// The folder keeps the record of another weld.
    #[error(
        "{folder} keeps the record of {found}; this one is of {wanted}; name another folder (--out on the command line)"
    )]
    OtherWeld {
        /// The folder.
        folder: String,
        /// Whose record it keeps.
        found: String,
        /// Whose record was made.
        wanted: String,
    },
    /// It could not be written; what was there stays.
    #[error(transparent)]
    Folder(#[from] FolderError),
}

/// A revision that is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptRevision {
    /// Its number.
    pub number: u32,
    /// When it was made, as it says itself; empty where its data cannot be read.
    pub made: String,
    /// SHA-256 of its document.
    pub sha256: String,
}

/// The name of a revision's files, without ending: `record`, `record-2`.
pub fn stem(number: u32) -> String {
    match number {
        1 => "record".into(),
        number => format!("record-{number}"),
    }
}

/// The next revision in a folder; what is there stays.
pub fn next_revision(folder: &Path) -> Revision {
    let document = |number: u32| folder.join(format!("{}.pdf", stem(number)));
    let last = (1..).take_while(|n| document(*n).exists()).last();
    let Some(last) = last else {
        return Revision {
            number: 1,
            previous_sha256: None,
        };
    };
    let bytes = std::fs::read(document(last)).unwrap_or_default();
    Revision {
        number: last + 1,
        previous_sha256: Some(readings::sha256(&bytes)),
    }
}

/// A folder keeps the revisions of one weld: the same job file, or the same name of the weld.
fn same_weld(folder: &Path, record: &Record) -> Result<(), KeepError> {
    let bytes = std::fs::read(folder.join("record.json")).unwrap_or_default();
    let Ok(kept) = serde_json::from_slice::<Value>(&bytes) else {
        return Ok(());
    };
    let told = |key: &str| kept[key].as_str().unwrap_or_default();
    let named = |weld: &str, job: &str| match weld {
        "" => job.to_owned(),
        weld => format!("weld {weld}"),
    };
    let (weld, job_file) = (&record.basis.identification.weld, &record.basis.file_name);
    if told("job_file") == job_file || (!weld.is_empty() && told("weld") == weld) {
        return Ok(());
    }
    let found = named(told("weld"), told("job_file"));
    let wanted = named(weld, job_file);
    let folder = folder.display().to_string();
    Err(KeepError::OtherWeld {
        folder,
        found,
        wanted,
    })
}

/// The revisions of a folder, the first one first.
pub fn revisions(folder: &Path) -> Vec<KeptRevision> {
    let kept = |number: u32| {
        let read = |ending: &str| std::fs::read(folder.join(format!("{}.{ending}", stem(number))));
        let document = read("pdf").ok()?;
        let data: Option<Value> = read("json")
            .ok()
            .and_then(|bytes| serde_json::from_slice(&bytes).ok());
        let made = data.and_then(|data| data["made"].as_str().map(str::to_owned));
        Some(KeptRevision {
            number,
            made: made.unwrap_or_default(),
            sha256: readings::sha256(&document),
        })
    };
    (1..).map_while(kept).collect()
}

/// Keeps a record in a folder as its next revision, as PDF/A-3, as a page and as data; returns it with the names of
/// its files. `version` is that of the program.
///
/// # Errors
/// [`KeepError`]; then no revision was added.
pub fn keep(
    mut record: Record,
    folder: &Path,
    version: &str,
    at: Moment,
) -> Result<(Record, Vec<String>), KeepError> {
    same_weld(folder, &record)?;
    record.revision = next_revision(folder);
    let stem = stem(record.revision.number);
    let sheet = record.sheet(&calendar::made(version, at));
    let file = |ending: &str, bytes: Vec<u8>| NewFile {
        name: format!("{stem}.{ending}"),
        bytes,
    };
    let files = [
        file("pdf", record.pdf_of(&sheet, version, at)?),
        file("html", report::html(&sheet).into_bytes()),
        file("json", record.json(version, at).map_err(RecordError::from)?),
    ];
    write_whole(folder, &files)?;
    let names = files.iter().map(|file| file.name.clone()).collect();
    Ok((record, names))
}
