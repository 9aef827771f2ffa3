//! `soakwright rest`: the quick answer to a coil, everything at rest at the set point.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use job::at_rest::at_rest;
use job::folder::JobFolder;
use job::rest_change::{Kept, RestChange, change};
use job::rest_numbers::RestNumber;
use quantity::Units;

use crate::columns::wrapped;
use crate::folder::{self, NoJob, NotPlanned};
use crate::out;

/// Arguments of `rest`.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The job file.
    job: PathBuf,
    /// Another job file to compare with, for example the one before a change: which numbers moved, and what made them.
    #[arg(long, value_name = "JOB")]
    against: Option<PathBuf>,
    /// The numbers as JSON.
    #[arg(long)]
    json: bool,
}

#[derive(Debug, thiserror::Error)]
enum NoAnswer {
    #[error("{0}")]
    NoJob(#[from] NoJob),
    #[error("{0}")]
    Planning(#[from] NotPlanned),
    #[error("the numbers could not be written as JSON: {0}")]
    Json(#[from] serde_json::Error),
}

/// Answered, and nothing needs a look: 0. Answered, but the soak band leaves the hold range or the source is short: 1.
/// Refused: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    match answered(arguments) {
        Ok(numbers) => ExitCode::from(u8::from(numbers.iter().any(|one| one.look.is_some()))),
        Err(no_answer) => {
            eprintln!("{no_answer}");
            ExitCode::from(2)
        }
    }
}

fn answered(arguments: &Arguments) -> Result<Vec<RestNumber>, NoAnswer> {
    let (kept, units) = kept(&arguments.job)?;
    let against = match &arguments.against {
        Some(before) => Some(change(&self::kept(before)?.0, &kept, units)),
        None => None,
    };
    match (arguments.json, against) {
        (true, None) => out::line(serde_json::to_string_pretty(&kept.numbers)?),
        (true, Some(change)) => out::line(serde_json::to_string_pretty(
            &serde_json::json!({ "numbers": kept.numbers, "change": change }),
        )?),
        (false, change) => {
            out::line("Everything at rest at the set point");
            told(&kept.numbers).into_iter().for_each(out::line);
            let change = change
                .iter()
                .flat_map(|change| told_change(&kept.numbers, change));
            change.for_each(out::line);
        }
    }
    Ok(kept.numbers)
}

/// The answer to a job file, with turns and frequency of the plan beside it where the file leaves them to the plan.
fn kept(path: &Path) -> Result<(Kept, Units), NoAnswer> {
    let job = folder::job(path)?;
    let beside = path.parent().unwrap_or(Path::new("."));
    let planned = JobFolder::at(beside).planned(job.units);
    let rested = at_rest(&job, planned.as_ref()).map_err(|problem| NotPlanned {
        file: job.file_name.clone(),
        problem,
    })?;
    Ok((
        Kept::of(job.units, &rested.prepared, &rested.at_rest),
        job.units,
    ))
}

/// What was done, each number that moved with what made it, and those that moved too little to matter.
fn told_change(numbers: &[RestNumber], change: &RestChange) -> Vec<String> {
    let moved = numbers.iter().zip(&change.numbers);
    let moved: Vec<_> = moved
        .filter_map(|(number, one)| Some((number, one, one.by.as_ref()?)))
        .collect();
    let (slight, telling): (Vec<_>, Vec<_>) =
        moved.into_iter().partition(|(_, one, _)| one.is_slight);
    let telling = telling.into_iter().map(|(number, one, by)| {
        let way = match one.better {
            Some(true) => "better: ",
            Some(false) => "worse: ",
            None => "",
        };
        let because = one.because.iter().map(|because| format!(": {because}"));
        format!("{way}{} {by}{}", number.short, because.collect::<String>())
    });
    let slight: Vec<String> = slight
        .iter()
        .map(|(number, _, by)| format!("{} {by}", number.short))
        .collect();
    let slight =
        (!slight.is_empty()).then(|| format!("too little to matter: {}", slight.join(", ")));
    let done = change.done.iter().cloned();
    let heading = std::iter::once("Against the other:".to_owned());
    heading
        .chain(
            done.chain(telling)
                .chain(slight)
                .flat_map(|words| wrapped("  ", &words)),
        )
        .collect()
}

/// Columns of names and of values; a longer name moves its value.
const NAMES: usize = 29;
const VALUES: usize = 10;

/// Numbers under each other, what stands beside them wrapped.
fn told(numbers: &[RestNumber]) -> Vec<String> {
    let value = |one: &RestNumber| format!("{:.*} {}", one.digits, one.value, one.unit);
    let lines = numbers.iter().flat_map(|one| {
        let look = one.look.iter().map(|look| format!("LOOK: {look}"));
        let beside = one.left.iter().cloned().chain([one.beside.clone()]);
        let beside: Vec<String> = beside
            .filter(|words| !words.is_empty())
            .chain(look)
            .collect();
        let number = format!("{:NAMES$}{:>VALUES$}", one.name, value(one));
        wrapped(&format!("{number}  "), &beside.join("; "))
    });
    lines.collect()
}
