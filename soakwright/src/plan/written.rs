//! Files written whole or not at all.

use std::io::Write;
use std::path::{Path, PathBuf};

/// A file to write.
pub struct File {
    /// Its name in the folder.
    pub name: &'static str,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// A file that could not be written; nothing half-written is left behind.
#[derive(Debug, thiserror::Error)]
#[error("{} could not be written: {problem}", .path.display())]
pub struct Unwritten {
    path: PathBuf,
    problem: std::io::Error,
}

/// Writes every file beside its place first and moves them there when all are whole.
///
/// # Errors
/// The first file that could not be written, with what the system says.
pub fn all_or_none(folder: &Path, files: &[File]) -> Result<(), Unwritten> {
    std::fs::create_dir_all(folder).map_err(|problem| Unwritten {
        path: folder.to_owned(),
        problem,
    })?;
    let written = files.iter().try_for_each(|file| write_beside(folder, file));
    let moved = written.and_then(|()| files.iter().try_for_each(|file| move_there(folder, file)));
    if moved.is_err() {
        for file in files {
            // It may not be there; then there is nothing to take away.
            let _ = std::fs::remove_file(beside(folder, file));
        }
    }
    moved
}

fn beside(folder: &Path, file: &File) -> PathBuf {
    folder.join(format!(".{}.{}.part", file.name, std::process::id()))
}

fn write_beside(folder: &Path, file: &File) -> Result<(), Unwritten> {
    let path = beside(folder, file);
    let write = || {
        let mut part = std::fs::File::create(&path)?;
        part.write_all(&file.bytes)?;
        part.sync_all()
    };
    write().map_err(|problem| Unwritten { path, problem })
}

fn move_there(folder: &Path, file: &File) -> Result<(), Unwritten> {
    let path = folder.join(file.name);
    std::fs::rename(beside(folder, file), &path).map_err(|problem| Unwritten { path, problem })
}
