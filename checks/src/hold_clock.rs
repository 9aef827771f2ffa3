//! Time in the hold range of a set of channels: counted, bridged, and what silence may hide.

use std::sync::Arc;

use crate::pace::{GapRule, Moment, Step};
use crate::roster::Judges;

/// A range of temperature, open where a limit is not set.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Range {
    pub low_c: Option<f64>,
    pub high_c: Option<f64>,
}

/// Part of a step, as fractions of it.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Part {
    from: f64,
    to: f64,
}

const WHOLE: Part = Part { from: 0.0, to: 1.0 };

/// Runs of time with the longest of them.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Runs {
    alive: bool,
    run_s: f64,
    begun_s: f64,
    pub total_s: f64,
    pub longest_s: f64,
    /// When the longest run begins.
    pub longest_from_s: f64,
    /// Longer of the steps in which the longest run begins and ends: neither end is known better.
    pub longest_step_s: f64,
    begun_step_s: f64,
    /// How many runs there are.
    pub count: u64,
    /// Longest run since the present attempt began.
    pub part_longest_s: f64,
    /// All runs since then.
    pub part_total_s: f64,
}

/// Counts the time during which all channels of a set are in range.
#[derive(Clone, Debug)]
pub(crate) struct HoldClock {
    range: Range,
    channels: Vec<usize>,
    before: Option<(Vec<Option<f64>>, Arc<Judges>)>,
    /// Room for the readings of the next scan.
    scratch: Vec<Option<f64>>,
    /// How long the set has been silent while the rest of it stood in range.
    silent_s: f64,
    gap_rule: GapRule,
    /// What counts: silence adds nothing, a gap breaks the run.
    pub counted: Runs,
    /// Which channel left the range first where the longest run of what counts ended, if one left it.
    pub ended_by: Option<usize>,
    /// The same, but a gap with both ends in range does not break the run.
    pub bridged: Runs,
    /// What it would be if all silence were in range.
    pub granted: Runs,
}

impl HoldClock {
    pub fn new(range: Range, channels: Vec<usize>, gap_rule: GapRule) -> HoldClock {
        HoldClock {
            range,
            channels,
            before: None,
            scratch: Vec::new(),
            silent_s: 0.0,
            gap_rule,
            counted: Runs::default(),
            ended_by: None,
            bridged: Runs::default(),
            granted: Runs::default(),
        }
    }

    /// A new attempt begins.
    pub fn begin_part(&mut self) {
        self.counted.part_longest_s = 0.0;
        self.counted.part_total_s = 0.0;
    }

    pub fn push(&mut self, moment: &Moment) {
        let mut now = std::mem::take(&mut self.scratch);
        now.clear();
        now.extend(self.channels.iter().map(|i| moment.readings_c[*i]));
        if let (Some((before, judged)), Some(step)) = (self.before.take(), moment.step) {
            let judges = [&*judged, &*moment.judges];
            if self.channels.iter().any(|c| judges[1].hold[*c]) {
                self.step(moment.time_s, step, [&before, &now], judges);
            } else {
                self.end();
            }
            self.scratch = before;
        }
        self.before = Some((now, Arc::clone(&moment.judges)));
    }

    fn step(
        &mut self,
        time_s: f64,
        step: Step,
        [before, now]: [&[Option<f64>]; 2],
        judges: [&Judges; 2],
    ) {
        let known = self.known_part(before, now, judges);
        let silent = step.gap || self.silence(before, now, judges);
        let began_s = time_s - step.length_s;
        if silent {
            self.silent(known, step.gap, began_s, step.length_s);
        } else {
            self.silent_s = 0.0;
            let (was_alive, longest_s) = (self.counted.alive, self.counted.longest_s);
            for runs in [&mut self.counted, &mut self.bridged, &mut self.granted] {
                runs.count_part(known, began_s, step.length_s);
            }
            let is_longest = self.counted.run_s >= self.counted.longest_s;
            if (was_alive || self.counted.longest_s > longest_s) && is_longest {
                self.ended_by = match self.counted.alive {
                    true => None,
                    false => self.first_out(before, now, judges),
                };
            }
        }
    }

