//! Text to whoever reads it. A reader who has seen enough (`| head`) stops nothing: the work goes on to its exit code.

use std::fmt::Display;
use std::io::{ErrorKind, Write};
use std::process::ExitCode;

/// A line.
pub fn line(text: impl Display) {
    self::text(format_args!("{text}\n"));
}

/// Text that brings its own line ends.
pub fn text(text: impl Display) {
    let written = write!(std::io::stdout(), "{text}");
    match written {
        Err(problem) if problem.kind() != ErrorKind::BrokenPipe => {
            eprintln!("the answer cannot be written: {problem}");
            std::process::exit(2);
        }
        _ => {}
    }
}

/// What a command that judges nothing did, line by line, and 0; or why it did nothing, and 2.
pub fn done<Line: Display>(done: Result<Vec<Line>, impl Display>) -> ExitCode {
    match done {
        Ok(lines) => {
            lines.iter().for_each(line);
            ExitCode::SUCCESS
        }
        Err(refusal) => {
            eprintln!("{refusal}");
            ExitCode::from(2)
        }
    }
}

/// Where something lies now.
pub fn lies_in(path: &std::path::Path) -> String {
    format!("It lies in {}", path.display())
}
