//! Logs that turned out not to be of this heat.

use std::fs;
use std::path::PathBuf;

use super::{FolderError, JobFolder, checked_name};

/// Where they lie.
const ASIDE: &str = "set-aside";

impl JobFolder {
    /// Moves a log out of the logs of this heat, as it came, under a name that is free there; tells where it lies now.
    ///
    /// # Errors
    /// [`FolderError::BadName`]; [`FolderError::System`] where there is no such log or it cannot be moved.
    pub fn set_log_aside(&self, name: &str) -> Result<PathBuf, FolderError> {
        let log = self.logs_path().join(checked_name(name)?);
        let folder = self.path().join(ASIDE);
        fs::create_dir_all(&folder).map_err(FolderError::system("making", &folder))?;
        let numbered = |number: u32| match number {
            1 => folder.join(name),
            _ => folder.join(format!("{number} {name}")),
        };
        let free = (1..).map(numbered).find(|path| !path.exists());
        let target = free.unwrap_or_else(|| folder.join(name));
        fs::rename(&log, &target).map_err(FolderError::system("moving", &log))?;
        Ok(target)
    }
}
