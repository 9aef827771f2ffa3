//! A slow departure from steady neighbors. A place that really cools does the same: this decides nothing.

use super::Seen;
use crate::definitions::Definitions;
use crate::slope::{Sample, SlopeWindow};
use crate::words::both_rate;

const SECONDS_PER_HOUR: f64 = 3600.0;

/// Watches the slope of the difference to the neighbors while they are steady.
#[derive(Clone, Debug)]
pub(crate) struct Drift {
    rate_k_h: f64,
    steady_k: f64,
    level_k: f64,
    away: SlopeWindow,
    others: SlopeWindow,
}

/// Part of the largest step from quarter to quarter that each of them has.
const EVENLY: f64 = 0.3;

/// Neighbors are steady while they stay within this many levels of hysteresis of where they were.
const STEADY_LEVELS: f64 = 2.0;

impl Drift {
    pub fn new(definitions: &Definitions) -> Drift {
        let span_s = definitions.signs.drift_window.s();
        Drift {
            rate_k_h: definitions.signs.drift_rate.k_h(),
            level_k: definitions.level.k(),
            steady_k: STEADY_LEVELS * definitions.level.k(),
            away: SlopeWindow::new(span_s),
            others: SlopeWindow::new(span_s),
        }
    }

    /// Whether the departure goes on from quarter to quarter of the window and is no late turn of the neighbors.
    fn evenly(&self, slope_k_h: f64) -> bool {
        self.away.quarter_means().is_some_and(|[a, b, c, d]| {
            let steps_k = [b - a, c - b, d - c].map(|k| k * slope_k_h.signum());
            let largest_k = steps_k.iter().copied().fold(0.0, f64::max);
            steps_k.iter().all(|k| *k > EVENLY * largest_k)
        })
    }

    /// A jump is no drift: what was before it says nothing about what follows.
    pub fn begin_anew(&mut self) {
        self.away.clear();
        self.others.clear();
    }

    pub fn retained(&self) -> usize {
        self.away.len() + self.others.len()
    }

    pub fn push(&mut self, sample: Sample, others_c: f64) -> Option<Seen> {
        let at = |value_c: f64| Sample {
            time_s: sample.time_s,
            value_c,
        };
        let began_c = self.others.first().map_or(others_c, |s| s.value_c);
        if (others_c - began_c).abs() > self.steady_k {
            self.begin_anew();
        }
        let away_k = sample.value_c - others_c;
        self.away.push(at(away_k));
        self.others.push(at(others_c));
        let first = self.away.first()?;
        // A window is full when its first reading is as old as the window but for one interval.
        let full = self.away.len() > 2
            && (sample.time_s - first.time_s) * (1.0 + 1.0 / (self.away.len() - 1) as f64)
                > self.away.span_s;
        if !full {
            return None;
        }
        let slope_k_h = |window: &SlopeWindow| {
            let slope_k_s = window.line().and_then(|l| l.slope_k_s());
            slope_k_s.unwrap_or(0.0) * SECONDS_PER_HOUR
        };
        let (own, others) = (slope_k_h(&self.away), slope_k_h(&self.others));
        let departs = own.abs() > self.rate_k_h
            && others.abs() < self.rate_k_h
            && away_k * own > 0.0
            && away_k.abs() > first.value_c.abs();
        if !departs || !self.evenly(own) {
            return None;
        }
        let leaves = self.away.last_near_first(self.level_k).unwrap_or(first);
        Some(Seen {
            first_s: leaves.time_s,
            evidence: format!(
                "departs from its steady neighbors by {}; a place that really changes does the same, so \
                 whether it fails can't be judged from the log alone",
                both_rate(own)
            ),
        })
    }
}
