//! `soakwright set-aside`: logs out of the folder of a weld that are not of its heat.

use std::path::PathBuf;
use std::process::ExitCode;

use job::folder::LogError;

use crate::folder::{NoWeld, weld};
use crate::out;

/// Arguments of `set-aside`.
///
/// A log is moved into the folder set-aside of the weld, as it came. Records that were made of it carry it all the same.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The folder of the weld.
    folder: PathBuf,
    /// Logs of it, by their names or paths.
    #[arg(required = true, value_name = "LOG")]
    logs: Vec<PathBuf>,
}

#[derive(Debug, thiserror::Error)]
enum NotAside {
    #[error(transparent)]
    NoWeld(#[from] NoWeld),
    #[error(transparent)]
    Log(#[from] LogError),
}

/// Set aside: 0. Refused: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    out::done(aside(arguments))
}

fn aside(arguments: &Arguments) -> Result<Vec<String>, NotAside> {
    let paths = weld(&arguments.folder)?.set_logs_aside(&arguments.logs)?;
    Ok(paths.iter().map(|path| out::lies_in(path)).collect())
}
