//! `soakwright record`: a job or a cycle card and the files of a logger in, a record out.

mod bar;
mod told;

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::SystemTime;

use job::calendar;
use job::confirmed::{self, NotConfirmed};
use job::record::{
    Basis, BasisError, KeepError, Looked, RawFile, Record, RecordError, Revision, basis_with, keep,
    record_watched, understood,
};
use readings::{ComplaintKind, HEAT, Mapping, MappingError};

use crate::folder;
use bar::Bar;

use crate::out;

/// Arguments of `record`.
///
/// Exit codes: 0 where measured values met every limit and no deviation waits for an answer, 1 where not, 2 where no record
/// could be made.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The job file, or a cycle card.
    job: PathBuf,
    /// The files of the logger; several of one heat become one log.
    logs: Vec<PathBuf>,
    /// Folder for record.pdf, record.html and record.json; it is made if it is missing. [default: NAME-record]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// What a file leaves open, for example unit=F or date_order=day_first or "name.CH 1=TC1"; any number of times. What holds
    /// of one file alone names it: file.late.csv.unit=F, or file.late.csv.heat=other for one of another heat. An empty value
    /// (unit=) takes away what was said.
    #[arg(long = "as", value_name = "KEY=VALUE")]
    answers: Vec<String>,
    /// A mapping that was kept.
    #[arg(long, value_name = "FILE")]
    mapping: Option<PathBuf>,
    /// Keep what was said of the files as a mapping, to be used again.
    #[arg(long, value_name = "FILE")]
    keep_mapping: Option<PathBuf>,
    /// A plan to lay beside the log. [default: plan.json in NAME-plan, where it is there]
    #[arg(long, value_name = "PLAN.json")]
    plan: Option<PathBuf>,
    /// Only show how the files were understood; what was said is kept where `--keep-mapping` asks for it.
    #[arg(long)]
    preview: bool,
    /// Who looked at how the files were understood, with `--preview` or in the desk; the name stands on the record.
    #[arg(long, value_name = "NAME")]
    looked_at_by: Option<String>,
}

