//! The highest reading, and the time spent above a limit.

use crate::pace::Moment;

/// A reading with its place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Reading {
    pub value_c: f64,
    pub time_s: f64,
    pub channel: usize,
}

/// The highest reading of all channels; spares count too, for a spare that reads above a limit read it on the pipe.
#[derive(Clone, Debug)]
pub(crate) struct PeakFold {
    /// Silence beside a reading at or above this leaves the peak unknown.
    pub hot_c: f64,
    /// Channels with a wire.
    fitted: Vec<usize>,
    /// Channels whose silence matters.
    watched: Vec<usize>,
    pub highest: Option<Reading>,
    pub last: Vec<Option<Reading>>,
    pub gap: Option<Reading>,
    fastest_k_h: f64,
    /// The highest temperature that a channel may have reached in a gap, with the reading before it.
    pub may_have_reached: Option<(f64, Reading)>,
}

impl PeakFold {
    pub fn new(
        [hot_c, fastest_k_h]: [f64; 2],
        channels: usize,
        fitted: Vec<usize>,
        watched: Vec<usize>,
    ) -> PeakFold {
        PeakFold {
            hot_c,
            fitted,
            watched,
            highest: None,
            last: vec![None; channels],
            gap: None,
            fastest_k_h,
            may_have_reached: None,
        }
    }

    /// `gaps` says for each channel whether a gap lies before its reading.
    pub fn push(&mut self, moment: &Moment, gaps: &[bool]) {
        for channel in self.fitted.clone() {
            if !moment.judges.any[channel] {
                self.last[channel] = None;
                continue;
            }
            let Some(value_c) = moment.readings_c[channel] else {
                continue;
            };
            let reading = Reading {
                value_c,
                time_s: moment.time_s,
                channel,
            };
            if self.highest.is_none_or(|h| value_c > h.value_c) {
                self.highest = Some(reading);
            }
            let before = self.last[channel].replace(reading);
            if let Some(before) =
                before.filter(|_| gaps[channel] && self.watched.contains(&channel))
            {
                self.gap_between(before, reading);
            }
        }
    }

    fn gap_between(&mut self, before: Reading, after: Reading) {
        if before.value_c.max(after.value_c) >= self.hot_c {
            self.gap.get_or_insert(before);
        }
        let room_k = self.fastest_k_h * (after.time_s - before.time_s) / 3600.0;
        let reach_c = 0.5 * (before.value_c + after.value_c + room_k);
        if self
            .may_have_reached
            .is_none_or(|(highest_c, _)| reach_c > highest_c)
        {
            self.may_have_reached = Some((reach_c, before));
        }
    }
}
