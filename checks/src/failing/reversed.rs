//! Reversed polarity: the reading falls while the pipe is first heated.

use super::Seen;
use crate::definitions::Definitions;
use crate::slope::Sample;
use crate::words::both_c;

/// Watches the first heating.
#[derive(Clone, Debug)]
pub(crate) struct Reversed {
    rise_k: f64,
    fall_k: f64,
    level_k: f64,
    cold_c: f64,
    start: Option<(f64, f64)>,
    level_s: f64,
    over: bool,
}

impl Reversed {
    pub fn new(definitions: &Definitions) -> Reversed {
        Reversed {
            rise_k: definitions.signs.reversed_rise.k(),
            fall_k: definitions.signs.reversed_fall.k(),
            level_k: definitions.level.k(),
            cold_c: definitions.signs.short_below.c(),
            start: None,
            level_s: 0.0,
            over: false,
        }
    }

    pub fn push(&mut self, sample: Sample, others_c: f64) -> Option<Seen> {
        if self.over {
            return None;
        }
        let (start_c, others_start_c) = *self.start.get_or_insert((sample.value_c, others_c));
        // Only a heating from the cold shows it; a hot log may begin with a real fall.
        self.over |= start_c.max(others_start_c) > self.cold_c;
        let rise_k = others_c - others_start_c;
        if rise_k <= self.level_k {
            self.level_s = sample.time_s;
        }
        if self.over || rise_k < self.rise_k {
            return None;
        }
        self.over = true;
        let fell_k = start_c - sample.value_c;
        (fell_k >= self.fall_k).then(|| Seen {
            first_s: self.level_s,
            evidence: format!(
                "falls from {} to {} while the median of its neighbors rises from {} to {}",
                both_c(start_c),
                both_c(sample.value_c),
                both_c(others_start_c),
                both_c(others_c)
            ),
        })
    }
}
