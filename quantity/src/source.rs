//! Where a value comes from, and how far it can be trusted.

use serde::{Deserialize, Serialize};

/// How far a value can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// Read in public text of the named edition.
    Verified,
    /// Recomputed here from a published formula.
    Computed,
    /// Given by the user in the job file.
    UserGiven,
    /// A habit of the trade without a published source.
    CommonPractice,
    /// Recalled from the named document, not read again.
    FromMemory,
    /// An estimate of ours, with its spread stated beside it.
    Estimate,
    /// Sources disagree or the recollection is weak; off until the user confirms it.
    Unsure,
}

impl Status {
    /// The words that stand on a plan or record.
    pub fn words(self) -> &'static str {
        match self {
            Status::Verified => "verified",
            Status::Computed => "computed",
            Status::UserGiven => "given by the user",
            Status::CommonPractice => "common practice, no source",
            Status::FromMemory => "from memory",
            Status::Estimate => "estimate",
            Status::Unsure => "unsure",
        }
    }

    /// Whether a reader must be told wherever the value is used.
    pub fn needs_mark(self) -> bool {
        !matches!(
            self,
            Status::Verified | Status::Computed | Status::UserGiven
        )
    }
}

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// Author, year, title, table or clause.
    pub citation: String,
    /// How far it can be trusted.
    pub status: Status,
    /// What a reader should know besides.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A value with its source.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}
