//! The check with the power off: a reading that steps was disturbed by the coil.

use super::Seen;
use crate::definitions::Definitions;
use crate::slope::Sample;
use crate::words::{both_k, way};

/// Readings behind the check that are looked at.
const READINGS: u32 = 2;

/// Compares the readings on both sides of a check.
#[derive(Clone, Debug)]
pub(crate) struct Pickup {
    step_k: f64,
    within_s: f64,
    last: Option<Sample>,
    /// The reading before the check, and how many have come since.
    before: Option<(Sample, u32)>,
}

impl Pickup {
    pub fn new(definitions: &Definitions) -> Pickup {
        Pickup {
            step_k: definitions.signs.pickup_step.k(),
            within_s: definitions.signs.pickup_within.s(),
            last: None,
            before: None,
        }
    }

    /// Takes a reading; `checked` says that the power went off for a check since the one before.
    pub fn push(&mut self, sample: Sample, checked: bool) -> Option<Seen> {
        if checked {
            self.before = self.last.map(|last| (last, 0));
        }
        self.last = Some(sample);
        let (before, count) = self.before.as_mut()?;
        *count += 1;
        let step_k = sample.value_c - before.value_c;
        let soon = sample.time_s - before.time_s <= self.within_s;
        let seen = (soon && step_k.abs() > self.step_k).then(|| Seen {
            first_s: before.time_s,
            evidence: format!(
                "steps {} by {} within {:.0} s of the power going off",
                way(step_k),
                both_k(step_k.abs()),
                sample.time_s - before.time_s
            ),
        });
        if *count == READINGS || !soon || seen.is_some() {
            self.before = None;
        }
        seen
    }
}