/// Why there is no record, in the words for the terminal.
#[derive(Debug, thiserror::Error)]
enum NoRecord {
    #[error("{file}: {problem}")]
    Unread { file: String, problem: String },
    #[error("{0}")]
    NoText(#[from] folder::Unread),
    #[error("{0}")]
    NotConfirmed(#[from] NotConfirmed),
    #[error("{0}")]
    Basis(#[from] BasisError),
    #[error("{0}")]
    Mapping(#[from] MappingError),
    #[error("{key} of --as names nothing in the log; it has {found}")]
    Strange { key: String, found: String },
    #[error("{file} of --as is none of the files of the logger that were given; they are {names}")]
    NoFile { file: String, names: String },
    #[error(
        "{file} of --as is the name of several files that were given; give each a name of its own, so that an answer holds of one"
    )]
    Twins { file: String },
    #[error("{0}")]
    Record(#[from] RecordError),
    #[error("{0}")]
    Unkept(#[from] KeepError),
}

/// Done and all limits met: 0. Done but some limit is not met, could not be judged, or a deviation waits: 1. Refused or
/// failed: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    match recorded(arguments) {
        Ok(Some(record)) if record.all_met() => ExitCode::from(0),
        Ok(None) => ExitCode::from(0),
        Ok(Some(_)) => ExitCode::from(1),
        Err(no_record) => {
            eprintln!("{no_record}");
            ExitCode::from(2)
        }
    }
}

fn recorded(arguments: &Arguments) -> Result<Option<Record>, NoRecord> {
    let text = folder::read(&arguments.job)?.text;
    // A cycle card rests on no row of the rules.
    let confirmed = match job::is_card(&text) {
        true => None,
        false => confirmed::file_beside(&arguments.job)?,
    };
    let mut basis = basis_with(&text, &arguments.job.display().to_string(), confirmed)?;
    basis.file_name = name_of(&arguments.job);
    let mapping = mapping(arguments, &basis)?;
    of_files_that_are_here(arguments)?;
    let mut raw = Vec::new();
    for path in &arguments.logs {
        raw.push(RawFile {
            name: name_of(path),
            bytes: bytes_of(path)?,
        });
    }
    if arguments.preview {
        keep_mapping(arguments, &mapping)?;
        let read = understood(&raw, &mapping);
        out::text(told::understood(&read, &mapping, basis.units));
        return Ok(None);
    }
    let folder = arguments
        .out
        .clone()
        .unwrap_or_else(|| default_folder(&arguments.job));
    let bar = Bar::new();
    let revision = Revision::default();
    let made = record_watched(&basis, raw, &mapping, revision, &mut |step| bar.show(step));
    bar.clear();
    let mut record = made?;
    if let Some((key, found)) = strange(arguments, &record) {
        return Err(NoRecord::Strange { key, found });
    }
    if let Some(path) = plan_of(arguments) {
        record = record.with_plan(RawFile {
            name: name_of(&path),
            bytes: bytes_of(&path)?,
        })?;
    }
    let at = calendar::utc(SystemTime::now());
    record.looked_at = arguments
        .looked_at_by
        .as_deref()
        .and_then(|by| Looked::by(by, at));
    let (record, names) = keep(record, &folder, env!("CARGO_PKG_VERSION"), at)?;
    keep_mapping(arguments, &mapping)?;
    out::text(told::told(&record, &folder, &names));
    Ok(Some(record))
}

fn keep_mapping(arguments: &Arguments, mapping: &Mapping) -> Result<(), NoRecord> {
    match &arguments.keep_mapping {
        Some(path) => {
            std::fs::write(path, mapping.to_toml()).map_err(|problem| unread(path, &problem))
        }
        None => Ok(()),
    }
}

/// A name of an answer that no file of the log has, with the names that they have. A kept mapping may name more than one log
/// has.
fn strange(arguments: &Arguments, record: &Record) -> Option<(String, String)> {
    let said = |key: &String| {
        let answers = arguments.answers.iter().filter_map(|a| a.split_once('='));
        answers.into_iter().any(|(said, _)| said.trim() == key)
    };
    let mut absent: Vec<(&String, &String, usize)> = Vec::new();
    for complaint in &record.log.complaints {
        let ComplaintKind::MappedNotThere { key, found } = &complaint.kind else {
            continue;
        };
        match absent.iter_mut().find(|(known, ..)| *known == key) {
            Some((_, _, count)) => *count += 1,
            None => absent.push((key, found, 1)),
        }
    }
    let files = record.raw.len();
    let nowhere = |(key, _, count): &&(&String, &String, usize)| *count == files && said(key);
    let first = absent.iter().find(nowhere);
    first.map(|(key, found, _)| ((*key).clone(), (*found).clone()))
}

/// What is said of a file by name is said of one that was given; a kept mapping may name more.
fn of_files_that_are_here(arguments: &Arguments) -> Result<(), NoRecord> {
    let names: Vec<String> = arguments.logs.iter().map(|path| name_of(path)).collect();
    let mut given = Mapping::default();
    for answer in &arguments.answers {
        given.choose(answer)?;
    }
    let count = |file: &String| names.iter().filter(|name| *name == file).count();
    // Which of two files of one name is meant, nobody can tell; that they are one heat holds of both.
    let meant = |file: &String| {
        let with_itself = given.said_of(file, HEAT) == Some(file.as_str());
        count(file) < 2 || with_itself && given.file[file].len() == 1
    };
    if let Some(file) = given.file.keys().find(|file| !meant(file)) {
        return Err(NoRecord::Twins { file: file.clone() });
    }
    let said = given.file.keys().chain(given.clock.keys());
    match said.into_iter().find(|file| !names.contains(file)) {
        None => Ok(()),
        Some(file) => Err(NoRecord::NoFile {
            file: file.clone(),
            names: names.join(", "),
        }),
    }
}

/// The plan that was named, or the one that `soakwright plan` left for this job.
fn plan_of(arguments: &Arguments) -> Option<PathBuf> {
    let stem = arguments
        .job
        .file_stem()
        .unwrap_or_default()
        .to_string_lossy();
    let left = PathBuf::from(format!("{stem}-plan/plan.json"));
    let named = arguments.plan.clone();
    named.or_else(|| left.exists().then_some(left))
}

/// A record says nothing of the machine's folders.
fn name_of(path: &Path) -> String {
    let name = path.file_name().unwrap_or_default();
    name.to_string_lossy().into_owned()
}

fn bytes_of(path: &Path) -> Result<Vec<u8>, NoRecord> {
    std::fs::read(path).map_err(|problem| unread(path, &problem))
}

fn unread(path: &Path, problem: &std::io::Error) -> NoRecord {
    NoRecord::Unread {
        file: path.display().to_string(),
        problem: problem.to_string(),
    }
}

/// What the job file says of the files, then the kept mapping, then what is said now.
fn mapping(arguments: &Arguments, basis: &Basis) -> Result<Mapping, NoRecord> {
    let mut mapping = match &arguments.mapping {
        None => basis.paper.mapping.clone(),
        Some(path) => Mapping::from_toml(&String::from_utf8_lossy(&bytes_of(path)?))?,
    };
    for answer in &arguments.answers {
        mapping.choose(answer)?;
    }
    Ok(mapping)
}

fn default_folder(job: &Path) -> PathBuf {
    let stem = job.file_stem().unwrap_or_default();
    PathBuf::from(format!("{}-record", stem.to_string_lossy()))
}
