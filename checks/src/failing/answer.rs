//! How each thermocouple answers the power of each zone: two that were exchanged answer each other's.
//!
//! Over stretches of equal length the change of a thermocouple's rate is regressed on the changes of all powers at once, so
//! that zones which mostly move together are told apart by the rest.

use crate::pace::Moment;

/// Length of a stretch in s: the metal under a coil answers within it, the blanket does not (common practice, no source).
const STRETCH_S: f64 = 300.0;
/// Fewer changes than this prove nothing.
const FEWEST_CHANGES: f64 = 8.0;
/// A gain has to stand this many of its standard errors above the one that it is compared with.
const ERRORS: f64 = 4.0;
/// A pivot below this part of its diagonal means that zones moved in step.
const IN_STEP: f64 = 1e-6;

/// How one channel answers.
#[derive(Clone, Debug)]
struct Sums {
    changes: f64,
    /// Powers with powers, row by row.
    powers: Vec<f64>,
    /// Powers with the rate.
    with_rate: Vec<f64>,
    rate: f64,
    begun: Option<(f64, f64)>,
    last: Option<f64>,
}

/// How every channel answers.
#[derive(Clone, Debug)]
pub(crate) struct Answers {
    /// The zone of each channel.
    pub zone_of: Vec<Option<usize>>,
    zones: usize,
    swap_times: f64,
    stretch: Option<u64>,
    power_sums: Vec<(f64, u32)>,
    powers_before: Option<Vec<f64>>,
    channels: Vec<Sums>,
    first_s: Option<f64>,
}

/// Gains of one channel in K/h for a unit of power, with their standard errors.
struct Gains {
    gain: Vec<f64>,
    error: Vec<f64>,
}

/// Two channels that answer each other's zone.
pub(crate) struct Exchange {
    pub channels: [usize; 2],
    /// How many times better they answer the other's zone than their own; infinite where their own not at all.
    pub times: f64,
    pub first_s: f64,
}

impl Answers {
    pub fn new(zone_of: Vec<Option<usize>>, zones: usize, swap_times: f64) -> Answers {
        let sums = Sums {
            changes: 0.0,
            powers: vec![0.0; zones * zones],
            with_rate: vec![0.0; zones],
            rate: 0.0,
            begun: None,
            last: None,
        };
        Answers {
            channels: vec![sums; zone_of.len()],
            zone_of,
            zones,
            swap_times,
            stretch: None,
            power_sums: vec![(0.0, 0); zones],
            powers_before: None,
            first_s: None,
        }
    }

    /// Takes a scan with the powers of its time; whether a stretch ended with it.
    pub fn push(&mut self, moment: &Moment, powers: &[Option<f64>]) -> bool {
        if self.zones < 2 {
            return false;
        }
        let stretch = (moment.time_s / STRETCH_S) as u64;
        let broken = moment.step.is_some_and(|step| step.gap);
        let ended = self.stretch.is_some_and(|before| before != stretch);
        if ended {
            self.end(moment, broken);
        }
        if self.stretch != Some(stretch) {
            self.stretch = Some(stretch);
            self.begin(moment);
        }
        for (sum, power) in self.power_sums.iter_mut().zip(powers) {
            if let Some(power) = power {
                sum.0 += power;
                sum.1 += 1;
            }
        }
        ended
    }

    fn begin(&mut self, moment: &Moment) {
        self.power_sums.fill((0.0, 0));
        for (sums, reading_c) in self.channels.iter_mut().zip(&moment.readings_c) {
            sums.begun = reading_c.map(|c| (moment.time_s, c));
        }
    }

    fn end(&mut self, moment: &Moment, broken: bool) {
        let means: Option<Vec<f64>> = self
            .power_sums
            .iter()
            .map(|(sum, count)| (*count > 0 && !broken).then(|| sum / f64::from(*count)))
            .collect();
        let before = std::mem::replace(&mut self.powers_before, means.clone());
        let changes: Option<Vec<f64>> = before
            .zip(means)
            .map(|(before, now)| now.iter().zip(&before).map(|(a, b)| a - b).collect());
        for (sums, reading_c) in self.channels.iter_mut().zip(&moment.readings_c) {
            let rate = sums.begun.zip(*reading_c).filter(|_| !broken);
            let rate = rate.map(|((from_s, from_c), c)| {
                3600.0 * (c - from_c) / (moment.time_s - from_s).max(f64::MIN_POSITIVE)
            });
            let last = std::mem::replace(&mut sums.last, rate);
            if let (Some(changes), Some(change)) = (&changes, last.zip(rate).map(|(a, b)| b - a)) {
                sums.add(changes, change);
                self.first_s.get_or_insert(moment.time_s);
            }
        }
    }

