//! `soakwright need`: what a weld needs, who says so and what disagrees, on one page.

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::SystemTime;

use job::NeedJob;
use job::calendar;
use job::folder::{FolderError, NewFile, write_whole};
use job::need::{Need, need_sheet};
use report::{Attachment, Relationship, ReportError};
use rules::standing::Verdict;

use crate::columns::COLUMNS;
use crate::folder::{self, NoJob};
use crate::out;

/// Arguments of `need`.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The job file; coil, source and blanket may be left out of it.
    job: PathBuf,
    /// Folder for need.pdf and need.json; without one, the answer is only printed.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// The answer as JSON.
    #[arg(long)]
    json: bool,
}

/// Why there is no answer.
#[derive(Debug, thiserror::Error)]
enum NoAnswer {
    #[error("{0}")]
    NoJob(#[from] NoJob),
    #[error("{0}")]
    Rules(#[from] rules::RuleError),
    #[error("the document could not be set: {0}")]
    Document(#[from] ReportError),
    #[error("need.json could not be written: {0}")]
    Json(#[from] serde_json::Error),
    #[error("{0}")]
    Unwritten(#[from] FolderError),
}

/// Answered: 0. Answered, but something is open, cannot be answered, or is not met: 1. Refused: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    match answered(arguments) {
        Ok(need) if is_open(&need) || need.falls_short() => ExitCode::from(1),
        Ok(_) => ExitCode::SUCCESS,
        Err(no_answer) => {
            eprintln!("{no_answer}");
            ExitCode::from(2)
        }
    }
}

fn is_open(need: &Need) -> bool {
    need.stress_relief.standing.verdict == Verdict::Open || !need.unanswered.is_empty()
}

fn answered(arguments: &Arguments) -> Result<Need, NoAnswer> {
    let job = folder::job_of_need(&arguments.job)?;
    let need = job::need::need(&job)?;
    if let Some(out) = &arguments.out {
        write(out, &job, &need)?;
    }
    if arguments.json {
        out::line(serde_json::to_string_pretty(&need)?);
    } else {
        out::text(report::close_text(&need_sheet(&job, &need, ""), COLUMNS));
    }
    Ok(need)
}

fn write(out: &Path, job: &NeedJob, need: &Need) -> Result<(), NoAnswer> {
    let made_at = calendar::utc(SystemTime::now());
    let json = serde_json::to_vec_pretty(need)?;
    let sheet = need_sheet(
        job,
        need,
        &calendar::made(env!("CARGO_PKG_VERSION"), made_at),
    );
    let attachment = Attachment {
        name: "job.toml".into(),
        mime: "application/toml".into(),
        bytes: job.text.clone().into_bytes(),
        description: "The job file that was answered".into(),
        relationship: Relationship::Source,
    };
    let pdf = report::pdf(&sheet, &[attachment], made_at)?;
    let files = [
        NewFile {
            name: "need.pdf".into(),
            bytes: pdf,
        },
        NewFile {
            name: "need.json".into(),
            bytes: json,
        },
    ];
    Ok(write_whole(out, &files)?)
}
