//! `soakwright board`: every weld of a project with its state and what is missing, and calibrations that run out.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::SystemTime;

use job::folder::{Project, Row, State, due};

use crate::columns::{COLUMNS, wrapped};
use crate::out;

/// What stands before words below a name.
const BELOW: &str = "    ";

/// Arguments of `board`.
///
/// It is read from the folders of the welds, without the register of the desk.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The project: a folder with one folder for each weld.
    #[arg(default_value = ".")]
    project: PathBuf,
    /// Only welds in which every one of these words stands.
    #[arg(long, value_name = "WORDS", default_value = "")]
    search: String,
    /// Only welds that have come so far: drafted, planned, run, recorded, accepted.
    #[arg(long, value_name = "STATE", value_parser = state)]
    state: Option<State>,
}

/// Listed: 0. No such folder: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    let project = Project::at(&arguments.project);
    if let Err(problem) = std::fs::read_dir(project.path()) {
        eprintln!("{}: {problem}", project.path().display());
        return ExitCode::from(2);
    }
    let all = project.rows();
    let found: Vec<&Row> = all
        .iter()
        .filter(|row| row.fits(&arguments.search, arguments.state))
        .collect();
    for line in told(&all, &found) {
        out::line(line);
    }
    ExitCode::SUCCESS
}

fn state(word: &str) -> Result<State, String> {
    let words = State::ALL.map(State::word);
    State::ALL
        .into_iter()
        .find(|state| state.word() == word)
        .ok_or_else(|| format!("allowed: {}", words.join(", ")))
}

fn told(all: &[Row], found: &[&Row]) -> Vec<String> {
    let mut lines = vec![match (found.len(), all.len()) {
        (_, 0) => "No weld yet; soakwright new makes one.".to_owned(),
        (1, 1) => "1 weld".to_owned(),
        (some, all) if some == all => format!("{all} welds"),
        (some, all) => format!("{some} of {all} welds"),
    }];
    let width = |of: fn(&Row) -> &str| found.iter().map(|row| of(row).chars().count()).max();
    let names = width(|row| &row.name).unwrap_or(0);
    let welds = width(|row| &row.weld).unwrap_or(0);
    lines.extend(found.iter().flat_map(|row| {
        let missing = match row.missing.as_str() {
            "" => String::new(),
            missing => format!("missing: {missing}"),
        };
        let told = [row.note.clone(), row.changed.clone(), missing];
        let told: Vec<String> = told.into_iter().filter(|one| !one.is_empty()).collect();
        let told = told.join("; ");
        let (name, weld, state) = (&row.name, &row.weld, row.state.word());
        beside(&format!("{name:names$}  {weld:welds$}  {state:8}  "), &told)
    }));
    lines.extend(due(all, SystemTime::now()).iter().flat_map(|one| {
        let welds: Vec<&str> = one.rows.iter().map(|row| row.weld.as_str()).collect();
        let (what, how) = (one.what, one.words());
        let words = format!("{what} {how}, used for {}", welds.join(", "));
        wrapped("Calibration: ", &words)
    }));
    lines
}

/// What is told of a weld, beside its name where half the terminal is left for it, else below.
fn beside(lead: &str, told: &str) -> Vec<String> {
    if told.is_empty() || 2 * lead.chars().count() <= COLUMNS {
        return wrapped(lead, told);
    }
    let mut lines = vec![lead.trim_end().to_owned()];
    lines.extend(wrapped(BELOW, told));
    lines
}
