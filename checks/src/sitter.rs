//! Follows one channel for its row of the table.

use quantity::{Celsius, Hours};
use rules::time_temperature::{Exposure, hollomon_jaffe};

use crate::hold_stage::Phase;
use crate::slope::Sample;

/// The exposure is read no more often than this: temperature of steel changes little in a minute.
const EXPOSURE_STEP_S: f64 = 60.0;

/// One channel.
#[derive(Clone, Debug)]
pub(crate) struct Sitter {
    pub readings: u64,
    pub resolution_k: Option<f64>,
    pub longest_unchanged_s: f64,
    pub highest: Option<Sample>,
    pub inside: Option<(f64, f64)>,
    since_left: Option<(f64, f64)>,
    last: Option<Sample>,
    unchanged_since_s: f64,
    pub exposure: Option<Exposure>,
    exposed_s: Option<f64>,
}

impl Sitter {
    /// `reference_c` is what the equivalent time is told at.
    pub fn new(reference_c: Option<f64>) -> Sitter {
        let exposure = reference_c.and_then(|c| {
            let parameter = hollomon_jaffe().ok()?;
            Exposure::new(parameter, Celsius::from_c(c)).ok()
        });
        Sitter {
            readings: 0,
            resolution_k: None,
            longest_unchanged_s: 0.0,
            highest: None,
            inside: None,
            since_left: None,
            last: None,
            unchanged_since_s: 0.0,
            exposure,
            exposed_s: None,
        }
    }

    /// Takes the next scan: the reading or its silence, whether a gap lies before it, and what the weld does.
    pub fn push(
        &mut self,
        time_s: f64,
        value_c: Option<f64>,
        gap: bool,
        phase: Phase,
        whole: bool,
    ) {
        self.expose(time_s, value_c, gap);
        if let Some(value_c) = value_c {
            self.look(Sample { time_s, value_c }, gap);
            self.hold(value_c, phase);
        }
        if whole && phase == Phase::Hold {
            self.inside = widened(self.inside, self.since_left.take());
        }
    }

    /// The log is over: what waits is counted.
    pub fn finish(&mut self) {
        if let Some(last) = self.last {
            self.take_exposure(last.time_s, Some(last.value_c));
        }
    }

    fn look(&mut self, sample: Sample, gap: bool) {
        self.readings += 1;
        if self.highest.is_none_or(|h| sample.value_c > h.value_c) {
            self.highest = Some(sample);
        }
        let changed_k = self.last.map(|last| (sample.value_c - last.value_c).abs());
        if changed_k != Some(0.0) || gap {
            self.unchanged_since_s = sample.time_s;
        }
        let unchanged_s = sample.time_s - self.unchanged_since_s;
        self.longest_unchanged_s = self.longest_unchanged_s.max(unchanged_s);
        if let Some(k) = changed_k.filter(|k| *k > 0.0) {
            self.resolution_k = Some(self.resolution_k.map_or(k, |r| r.min(k)));
        }
        self.last = Some(sample);
    }

    /// What is read since the hold was last whole belongs to it only if the weld comes back.
    fn hold(&mut self, value_c: f64, phase: Phase) {
        if phase == Phase::Hold {
            self.since_left = widened(self.since_left, Some((value_c, value_c)));
        } else {
            self.since_left = None;
        }
    }

    fn expose(&mut self, time_s: f64, value_c: Option<f64>, gap: bool) {
        let due = self.exposed_s.is_none_or(|s| time_s - s >= EXPOSURE_STEP_S);
        match value_c {
            Some(value_c) if gap => {
                self.fall_silent();
                self.take_exposure(time_s, None);
                self.take_exposure(time_s, Some(value_c));
            }
            Some(value_c) if due => self.take_exposure(time_s, Some(value_c)),
            Some(_) => {}
            None if due || self.last.is_some_and(|l| Some(l.time_s) != self.exposed_s) => {
                self.fall_silent();
                self.take_exposure(time_s, None);
            }
            None => {}
        }
    }

    /// The last reading before a silence counts up to itself.
    fn fall_silent(&mut self) {
        if let Some(last) = self
            .last
            .filter(|l| self.exposed_s.is_some_and(|s| s < l.time_s))
        {
            self.take_exposure(last.time_s, Some(last.value_c));
        }
    }

    fn take_exposure(&mut self, time_s: f64, value_c: Option<f64>) {
        if let Some(exposure) = &mut self.exposure {
            // A reading that can't be a temperature is refused and counts as nothing.
            let taken = exposure.push(Hours::from_s(time_s), value_c.map(Celsius::from_c));
            if taken.is_err() {
                let _ = exposure.push(Hours::from_s(time_s), None);
            }
        }
        self.exposed_s = Some(time_s);
    }
}

fn widened(kept: Option<(f64, f64)>, other: Option<(f64, f64)>) -> Option<(f64, f64)> {
    match (kept, other) {
        (Some(a), Some(b)) => Some((a.0.min(b.0), a.1.max(b.1))),
        (a, b) => a.or(b),
    }
}
