//! What a named person decided about a thermocouple, and the rule by which one leaves the set.

use quantity::Hours;
use serde::{Deserialize, Serialize};

/// A thermocouple taken out of the set by the word of a named person.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Disposition {
    /// The channel that leaves.
    pub channel: String,
    /// From when on, since the start of the log.
    pub from: Hours,
    /// Why.
    pub reason: String,
    /// Who says so.
    pub by: String,
    /// The spare that takes its place, if one does.
    pub replaced_by: Option<String>,
}

/// By what rule a failed thermocouple leaves the set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Removal {
    /// None leaves. What can't be a reading of the metal is silence.
    Never,
    /// One leaves where a named person says so, and from then on.
    ByWord,
    /// One leaves from the first evidence of its failure on, and where a named person says so.
    WithEvidence,
}

/// A thermocouple that left the set.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Removed {
    /// The channel.
    pub channel: String,
    /// From when on.
    pub from: Hours,
    /// Why.
    pub reason: String,
    /// Who said so; `None` where the rule of evidence did.
    pub by: Option<String>,
    /// The spare that took its place.
    pub replaced_by: Option<String>,
}

/// Why dispositions can't be taken; every fault of every one of them is listed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CheckError {
    /// A zone names what is not there, or one thermocouple stands in two.
    #[error("the zones can't be taken: {}", .faults.join("; "))]
    Zones {
        /// One line a fault.
        faults: Vec<String>,
    },
    /// One or more dispositions are incomplete or name what is not there.
    #[error("{} of the dispositions can't be taken: {}", .faults.len(), .faults.join("; "))]
    Dispositions {
        /// One line a fault.
        faults: Vec<String>,
    },
}

/// Every fault of the dispositions against the names of the channels.
pub(crate) fn faults(dispositions: &[Disposition], known: &[&str]) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, one) in dispositions.iter().enumerate() {
        let place = format!("disposition {}", index + 1);
        let names = std::iter::once(&one.channel).chain(&one.replaced_by);
        for name in names.filter(|n| !known.contains(&n.as_str())) {
            faults.push(format!(
                "{place} names {name:?}, the channels are {}",
                known.join(", ")
            ));
        }
        if one.reason.trim().is_empty() {
            faults.push(format!(
                "{place} gives no reason, write why {} leaves",
                one.channel
            ));
        }
        if one.by.trim().is_empty() {
            faults.push(format!("{place} gives no name, write who decides"));
        }
        if !one.from.h().is_finite() {
            faults.push(format!(
                "{place} begins at {}, a time in hours since the start of the log is wanted",
                one.from.h()
            ));
        }
    }
    faults
}
