//! A value that stays while the neighbors move away from it. Time alone is no evidence, nor are neighbors that come
//! nearer: one that has arrived stands while the others still climb.

use super::Seen;
use crate::definitions::Definitions;
use crate::slope::Sample;
use crate::words::both_c;

/// Readings of the same value that are needed besides.
const ENOUGH: u32 = 3;

/// Outside the soak band a place may lag behind; its neighbors have to move this many times as far.
const FARTHER_ELSEWHERE: f64 = 4.0;

/// Watches for a value that does not move.
#[derive(Clone, Debug)]
pub(crate) struct Stuck {
    moved_k: f64,
    since: Option<Since>,
    /// The median of the neighbors at the reading before.
    last_others: Option<Sample>,
}

/// Metal moves no farther between two readings than this and this rate together (common practice, no source); what
/// moves faster is itself no metal and no evidence against others.
const NATURAL_STEP_K: f64 = 10.0;
const NATURAL_RATE_K_H: f64 = 1000.0;

#[derive(Clone, Copy, Debug)]
struct Since {
    value_c: f64,
    /// The median of the neighbors when it was nearest.
    nearest_c: f64,
    count: u32,
    /// The first reading of this value: nothing shows that it was alive after it.
    first_s: f64,
}

impl Stuck {
    pub fn new(soak_band: bool, definitions: &Definitions) -> Stuck {
        let farther = if soak_band { 1.0 } else { FARTHER_ELSEWHERE };
        Stuck {
            moved_k: definitions.signs.stuck_moved.k() * farther,
            since: None,
            last_others: None,
        }
    }

    pub fn push(&mut self, sample: Sample, others_c: f64) -> Option<Seen> {
        let others = Sample {
            time_s: sample.time_s,
            value_c: others_c,
        };
        let natural = self.last_others.replace(others).is_none_or(|last| {
            let most_k = NATURAL_STEP_K + NATURAL_RATE_K_H * (others.time_s - last.time_s) / 3600.0;
            (others_c - last.value_c).abs() <= most_k
        });
        let same = |s: &Since| natural && s.value_c == sample.value_c;
        let Some(since) = self.since.as_mut().filter(|s| same(s)) else {
            self.since = Some(Since {
                value_c: sample.value_c,
                nearest_c: others_c,
                count: 1,
                first_s: sample.time_s,
            });
            return None;
        };
        since.count += 1;
        let away_k = |others_c: f64| (others_c - sample.value_c).abs();
        if away_k(others_c) < away_k(since.nearest_c) {
            since.nearest_c = others_c;
        }
        let moved_k = away_k(others_c) - away_k(since.nearest_c);
        let stuck = moved_k >= self.moved_k && since.count >= ENOUGH;
        stuck.then(|| Seen {
            first_s: since.first_s,
            evidence: format!(
                "keeps {} while the median of its neighbors goes from {} to {}",
                both_c(sample.value_c),
                both_c(since.nearest_c),
                both_c(others_c)
            ),
        })
    }
}