    /// Channels that answer each other's zone clearly better than their own.
    pub fn exchanged(&self) -> Vec<Exchange> {
        let gains: Vec<Option<Gains>> = self.channels.iter().map(Sums::gains).collect();
        let astray: Vec<(usize, usize, usize)> = (0..self.channels.len())
            .filter_map(|channel| {
                let own = self.zone_of[channel]?;
                let other = gains[channel].as_ref()?.better_than(own)?;
                Some((channel, own, other))
            })
            .collect();
        let mut exchanges = Vec::new();
        for (index, (a, own_a, other_a)) in astray.iter().enumerate() {
            for (b, own_b, other_b) in &astray[index + 1..] {
                if own_a != other_b || own_b != other_a {
                    continue;
                }
                let (Some(gain_a), Some(gain_b)) = (&gains[*a], &gains[*b]) else {
                    continue;
                };
                let as_named = gain_a.gain[*own_a].max(0.0) + gain_b.gain[*own_b].max(0.0);
                let exchanged = gain_a.gain[*other_a] + gain_b.gain[*other_b];
                let times = exchanged / as_named;
                if times > self.swap_times {
                    exchanges.push(Exchange {
                        channels: [*a, *b],
                        times,
                        first_s: self.first_s.unwrap_or(0.0),
                    });
                }
            }
        }
        exchanges
    }
}

impl Sums {
    fn add(&mut self, powers: &[f64], rate: f64) {
        let zones = powers.len();
        for (row, a) in powers.iter().enumerate() {
            for (column, b) in powers.iter().enumerate() {
                self.powers[row * zones + column] += a * b;
            }
            self.with_rate[row] += a * rate;
        }
        self.rate += rate * rate;
        self.changes += 1.0;
    }

    fn gains(&self) -> Option<Gains> {
        let zones = self.with_rate.len();
        let free = self.changes - zones as f64;
        if self.changes < FEWEST_CHANGES || free < 1.0 {
            return None;
        }
        let inverse = inverse(&self.powers, zones)?;
        let gain: Vec<f64> = inverse
            .chunks(zones)
            .map(|row| row.iter().zip(&self.with_rate).map(|(a, b)| a * b).sum())
            .collect();
        let explained: f64 = gain.iter().zip(&self.with_rate).map(|(a, b)| a * b).sum();
        let scatter = ((self.rate - explained).max(0.0) / free).sqrt();
        let error = (0..zones).map(|z| scatter * inverse[z * zones + z].max(0.0).sqrt());
        Some(Gains {
            error: error.collect(),
            gain,
        })
    }
}

impl Gains {
    /// The zone that is answered best, where that is clearly another one.
    fn better_than(&self, own: usize) -> Option<usize> {
        let best = (0..self.gain.len()).max_by(|a, b| self.gain[*a].total_cmp(&self.gain[*b]))?;
        let error = self.error[best].hypot(self.error[own]);
        let clear = self.gain[best] > ERRORS * self.error[best]
            && self.gain[best] - self.gain[own] > ERRORS * error;
        (best != own && clear).then_some(best)
    }
}

/// Inverse of a symmetric positive matrix, row by row, by Gauss and Jordan; `None` where zones moved in step.
fn inverse(matrix: &[f64], size: usize) -> Option<Vec<f64>> {
    let mut left = matrix.to_vec();
    let mut right = vec![0.0; size * size];
    (0..size).for_each(|i| right[i * size + i] = 1.0);
    for pivot in 0..size {
        let value = left[pivot * size + pivot];
        if value <= IN_STEP * matrix[pivot * size + pivot] {
            return None;
        }
        for side in [&mut left, &mut right] {
            side[pivot * size..(pivot + 1) * size]
                .iter_mut()
                .for_each(|x| *x /= value);
        }
        for row in (0..size).filter(|row| *row != pivot) {
            let factor = left[row * size + pivot];
            for side in [&mut left, &mut right] {
                for column in 0..size {
                    side[row * size + column] -= factor * side[pivot * size + column];
                }
            }
        }
    }
    Some(right)
}
