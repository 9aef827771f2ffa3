//! `soakwright rest`: the quick answer to a coil, everything at rest at the set point.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use job::at_rest::at_rest;
use job::folder::JobFolder;
use job::rest_numbers::{RestNumber, numbers};

use crate::columns::wrapped;
use crate::folder::{self, NoJob, NotPlanned};
use crate::out;

/// Arguments of `rest`.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The job file.
    job: PathBuf,
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
    let job = folder::job(&arguments.job)?;
    // Where the file leaves turns and frequency to the plan, those of the plan beside it.
    let beside = arguments.job.parent().unwrap_or(Path::new("."));
    let planned = JobFolder::at(beside).planned(job.units);
    let rested = at_rest(&job, planned.as_ref()).map_err(|problem| NotPlanned {
        file: job.file_name.clone(),
        problem,
    })?;
    let numbers = numbers(job.units, &rested.prepared, &rested.at_rest);
    if arguments.json {
        out::line(serde_json::to_string_pretty(&numbers)?);
    } else {
        out::line("Everything at rest at the set point");
        for line in told(&numbers) {
            out::line(line);
        }
    }
    Ok(numbers)
}

/// Columns of names and of values; a longer name moves its value.
const NAMES: usize = 25;
const VALUES: usize = 10;

/// Numbers under each other, what stands beside them wrapped.
fn told(numbers: &[RestNumber]) -> Vec<String> {
    let value = |one: &RestNumber| format!("{:.*} {}", one.digits, one.value, one.unit);
    let lines = numbers.iter().flat_map(|one| {
        let look = one.look.iter().map(|look| format!("LOOK: {look}"));
        let beside = Some(one.beside.clone()).filter(|beside| !beside.is_empty());
        let beside: Vec<String> = beside.into_iter().chain(look).collect();
        let number = format!("{:NAMES$}{:>VALUES$}", one.name, value(one));
        wrapped(&format!("{number}  "), &beside.join("; "))
    });
    lines.collect()
}
