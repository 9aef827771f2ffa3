//! A name under a record: who accepted which revision, bound to its document by its hash.

use report::Moment;
use serde::{Deserialize, Serialize};

use super::{FolderError, JobFolder};
use crate::calendar;
use crate::record::revisions;

const FILE: &str = "accepted.json";

/// A name under a record. It is a statement of the file, not a signature by a key.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Acceptance {
    /// Who accepts it.
    pub by: String,
    /// When, in UTC.
    pub at: String,
    /// Which revision.
    pub revision: u32,
    /// SHA-256 of its document.
    pub sha256: String,
}

impl JobFolder {
    /// Who accepted the last revision of the record; a newer revision or a changed document has no name under it yet.
    pub fn accepted(&self) -> Option<Acceptance> {
        let bytes = std::fs::read(self.record_path().join(FILE)).ok()?;
        let accepted: Acceptance = serde_json::from_slice(&bytes).ok()?;
        let last = revisions(&self.record_path()).pop()?;
        (last.number == accepted.revision && last.sha256 == accepted.sha256).then_some(accepted)
    }

    /// Puts a name under the last revision; `None` where there is no record.
    ///
    /// # Errors
    /// [`FolderError::System`]; then it is as it was.
    pub fn accept(&self, by: &str, at: Moment) -> Result<Option<Acceptance>, FolderError> {
        let _lock = self.lock()?;
        let Some(last) = revisions(&self.record_path()).pop() else {
            return Ok(None);
        };
        let accepted = Acceptance {
            by: by.to_owned(),
            at: calendar::written(at),
            revision: last.number,
            sha256: last.sha256,
        };
        let bytes = serde_json::to_vec_pretty(&accepted).unwrap_or_default();
        self.write(&self.record_path(), FILE, &bytes)?;
        Ok(Some(accepted))
    }
}
