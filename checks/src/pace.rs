//! The pace of the log, and what counts as a gap in it.
//!
//! The interval is local: one taken from the whole file turns every step of a slower stretch into a gap. So each
//! interval is compared with its two neighbors, which means that a scan waits until the next one has come.

use std::sync::Arc;

use readings::Scan;

use crate::definitions::Definitions;
use crate::event::Event;
use crate::roster::Judges;

/// One scan with the step that led to it, in plain numbers.
#[derive(Clone, Debug)]
pub(crate) struct Moment {
    /// Time of the scan.
    pub time_s: f64,
    /// One reading a channel in °C; `None` where it was silent.
    pub readings_c: Vec<Option<f64>>,
    /// The step that led here; `None` at the first scan.
    pub step: Option<Step>,
    /// Which channels judge.
    pub judges: Arc<Judges>,
    /// What happened since the scan before.
    pub happened: Vec<Event>,
    /// Channels that said nothing here and are read between two readings of their own.
    pub filled: Vec<usize>,
}

impl Moment {
    /// What a channel itself said.
    pub fn own_c(&self, channel: usize) -> Option<f64> {
        self.readings_c[channel].filter(|_| !self.filled.contains(&channel))
    }
}

/// The time between two scans.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Step {
    /// How long it took.
    pub length_s: f64,
    /// Whether it is a gap.
    pub gap: bool,
}

/// When a silence is a gap.
#[derive(Clone, Copy, Debug)]
pub(crate) struct GapRule {
    floor_s: f64,
    factor: f64,
    ceiling_s: f64,
}

impl GapRule {
    pub fn of(definitions: &Definitions) -> GapRule {
        GapRule {
            floor_s: definitions.gap_floor.s(),
            factor: definitions.gap_factor,
            ceiling_s: definitions.gap_ceiling.s(),
        }
    }

    /// Whether so long a silence is a gap where the intervals beside it are no longer than `pace_s`.
    pub fn is_gap(&self, silent_s: f64, pace_s: f64) -> bool {
        silent_s > self.ceiling_s || silent_s > self.floor_s.max(self.factor * pace_s)
    }
}

/// Holds the newest scan back until the next one shows the pace.
#[derive(Clone, Debug)]
pub(crate) struct Pacer {
    gap_rule: GapRule,
    /// Length of the step before the one that led to the waiting scan.
    step_before_s: Option<f64>,
    /// Time of the scan before the waiting one.
    earlier_s: Option<f64>,
    waiting: Option<(f64, Vec<Option<f64>>)>,
    /// Scans that came no later than the one before.
    pub out_of_order: u64,
}

impl Pacer {
    pub fn new(definitions: &Definitions) -> Pacer {
        Pacer {
            gap_rule: GapRule::of(definitions),
            step_before_s: None,
            earlier_s: None,
            waiting: None,
            out_of_order: 0,
        }
    }

    /// Takes a scan and gives back the one that waited, now that its pace is known.
    pub fn push(&mut self, scan: &Scan, channels: usize) -> Option<Moment> {
        let time_s = scan.elapsed.as_secs_f64();
        if self
            .waiting
            .as_ref()
            .is_some_and(|(waiting_s, _)| time_s <= *waiting_s)
        {
            self.out_of_order += 1;
            return None;
        }
        let ready = self.release(Some(time_s));
        self.waiting = Some((time_s, plain(scan, channels)));
        ready
    }

    /// Gives back the scan that still waits, at the end of the log.
    pub fn finish(&mut self) -> Option<Moment> {
        self.release(None)
    }

    fn release(&mut self, next_s: Option<f64>) -> Option<Moment> {
        let (time_s, readings_c) = self.waiting.take()?;
        let step = self.earlier_s.map(|earlier_s| {
            let length_s = time_s - earlier_s;
            let after_s = next_s.map_or(0.0, |next_s| next_s - time_s);
            let pace_s = self.step_before_s.unwrap_or(0.0).max(after_s);
            Step {
                length_s,
                gap: self.gap_rule.is_gap(length_s, pace_s),
            }
        });
        self.step_before_s = step.map(|s| s.length_s);
        self.earlier_s = Some(time_s);
        Some(Moment {
            time_s,
            readings_c,
            step,
            judges: Arc::default(),
            happened: Vec::new(),
            filled: Vec::new(),
        })
    }
}

/// A reading that is no number is silence, and so is one that the scan does not have.
fn plain(scan: &Scan, channels: usize) -> Vec<Option<f64>> {
    let reading = |i: usize| {
        scan.readings
            .get(i)
            .copied()
            .flatten()
            .map(|t| t.c())
            .filter(|t| t.is_finite())
    };
    (0..channels).map(reading).collect()
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    fn gaps(times_s: &[u64]) -> Vec<bool> {
        let mut pacer = Pacer::new(&Definitions::default());
        let mut moments: Vec<Moment> = times_s
            .iter()
            .filter_map(|t| {
                pacer.push(
                    &Scan {
                        elapsed: Duration::from_secs(*t),
                        readings: vec![],
                    },
                    0,
                )
            })
            .collect();
        moments.extend(pacer.finish());
        moments
            .iter()
            .filter_map(|m| m.step)
            .map(|s| s.gap)
            .collect()
    }

    #[test]
    fn a_slower_stretch_is_not_a_row_of_gaps() {
        assert!(
            gaps(&[0, 10, 20, 30, 330, 630, 930, 940, 950])
                .iter()
                .all(|gap| !gap)
        );
    }

    #[test]
    fn a_missing_stretch_is_a_gap() {
        assert_eq!(
            gaps(&[0, 60, 120, 360, 420, 480]),
            [false, false, true, false, false]
        );
        assert_eq!(
            gaps(&[0, 60, 120, 240, 300]),
            [false; 4],
            "one missed scan of a minute"
        );
        assert_eq!(
            gaps(&[0, 300, 601, 901]),
            [false, true, false],
            "past the ceiling at any pace"
        );
    }
}
