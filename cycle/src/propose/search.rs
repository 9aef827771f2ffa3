//! Where the turns lie: shifted, opened and widened until the soak band is even and inside the hold range.

use quantity::Millimeters;

use super::bench::{Bench, Rested};
use super::least_pitch_m;
use super::turns::Choice;
use crate::error::CycleError;
use crate::layout::Layout;

/// Steps of the search: offset as a part of the pitch, opening, span.
const OFFSET_STEP: f64 = 0.5;
const OPENING_STEP: f64 = 0.12;
const MOST_OPENING: f64 = 0.3;
/// A coil is made wider by this factor at a time.
pub const SPAN_STEP: f64 = 1.2;

/// Temperatures at the two edges of the soak band count as equal within this, in K.
const EVEN_K: f64 = 1.0;

/// A layout is better if it brings the band this much nearer, in K.
const GAIN_K: f64 = 0.1;

/// Rounds of the search.
const ROUNDS: usize = 4;

impl Bench<'_> {
    /// Places of the turns: shifted until both edges of the soak band are equally warm, opened and widened until the
    /// band lies in the hold range with a margin; a source that is short of reserve is content without the margin.
    ///
    /// # Errors
    /// What the solvers refuse.
    pub fn search(&mut self, first: Layout, choice: &Choice) -> Result<Rested, CycleError> {
        let mut best = self.try_layout(first, choice)?;
        for _ in 0..ROUNDS {
            if let Some(shifted) = self.shifted(&best) {
                let tried = self.try_layout(shifted, choice)?;
                if unevenness(&tried) < unevenness(&best) {
                    best = tried;
                    continue;
                }
            }
            let short_of_reserve = choice.reserve_percent < self.practice.reserve_percent.value;
            let spared_k = if short_of_reserve {
                self.margin_k()
            } else {
                0.0
            };
            if self.shortfall_k(&best) <= spared_k {
                break;
            }
            match self.wider(&best, choice)? {
                Some(found) => best = found,
                None => break,
            }
        }
        Ok(best)
    }

    /// Tries a layout at the state of rest.
    ///
    /// # Errors
    /// What the solvers refuse.
    pub fn try_layout(&mut self, layout: Layout, choice: &Choice) -> Result<Rested, CycleError> {
        let rested = self.rest(&layout, choice.frequency_hz)?;
        let short_k = self.shortfall_k(&rested);
        let verdict = match short_k <= 0.0 {
            true => "the soak band lies in the hold range with its margin".to_string(),
            false => self.short_words(short_k),
        };
        let row = self.row(&layout, choice, Some(&rested), verdict);
        self.trials.push(row);
        Ok(rested)
    }

    /// Shifted towards the colder edge, where the edges differ.
    fn shifted(&self, rested: &Rested) -> Option<Layout> {
        let excess_k = rested.edges_c[1] - rested.edges_c[0];
        if excess_k.abs() < EVEN_K {
            return None;
        }
        let layout = rested.layout;
        // The profile falls about as a parabola from the middle: edges differ by 8 (T_mid - T_edge) shift / band.
        let fall_k =
            (rested.hottest.temperature_c - 0.5 * (rested.edges_c[0] + rested.edges_c[1])).max(2.0);
        let slope_k_m = 4.0 * fall_k / self.setup.soak_band.m();
        let most_m = OFFSET_STEP * layout.pitch_m();
        let shift_m = (-excess_k / slope_k_m).clamp(-most_m, most_m);
        let next = Layout {
            offset_m: layout.offset_m + shift_m,
            ..layout
        };
        self.fits(&next).then_some(next)
    }

    /// A layout that warms the edges of the band more: denser at the ends, or else wider.
    fn wider(&mut self, best: &Rested, choice: &Choice) -> Result<Option<Rested>, CycleError> {
        let layout = &best.layout;
        let opened = Layout {
            opening: (layout.opening + OPENING_STEP).min(MOST_OPENING),
            ..*layout
        };
        let wide = Layout {
            span_m: SPAN_STEP * layout.span_m,
            ..*layout
        };
        for next in [opened, wide] {
            if next == *layout || !self.fits(&next) {
                continue;
            }
            let tried = self.try_layout(next, choice)?;
            if self.shortfall_k(&tried) < self.shortfall_k(best) - GAIN_K {
                return Ok(Some(tried));
            }
        }
        Ok(None)
    }

    fn fits(&self, layout: &Layout) -> bool {
        let joint = &self.prepared.joint;
        let cable_m = 0.5e-3 * self.setup.cable.outside_diameter_mm.value;
        let ends_m =
            [-1.0, 1.0].map(|sign| layout.offset_m + sign * (0.5 * layout.span_m + cable_m));
        let reach_m = self.setup.blanket.reach.map(Millimeters::m);
        let inside = -ends_m[0] <= reach_m[0].min(joint.lengths_m[0])
            && ends_m[1] <= reach_m[1].min(joint.lengths_m[1]);
        let pitches = layout.least_pitch_m() >= least_pitch_m(self.setup, self.practice) - 1e-9
            && layout.largest_pitch_m() <= 1e-3 * self.practice.pitch_mm.high + 1e-9;
        inside && pitches
    }

    /// How far the soak band is from lying inside the hold range with the margin, or the pipe beyond it from staying
    /// below its upper end, in K; below zero they do.
    pub fn shortfall_k(&self, rested: &Rested) -> f64 {
        let [low, high] = self.setup.programme.hold_range.map(|limit| limit.c());
        let margin_k = self.margin_k();
        (low + margin_k - rested.coldest.temperature_c)
            .max(rested.hottest.temperature_c - (high - margin_k))
            .max(rested.beyond.temperature_c - (high - margin_k))
    }

    /// The margin inside the hold range; a narrow range leaves no room for all of it.
    fn margin_k(&self) -> f64 {
        let [low, high] = self.setup.programme.hold_range.map(|limit| limit.c());
        self.practice.soak_margin_k.value.min(0.25 * (high - low))
    }
}

fn unevenness(rested: &Rested) -> f64 {
    (rested.edges_c[1] - rested.edges_c[0]).abs()
}
