//! `soakwright rules`: what the program knows of codes and practices, row by row.

mod explained;
mod listed;

use std::process::ExitCode;

use quantity::Status;
use rules::Entry;

use crate::out;

/// Arguments of `rules`.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The id of a row explains that row; other words list the rows in which all of them stand.
    words: Vec<String>,
    /// Only rows of documents whose name holds this, for example B31.3.
    #[arg(long)]
    code: Option<String>,
    /// Only rows that cover this edition, with the status that they have in it.
    #[arg(long)]
    edition: Option<String>,
    /// Only rows of this status.
    #[arg(long)]
    status: Option<StatusWord>,
    /// The rows as JSON.
    #[arg(long)]
    json: bool,
}

/// A status as a word of the command line.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum StatusWord {
    Verified,
    Computed,
    CommonPractice,
    FromMemory,
    Estimate,
    Unsure,
}

impl StatusWord {
    fn status(self) -> Status {
        match self {
            StatusWord::Verified => Status::Verified,
            StatusWord::Computed => Status::Computed,
            StatusWord::CommonPractice => Status::CommonPractice,
            StatusWord::FromMemory => Status::FromMemory,
            StatusWord::Estimate => Status::Estimate,
            StatusWord::Unsure => Status::Unsure,
        }
    }
}

/// Rows found: 0. None found: 1. The tables cannot be read: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    let entries = match rules::lookup() {
        Ok(entries) => entries,
        Err(problem) => {
            eprintln!("{problem}");
            return ExitCode::from(2);
        }
    };
    let explained = match arguments.words.as_slice() {
        [id] => entries.iter().find(|entry| entry.id == *id),
        _ => None,
    };
    let found: Vec<Entry> = match explained {
        Some(entry) => vec![entry.clone()],
        None => entries
            .iter()
            .filter_map(|entry| sought(entry, arguments))
            .collect(),
    };
    if found.is_empty() {
        eprintln!("{}", nothing(&entries, arguments));
        return ExitCode::from(1);
    }
    match (arguments.json, explained) {
        (true, _) => match serde_json::to_string_pretty(&found) {
            Ok(json) => out::line(json),
            Err(problem) => {
                eprintln!("{problem}");
                return ExitCode::from(2);
            }
        },
        (false, Some(entry)) => out::text(explained::explained(entry)),
        (false, None) => out::text(listed::listed(&found)),
    }
    ExitCode::SUCCESS
}

/// The row as it stands in the edition that is asked for, if it is asked for at all.
fn sought(entry: &Entry, arguments: &Arguments) -> Option<Entry> {
    let mut entry = entry.clone();
    if let Some(edition) = &arguments.edition {
        if !entry.editions.contains(edition) {
            return None;
        }
        entry.status = entry.status_in(edition);
    }
    let holds = |word: &String| entry.text().to_lowercase().contains(&word.to_lowercase());
    let code = |code: &String| entry.document.to_lowercase().contains(&code.to_lowercase());
    let asked = arguments.words.iter().all(holds)
        && arguments.code.as_ref().is_none_or(code)
        && arguments
            .status
            .is_none_or(|word| word.status() == entry.status);
    asked.then_some(entry)
}

fn nothing(entries: &[Entry], arguments: &Arguments) -> String {
    let ids = entries.iter().map(|entry| entry.id.as_str());
    let near = arguments
        .words
        .first()
        .and_then(|word| job::toml_reader::nearest(word, ids));
    let mut documents: Vec<&str> = entries
        .iter()
        .map(|entry| entry.document.as_str())
        .collect();
    documents.sort_unstable();
    documents.dedup();
    let hint = match near {
        Some(id) => format!("did you mean {id}?"),
        None => format!("documents that are kept: {}", documents.join("; ")),
    };
    format!("no row is kept for that; hint: {hint}")
}
