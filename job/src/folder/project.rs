//! A project: a folder of job folders.

use std::fs;
use std::path::{Path, PathBuf};

use super::{FolderError, JOB_FILE, JobFolder, NewFile, checked_name, names, write_whole};

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
}
