//! An open circuit: the instrument drives the reading to an end of its range.

use super::Seen;
use crate::definitions::Definitions;
use crate::words::both_c;

/// Readings at an end of the range one after the other that make an open circuit of it.
const ENOUGH: u32 = 3;

/// Watches for readings at the ends of the range.
#[derive(Clone, Debug)]
pub(crate) struct Ends {
    low_c: f64,
    high_c: f64,
    run: u32,
    first_s: f64,
}

impl Ends {
    pub fn new(definitions: &Definitions) -> Ends {
        Ends {
            low_c: definitions.signs.range_low.c(),
            high_c: definitions.signs.range_high.c(),
            run: 0,
            first_s: 0.0,
        }
    }

    pub fn at_end(&self, value_c: f64) -> bool {
        value_c <= self.low_c || value_c >= self.high_c
    }

    /// Takes a reading at an end.
    pub fn push(&mut self, time_s: f64, value_c: f64) -> Option<Seen> {
        if self.run == 0 {
            self.first_s = time_s;
        }
        self.run += 1;
        (self.run == ENOUGH).then(|| Seen {
            first_s: self.first_s,
            evidence: format!(
                "reads {}; what is not between {} and {} is the end of a range, no metal",
                both_c(value_c),
                both_c(self.low_c),
                both_c(self.high_c)
            ),
        })
    }

    /// A reading inside the range has come.
    pub fn spoke(&mut self) {
        self.run = 0;
    }
}
