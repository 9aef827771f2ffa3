//! The steepest slope of one channel in one direction above one threshold.

use crate::definitions::Definitions;
use crate::slope::{Line, Sample, SlopeWindow};

/// Which way a ramp goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Direction {
    Heating,
    Cooling,
}

impl Direction {
    fn sign(self) -> f64 {
        match self {
            Direction::Heating => 1.0,
            Direction::Cooling => -1.0,
        }
    }
}

/// A rate and where it was found.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Found {
    pub rate_k_h: f64,
    pub from_s: f64,
    pub to_s: f64,
    /// Whether the ramp was shorter than the window and is judged whole.
    pub whole: bool,
    /// How well the instants of the readings bear the slope: root of the sum of their squared distances in time from
    /// their mean. A reading's noise divided by it is the noise of the slope; 0 where there is no slope.
    pub lever_s: f64,
}

/// A window with the steepest slope that it has seen.
#[derive(Clone, Debug)]
pub(crate) struct Window {
    pub slopes: SlopeWindow,
    pub steepest: Option<Found>,
    /// The largest gain between first and last reading of the window, as a rate.
    pub gain: Option<Found>,
}

/// The ramp that is going on.
#[derive(Clone, Copy, Debug)]
struct Ramp {
    first: Sample,
    last: Sample,
    line: Line,
}

/// Follows the ramps of one channel in one direction above one threshold.
#[derive(Clone, Debug)]
pub(crate) struct RateFold {
    pub direction: Direction,
    pub above_c: f64,
    shortest_s: f64,
    ramp: Option<Ramp>,
    /// The window that binds first, then those beside it.
    pub windows: Vec<Window>,
    /// Steepest ramp with too few readings for a slope.
    pub too_few: Option<Found>,
    /// First gap inside a ramp, with the mean rate across it.
    pub gap: Option<Found>,
    /// Time spent in ramps.
    pub ramped_s: f64,
}

/// A slope through fewer readings than this is not judged: two points are dominated by noise and rounding.
const FEWEST_READINGS: usize = 5;

/// Time stamps are whole seconds in most logs; a window may be short by that much.
const STAMP_ROUNDING_S: f64 = 1.0;

const SECONDS_PER_HOUR: f64 = 3600.0;

impl RateFold {
    pub fn new(direction: Direction, above_c: f64, definitions: &Definitions) -> RateFold {
        let spans =
            std::iter::once(&definitions.rate_window).chain(&definitions.rate_windows_beside);
        let windows = spans
            .map(|span| Window {
                slopes: SlopeWindow::new(span.s()),
                steepest: None,
                gain: None,
            })
            .collect();
        RateFold {
            direction,
            above_c,
            shortest_s: definitions.shortest_ramp.s(),
            ramp: None,
            windows,
            too_few: None,
            gap: None,
            ramped_s: 0.0,
        }
    }

    /// Takes the next reading of the ramp.
    pub fn push(&mut self, sample: Sample) {
        if sample.value_c < self.above_c {
            return self.end_ramp();
        }
        let ramp = self.ramp.get_or_insert_with(|| Ramp {
            first: sample,
            last: sample,
            line: Line::about(sample),
        });
        ramp.last = sample;
        ramp.line.add(sample);
        let since_s = sample.time_s - ramp.first.time_s;
        let sign = self.direction.sign();
        for window in &mut self.windows {
            window.push(sample, since_s, sign);
        }
    }

    /// The ramp is over; if it was too short for a window it is judged whole.
    pub fn end_ramp(&mut self) {
        let Some(ramp) = self.ramp.take() else { return };
        if ramp.last.time_s > ramp.first.time_s {
            self.ramped_s += ramp.last.time_s - ramp.first.time_s;
            self.judge_whole(&ramp);
        }
        self.windows.iter_mut().for_each(|w| w.slopes.clear());
    }

    /// A gap hides part of a ramp between these readings; the mean rate across the first one is kept.
    pub fn gap_between(&mut self, last: Sample, next: Sample) {
        if last.value_c.max(next.value_c) < self.above_c {
            return;
        }
        let lasted_s = next.time_s - last.time_s;
        let rate_k_h =
            self.direction.sign() * (next.value_c - last.value_c) / lasted_s * SECONDS_PER_HOUR;
        self.gap.get_or_insert(Found {
            rate_k_h,
            from_s: last.time_s,
            to_s: next.time_s,
            whole: false,
            lever_s: 0.0,
        });
    }

    /// Readings kept in memory.
    pub fn retained(&self) -> usize {
        self.windows.iter().map(|w| w.slopes.len()).sum()
    }

    fn judge_whole(&mut self, ramp: &Ramp) {
        let lasted_s = ramp.last.time_s - ramp.first.time_s;
        let sign = self.direction.sign();
        let short = lasted_s < self.shortest_s;
        let gain_k_s =
            sign * (ramp.last.value_c - ramp.first.value_c) / lasted_s.max(self.shortest_s);
        let slope_k_s = if short {
            Some(gain_k_s)
        } else {
            ramp.line.slope_k_s().map(|s| sign * s)
        };
        let found = |k_s: f64| Found {
            rate_k_h: k_s * SECONDS_PER_HOUR,
            from_s: ramp.first.time_s,
            to_s: ramp.last.time_s,
            whole: true,
            lever_s: if short {
                lasted_s / std::f64::consts::SQRT_2
            } else {
                ramp.line.lever_s()
            },
        };
        if ramp.line.count() < FEWEST_READINGS {
            return steeper(&mut self.too_few, found(gain_k_s));
        }
        for window in self
            .windows
            .iter_mut()
            .filter(|w| lasted_s < w.slopes.span_s - STAMP_ROUNDING_S)
        {
            if let Some(slope_k_s) = slope_k_s {
                steeper(&mut window.steepest, found(slope_k_s));
            }
            steeper(&mut window.gain, found(gain_k_s));
        }
    }
}

impl Window {
    fn push(&mut self, sample: Sample, since_ramp_s: f64, sign: f64) {
        self.slopes.push(sample);
        let full = since_ramp_s >= self.slopes.span_s - STAMP_ROUNDING_S;
        let (Some(line), Some(first)) = (self.slopes.line(), self.slopes.first()) else {
            return;
        };
        if !full || line.count() < FEWEST_READINGS {
            return;
        }
        let found = |k_s: f64| Found {
            rate_k_h: sign * k_s * SECONDS_PER_HOUR,
            from_s: first.time_s,
            to_s: sample.time_s,
            whole: false,
            lever_s: line.lever_s(),
        };
        if let Some(slope_k_s) = line.slope_k_s() {
            steeper(&mut self.steepest, found(slope_k_s));
        }
        let lasted_s = sample.time_s - first.time_s;
        if lasted_s > 0.0 {
            steeper(
                &mut self.gain,
                found((sample.value_c - first.value_c) / lasted_s),
            );
        }
    }
}

/// Keeps the steeper of the two.
pub(crate) fn steeper(kept: &mut Option<Found>, other: Found) {
    if kept.is_none_or(|k| other.rate_k_h > k.rate_k_h) {
        *kept = Some(other);
    }
}
