//! Time above a limit: how long, how often, by any thermocouple.

use crate::pace::Moment;

/// Follows the hottest reading of all against a limit.
#[derive(Clone, Debug)]
pub(crate) struct OverFold {
    max_c: f64,
    last_c: Option<f64>,
    above: bool,
    /// Time above, crossings interpolated; nothing is counted in a gap.
    pub total_s: f64,
    /// Times that the limit was passed.
    pub count: u64,
}

impl OverFold {
    pub fn new(max_c: f64) -> OverFold {
        OverFold {
            max_c,
            last_c: None,
            above: false,
            total_s: 0.0,
            count: 0,
        }
    }

    pub fn push(&mut self, moment: &Moment) {
        let judged = moment.readings_c.iter().zip(&moment.judges.any);
        let hottest_c = judged
            .filter_map(|(reading_c, any)| reading_c.filter(|_| *any))
            .reduce(f64::max);
        if let (Some(before_c), Some(now_c), Some(step)) = (self.last_c, hottest_c, moment.step)
            && !step.gap
        {
            self.total_s += step.length_s * part_above(before_c, now_c, self.max_c);
        }
        if let Some(now_c) = hottest_c {
            let above = now_c > self.max_c;
            self.count += u64::from(above && !self.above);
            self.above = above;
        }
        self.last_c = hottest_c;
    }
}

/// Part of a straight line that lies above a level.
fn part_above(before_c: f64, now_c: f64, level_c: f64) -> f64 {
    match (before_c > level_c, now_c > level_c) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        _ => (before_c.max(now_c) - level_c) / (now_c - before_c).abs(),
    }
}
