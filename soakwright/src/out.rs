//! Text to whoever reads it. A reader who has seen enough (`| head`) stops nothing: the work goes on to its exit code.

use std::fmt::Display;
use std::io::{ErrorKind, Write};

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
