//! `soakwright rename`: another number for a weld.

use std::path::PathBuf;
use std::process::ExitCode;

use job::folder::NotNumbered;

use crate::folder::{NoWeld, weld_of_project};
use crate::out;

/// Arguments of `rename`.
///
/// The number stands in the job file, and the folder is named after it. It stays once there is a record under it.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The folder of the weld.
    folder: PathBuf,
    /// The number that it gets.
    number: String,
}

#[derive(Debug, thiserror::Error)]
enum NotRenamed {
    #[error(transparent)]
    NoWeld(#[from] NoWeld),
    #[error(transparent)]
    Number(#[from] NotNumbered),
}

/// Renamed: 0. Refused, and nothing was changed: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    out::done(renamed(arguments))
}

fn renamed(arguments: &Arguments) -> Result<Vec<String>, NotRenamed> {
    let (project, folder) = weld_of_project(&arguments.folder)?;
    let weld = project.renumber(&folder, &arguments.number)?;
    Ok(vec![out::lies_in(weld.path())])
}
