//! A thermocouple that comes off: it jumps away from its neighbors and stays away.

use std::collections::VecDeque;

use super::Seen;
use crate::definitions::Definitions;
use crate::slope::Sample;
use crate::words::{both_k, way};

/// Readings within which the jump happens.
const WITHIN: usize = 3;

/// Readings behind the jump that are needed besides the time.
const ENOUGH: u32 = 5;

/// A jump is this many times as far as what the difference moves in as many readings before it.
const ISOLATED: f64 = 3.0;

/// Part of the jump that has to stay.
const STAYS: f64 = 0.5;

/// Part of the jump that one step between two readings makes; a place that lags behind at a turn of the ramp goes evenly.
const SUDDEN: f64 = 0.7;

/// A jump is at least this many standard deviations of the noise.
const ABOVE_NOISE: f64 = 10.0;

/// Places go apart by this much in an hour at a turn of the ramp (common practice, no source).
const APART_K_H: f64 = 100.0;

/// Watches the difference to the neighbors.
#[derive(Clone, Debug)]
pub(crate) struct Jump {
    least_k: f64,
    stays_s: f64,
    /// The last differences to the neighbors, in time.
    recent: VecDeque<Sample>,
    /// The last readings themselves.
    own: VecDeque<f64>,
    jumped: Option<Jumped>,
    noise_k: f64,
}

#[derive(Clone, Copy, Debug)]
struct Jumped {
    first_s: f64,
    at_s: f64,
    from_k: f64,
    by_k: f64,
    count: u32,
}

impl Jump {
    pub fn new(definitions: &Definitions) -> Jump {
        Jump {
            least_k: definitions.signs.jump.k(),
            stays_s: definitions.signs.jump_stays.s(),
            recent: VecDeque::new(),
            own: VecDeque::new(),
            jumped: None,
            noise_k: 0.0,
        }
    }

    /// Whether a jump waits for its confirmation.
    pub fn waits(&self) -> bool {
        self.jumped.is_some()
    }

    pub fn retained(&self) -> usize {
        self.recent.len()
    }

    /// Takes a reading with the median of its neighbors and its noise so far.
    pub fn push(&mut self, sample: Sample, others_c: f64, noise_k: f64) -> Option<Seen> {
        self.noise_k = noise_k;
        let away = Sample {
            time_s: sample.time_s,
            value_c: sample.value_c - others_c,
        };
        let seen = self.confirm(away);
        self.recent.push_back(away);
        self.own.push_back(sample.value_c);
        if self.recent.len() > 2 * WITHIN + 1 {
            self.recent.pop_front();
            self.own.pop_front();
        }
        if self.jumped.is_none() {
            self.jumped = self.jump_now();
        }
        seen
    }

    /// A jump that ends at the newest reading.
    fn jump_now(&self) -> Option<Jumped> {
        let last = self.recent.len().checked_sub(1)?;
        let from = last.checked_sub(WITHIN)?;
        let earlier = from.checked_sub(WITHIN)?;
        let (now, begun) = (self.recent[last], self.recent[from]);
        let by_k = now.value_c - begun.value_c;
        let before_k = begun.value_c - self.recent[earlier].value_c;
        // It is this one that jumps and not its neighbors: its own readings bend as far, and farther than the neighbors do,
        // which one that lags behind leaves by as much.
        let own_k = self.own[last] - self.own[from] - (self.own[from] - self.own[earlier]);
        let others_k = own_k - (by_k - before_k);
        let (step_s, step_k) = self.largest_step(from);
        let least_k = self.least_k.max(ABOVE_NOISE * self.noise_k)
            + APART_K_H * step_s / 3600.0
            + others_k.abs();
        let jumps = by_k.abs() >= least_k
            && step_k * by_k.signum() >= SUDDEN * by_k.abs()
            && by_k.abs() > ISOLATED * before_k.abs()
            && own_k * by_k.signum() >= STAYS * by_k.abs();
        jumps.then(|| Jumped {
            first_s: self.first_of(from),
            at_s: now.time_s,
            from_k: begun.value_c,
            by_k,
            count: 0,
        })
    }

    /// Length and height of the largest step of the jump.
    fn largest_step(&self, from: usize) -> (f64, f64) {
        let steps = (from..self.recent.len() - 1).map(|i| {
            let (a, b) = (self.recent[i], self.recent[i + 1]);
            (b.time_s - a.time_s, b.value_c - a.value_c)
        });
        steps
            .reduce(|a, b| if b.1.abs() > a.1.abs() { b } else { a })
            .unwrap_or((0.0, 0.0))
    }

    /// The first reading behind the largest step of the jump.
    fn first_of(&self, from: usize) -> f64 {
        let step_k = |i: usize| (self.recent[i + 1].value_c - self.recent[i].value_c).abs();
        let largest =
            (from..self.recent.len() - 1).max_by(|a, b| step_k(*a).total_cmp(&step_k(*b)));
        self.recent[largest.map_or(from, |i| i + 1)].time_s
    }

    /// Whether an earlier jump has stayed long enough; one that came back, or was the beginning of a ramp, is forgotten.
    fn confirm(&mut self, away: Sample) -> Option<Seen> {
        let jumped = self.jumped.as_mut()?;
        jumped.count += 1;
        let gone_k = (away.value_c - jumped.from_k) * jumped.by_k.signum();
        let size_k = jumped.by_k.abs();
        if gone_k < STAYS * size_k || gone_k > 2.0 * size_k {
            self.jumped = None;
            return None;
        }
        let stayed = away.time_s - jumped.at_s >= self.stays_s && jumped.count >= ENOUGH;
        if !stayed {
            return None;
        }
        let jumped = self.jumped.take()?;
        Some(Seen {
            first_s: jumped.first_s,
            evidence: format!(
                "jumped {} by {} against its neighbors within {WITHIN} readings and stayed there",
                way(jumped.by_k),
                both_k(size_k)
            ),
        })
    }
}