    /// The channel that left the range first between two scans.
    fn first_out(
        &self,
        before: &[Option<f64>],
        now: &[Option<f64>],
        judges: [&Judges; 2],
    ) -> Option<usize> {
        let ends = before.iter().zip(now).zip(&self.channels);
        let left = ends.filter(|(_, c)| judges[0].hold[**c] && judges[1].hold[**c]);
        let left = left.filter_map(|((a, b), c)| {
            let until = self.range.part_inside((*a)?, (*b)?).map_or(0.0, |p| p.to);
            (until < 1.0).then_some((until, *c))
        });
        left.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, c)| c)
    }

    /// None of the set judges any more.
    fn end(&mut self) {
        for runs in [&mut self.counted, &mut self.bridged, &mut self.granted] {
            runs.end();
        }
    }

    fn silent(&mut self, known: Option<Part>, gap: bool, began_s: f64, length_s: f64) {
        let in_range = known == Some(WHOLE);
        self.silent_s += length_s;
        if !in_range || gap || self.gap_rule.is_gap(self.silent_s, length_s) {
            self.counted.end();
        }
        if !in_range {
            self.bridged.end();
        }
        self.granted
            .count_part(if gap { Some(WHOLE) } else { known }, began_s, length_s);
    }

    /// Whether one that judges at an end of the step is silent there, or too few are left at an end.
    fn silence(&self, before: &[Option<f64>], now: &[Option<f64>], judges: [&Judges; 2]) -> bool {
        let silent = |readings: &[Option<f64>], judges: &Judges| {
            let mut ends = self.channels.iter().zip(readings);
            judges.short || ends.any(|(c, r)| judges.hold[*c] && r.is_none())
        };
        silent(before, judges[0]) || silent(now, judges[1])
    }

    /// The part of the step during which every channel that judges and speaks at both ends is in range.
    fn known_part(
        &self,
        before: &[Option<f64>],
        now: &[Option<f64>],
        judges: [&Judges; 2],
    ) -> Option<Part> {
        let ends = before.iter().zip(now).zip(&self.channels);
        ends.map(|((a, b), c)| {
            let judged = |end: usize, r: &Option<f64>| r.filter(|_| judges[end].hold[*c]);
            (judged(0, a), judged(1, b))
        })
        .try_fold(WHOLE, |part, ends| {
            let own = match ends {
                (Some(a), Some(b)) => self.range.part_inside(a, b)?,
                (Some(only), None) | (None, Some(only)) => self.range.part_inside(only, only)?,
                (None, None) => WHOLE,
            };
            let both = Part {
                from: part.from.max(own.from),
                to: part.to.min(own.to),
            };
            (both.from < both.to).then_some(both)
        })
    }
}

impl Range {
    /// The same range, wider at each end.
    pub fn wider_by(self, k: f64) -> Range {
        Range {
            low_c: self.low_c.map(|c| c - k),
            high_c: self.high_c.map(|c| c + k),
        }
    }

    /// Where the straight line from `a` to `b` is inside.
    fn part_inside(&self, a: f64, b: f64) -> Option<Part> {
        let mut part = WHOLE;
        let crossing = |level: f64| (level - a) / (b - a);
        for (level, sign) in [(self.low_c, 1.0), (self.high_c, -1.0)] {
            let Some(level) = level else { continue };
            let (a_inside, b_inside) = (sign * (a - level) >= 0.0, sign * (b - level) >= 0.0);
            match (a_inside, b_inside) {
                (true, true) => {}
                (true, false) => part.to = part.to.min(crossing(level)),
                (false, true) => part.from = part.from.max(crossing(level)),
                (false, false) => return None,
            }
        }
        (part.from < part.to).then_some(part)
    }
}

impl Runs {
    fn count_part(&mut self, part: Option<Part>, began_s: f64, length_s: f64) {
        let Some(part) = part else { return self.end() };
        if part.from > 0.0 || !self.alive {
            self.alive = true;
            self.run_s = 0.0;
            self.begun_s = began_s + part.from * length_s;
            self.begun_step_s = length_s;
            self.count += 1;
        }
        let lasted_s = (part.to - part.from) * length_s;
        self.run_s += lasted_s;
        self.total_s += lasted_s;
        self.part_total_s += lasted_s;
        self.part_longest_s = self.part_longest_s.max(self.run_s);
        if self.run_s > self.longest_s {
            self.longest_s = self.run_s;
            self.longest_from_s = self.begun_s;
            self.longest_step_s = self.begun_step_s.max(length_s);
        }
        if part.to < 1.0 {
            self.end();
        }
    }

    fn end(&mut self) {
        self.alive = false;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const RANGE: Range = Range {
        low_c: Some(600.0),
        high_c: Some(650.0),
    };

    #[test]
    fn crossings_are_interpolated() {
        let near = |part: Option<Part>, from: f64, to: f64| {
            let part = part.expect("some of it is inside");
            assert!(
                (part.from - from).abs() < 1e-12 && (part.to - to).abs() < 1e-12,
                "{part:?}"
            );
        };
        near(RANGE.part_inside(590.0, 610.0), 0.5, 1.0);
        near(RANGE.part_inside(640.0, 660.0), 0.0, 0.5);
        near(RANGE.part_inside(580.0, 680.0), 0.2, 0.7);
        near(RANGE.part_inside(600.0, 600.0), 0.0, 1.0);
        assert_eq!(RANGE.part_inside(500.0, 599.0), None);
    }
}
