//! `soakwright set`: single values of a job file, everything else in it left as it was.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use job::edit::{self, EditError};
use job::folder::{FolderError, NewFile, write_whole};
use job::same_pipe::same_pipe;
use job::typed::with_unit;

use crate::folder::{self, Unread};
use crate::out;

/// Arguments of `set`.
///
/// What the forms of the desk do: a value (weld.cap_width="21 mm"), an answer about the files of the logger (log.unit=C), a
/// decision about a thermocouple (`disposition[1].channel=TC3` and so on), an answer for a deviation (`accepted[1].deviation=...`).
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The job file or cycle card.
    job: PathBuf,
    /// A key by its place and its value, as a person writes it; an empty value takes the key away. A number alone gets the
    /// unit of the job where only one can be meant, and that is told. The number behind the last of a list adds one more:
    /// `"thermocouple[5].axial=120 mm"`.
    #[arg(value_name = "PLACE=VALUE")]
    values: Vec<String>,
    /// Takes one of a list away, for example `thermocouple[2]` or `disposition[1]`.
    #[arg(long, value_name = "PLACE")]
    drop: Vec<String>,
    /// Makes the second side the same pipe as the first.
    #[arg(long)]
    same_pipe: bool,
    /// Takes the turns away, so that the plan proposes them.
    #[arg(long)]
    propose_turns: bool,
}

#[derive(Debug, thiserror::Error)]
enum NotSet {
    #[error("{0}")]
    Unread(#[from] Unread),
    #[error("{0}; nothing was changed")]
    Edit(#[from] EditError),
    #[error(
        "{asked:?} has no \"=\": write PLACE=VALUE, for example weld.cap_width=\"21 mm\"; nothing was changed"
    )]
    NoValue { asked: String },
    #[error("the file could be read before and could not be then; nothing was changed:\n{faults}")]
    Breaks { faults: String },
    #[error("nothing to set: PLACE=VALUE, --drop, --same-pipe or --propose-turns")]
    Nothing,
    #[error("{0}")]
    Unwritten(#[from] FolderError),
}

/// Set, and the file can be read: 0. Set, but the file has faults, as it had before: 1. Refused, and nothing was changed: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    match set(arguments) {
        Ok(None) => ExitCode::SUCCESS,
        Ok(Some(faults)) => {
            out::line(format_args!("Set; the file still has faults:\n{faults}"));
            ExitCode::from(1)
        }
        Err(not_set) => {
            eprintln!("{not_set}");
            ExitCode::from(2)
        }
    }
}

/// The faults that are left.
fn set(arguments: &Arguments) -> Result<Option<String>, NotSet> {
    let file = folder::read(&arguments.job)?;
    let (text, said) = changed(&file.text, arguments)?;
    let faults = faults(&text, &arguments.job);
    if let Some(faults) = &faults
        && self::faults(&file.text, &arguments.job).is_none()
    {
        return Err(NotSet::Breaks {
            faults: faults.clone(),
        });
    }
    let name = arguments.job.file_name().unwrap_or_default();
    let new = NewFile {
        name: name.to_string_lossy().into_owned(),
        bytes: text.into_bytes(),
    };
    let folder = match arguments.job.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    write_whole(folder, &[new])?;
    said.iter().for_each(out::line);
    Ok(faults)
}

/// The file after every change, and what is to be told of them: units that were added, values that were taken over.
fn changed(text: &str, arguments: &Arguments) -> Result<(String, Vec<String>), NotSet> {
    let is_nothing = arguments.values.is_empty() && arguments.drop.is_empty();
    if is_nothing && !arguments.propose_turns && !arguments.same_pipe {
        return Err(NotSet::Nothing);
    }
    let mut text = text.to_owned();
    let mut said = Vec::new();
    for value in &arguments.values {
        let (place, value) = value.split_once('=').ok_or_else(|| NotSet::NoValue {
            asked: value.clone(),
        })?;
        let (place, value) = (place.trim(), value.trim());
        let whole = with_unit(&text, place, value);
        if whole != value {
            said.push(format!("{place}: {value} is taken as {whole}"));
        }
        text = edit::set(&text, place, &whole)?;
    }
    for place in &arguments.drop {
        text = edit::drop_table(&text, place)?;
    }
    if arguments.same_pipe {
        let same = same_pipe(&text)?;
        said.push(same.words());
        text = same.text;
    }
    if arguments.propose_turns {
        text = edit::propose_turns(&text)?;
    }
    Ok((text, said))
}

/// What is wrong with the file, where anything is.
fn faults(text: &str, path: &Path) -> Option<String> {
    let name = path.display().to_string();
    if job::is_card(text) {
        return job::record::basis(text, &name)
            .err()
            .map(|error| error.to_string());
    }
    let confirmed = job::confirmed::beside(path).unwrap_or_default();
    let refused = job::read_with(text, &name, &confirmed).err();
    refused.map(|refusal| refusal.told())
}
