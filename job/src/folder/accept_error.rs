//! Why a record cannot be accepted.

use std::path::PathBuf;

use super::{Acceptance, FolderError};

/// A record that was not accepted. Nothing was changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AcceptError {
    /// Nobody said who accepts it.
    #[error("a name is needed: who accepts the record?")]
    NoName,
    /// Nobody said as what.
    #[error(
        "a role is needed: as what does {by} accept the record (for example: inspector of the owner)?"
    )]
    NoRole {
        /// Their name.
        by: String,
    },
    /// There is no record.
    #[error("{}: there is no record yet; make it from the log first", .path.display())]
    NoRecord {
        /// Where it was looked for.
        path: PathBuf,
    },
    /// A later revision is there.
    #[error("{}: revision {last} was made since; only the last revision is accepted", .path.display())]
    NotLast {
        /// The document.
        path: PathBuf,
        /// The last revision.
        last: u32,
    },
    /// There is a name under it.
    #[error(
        "revision {} was accepted already, by {}{} at {}; a name is not replaced, a new revision needs a new one",
        .accepted.revision, .accepted.by, as_what(.accepted), .accepted.at
    )]
    Already {
        /// The name under it.
        accepted: Box<Acceptance>,
    },
    /// It cannot be made again.
    #[error("{}: it cannot be made again from what it carries, so it cannot be accepted: {problem}", .path.display())]
    Unverified {
        /// The document.
        path: PathBuf,
        /// Why.
        problem: String,
    },
    /// It is not what it says.
    #[error(
        "{}: made again from what it carries, it is another; it was changed, or another copy of the program made it; where it \
         is to be accepted here, make the next revision and accept that:\n  {}",
        .path.display(), .differing.join("\n  ")
    )]
    Differs {
        /// The document.
        path: PathBuf,
        /// What differs.
        differing: Vec<String>,
    },
    /// The folder is not what it was.
    #[error(
        "{}: since it was made, {}; make the next revision and accept that",
        .path.display(), .changed.join(", ")
    )]
    Changed {
        /// The document.
        path: PathBuf,
        /// What was changed.
        changed: Vec<String>,
    },
    /// Deviations wait for an answer.
    #[error(
        "{}: {} for an answer with a reason and a name ([[accepted]] of the job file), then a new revision:\n  {}",
        .path.display(), waiting(.deviations.len()), .deviations.join("\n  ")
    )]
    Waiting {
        /// The document.
        path: PathBuf,
        /// Their words.
        deviations: Vec<String>,
    },
    /// It could not be written.
    #[error(transparent)]
    Folder(#[from] FolderError),
}

fn as_what(accepted: &Acceptance) -> String {
    match accepted.role.as_str() {
        "" => String::new(),
        role => format!(" ({role})"),
    }
}

fn waiting(deviations: usize) -> String {
    match deviations {
        1 => "one deviation waits".to_owned(),
        many => format!("{many} deviations wait"),
    }
}
