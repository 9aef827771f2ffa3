//! `soakwright section`: solves section files and shows what was asked, computed and expected.

mod json;
mod progress;
mod show;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Instant;

use job::section::{SectionProblem, Solved, picture, read, solve};
use rayon::prelude::*;

use progress::Progress;

use crate::out;

/// Arguments of the deed.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Section files (the format: docs/section-files.md).
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// One JSON object for each file, on a line of its own, instead of tables.
    #[arg(long)]
    json: bool,
    /// Draw the section of the first file as SVG.
    #[arg(long, value_name = "FILE.svg")]
    picture: Option<PathBuf>,
}

/// What came of a file.
struct Outcome {
    file: String,
    seconds: f64,
    found: Found,
}

enum Found {
    /// Why it was not solved, a line each.
    Refused(Vec<String>),
    /// The problem and its solution.
    Solved(Box<(SectionProblem, Solved)>),
}

/// How a file ended, the worse the larger.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Verdict {
    Holds = 0,
    Fails = 1,
    Refused = 2,
}

/// Solves all files on all cores and shows them in the order given. Ends with 0 where everything holds, 1 where an
/// expectation does not, 2 where a file was refused or cannot be solved.
pub fn run(arguments: &Arguments) -> ExitCode {
    let progress = Progress::new(arguments.files.len());
    let outcomes: Vec<Outcome> = arguments
        .files
        .par_iter()
        .map(|file| outcome(file, &progress))
        .collect();
    progress.finish();
    for outcome in &outcomes {
        match arguments.json {
            true => out::line(json::object(outcome)),
            false => out::text(show::outcome(outcome)),
        }
    }
    if !arguments.json {
        out::line(show::summary(&outcomes));
    }
    let drawn = arguments
        .picture
        .as_deref()
        .map(|path| draw(path, &outcomes[0]));
    if let Some(Err(reason)) = drawn {
        eprintln!("{reason}");
        return ExitCode::from(Verdict::Refused as u8);
    }
    let worst = outcomes
        .iter()
        .map(Outcome::verdict)
        .max()
        .unwrap_or(Verdict::Holds);
    ExitCode::from(worst as u8)
}

fn outcome(path: &Path, progress: &Progress) -> Outcome {
    let began = Instant::now();
    let file = path.display().to_string();
    let mut told = 0.0;
    let mut tell = |share: f64| {
        progress.advance(share - told);
        told = share;
    };
    let found = match found(path, &file, &mut tell) {
        Ok(solved) => Found::Solved(Box::new(solved)),
        Err(reasons) => Found::Refused(reasons),
    };
    tell(1.0);
    Outcome {
        file,
        seconds: began.elapsed().as_secs_f64(),
        found,
    }
}

fn found(
    path: &Path,
    file: &str,
    tell: &mut dyn FnMut(f64),
) -> Result<(SectionProblem, Solved), Vec<String>> {
    let text = fs::read_to_string(path)
        .map_err(|error| vec![format!("{file}: cannot be read: {error}")])?;
    let problem = read(file, &text)
        .map_err(|faults| faults.iter().map(ToString::to_string).collect::<Vec<_>>())?;
    let solved = solve(&problem, tell).map_err(|error| vec![error.to_string()])?;
    Ok((problem, solved))
}

/// Draws an outcome into a file.
fn draw(path: &Path, outcome: &Outcome) -> Result<(), String> {
    let shown = path.display();
    let Found::Solved(solved) = &outcome.found else {
        return Err(format!(
            "{shown}: nothing to draw, as {} was refused",
            outcome.file
        ));
    };
    let drawing = picture(&solved.0, &solved.1);
    fs::write(path, report::svg(&drawing))
        .map_err(|error| format!("{shown}: cannot be written: {error}"))
}

impl Outcome {
    fn verdict(&self) -> Verdict {
        let Found::Solved(solved) = &self.found else {
            return Verdict::Refused;
        };
        let (problem, solved) = &**solved;
        // A case that is known to be wrong is as it should be while it fails.
        match solved.holds() == problem.known_wrong.is_none() {
            true => Verdict::Holds,
            false => Verdict::Fails,
        }
    }
}
