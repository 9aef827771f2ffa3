//! What all pages share.

use std::path::PathBuf;
use std::sync::Arc;

use job::folder::{JobFolder, Project};

use crate::board::Register;
use crate::entry::Entry;
use crate::error::DeskError;
use crate::record::Records;
use crate::refusal::Refusal;
use crate::weld::Runs;

/// Folder of the desk's own files inside the project: register, passphrases, certificate. Nothing in it is the truth.
const OWN: &str = ".desk";

/// What all pages share.
pub struct Desk {
    /// The welds.
    pub project: Project,
    /// Who may enter.
    pub entry: Entry,
    /// The index over the job folders.
    pub register: Register,
    /// Cycles that are being computed.
    pub runs: Runs,
    /// Logs that were read and judged.
    pub records: Records,
}

impl Desk {
    /// A desk over a project.
    ///
    /// # Errors
    /// [`DeskError::Register`], [`DeskError::Folder`].
    pub fn new(project: Project, entry: Entry) -> Result<Arc<Desk>, DeskError> {
        for folder in project.folders() {
            folder.clear_left();
        }
        let register = Register::open(&own_folder(&project))?;
        register.rebuild(&project)?;
        Ok(Arc::new(Desk {
            project,
            entry,
            register,
            runs: Runs::default(),
            records: Records::default(),
        }))
    }

    /// The job folder of a weld.
    ///
    /// # Errors
    /// A refusal where there is none of this name.
    pub(crate) fn folder(&self, name: &str) -> Result<JobFolder, Refusal> {
        self.project
            .folder(name)
            .ok_or_else(|| Refusal::no_weld(name))
    }
}

/// Where the desk keeps its own files.
pub fn own_folder(project: &Project) -> PathBuf {
    project.path().join(OWN)
}
