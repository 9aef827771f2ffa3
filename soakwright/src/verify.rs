//! `soakwright verify`: a record is made again from what it carries, and compared.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::columns::wrapped;
use crate::out;

/// Columns of the words at the left.
const WORDS: usize = 10;

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
                set(&line).iter().for_each(out::line);
            }
            let beside = arguments.record.parent().unwrap_or(Path::new("."));
            if let Some(replaced) = job::record::replaced(beside, &bytes) {
                wrapped("LOOK      ", &replaced.words())
                    .iter()
                    .for_each(out::line);
            }
            ExitCode::from(u8::from(!verified.agrees()))
        }
        Err(problem) => {
            eprintln!("{name}: {problem}");
            ExitCode::from(2)
        }
    }
}

/// A line in the columns of the terminal: what follows the word at the left stays beside it.
fn set(line: &str) -> Vec<String> {
    match line.split_at_checked(WORDS) {
        Some((word, rest)) if word.ends_with("  ") => wrapped(word, rest),
        _ => wrapped("", line),
    }
}
