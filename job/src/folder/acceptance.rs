//! A name under a record: who accepted which revision and as what, bound to its document by its hash.

use std::path::{Path, PathBuf};

use report::Moment;
use serde::{Deserialize, Serialize};

use super::changed::changed_since;
use super::{AcceptError, FolderError, JOB_FILE, JobFolder, NewFile, RECORD, lock, write_whole};
use crate::calendar;
use crate::record::{KeptRevision, Verified, revisions, stem, verify};

/// What the file of the first revision is called; that of the second is `accepted-2.json`.
const FILE: &str = "accepted";

/// A name under a record. It is a statement of the file, not a signature by a key.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Acceptance {
    /// Who accepts it.
    pub by: String,
    /// As what: engineer, inspector of the owner.
    #[serde(default)]
    pub role: String,
    /// What they have to say besides.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub remark: String,
    /// When, in UTC.
    pub at: String,
    /// Which revision.
    pub revision: u32,
    /// SHA-256 of its document.
    pub sha256: String,
}

/// Who wants to accept a record.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
pub struct Signatory {
    /// Their name.
    pub by: String,
    /// As what.
    #[serde(default)]
    pub role: String,
    /// What they have to say besides; it may be empty.
    #[serde(default)]
    pub remark: String,
}

/// A record that was accepted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Accepted {
    /// The name under it.
    pub acceptance: Acceptance,
    /// The file that holds it.
    pub file: PathBuf,
    /// Whether the record says that every limit was met.
    pub all_met: bool,
}

/// A folder of revisions, with the job folder round it where it lies in one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordFolder {
    path: PathBuf,
    job: Option<JobFolder>,
}

impl RecordFolder {
    /// What a path leads to: a job folder, a folder of revisions, or the document of the last of them.
    ///
    /// # Errors
    /// [`AcceptError::NoRecord`], [`AcceptError::NotLast`].
    pub fn of(path: &Path) -> Result<RecordFolder, AcceptError> {
        if path.join(JOB_FILE).is_file() {
            return Ok(JobFolder::at(path).records());
        }
        let folder = match path.is_file() {
            true => path.parent().unwrap_or(Path::new("")),
            false => path,
        };
        let whole = std::fs::canonicalize(match folder.as_os_str().is_empty() {
            true => Path::new("."),
            false => folder,
        });
        let within = whole.ok().and_then(|whole| {
            let job = whole.parent()?;
            (whole.ends_with(RECORD) && job.join(JOB_FILE).is_file()).then(|| JobFolder::at(job))
        });
        let records = RecordFolder {
            path: folder.to_owned(),
            job: within,
        };
        let last = records.last()?;
        let named = path.file_stem().unwrap_or_default().to_string_lossy();
        match path.is_file() && named != stem(last.number) {
            true => Err(AcceptError::NotLast {
                path: path.to_owned(),
                last: last.number,
            }),
            false => Ok(records),
        }
    }

    fn last(&self) -> Result<KeptRevision, AcceptError> {
        revisions(&self.path)
            .pop()
            .ok_or_else(|| AcceptError::NoRecord {
                path: self.path.clone(),
            })
    }

    /// Who accepted the last revision; a newer revision or a changed document has no name under it yet.
    pub fn accepted(&self) -> Option<Acceptance> {
        self.accepted_of(&revisions(&self.path).pop()?)
    }

    /// Who accepted a revision; the name stays with it when there is a next one.
    pub fn accepted_of(&self, revision: &KeptRevision) -> Option<Acceptance> {
        let read = |name: String| -> Option<Acceptance> {
            let bytes = std::fs::read(self.path.join(name)).ok()?;
            let accepted: Acceptance = serde_json::from_slice(&bytes).ok()?;
            (revision.number == accepted.revision && revision.sha256 == accepted.sha256)
                .then_some(accepted)
        };
        // Folders from before had one file for all revisions.
        read(file_of(revision.number)).or_else(|| read(file_of(1)))
    }

    /// Puts a name under the last revision, if the record still is what it says and nothing waits for an answer.
    /// `version` is that of the program.
    ///
    /// # Errors
    /// [`AcceptError`]; then it is as it was.
    pub fn accept(
        &self,
        signatory: &Signatory,
        version: &str,
        at: Moment,
    ) -> Result<Accepted, AcceptError> {
        let signatory = signatory.checked()?;
        let _lock = match &self.job {
            Some(job) => Some(lock(job.path())?),
            None => None,
        };
        let last = self.last()?;
        if let Some(accepted) = self.accepted_of(&last) {
            return Err(AcceptError::Already {
                accepted: Box::new(accepted),
            });
        }
        let verified = self.verified(&last, version)?;
        let acceptance = Acceptance {
            by: signatory.by,
            role: signatory.role,
            remark: signatory.remark,
            at: calendar::written(at),
            revision: last.number,
            sha256: last.sha256,
        };
        Ok(Accepted {
            file: self.keep(&acceptance)?,
            acceptance,
            all_met: verified.all_met,
        })
    }

    fn verified(&self, last: &KeptRevision, version: &str) -> Result<Verified, AcceptError> {
        let path = self.path.join(format!("{}.pdf", stem(last.number)));
        let pdf = std::fs::read(&path).map_err(FolderError::system("reading", &path))?;
        let verified = verify(&pdf, version).map_err(|problem| AcceptError::Unverified {
            path: path.clone(),
            problem: problem.to_string(),
        })?;
        if !verified.agrees() {
            let differing = verified.compared.iter().filter(|c| c.agrees == Some(false));
            let differing = differing.map(|c| format!("{}: {}", c.what, c.says));
            return Err(AcceptError::Differs {
                path,
                differing: differing.collect(),
            });
        }
        if let Some(job) = &self.job {
            let changed = changed_since(job, &pdf)?;
            if !changed.is_empty() {
                return Err(AcceptError::Changed { path, changed });
            }
        }
        match verified.waiting.is_empty() {
            true => Ok(verified),
            false => Err(AcceptError::Waiting {
                path,
                deviations: verified.waiting,
            }),
        }
    }

    fn keep(&self, acceptance: &Acceptance) -> Result<PathBuf, FolderError> {
        let name = file_of(acceptance.revision);
        let bytes = serde_json::to_vec_pretty(acceptance).unwrap_or_default();
        let path = self.path.join(&name);
        write_whole(&self.path, &[NewFile { name, bytes }])?;
        Ok(path)
    }
}

impl JobFolder {
    /// The revisions of the record.
    pub fn records(&self) -> RecordFolder {
        RecordFolder {
            path: self.record_path(),
            job: Some(self.clone()),
        }
    }
}

impl Signatory {
    /// Name and role, each on one line.
    fn checked(&self) -> Result<Signatory, AcceptError> {
        let one_line = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
        let signatory = Signatory {
            by: one_line(&self.by),
            role: one_line(&self.role),
            remark: self.remark.trim().to_owned(),
        };
        match (signatory.by.is_empty(), signatory.role.is_empty()) {
            (true, _) => Err(AcceptError::NoName),
            (_, true) => Err(AcceptError::NoRole { by: signatory.by }),
            _ => Ok(signatory),
        }
    }
}

fn file_of(revision: u32) -> String {
    match revision {
        1 => format!("{FILE}.json"),
        later => format!("{FILE}-{later}.json"),
    }
}
