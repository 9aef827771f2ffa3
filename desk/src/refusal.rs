//! What is said where something is not done: what was found, what is allowed, what to do.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use job::folder::{FolderError, LogError, NotNumbered};
use job::new_welds::NotMade;
use maud::html;

use crate::error::DeskError;
use crate::frame::bare_page;

/// A request that is not done.
#[derive(Clone, Debug)]
pub struct Refusal {
    status: StatusCode,
    says: String,
}

impl Refusal {
    /// With a status and the words.
    pub fn new(status: StatusCode, says: impl Into<String>) -> Refusal {
        Refusal {
            status,
            says: says.into(),
        }
    }

    /// The request did not come from a page of this desk.
    pub fn foreign() -> Refusal {
        Refusal::new(
            StatusCode::FORBIDDEN,
            "This did not come from a page of this desk. Open the desk by the address that it shows where it was started.",
        )
    }

    /// Nobody is in.
    pub fn not_in() -> Refusal {
        Refusal::new(
            StatusCode::UNAUTHORIZED,
            "You are not in any more. Open the desk again and give the passphrase.",
        )
    }

    /// The right to act is missing.
    pub fn only_looking() -> Refusal {
        Refusal::new(
            StatusCode::FORBIDDEN,
            "Your passphrase gives the right to look. Leave and enter with the one that gives the right to act.",
        )
    }

    /// The page is older than the session.
    pub fn old_page() -> Refusal {
        Refusal::new(
            StatusCode::FORBIDDEN,
            "This page is from before you entered. Load it again; what you typed stays in the fields.",
        )
    }

    /// The system gives no random numbers.
    pub fn no_random_numbers() -> Refusal {
        Refusal::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The machine gives no random numbers, so nobody can be let in safely.",
        )
    }

    /// Nothing of that name.
    pub fn no_weld(name: &str) -> Refusal {
        Refusal::new(
            StatusCode::NOT_FOUND,
            format!(
                "There is no weld {name:?} in this project. The board shows those that are there."
            ),
        )
    }

    /// No such page.
    pub fn no_page() -> Refusal {
        Refusal::new(
            StatusCode::NOT_FOUND,
            "There is no such page. The board is the place to begin.",
        )
    }

    /// A task of the desk itself broke down.
    pub fn broke_down() -> Refusal {
        Refusal::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The desk could not finish this; nothing was changed. Try again, and keep the job file if it happens twice.",
        )
    }
}

impl From<DeskError> for Refusal {
    fn from(error: DeskError) -> Refusal {
        match error {
            DeskError::Folder(error) => error.into(),
            other => Refusal::new(StatusCode::INTERNAL_SERVER_ERROR, other.to_string()),
        }
    }
}

impl From<FolderError> for Refusal {
    fn from(error: FolderError) -> Refusal {
        let status = match &error {
            FolderError::ChangedMeanwhile { .. } => StatusCode::PRECONDITION_FAILED,
            FolderError::Taken { .. } | FolderError::Coming { .. } => StatusCode::CONFLICT,
            FolderError::BadName { .. } => StatusCode::UNPROCESSABLE_ENTITY,
            FolderError::NoText { .. } => StatusCode::UNPROCESSABLE_ENTITY,
            FolderError::System { .. } | FolderError::Full { .. } => {
                StatusCode::INSUFFICIENT_STORAGE
            }
        };
        Refusal::new(status, error.to_string())
    }
}

impl From<LogError> for Refusal {
    fn from(error: LogError) -> Refusal {
        let status = match error {
            LogError::Folder(error) => return error.into(),
            LogError::Taken { .. } => StatusCode::CONFLICT,
            LogError::NoLog { .. } => StatusCode::NOT_FOUND,
            LogError::Twice { .. } | LogError::Empty { .. } | LogError::NoFile { .. } => {
                StatusCode::UNPROCESSABLE_ENTITY
            }
        };
        Refusal::new(status, error.to_string())
    }
}

impl From<NotNumbered> for Refusal {
    fn from(error: NotNumbered) -> Refusal {
        match error {
            NotNumbered::Folder(error) => error.into(),
            other => Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, other.to_string()),
        }
    }
}

impl From<NotMade> for Refusal {
    fn from(error: NotMade) -> Refusal {
        let status = match error {
            NotMade::Folder(error) => return error.into(),
            NotMade::NoPattern { .. } => StatusCode::NOT_FOUND,
            NotMade::Only { .. } => StatusCode::INSUFFICIENT_STORAGE,
            NotMade::NoNumber | NotMade::Mistakes | NotMade::NoDemo => {
                StatusCode::UNPROCESSABLE_ENTITY
            }
        };
        Refusal::new(status, error.to_string())
    }
}

impl IntoResponse for Refusal {
    /// A page; scripts that fetched something show its `says`.
    fn into_response(self) -> Response {
        let page = bare_page(
            "Not done",
            &html! {
                h1 { "Not done" }
                p #says { (self.says) }
                p { a href="/" { "To the board" } }
            },
        );
        (self.status, page).into_response()
    }
}
