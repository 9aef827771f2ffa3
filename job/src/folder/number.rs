//! A weld gets another number: in its job file, and as the name of its folder.

use super::{FolderError, JobFolder, Project, name_for};
use crate::edit::{self, EditError};
use crate::weld_list;

/// Why a weld kept its number.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotNumbered {
    /// No number was given.
    #[error("A weld needs a number.")]
    NoNumber,
    /// A record names it.
    #[error("There is a record under this number, so the number stays.")]
    HasRecord,
    /// The job file takes no number.
    #[error("{0}")]
    Edit(#[from] EditError),
    /// The folder.
    #[error(transparent)]
    Folder(#[from] FolderError),
}

impl Project {
    /// Gives a weld of the project another number, as long as there is no record under the one that it has.
    ///
    /// # Errors
    /// [`NotNumbered`]; then it has its old number and its old name.
    pub fn renumber(&self, folder: &JobFolder, weld: &str) -> Result<JobFolder, NotNumbered> {
        let weld = weld.trim();
        if weld.is_empty() {
            return Err(NotNumbered::NoNumber);
        }
        if folder.contents().record {
            return Err(NotNumbered::HasRecord);
        }
        let file = folder.job_file()?;
        let text = edit::set(&file.text, weld_list::WELD, weld)?;
        let (from, to) = (folder.name(), name_for(weld));
        if to != from {
            self.rename(folder, &to)?;
        }
        let moved = JobFolder::at(self.path().join(&to));
        if let Err(error) = moved.save_job(&text, &file.fingerprint) {
            if to != from {
                // Where that fails too, the job file still says the old number.
                let _ = self.rename(&moved, &from);
            }
            return Err(error.into());
        }
        Ok(moved)
    }
}
