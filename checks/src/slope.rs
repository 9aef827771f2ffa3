//! Least-squares slopes over a sliding window.

use std::collections::VecDeque;

/// One reading of one channel.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sample {
    pub time_s: f64,
    pub value_c: f64,
}

/// The straight line through samples by least squares, as running sums about an origin near them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Line {
    origin: Sample,
    count: f64,
    sum_t: f64,
    sum_y: f64,
    sum_tt: f64,
    sum_ty: f64,
}

impl Line {
    pub fn about(origin: Sample) -> Line {
        Line {
            origin,
            count: 0.0,
            sum_t: 0.0,
            sum_y: 0.0,
            sum_tt: 0.0,
            sum_ty: 0.0,
        }
    }

    pub fn add(&mut self, sample: Sample) {
        self.weigh(sample, 1.0);
    }

    pub fn remove(&mut self, sample: Sample) {
        self.weigh(sample, -1.0);
    }

    pub fn count(&self) -> usize {
        self.count as usize
    }

    /// The slope in kelvins a second; `None` for fewer than two instants.
    pub fn slope_k_s(&self) -> Option<f64> {
        let spread = self.count * self.sum_tt - self.sum_t * self.sum_t;
        (spread > 0.0).then(|| (self.count * self.sum_ty - self.sum_t * self.sum_y) / spread)
    }

    /// Root of the sum of squared distances in time from the mean.
    pub fn lever_s(&self) -> f64 {
        let spread = self.sum_tt - self.sum_t * self.sum_t / self.count.max(1.0);
        spread.max(0.0).sqrt()
    }

    fn weigh(&mut self, sample: Sample, weight: f64) {
        let t = sample.time_s - self.origin.time_s;
        let y = sample.value_c - self.origin.value_c;
        self.count += weight;
        self.sum_t += weight * t;
        self.sum_y += weight * y;
        self.sum_tt += weight * t * t;
        self.sum_ty += weight * t * y;
    }
}

/// The samples of the last `span_s` seconds with their line.
#[derive(Clone, Debug)]
pub(crate) struct SlopeWindow {
    pub span_s: f64,
    samples: VecDeque<Sample>,
    line: Option<Line>,
}

/// Sums are taken anew about a nearer origin after this many spans, so that rounding never builds up.
const SPANS_BETWEEN_FRESH_SUMS: f64 = 2.0;

impl SlopeWindow {
    pub fn new(span_s: f64) -> SlopeWindow {
        SlopeWindow {
            span_s,
            samples: VecDeque::new(),
            line: None,
        }
    }

    pub fn clear(&mut self) {
        self.samples.clear();
        self.line = None;
    }

    pub fn push(&mut self, sample: Sample) {
        self.samples.push_back(sample);
        self.line
            .get_or_insert_with(|| Line::about(sample))
            .add(sample);
        while self
            .samples
            .front()
            .is_some_and(|first| first.time_s < sample.time_s - self.span_s)
        {
            if let (Some(old), Some(line)) = (self.samples.pop_front(), self.line.as_mut()) {
                line.remove(old);
            }
        }
        self.freshen(sample.time_s);
    }

    pub fn line(&self) -> Option<Line> {
        self.line
    }

    pub fn first(&self) -> Option<Sample> {
        self.samples.front().copied()
    }

    /// The last sample that is no further than this from the first.
    pub fn last_near_first(&self, level_k: f64) -> Option<Sample> {
        let first = self.first()?;
        let near = |s: &&Sample| (s.value_c - first.value_c).abs() <= level_k;
        self.samples.iter().rev().find(near).copied()
    }

    /// Means over the four quarters of the time that the samples span; `None` where a quarter is empty.
    pub fn quarter_means(&self) -> Option<[f64; 4]> {
        let (first_s, last_s) = (self.first()?.time_s, self.samples.back()?.time_s);
        let quarter_s = (last_s - first_s) / 4.0;
        let mut sums = [(0.0, 0.0); 4];
        for sample in &self.samples {
            let quarter = ((sample.time_s - first_s) / quarter_s) as usize;
            let sum = &mut sums[quarter.min(3)];
            *sum = (sum.0 + sample.value_c, sum.1 + 1.0);
        }
        let filled = sums.iter().all(|s| s.1 > 0.0);
        filled.then(|| sums.map(|s| s.0 / s.1))
    }

    pub fn len(&self) -> usize {
        self.samples.len()
    }

    fn freshen(&mut self, now_s: f64) {
        let stale =
            |line: &Line| now_s - line.origin.time_s > SPANS_BETWEEN_FRESH_SUMS * self.span_s;
        if !self.line.as_ref().is_some_and(stale) {
            return;
        }
        self.line = self.samples.front().map(|first| {
            let mut line = Line::about(*first);
            self.samples.iter().for_each(|s| line.add(*s));
            line
        });
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Rounding of the running sums against sums taken at once; slopes here are of order 0.1 K/s.
    const ROUNDING_K_S: f64 = 1e-9;

    proptest! {
        #[test]
        fn running_sums_equal_sums_taken_at_once(
            readings in prop::collection::vec((1.0_f64..300.0, 0.0_f64..900.0), 2..200),
        ) {
            let mut window = SlopeWindow::new(1800.0);
            let mut time_s = 0.0;
            for (step_s, value_c) in readings {
                time_s += step_s;
                window.push(Sample { time_s, value_c });
                let mut at_once = Line::about(window.samples[0]);
                window.samples.iter().for_each(|s| at_once.add(*s));
                if window.len() > 2 {
                    let running = window.line().and_then(|l| l.slope_k_s()).unwrap_or(f64::NAN);
                    let fresh = at_once.slope_k_s().unwrap_or(f64::NAN);
                    prop_assert!((running - fresh).abs() < ROUNDING_K_S, "{running} {fresh}");
                }
            }
        }
    }
}
