//! Scatter far above that of the neighbors.

use super::{Seen, median};
use crate::definitions::Definitions;
use crate::slope::Sample;

/// Fewest differences that a scatter is taken from.
const FEWEST: usize = 8;

/// Most differences of a stretch; a faster log is read in shorter stretches, so that memory stays bounded.
const MOST: usize = 1200;

/// Standard deviation of a normal distribution over its median absolute deviation (one over the normal quantile at 3/4).
const SIGMA_PER_MAD: f64 = 1.4826;

/// Watches the scatter of the first differences, stretch by stretch.
#[derive(Clone, Debug)]
pub(crate) struct Noise {
    stretch_s: f64,
    floor_k: f64,
    times: f64,
    last: Option<Sample>,
    from_s: f64,
    differences_k: Vec<f64>,
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
            from_s: 0.0,
            differences_k: Vec::new(),
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
        self.differences_k.len()
    }

    pub fn push(&mut self, sample: Sample, others_k: Option<f64>) -> Option<Seen> {
        let Some(last) = self.last.replace(sample) else {
            self.from_s = sample.time_s;
            return None;
        };
        self.differences_k.push(sample.value_c - last.value_c);
        let count = self.differences_k.len();
        let whole = sample.time_s - self.from_s >= self.stretch_s && count >= FEWEST;
        if !whole && count < MOST {
            return None;
        }
        let level_k = scatter_k(&mut self.differences_k);
        self.level_k = Some(level_k);
        self.squares_k2 += level_k * level_k;
        self.stretches += 1;
        let first_s = std::mem::replace(&mut self.from_s, sample.time_s);
        let wild = level_k > self.floor_k
            && others_k.is_none_or(|others_k| level_k > self.times * others_k);
        wild.then(|| Seen {
            first_s,
            evidence: format!(
                "scatters by {level_k:.1} K (standard deviation, from the median of its differences)"
            ),
        })
    }
}

/// The scatter of single readings from the differences of neighbors; the differences are used up.
fn scatter_k(differences_k: &mut Vec<f64>) -> f64 {
    let middle_k = median(differences_k).unwrap_or(0.0);
    let mut away_k: Vec<f64> = differences_k
        .drain(..)
        .map(|d| (d - middle_k).abs())
        .collect();
    SIGMA_PER_MAD * median(&mut away_k).unwrap_or(0.0) / std::f64::consts::SQRT_2
}
