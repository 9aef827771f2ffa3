//! The guard band of a rate: by how much noise alone lifts the steepest slope of a ramp above the true one.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::checker::Checker;
use crate::finding::Origin;
use crate::rate::{Found, RateFold};

/// The table, as `examples/guard_band.rs` computes it.
static TABLE: LazyLock<Vec<Overread>> = LazyLock::new(|| {
    let table: Table = toml::from_str(include_str!("../data/guard-band.toml"))
        .expect("the test of this file reads it");
    table.overread
});

#[derive(Debug, Deserialize)]
struct Table {
    overread: Vec<Overread>,
}

/// Overread of a ramp of so many windows, in standard deviations of one slope.
#[derive(Clone, Copy, Debug, Deserialize)]
struct Overread {
    windows: f64,
    sigmas: f64,
}

const SECONDS_PER_HOUR: f64 = 3600.0;

/// Standard deviation of rounding to steps of one: a value lies anywhere in its step (root of 1/12).
const ROUNDING: f64 = 0.288_675_134_594_812_9;

impl Checker {
    /// What noise alone may add to the steepest slope of a channel; nothing for predicted readings.
    pub(crate) fn guard_k_h(&self, channel: usize, fold: &RateFold, found: &Found) -> f64 {
        if self.origin == Origin::Predicted || found.lever_s <= 0.0 {
            return 0.0;
        }
        let rounding_k = ROUNDING * self.sitters[channel].resolution_k.unwrap_or(0.0);
        let noise_k = self.watch.noise_k(channel).unwrap_or(0.0).max(rounding_k);
        let windows = if found.whole {
            1.0
        } else {
            fold.ramped_s / (found.to_s - found.from_s)
        };
        sigmas(windows) * noise_k / found.lever_s * SECONDS_PER_HOUR
    }
}

/// The overread between the rows of the table, straight in the logarithm of the windows; its last row beyond it.
fn sigmas(windows: f64) -> f64 {
    let table = &*TABLE;
    let after = table.iter().position(|row| row.windows >= windows);
    match after {
        None => table.last().map_or(0.0, |row| row.sigmas),
        Some(0) => table[0].sigmas,
        Some(after) => {
            let (a, b) = (table[after - 1], table[after]);
            let part = (windows / a.windows).ln() / (b.windows / a.windows).ln();
            a.sigmas + part * (b.sigmas - a.sigmas)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_climbs_from_the_quantile_of_one_normal_window() {
        // A single window is one normal variable: its 99.5 % quantile is 2.576. The median makes it a little wider, for
        // it uses noisy readings less well than their mean does, and 4000 runs leave 0.1.
        assert!((sigmas(1.0) - 2.576).abs() < 0.4, "{}", sigmas(1.0));
        assert!(
            TABLE
                .windows(2)
                .all(|w| w[1].sigmas > w[0].sigmas && w[1].windows > w[0].windows)
        );
        assert!(sigmas(3.0) > sigmas(2.0) && sigmas(3.0) < sigmas(4.0));
        assert_eq!(sigmas(1e6), sigmas(TABLE[TABLE.len() - 1].windows));
    }
}
