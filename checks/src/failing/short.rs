//! A short circuit at a lead or plug: the reading is that of the plug while the pipe is hot.

use super::Seen;
use crate::definitions::Definitions;
use crate::slope::Sample;
use crate::words::both_c;

/// Readings one after the other that make a short circuit of it.
const ENOUGH: u32 = 3;

/// Watches a thermocouple of the soak band for the temperature of its plug.
#[derive(Clone, Debug)]
pub(crate) struct Short {
    soak_band: bool,
    cold_c: f64,
    hot_c: f64,
    run: u32,
    first_s: f64,
}

impl Short {
    pub fn new(soak_band: bool, definitions: &Definitions) -> Short {
        Short {
            soak_band,
            cold_c: definitions.signs.short_below.c(),
            hot_c: definitions.signs.short_beside.c(),
            run: 0,
            first_s: 0.0,
        }
    }

    pub fn push(&mut self, sample: Sample, others_c: f64) -> Option<Seen> {
        if !self.soak_band || sample.value_c >= self.cold_c || others_c <= self.hot_c {
            self.run = 0;
            return None;
        }
        if self.run == 0 {
            self.first_s = sample.time_s;
        }
        self.run += 1;
        (self.run == ENOUGH).then(|| Seen {
            first_s: self.first_s,
            evidence: format!(
                "reads {} while its neighbors in the soak band read {}",
                both_c(sample.value_c),
                both_c(others_c)
            ),
        })
    }
}
