//! A project: a folder of job folders.

use std::fs;
use std::path::{Path, PathBuf};

use report::Moment;

use super::{FolderError, JOB_FILE, JobFolder, NewFile, checked_name, names, write_whole};

/// Folder of the project that keeps what was removed.
pub const REMOVED: &str = "removed welds";

/// A folder of job folders.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Project {
    path: PathBuf,
}

impl Project {
    /// At a path, whether or not it is there.
    pub fn at(path: impl Into<PathBuf>) -> Project {
        Project { path: path.into() }
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Its own name.
    pub fn name(&self) -> String {
        let whole = fs::canonicalize(&self.path).unwrap_or_else(|_| self.path.clone());
        whole
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned()
    }

    /// The job folders in it, in alphabetical order: those with a job file.
    pub fn folders(&self) -> Vec<JobFolder> {
        names(&self.path, |path| path.join(JOB_FILE).is_file())
            .into_iter()
            .map(|name| JobFolder::at(self.path.join(name)))
            .collect()
    }

    /// The job folder of a name, if it is there.
    pub fn folder(&self, name: &str) -> Option<JobFolder> {
        let name = checked_name(name).ok()?;
        let path = self.path.join(name);
        path.join(JOB_FILE).is_file().then(|| JobFolder::at(path))
    }

    /// Makes a job folder with its job file.
    ///
    /// # Errors
    /// [`FolderError::BadName`], [`FolderError::Taken`] or [`FolderError::System`]; then there is no new folder.
    pub fn create(&self, name: &str, text: &str) -> Result<JobFolder, FolderError> {
        let path = self.path.join(checked_name(name)?);
        fs::create_dir_all(&self.path).map_err(FolderError::system("making", &self.path))?;
        if let Err(problem) = fs::create_dir(&path) {
            return Err(match problem.kind() {
                std::io::ErrorKind::AlreadyExists => FolderError::Taken { path },
                _ => FolderError::system("making", &path)(problem),
            });
        }
        let file = NewFile {
            name: JOB_FILE.to_owned(),
            bytes: text.as_bytes().to_owned(),
        };
        if let Err(error) = write_whole(&path, &[file]) {
            // Nothing is in it: the file was not written.
            let _ = fs::remove_dir(&path);
            return Err(error);
        }
        Ok(JobFolder::at(path))
    }

    /// Moves a job folder out of the project into its folder of removed welds; nothing in it is changed. `at` keeps
    /// apart what was removed under one name.
    ///
    /// # Errors
    /// [`FolderError::System`]; then it is where it was.
    pub fn remove(&self, folder: &JobFolder, at: Moment) -> Result<PathBuf, FolderError> {
        let removed = self.path.join(REMOVED);
        fs::create_dir_all(&removed).map_err(FolderError::system("making", &removed))?;
        let name = format!(
            "{} {:04}-{:02}-{:02} {:02}-{:02}-{:02}",
            folder.name(),
            at.year,
            at.month,
            at.day,
            at.hour,
            at.minute,
            at.second
        );
        self.moved(folder, &removed.join(name))
    }

    /// Gives a job folder another name.
    ///
    /// # Errors
    /// [`FolderError::BadName`], [`FolderError::Taken`] or [`FolderError::System`]; then it has its old name.
    pub fn rename(&self, folder: &JobFolder, name: &str) -> Result<PathBuf, FolderError> {
        self.moved(folder, &self.path.join(checked_name(name)?))
    }

    fn moved(&self, folder: &JobFolder, to: &Path) -> Result<PathBuf, FolderError> {
        if to.exists() {
            return Err(FolderError::Taken {
                path: to.to_owned(),
            });
        }
        fs::rename(folder.path(), to).map_err(FolderError::system("moving", folder.path()))?;
        Ok(to.to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_removed_weld_leaves_the_list_and_loses_nothing() {
        let folder = tempfile::tempdir().expect("a folder");
        let project = Project::at(folder.path());
        let weld = project.create("W-1", "# mine\n").expect("made");
        let at = Moment {
            year: 2026,
            month: 3,
            day: 4,
            hour: 5,
            minute: 6,
            second: 7,
            utc_offset_minutes: 0,
        };
        let to = project.remove(&weld, at).expect("moved");
        assert!(project.folders().is_empty());
        assert_eq!(
            fs::read_to_string(to.join(JOB_FILE)).expect("there"),
            "# mine\n"
        );
        let again = project.create("W-1", "").expect("the name is free");
        assert!(matches!(
            project.remove(&again, at),
            Err(FolderError::Taken { .. })
        ));
        project.rename(&again, "W-2").expect("renamed");
        assert!(project.folder("W-2").is_some() && project.folder("W-1").is_none());
    }
}
