//! The running median: what single spikes do not move.

use std::collections::VecDeque;

use crate::definitions::Definitions;
use crate::failing::median;
use crate::failure::Failing;
use crate::pace::Moment;

/// A centered running median over readings of one channel, symmetric, never across a gap.
#[derive(Clone, Debug)]
pub(crate) struct Filter {
    half_count: usize,
    half_span_s: f64,
    /// Scans already judged, newest last.
    behind: VecDeque<Moment>,
}

/// Readings on both sides of one, and room to sort them.
#[derive(Default)]
struct Around {
    before: Vec<f64>,
    after: Vec<f64>,
    values: Vec<f64>,
}

impl Filter {
    pub fn new(definitions: &Definitions) -> Filter {
        Filter {
            half_count: definitions.filter_readings / 2,
            half_span_s: definitions.filter_span.s() / 2.0,
            behind: VecDeque::new(),
        }
    }

    pub fn retained(&self) -> usize {
        self.behind.iter().map(|m| m.readings_c.len()).sum()
    }

    /// The scan with the medians in place of its readings; `ahead` are the scans behind it in time, and what is known
    /// to be no reading of the metal in them is left out.
    pub fn filtered(
        &self,
        moment: &Moment,
        ahead: &VecDeque<Moment>,
        failing: &[Failing],
    ) -> Moment {
        let mut around = Around::default();
        let readings_c = (0..moment.readings_c.len())
            .map(|c| self.median_at(c, moment, ahead, failing, &mut around))
            .collect();
        Moment {
            readings_c,
            ..moment.clone()
        }
    }

    /// Keeps a judged scan for those that follow.
    pub fn keep(&mut self, moment: Moment) {
        let now_s = moment.time_s;
        self.behind.push_back(moment);
        while self.behind.len() > self.half_count.max(1)
            && self
                .behind
                .front()
                .is_some_and(|m| now_s - m.time_s > 2.0 * self.half_span_s)
        {
            self.behind.pop_front();
        }
    }

    fn median_at(
        &self,
        channel: usize,
        moment: &Moment,
        ahead: &VecDeque<Moment>,
        failing: &[Failing],
        around: &mut Around,
    ) -> Option<f64> {
        let value_c = moment.readings_c[channel]?;
        let blind_s = failing
            .iter()
            .filter(|f| f.channel == channel && f.kind.blind())
            .filter_map(|f| f.acts_from_s)
            .fold(f64::INFINITY, f64::min);
        let gap = |m: &Moment| m.step.is_none_or(|s| s.gap);
        let near = |m: &Moment| (m.time_s - moment.time_s).abs() <= self.half_span_s;
        let Around {
            before,
            after,
            values,
        } = around;
        after.clear();
        for m in ahead {
            let enough = after.len() >= self.half_count;
            if enough || gap(m) || m.time_s >= blind_s || (!near(m) && !after.is_empty()) {
                break;
            }
            after.extend(m.readings_c[channel]);
        }
        before.clear();
        let mut torn = gap(moment);
        for m in self.behind.iter().rev() {
            let enough = before.len() >= after.len();
            if enough || torn || (!near(m) && !before.is_empty()) {
                break;
            }
            before.extend(m.readings_c[channel]);
            torn = gap(m);
        }
        let half = before.len().min(after.len());
        values.clear();
        values.extend(&before[..half]);
        values.extend(&after[..half]);
        values.push(value_c);
        median(values)
    }
}
