//! A reading that steps with the power more than its neighbors do: metal has to be heated first, a disturbance is there at
//! once.

use crate::definitions::Definitions;
use crate::pace::Moment;
use crate::words::{both_k, way};

use super::{Seen, median};

/// A change of power below this part of the largest power is no step.
const STEP_PART: f64 = 0.2;
/// Fewer steps than this prove nothing.
const FEWEST_STEPS: f64 = 4.0;
/// A disturbed one steps this many times as far as the median of the others.
const TIMES: f64 = 4.0;
/// Its step has to stand this many of its standard errors above nothing.
const ERRORS: f64 = 5.0;

/// What one channel did at the steps of its zone's power, as sums over them.
#[derive(Clone, Debug, Default)]
struct Sums {
    steps: f64,
    power_power: f64,
    power_reading: f64,
    /// With how much the reading goes on changing behind the steps: heated metal does, a disturbance does not.
    power_behind: f64,
    reading_reading: f64,
    first_s: f64,
    change_before_k: Option<f64>,
    /// The change that waits for the one behind it: time, change in K, change of power.
    waiting: Option<(f64, f64, f64)>,
    last_c: Option<f64>,
}

/// Follows every channel at the steps of the power.
#[derive(Clone, Debug)]
pub(crate) struct Steps {
    zone_of: Vec<Option<usize>>,
    step_k: f64,
    largest: Vec<f64>,
    before: Vec<Option<f64>>,
    channels: Vec<Sums>,
}

impl Steps {
    pub fn new(zone_of: Vec<Option<usize>>, zones: usize, definitions: &Definitions) -> Steps {
        Steps {
            channels: vec![Sums::default(); zone_of.len()],
            zone_of,
            step_k: definitions.signs.pickup_step.k(),
            largest: vec![0.0; zones],
            before: vec![None; zones],
        }
    }

    /// Takes a scan with the powers of its time; whether there was a step behind which a reading now stands.
    pub fn push(&mut self, moment: &Moment, powers: &[Option<f64>]) -> bool {
        for (largest, power) in self.largest.iter_mut().zip(powers) {
            *largest = power.unwrap_or(0.0).abs().max(*largest);
        }
        let broken = moment.step.is_none_or(|step| step.gap);
        let changes: Vec<Option<f64>> = powers
            .iter()
            .zip(&self.before)
            .map(|(now, before)| now.zip(*before).map(|(now, before)| now - before))
            .collect();
        self.before = powers.to_vec();
        let mut stepped = false;
        for (channel, sums) in self.channels.iter_mut().enumerate() {
            let Some(zone) = self.zone_of[channel] else {
                continue;
            };
            let least = STEP_PART * self.largest[zone];
            let power = changes[zone].filter(|_| !broken);
            stepped |= sums.push(moment.time_s, moment.readings_c[channel], power, least);
        }
        stepped
    }

    /// Channels that step with the power, each with the words for it.
    pub fn seen(&self) -> Vec<(usize, Seen)> {
        let steps_k: Vec<Option<f64>> = (0..self.channels.len()).map(|c| self.step_k(c)).collect();
        let disturbed = |channel: usize| -> Option<(usize, Seen)> {
            let step_k = steps_k[channel]?;
            let sums = &self.channels[channel];
            let mut others: Vec<f64> = (0..steps_k.len())
                .filter(|other| *other != channel)
                .filter_map(|other| steps_k[other].map(f64::abs))
                .collect();
            let others_k = median(&mut others)?;
            let clear = step_k.abs() > self.step_k + self.heats_k(channel)
                && step_k.abs() > TIMES * others_k
                && sums.steps >= FEWEST_STEPS
                && sums.clear();
            let evidence = || {
                format!(
                    "steps {} by {} at once when the power of its zone comes in full ({:.0} steps of the power), the others by {}",
                    way(step_k),
                    both_k(step_k.abs()),
                    sums.steps,
                    both_k(others_k)
                )
            };
            clear.then(|| {
                let seen = Seen {
                    first_s: sums.first_s,
                    evidence: evidence(),
                };
                (channel, seen)
            })
        };
        (0..self.channels.len()).filter_map(disturbed).collect()
    }

    /// By how much more the reading changes from scan to scan behind a step of the largest power than before it.
    fn heats_k(&self, channel: usize) -> f64 {
        let sums = &self.channels[channel];
        let largest = self.zone_of[channel].map_or(0.0, |zone| self.largest[zone]);
        (sums.power_behind / sums.power_power * largest).abs()
    }

    /// The step for the largest power.
    fn step_k(&self, channel: usize) -> Option<f64> {
        let sums = &self.channels[channel];
        let gain = (sums.power_power > 0.0).then(|| sums.power_reading / sums.power_power)?;
        Some(gain * self.largest[self.zone_of[channel]?])
    }
}

impl Sums {
    fn push(
        &mut self,
        time_s: f64,
        reading_c: Option<f64>,
        power: Option<f64>,
        least: f64,
    ) -> bool {
        let change_k = reading_c.zip(self.last_c).map(|(now, before)| now - before);
        self.last_c = reading_c;
        let waited = self.waiting.take();
        let counted = match (waited, self.change_before_k, change_k) {
            (Some((at_s, step_k, power)), Some(before_k), Some(behind_k)) => {
                self.count(at_s, power, step_k - 0.5 * (before_k + behind_k));
                self.power_behind += power * (behind_k - before_k);
                true
            }
            _ => false,
        };
        self.change_before_k = match waited {
            Some((_, step_k, _)) => Some(step_k),
            None => self.change_before_k,
        };
        match (change_k, power) {
            (Some(change_k), Some(power)) if power.abs() > least && least > 0.0 => {
                self.waiting = Some((time_s, change_k, power));
            }
            _ => self.change_before_k = change_k,
        }
        counted
    }

    fn count(&mut self, at_s: f64, power: f64, excess_k: f64) {
        if self.steps == 0.0 {
            self.first_s = at_s;
        }
        self.steps += 1.0;
        self.power_power += power * power;
        self.power_reading += power * excess_k;
        self.reading_reading += excess_k * excess_k;
    }

    fn clear(&self) -> bool {
        let gain = self.power_reading / self.power_power;
        let rest = (self.reading_reading - gain * self.power_reading).max(0.0);
        let error = (rest / (self.steps - 1.0) / self.power_power).sqrt();
        gain.abs() > ERRORS * error
    }
}
