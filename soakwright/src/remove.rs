//! `soakwright remove`: a weld out of its project, with nothing of it lost.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::SystemTime;

use job::calendar;
use job::folder::FolderError;

use crate::folder::{NoWeld, weld_of_project};
use crate::out;

/// Arguments of `remove`.
///
/// The folder moves into the folder "removed welds" of the project, as it is; move it back to have it on the board again.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The folder of the weld.
    folder: PathBuf,
}

#[derive(Debug, thiserror::Error)]
enum NotRemoved {
    #[error(transparent)]
    NoWeld(#[from] NoWeld),
    #[error(transparent)]
    Folder(#[from] FolderError),
}

/// Removed: 0. Refused, and nothing was changed: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    out::done(removed(arguments))
}

fn removed(arguments: &Arguments) -> Result<Vec<String>, NotRemoved> {
    let (project, folder) = weld_of_project(&arguments.folder)?;
    let path = project.remove(&folder, calendar::utc(SystemTime::now()))?;
    Ok(vec![out::lies_in(&path)])
}
