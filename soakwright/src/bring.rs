//! `soakwright bring`: logs into the folder of a weld.

use std::path::PathBuf;
use std::process::ExitCode;

use job::folder::{Brought, LogError};

use crate::folder::{NoWeld, weld};
use crate::out;

/// Arguments of `bring`.
///
/// Each file is copied as it is, under its own name. A log that is there is never changed: the same file again is left as it
/// is, another one of that name is refused. All of them come or none.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The folder of the weld.
    folder: PathBuf,
    /// Files of the logger.
    #[arg(required = true, value_name = "LOG")]
    logs: Vec<PathBuf>,
}

#[derive(Debug, thiserror::Error)]
enum NotBrought {
    #[error(transparent)]
    NoWeld(#[from] NoWeld),
    #[error("{0}\nNo log was brought.")]
    Log(#[from] LogError),
}

/// Brought: 0. Refused, and none was brought: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    out::done(brought(arguments))
}

fn brought(arguments: &Arguments) -> Result<Vec<String>, NotBrought> {
    let logs = weld(&arguments.folder)?.bring_logs(&arguments.logs)?;
    Ok(logs.iter().map(told).collect())
}

fn told(log: &Brought) -> String {
    let path = log.path.display();
    match log.was_here {
        true => format!("Here already, the same to the byte: {path}"),
        false => format!("Brought {path}"),
    }
}
