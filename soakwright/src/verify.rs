//! `soakwright verify`: a record is made again from what it carries, and compared.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::out;

/// Arguments of `verify`.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The record.
    record: PathBuf,
}

/// All that can be compared agrees: 0. Something differs: 1. The record can't be opened or made again: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    let name = arguments.record.display();
    let bytes = match std::fs::read(&arguments.record) {
        Ok(bytes) => bytes,
        Err(problem) => {
            eprintln!("{name}: {problem}");
            return ExitCode::from(2);
        }
    };
    match job::record::verify(&bytes, env!("CARGO_PKG_VERSION")) {
        Ok(verified) => {
            for line in verified.lines(&name.to_string()) {
                out::line(line);
            }
            let beside = arguments.record.parent().unwrap_or(Path::new("."));
            if let Some(replaced) = job::record::replaced(beside, &bytes) {
                out::line(format_args!("LOOK      {}", replaced.words()));
            }
            ExitCode::from(u8::from(!verified.agrees()))
        }
        Err(problem) => {
            eprintln!("{name}: {problem}");
            ExitCode::from(2)
        }
    }
}
