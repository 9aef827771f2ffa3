//! What can go wrong with a job folder.

use std::path::{Path, PathBuf};

use super::Fingerprint;

/// A folder that could not be read or written. What stood there before still stands there.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FolderError {
    /// The system refused.
    #[error("{doing} {}: {problem}; nothing was changed", .path.display())]
    System {
        /// What was being done ("writing").
        doing: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// What the system says.
        problem: String,
    },
    /// The file is not what the writer had read.
    #[error(
        "{} was changed meanwhile by somebody else; nothing was saved over it",
        .path.display()
    )]
    ChangedMeanwhile {
        /// The file.
        path: PathBuf,
        /// Its fingerprint now.
        now: Fingerprint,
    },
    /// The job file is no text.
    #[error("{}, line {line}: no UTF-8 text; save the file as UTF-8", .path.display())]
    NoText {
        /// The file.
        path: PathBuf,
        /// The line of the first byte that is none.
        line: usize,
    },
    /// A name that cannot be the name of a folder or file.
    #[error(
        "{asked:?} cannot be a name here: letters, digits, hyphen, underscore, dot, round brackets and blank, at most {longest} of them, beginning with a letter or digit"
    )]
    BadName {
        /// The name asked for.
        asked: String,
        /// The most letters.
        longest: usize,
    },
    /// There is no room.
    #[error(
        "{doing} {}: the disk is full ({problem}); nothing was changed, make room and try again",
        .path.display()
    )]
    Full {
        /// What was being done ("writing").
        doing: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// What the system says.
        problem: String,
    },
    /// Somebody else is bringing a file of that name.
    #[error("{} is on its way already; wait until it is here, or take another name", .path.display())]
    Coming {
        /// The file.
        path: PathBuf,
    },
    /// Something of that name is there.
    #[error("{} is there already; take another name", .path.display())]
    Taken {
        /// The folder or file.
        path: PathBuf,
    },
}

impl FolderError {
    /// Whether the system says that there was no room.
    fn is_full(problem: &std::io::Error) -> bool {
        use std::io::ErrorKind::{FileTooLarge, QuotaExceeded, StorageFull};
        matches!(problem.kind(), StorageFull | QuotaExceeded | FileTooLarge)
    }

    /// From what the system says.
    pub fn system(doing: &'static str, path: &Path) -> impl FnOnce(std::io::Error) -> FolderError {
        let path = path.to_owned();
        move |problem| {
            let says = problem.to_string();
            match FolderError::is_full(&problem) {
                true => FolderError::Full {
                    doing,
                    path,
                    problem: says,
                },
                false => FolderError::System {
                    doing,
                    path,
                    problem: says,
                },
            }
        }
    }
}
