//! A file that comes piece by piece: beside its place under another name until it is whole, then moved there.

use std::fs::{self, File, OpenOptions};
use std::path::{Path, PathBuf};

use super::whole::settle;
use super::{FolderError, checked_name};

/// What ends the name of a file that is not whole yet.
pub(super) const ENDING: &str = ".part";

/// A file on its way into a folder. It is taken away again where it is dropped before it was kept; a killed program
/// leaves it, and [`clear_left`] takes it away.
#[derive(Debug)]
pub struct Part {
    file: File,
    beside: PathBuf,
    target: PathBuf,
    is_kept: bool,
}

impl Part {
    /// Begins a file of a name; the folder is made if it is missing.
    ///
    /// # Errors
    /// [`FolderError::BadName`], [`FolderError::Taken`] where it is there, [`FolderError::Coming`] where somebody else is
    /// bringing it, [`FolderError::System`].
    pub fn begin(folder: &Path, name: &str) -> Result<Part, FolderError> {
        let target = folder.join(checked_name(name)?);
        free(&target)?;
        fs::create_dir_all(folder).map_err(FolderError::system("making", folder))?;
        let beside = folder.join(format!(".{name}{ENDING}"));
        let open = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(false)
            .open(&beside);
        let file = open.map_err(FolderError::system("writing", &target))?;
        // Emptied only once it is locked: it may be somebody else's.
        if file.try_lock().is_err() {
            return Err(FolderError::Coming { path: target });
        }
        let part = Part {
            file,
            beside,
            target,
            is_kept: false,
        };
        let emptied = part.file.set_len(0);
        emptied.map_err(FolderError::system("writing", &part.target))?;
        Ok(part)
    }

    /// To write with.
    ///
    /// # Errors
    /// [`FolderError::System`].
    pub fn writer(&self) -> Result<File, FolderError> {
        let writer = self.file.try_clone();
        writer.map_err(FolderError::system("writing", &self.target))
    }

    /// Everything was written: it reaches the disk and gets its name.
    ///
    /// # Errors
    /// [`FolderError::System`], [`FolderError::Taken`]; then it is not there.
    pub fn keep(mut self) -> Result<(), FolderError> {
        let synced = self.file.sync_all();
        synced.map_err(FolderError::system("writing", &self.target))?;
        free(&self.target)?;
        let moved = fs::rename(&self.beside, &self.target);
        moved.map_err(FolderError::system("writing", &self.target))?;
        self.is_kept = true;
        settle(self.target.parent().unwrap_or(Path::new(".")))
    }
}

impl Drop for Part {
    fn drop(&mut self) {
        if !self.is_kept {
            let _ = fs::remove_file(&self.beside);
        }
    }
}

fn free(target: &Path) -> Result<(), FolderError> {
    match target.exists() {
        true => Err(FolderError::Taken {
            path: target.to_owned(),
        }),
        false => Ok(()),
    }
}

/// Takes away what a killed program left half-written in a folder; what somebody is writing right now is locked and stays.
pub fn clear_left(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        if !(name.starts_with('.') && name.ends_with(ENDING)) {
            continue;
        }
        let path = entry.path();
        let is_left = File::open(&path).is_ok_and(|file| file.try_lock().is_ok());
        if is_left {
            let _ = fs::remove_file(path);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use super::*;

    #[test]
    fn a_file_is_whole_or_not_there() {
        let folder = tempfile::tempdir().expect("a folder");
        let part = Part::begin(folder.path(), "a.csv").expect("begun");
        part.writer()
            .expect("a writer")
            .write_all(b"1,2\n")
            .expect("written");
        assert!(!folder.path().join("a.csv").exists());
        let other = Part::begin(folder.path(), "a.csv").expect_err("somebody brings it");
        assert!(other.to_string().contains("on its way"), "{other}");
        drop(part);
        assert_eq!(fs::read_dir(folder.path()).expect("read").count(), 0);
        let part = Part::begin(folder.path(), "a.csv").expect("begun");
        part.writer()
            .expect("a writer")
            .write_all(b"1,2\n")
            .expect("written");
        part.keep().expect("kept");
        assert_eq!(
            fs::read(folder.path().join("a.csv")).expect("read"),
            b"1,2\n"
        );
        Part::begin(folder.path(), "a.csv").expect_err("it is there");
        assert_eq!(fs::read_dir(folder.path()).expect("read").count(), 1);
    }

    #[test]
    fn what_a_killed_program_left_is_taken_away_and_what_is_being_written_stays() {
        let folder = tempfile::tempdir().expect("a folder");
        for name in [".left.csv.part", ".job.toml.4711.part", ".lock", "log.part"] {
            fs::write(folder.path().join(name), "half").expect("written");
        }
        let part = Part::begin(folder.path(), "now.csv").expect("begun");
        clear_left(folder.path());
        let mut names: Vec<_> = fs::read_dir(folder.path())
            .expect("read")
            .flatten()
            .map(|entry| entry.file_name().into_string().expect("a name"))
            .collect();
        names.sort();
        assert_eq!(names, [".lock", ".now.csv.part", "log.part"]);
        part.keep().expect("kept");
    }
}
