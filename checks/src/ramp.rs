//! The ramps of one channel: climbing, standing in or above the hold range, falling.
//!
//! By levels with hysteresis, never by the sign of a slope, which noise would flip.

use std::collections::VecDeque;

use crate::definitions::Definitions;
use crate::rate::{Direction, RateFold};
use crate::slope::Sample;

/// What the channel does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Climb,
    /// At or above the hold minimum.
    Stand,
    Fall,
}

/// Follows one channel and feeds its ramps to the rate folds.
#[derive(Clone, Debug)]
pub(crate) struct RampFold {
    hold_min_c: Option<f64>,
    turn_k: f64,
    level_k: f64,
    /// Readings that wait no longer than this to learn which ramp they belong to.
    patience_s: f64,
    stage: Stage,
    extreme_c: f64,
    /// Readings since the extreme was last touched.
    waiting: VecDeque<Sample>,
    last: Option<Sample>,
    /// One a direction and threshold that a limit names.
    pub rates: Vec<RateFold>,
    /// The same of readings in or above the hold range, which belong to no ramp.
    pub standing: Vec<RateFold>,
}

impl RampFold {
    pub fn new(
        hold_min_c: Option<f64>,
        rates: Vec<RateFold>,
        definitions: &Definitions,
    ) -> RampFold {
        let whole_stay = Definitions {
            rate_window: definitions.shortest_ramp,
            rate_windows_beside: Vec::new(),
            ..definitions.clone()
        };
        let standing =
            |rate: &RateFold| RateFold::new(rate.direction, f64::NEG_INFINITY, &whole_stay);
        RampFold {
            standing: rates.iter().map(standing).collect(),
            hold_min_c,
            turn_k: definitions.turn.k(),
            level_k: definitions.level.k(),
            patience_s: definitions.rate_window.s(),
            stage: Stage::Climb,
            extreme_c: f64::NEG_INFINITY,
            waiting: VecDeque::new(),
            last: None,
            rates,
        }
    }

    /// Takes the next reading; `gap` says that a gap lies before it.
    pub fn push(&mut self, sample: Sample, gap: bool) {
        if let Some(last) = self.last.filter(|_| gap) {
            self.flush();
            self.standing.iter_mut().for_each(RateFold::end_ramp);
            self.gap_between(last, sample);
        }
        match self.stage {
            Stage::Climb => self.climb(sample),
            Stage::Stand => self.stand(sample),
            Stage::Fall => self.fall(sample),
        }
        self.last = Some(sample);
    }

    /// The log is over.
    pub fn finish(&mut self) {
        if self.stage != Stage::Stand {
            self.flush();
        }
        let all = self.rates.iter_mut().chain(&mut self.standing);
        all.for_each(RateFold::end_ramp);
    }

    /// Readings kept in memory.
    pub fn retained(&self) -> usize {
        let rates = self.rates.iter().chain(&self.standing);
        self.waiting.len() + rates.map(RateFold::retained).sum::<usize>()
    }

    /// A gap hides a ramp where the channel was ramping before it, or stands elsewhere behind it.
    fn gap_between(&mut self, last: Sample, sample: Sample) {
        let stands = |s: Sample| self.hold_min_c.is_some_and(|min| s.value_c >= min);
        let stood_throughout = self.stage == Stage::Stand && stands(sample);
        let going = self.direction();
        let moved = if sample.value_c < last.value_c {
            Direction::Cooling
        } else {
            Direction::Heating
        };
        for rate in &mut self.rates {
            rate.end_ramp();
            if !stood_throughout && (Some(rate.direction) == going || rate.direction == moved) {
                rate.gap_between(last, sample);
            }
        }
    }

    fn climb(&mut self, sample: Sample) {
        if self.hold_min_c.is_some_and(|min| sample.value_c >= min) {
            self.flush();
            self.rates_of(Direction::Heating)
                .for_each(RateFold::end_ramp);
            self.stage = Stage::Stand;
            return;
        }
        self.extreme_c = self.extreme_c.max(sample.value_c);
        self.waiting.push_back(sample);
        if sample.value_c >= self.extreme_c - self.level_k {
            self.flush();
        } else if sample.value_c <= self.extreme_c - self.turn_k {
            self.turn_to(Stage::Fall, sample);
        }
        self.flush_old(sample);
    }

    fn stand(&mut self, sample: Sample) {
        let below_k = self.hold_min_c.unwrap_or(f64::NEG_INFINITY) - sample.value_c;
        if below_k <= 0.0 {
            self.waiting.clear();
            self.standing.iter_mut().for_each(|rate| rate.push(sample));
            return;
        }
        self.waiting.push_back(sample);
        if below_k >= self.turn_k {
            self.standing.iter_mut().for_each(RateFold::end_ramp);
            self.turn_to(Stage::Fall, sample);
        }
        while self
            .waiting
            .front()
            .is_some_and(|w| sample.time_s - w.time_s > self.patience_s)
        {
            self.waiting.pop_front();
        }
    }

    fn fall(&mut self, sample: Sample) {
        self.extreme_c = self.extreme_c.min(sample.value_c);
        self.waiting.push_back(sample);
        if sample.value_c <= self.extreme_c + self.level_k {
            self.flush();
        } else if sample.value_c >= self.extreme_c + self.turn_k {
            self.turn_to(Stage::Climb, sample);
            if self.hold_min_c.is_some_and(|min| sample.value_c >= min) {
                self.rates_of(Direction::Heating)
                    .for_each(RateFold::end_ramp);
                self.stage = Stage::Stand;
            }
        }
        self.flush_old(sample);
    }

    /// Ends the ramp of the present stage and begins the other with the readings that waited.
    fn turn_to(&mut self, stage: Stage, sample: Sample) {
        self.rates.iter_mut().for_each(RateFold::end_ramp);
        self.stage = stage;
        self.extreme_c = sample.value_c;
        self.flush();
    }

    fn flush(&mut self) {
        let waiting = std::mem::take(&mut self.waiting);
        waiting.into_iter().for_each(|sample| self.feed(sample));
    }

    /// A channel that stays away from its extreme without turning gets a new one.
    fn flush_old(&mut self, sample: Sample) {
        if self
            .waiting
            .front()
            .is_some_and(|w| sample.time_s - w.time_s > self.patience_s)
        {
            self.flush();
            self.extreme_c = sample.value_c;
        }
    }

    fn feed(&mut self, sample: Sample) {
        if let Some(direction) = self.direction() {
            self.rates_of(direction).for_each(|r| r.push(sample));
        }
    }

    fn direction(&self) -> Option<Direction> {
        match self.stage {
            Stage::Climb => Some(Direction::Heating),
            Stage::Stand => None,
            Stage::Fall => Some(Direction::Cooling),
        }
    }

    fn rates_of(&mut self, direction: Direction) -> impl Iterator<Item = &mut RateFold> {
        self.rates
            .iter_mut()
            .filter(move |r| r.direction == direction)
    }
}
