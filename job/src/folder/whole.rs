//! Files written whole or not at all: beside their place first, then moved there, so that a stopped program, a full
//! disk or a lost mains never leaves half a file.

use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

use super::FolderError;
use super::part::ENDING;

/// A file to write.
#[derive(Clone, Debug)]
pub struct NewFile {
    /// Its name in the folder.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// Writes all files or none; the folder is made if it is missing.
///
/// # Errors
/// [`FolderError::System`] with the first file that could not be written; nothing half-written is left.
pub fn write_whole(folder: &Path, files: &[NewFile]) -> Result<(), FolderError> {
    fs::create_dir_all(folder).map_err(FolderError::system("making", folder))?;
    // Held open until all are moved: an open part is locked, and nobody takes it for one that was left.
    let written: Result<Vec<File>, FolderError> = files
        .iter()
        .map(|file| write_beside(folder, file))
        .collect();
    let moved =
        written.and_then(|_open| files.iter().try_for_each(|file| move_there(folder, file)));
    if moved.is_err() {
        for file in files {
            // It may not be there; then there is nothing to take away.
            let _ = fs::remove_file(beside(folder, file));
        }
    }
    moved.and_then(|()| settle(folder))
}

fn beside(folder: &Path, file: &NewFile) -> PathBuf {
    folder.join(format!(".{}.{}{ENDING}", file.name, std::process::id()))
}

fn write_beside(folder: &Path, file: &NewFile) -> Result<File, FolderError> {
    let path = beside(folder, file);
    let write = || {
        let mut part = File::create(&path)?;
        // Where the file system knows no locks, it is written all the same.
        let _ = part.try_lock();
        part.write_all(&file.bytes)?;
        part.sync_all()?;
        Ok(part)
    };
    write().map_err(FolderError::system("writing", &folder.join(&file.name)))
}

fn move_there(folder: &Path, file: &NewFile) -> Result<(), FolderError> {
    let path = folder.join(&file.name);
    fs::rename(beside(folder, file), &path).map_err(FolderError::system("writing", &path))
}

/// The folder itself reaches the disk, so that the new names survive a lost mains, where the system can do that.
pub(super) fn settle(folder: &Path) -> Result<(), FolderError> {
    if cfg!(unix) {
        let sync = File::open(folder).and_then(|folder| folder.sync_all());
        sync.map_err(FolderError::system("writing", folder))?;
    }
    Ok(())
}
