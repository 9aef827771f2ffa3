//! What a logger keeps of a run: rows with a clock, in steps of its resolution.

use jiff::ToSpan;
use jiff::civil::DateTime;

use crate::chance::Chance;
use crate::fault::{Fault, Shown};
use crate::situation::{Channel, Situation};

/// What a logger keeps of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Recording {
    /// Names of the channels.
    pub channels: Vec<String>,
    /// Seconds by which the clock on the wall is ahead of universal time at the start.
    pub ahead_of_utc_s: i64,
    /// The rows by rising time.
    pub rows: Vec<Row>,
    /// Words by rising time: seconds since the start, text.
    pub events: Vec<(u64, String)>,
}

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Seconds since the start.
    pub elapsed_s: u64,
    /// Seconds since the start by a clock that people set, summer time left out.
    pub told_s: i64,
    /// What the clock of the logger shows.
    pub clock: DateTime,
    /// What each channel shows.
    pub shown: Vec<Shown>,
    /// Power of each zone in kW.
    pub power_kw: Vec<f64>,
}

impl Situation {
    /// What a logger keeps of it.
    pub fn record(&self) -> Recording {
        let mut chances: Vec<Chance> = (0..self.channels.len())
            .map(|i| Chance::new(self.logging.seed.wrapping_add(i as u64 * 7919)))
            .collect();
        let rows = self
            .times_s()
            .into_iter()
            .map(|elapsed_s| self.row(elapsed_s, &mut chances))
            .collect();
        let event =
            |(at_h, text): &(f64, &str)| ((at_h * 3600.0).round() as u64, (*text).to_owned());
        Recording {
            channels: self.channels.iter().map(|c| c.name.clone()).collect(),
            ahead_of_utc_s: self.logging.ahead_of_utc_s,
            rows,
            events: self.events.iter().map(event).collect(),
        }
    }

    fn row(&self, elapsed_s: u64, chances: &mut [Chance]) -> Row {
        let hours = elapsed_s as f64 / 3600.0;
        let done = self.logging.clock_changes.iter().filter(|c| hours >= c.0);
        let (summer_time, by_hand): (Vec<i64>, Vec<i64>) =
            done.map(|c| c.1).partition(|by_s| by_s.abs() == 3600);
        let told_s = elapsed_s as i64 + by_hand.iter().sum::<i64>();
        let moved_s = told_s + summer_time.iter().sum::<i64>();
        let shown = self.channels.iter().zip(chances);
        Row {
            elapsed_s,
            told_s,
            clock: self.logging.start.saturating_add(moved_s.seconds()),
            shown: shown
                .map(|(c, chance)| self.shown(c, hours, chance))
                .collect(),
            power_kw: match self.power_is_off(hours) {
                true => vec![0.0; self.power_kw.len()],
                false => self.power_kw.iter().map(|line| line.at(hours)).collect(),
            },
        }
    }

    /// Whether the power is taken away, to see what the coil adds to a reading.
    fn power_is_off(&self, hours: f64) -> bool {
        let faults = self.channels.iter().flat_map(|c| &c.faults);
        faults.into_iter().any(|fault| match fault {
            Fault::Pickup { off, .. } => off.iter().any(|s| (s.0..s.1).contains(&hours)),
            _ => false,
        })
    }

    fn shown(&self, channel: &Channel, hours: f64, chance: &mut Chance) -> Shown {
        let draw = chance.normal();
        let mut deviation_k = self.logging.deviation_k;
        let mut value = channel.metal.at(hours);
        for fault in &channel.faults {
            let Some(changed) = fault.changes(&channel.metal, hours, value) else {
                return Shown::Open;
            };
            value = changed;
            deviation_k = deviation_k.hypot(fault.deviation_k(hours));
            if fault.freezes(hours) {
                deviation_k = 0.0;
            }
        }
        let step = f64::from(self.logging.step_tenths);
        let steps = ((value + deviation_k * draw) * 10.0 / step).round();
        Shown::Tenths((steps * step) as i32)
    }

    /// Seconds since the start at which a row is kept.
    fn times_s(&self) -> Vec<u64> {
        let mut times = Vec::new();
        let mut at_s = 0;
        for pace in &self.logging.paces {
            let until_s = (pace.until_h * 3600.0).round() as u64;
            while at_s < until_s {
                times.push(at_s);
                at_s += pace.interval_s;
            }
        }
        times.push(at_s);
        let kept = |s: &u64| {
            let hours = *s as f64 / 3600.0;
            !self
                .logging
                .pauses
                .iter()
                .any(|p| p.0 < hours && hours < p.1)
        };
        times.retain(kept);
        times
    }
}
