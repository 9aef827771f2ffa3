//! `soakwright plan`: a job file in, a plan out.

mod since_before;
pub mod told;

use std::ops::ControlFlow;
use std::path::PathBuf;
use std::process::ExitCode;
use std::time::SystemTime;

use indicatif::{ProgressBar, ProgressStyle};
use job::document::{DocumentError, plan_files};
use job::folder::{FolderError, write_whole};
use job::plan::{Plan, Progress};
use job::plan_before::{in_folder, with_the_one_before};
use job::{Job, calendar};
use quantity::{Hours, Units};

use crate::folder::{self, NoJob, NotPlanned};
use crate::out;

/// The name under which the demo job is read when no file is given.
const DEMO_NAME: &str = "carbon-steel-line.toml";

/// The demo job itself.
const DEMO: &str = include_str!("../../../jobs/carbon-steel-line.toml");

/// The file of a plan that is read again.
const DATA: &str = "plan.json";

/// Arguments of `plan`.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The job file; without one, a demo weld in an invented scenario is planned.
    job: Option<PathBuf>,
    /// Folder for plan.pdf, plan.html and plan.json; it is made if it is missing. [default: NAME-plan]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Units that come first, whatever the job file says.
    #[arg(long)]
    units: Option<UnitsWord>,
}

/// Units as a word of the command line.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum UnitsWord {
    /// °C and mm.
    Si,
    /// °F and inches.
    Us,
}

/// Why there is no plan, in the words for the terminal.
#[derive(Debug, thiserror::Error)]
enum NoPlan {
    #[error("{0}")]
    NoJob(#[from] NoJob),
    #[error("{0}")]
    Planning(#[from] NotPlanned),
    #[error("{0}")]
    Document(#[from] DocumentError),
    #[error("{0}")]
    Unwritten(#[from] FolderError),
}

/// Done and all limits met: 0. Done but some limit is not met or could not be judged: 1. Refused or failed: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    match planned(arguments) {
        Ok(plan) if plan.complies() => ExitCode::from(0),
        Ok(_) => ExitCode::from(1),
        Err(no_plan) => {
            eprintln!("{no_plan}");
            ExitCode::from(2)
        }
    }
}

fn planned(arguments: &Arguments) -> Result<Plan, NoPlan> {
    let job = read(arguments)?;
    let bar = progress_bar();
    let plan = job::plan::plan(&job, &mut |progress| {
        show(&bar, progress, job.units);
        ControlFlow::Continue(())
    });
    bar.finish_and_clear();
    let plan = plan.map_err(|problem| NotPlanned {
        file: job.file_name.clone(),
        problem,
    })?;
    let folder = arguments
        .out
        .clone()
        .unwrap_or_else(|| default_folder(&job));
    let files = plan_files(&plan, calendar::utc(SystemTime::now()))?;
    let has_before = folder.join(DATA).exists();
    write_whole(&folder, &with_the_one_before(&folder, files))?;
    let against = in_folder(&folder, plan.job.units).filter(|_| has_before);
    out::text(told::told(&plan, &folder, against.as_ref()));
    Ok(plan)
}

fn read(arguments: &Arguments) -> Result<Job, NoJob> {
    let mut job = match &arguments.job {
        None => job::read(DEMO, DEMO_NAME)?,
        Some(path) => folder::job(path)?,
    };
    if let Some(word) = arguments.units {
        job.units = match word {
            UnitsWord::Si => Units::Si,
            UnitsWord::Us => Units::Us,
        };
    }
    Ok(job)
}

/// A folder named after the job file, where the command was given.
fn default_folder(job: &Job) -> PathBuf {
    let stem = std::path::Path::new(&job.file_name)
        .file_stem()
        .unwrap_or_default();
    PathBuf::from(format!("{}-plan", stem.to_string_lossy()))
}

/// Steps of the bar; the part done is told in thousandths.
const STEPS: f64 = 1000.0;

fn progress_bar() -> ProgressBar {
    let bar = ProgressBar::new(STEPS as u64);
    if let Ok(style) = ProgressStyle::with_template("{bar:30} {percent:>3} %  {msg}") {
        bar.set_style(style.progress_chars("█▌░"));
    }
    bar
}

fn show(bar: &ProgressBar, progress: Progress, units: Units) {
    let (control, unit) = units.of(progress.control_c, "°C");
    bar.set_position((STEPS * progress.part.clamp(0.0, 1.0)) as u64);
    bar.set_message(format!(
        "{}, {}, {control:.0} {unit}",
        progress.stage.words(),
        Hours::from_s(progress.time_s).words(),
    ));
}
