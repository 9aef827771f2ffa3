//! Scatter far above that of the neighbors.
//!
//! Each reading is held against the straight line between its two neighbors in time: a ramp scatters by nothing then, and
//! its corner by one reading.

use super::{Seen, median};
use crate::definitions::Definitions;
use crate::slope::Sample;
use crate::words::both_k;

/// Fewest distances that a scatter is taken from.
const FEWEST: usize = 8;

/// Most distances of a stretch; a faster log is read in shorter stretches, so that memory stays bounded.
const MOST: usize = 1200;

/// Standard deviation of a normal distribution over its median absolute deviation (one over the normal quantile at 3/4).
const SIGMA_PER_MAD: f64 = 1.4826;

/// Watches the scatter, stretch by stretch.
#[derive(Clone, Debug)]
pub(crate) struct Noise {
    stretch_s: f64,
    floor_k: f64,
    times: f64,
    last: Option<Sample>,
    before_last: Option<Sample>,
    from_s: f64,
    away_k: Vec<f64>,
    level_k: Option<f64>,
    /// Sum of the squared scatters of whole stretches, and their number.
    squares_k2: f64,
    stretches: u32,
}

impl Noise {
    pub fn new(definitions: &Definitions) -> Noise {
        Noise {
            stretch_s: definitions.signs.noise_stretch.s(),
            floor_k: definitions.signs.noise_floor.k(),
            times: definitions.signs.noise_times,
            last: None,
            before_last: None,
            from_s: 0.0,
            away_k: Vec::new(),
            level_k: None,
            squares_k2: 0.0,
            stretches: 0,
        }
    }

    /// Scatter of the last whole stretch as a standard deviation.
    pub fn level_k(&self) -> Option<f64> {
        self.level_k
    }

    /// Scatter over all whole stretches, root of the mean of the squares.
    pub fn mean_k(&self) -> Option<f64> {
        let mean_k2 = self.squares_k2 / f64::from(self.stretches);
        (self.stretches > 0).then(|| mean_k2.sqrt())
    }

    pub fn retained(&self) -> usize {
        self.away_k.len()
    }

    /// Takes a reading; gives the beginning and the scatter of a stretch that it makes whole.
    pub fn push(&mut self, sample: Sample) -> Option<(f64, f64)> {
        let Some(last) = self.last.replace(sample) else {
            self.from_s = sample.time_s;
            return None;
        };
        let before = self.before_last.replace(last)?;
        self.away_k.push(away_k(before, last, sample));
        let count = self.away_k.len();
        let whole = sample.time_s - self.from_s >= self.stretch_s && count >= FEWEST;
        if !whole && count < MOST {
            return None;
        }
        let level_k = scatter_k(&mut self.away_k);
        self.level_k = Some(level_k);
        self.squares_k2 += level_k * level_k;
        self.stretches += 1;
        let first_s = std::mem::replace(&mut self.from_s, sample.time_s);
        Some((first_s, level_k))
    }

    /// Whether the scatter of a stretch is that of a noisy one; alone, without others, it can't be told from a process
    /// that swings.
    pub fn wild(&self, (first_s, level_k): (f64, f64), others_k: Option<f64>) -> Option<Seen> {
        let beside = others_k.is_some_and(|others_k| level_k > self.times * others_k);
        (level_k > self.floor_k && beside).then(|| Seen {
            first_s,
            evidence: format!(
                "scatters by {} (standard deviation, from the median of its distances to the line between its neighbors \
                 in time)",
                both_k(level_k)
            ),
        })
    }
}

/// How far the middle one lies from the line between the others, in units of the noise of a single reading: the weights
/// of the two ends add their own noise.
fn away_k(before: Sample, middle: Sample, after: Sample) -> f64 {
    let part = (middle.time_s - before.time_s) / (after.time_s - before.time_s);
    let line_c = before.value_c + part * (after.value_c - before.value_c);
    (middle.value_c - line_c) / (1.0 + part * part + (1.0 - part) * (1.0 - part)).sqrt()
}

/// The scatter of single readings from their distances; the distances are used up.
fn scatter_k(away_k: &mut Vec<f64>) -> f64 {
    let middle_k = median(away_k).unwrap_or(0.0);
    let mut from_middle_k: Vec<f64> = away_k.drain(..).map(|d| (d - middle_k).abs()).collect();
    SIGMA_PER_MAD * median(&mut from_middle_k).unwrap_or(0.0)
}
