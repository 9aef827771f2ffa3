//! A thermocouple that fails: what was seen, since when, and what follows from it.

use quantity::Hours;
use serde::Serialize;

use crate::disposition::Removed;

/// Something found wrong with a thermocouple.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Failure {
    /// The channel.
    pub channel: String,
    /// What kind.
    pub kind: FailureKind,
    /// The first reading that bears it out.
    pub first_evidence: Hours,
    /// When there was evidence enough.
    pub found: Hours,
    /// What was seen, in words.
    pub evidence: String,
    /// From when on its readings are silence or the thermocouple is out of the set; `None` where it stays judged.
    pub acts_from: Option<Hours>,
}

impl Failure {
    /// Over which time its readings count, where it left the set and where it stayed: "its readings count up to 2 h 22 min, …".
    pub fn counts_words(&self, removed: Option<&Removed>) -> String {
        let first = self.first_evidence.words();
        match (removed, self.acts_from) {
            (Some(removed), _) => {
                let from = removed.from.words();
                format!("its readings count up to {from}, from then on it is out of the set")
            }
            (None, Some(silent_from)) => {
                let from = silent_from.words();
                format!("its readings count up to {from}, from then on they are read as silence")
            }
            (None, None) if self.kind.doubtful() => format!(
                "its readings count in full up to {first}; later ones can still break a limit, and no limit that they take part in \
                 is called met until a named person decides about them"
            ),
            (None, None) => "its readings count to the end of the log".to_owned(),
        }
    }
}

/// Ways in which a thermocouple fails.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FailureKind {
    /// The circuit is open: the instrument drives it to the end of its range.
    Open,
    /// It reads the temperature of a plug or of the air while the pipe is hot.
    Short,
    /// It keeps its value while its neighbors move.
    Stuck,
    /// It falls while its neighbors rise.
    Reversed,
    /// It scatters far more than its neighbors.
    Noisy,
    /// It jumped away from its neighbors and stayed away.
    Detached,
    /// It stepped when the power was taken away.
    Pickup,
    /// It answers the power of another zone, and one of that zone answers the power of this one's: their plugs were exchanged.
    Exchanged,
    /// It departs slowly from steady neighbors; a place that really cools does the same.
    Drifting,
}

impl FailureKind {
    /// Whether its readings are no readings of the metal at all.
    pub fn blind(self) -> bool {
        matches!(
            self,
            FailureKind::Open | FailureKind::Short | FailureKind::Stuck | FailureKind::Reversed
        )
    }

    /// Whether the thermocouple may leave the set by evidence alone.
    pub fn proven(self) -> bool {
        self.blind() || matches!(self, FailureKind::Noisy | FailureKind::Detached)
    }

    /// Whether a limit can't be said to be met by it although it is judged.
    pub fn doubtful(self) -> bool {
        !self.blind() && self != FailureKind::Drifting
    }

    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            FailureKind::Open => "open circuit",
            FailureKind::Short => "short circuit at a lead or plug",
            FailureKind::Stuck => "stuck",
            FailureKind::Reversed => "reversed polarity",
            FailureKind::Noisy => "noisy",
            FailureKind::Detached => "detached",
            FailureKind::Pickup => "disturbed by the coil",
            FailureKind::Exchanged => "exchanged with another at their plugs",
            FailureKind::Drifting => "drifting, or its place really changes; the log can't tell",
        }
    }
}

/// A failure by channel number and plain time.
#[derive(Clone, Debug)]
pub(crate) struct Failing {
    pub channel: usize,
    pub kind: FailureKind,
    pub first_s: f64,
    pub found_s: f64,
    pub evidence: String,
    pub acts_from_s: Option<f64>,
}
