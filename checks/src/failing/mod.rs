//! Thermocouples that fail, found while the scans come.
//!
//! Every level here is a proposal of the project, stated in the definitions; no standard that we know sets one. A
//! thermocouple is compared with the median of its neighbors, never judged by its own steadiness alone: at a hold an
//! honest one may keep its value for an hour.

mod drift;
mod ends;
mod jump;
mod neighbors;
mod noise;
mod pickup;
mod reversed;
mod short;
mod stuck;

use crate::channel::ChannelUse;
use crate::definitions::Definitions;
use crate::event::{Event, Happening};
use crate::failure::{Failing, FailureKind};
use crate::pace::Moment;
use crate::slope::Sample;

use neighbors::Neighbors;

/// What an eye has seen: when it began, and the words for it.
pub(crate) struct Seen {
    pub first_s: f64,
    pub evidence: String,
}

/// Watches one channel for every kind of failure.
#[derive(Clone, Debug)]
struct Eyes {
    watched: bool,
    blind: bool,
    seen: Vec<FailureKind>,
    ends: ends::Ends,
    short: short::Short,
    stuck: stuck::Stuck,
    reversed: reversed::Reversed,
    noise: noise::Noise,
    jump: jump::Jump,
    drift: drift::Drift,
    pickup: pickup::Pickup,
}

/// Watches all channels.
#[derive(Clone, Debug)]
pub(crate) struct Watch {
    eyes: Vec<Eyes>,
    neighbors: Neighbors,
    noise_levels_k: Vec<Option<f64>>,
}

impl Watch {
    pub fn new(channels: &[ChannelUse], definitions: &Definitions) -> Watch {
        Watch {
            eyes: channels.iter().map(|c| Eyes::new(c, definitions)).collect(),
            neighbors: Neighbors::new(channels),
            noise_levels_k: vec![None; channels.len()],
        }
    }

    /// Takes the next scan with what happened up to it; readings at the end of the instrument's range become silence.
    pub fn push(&mut self, moment: &mut Moment, happened: &[Event]) -> Vec<Failing> {
        let mut found = Vec::new();
        let checked = happened.iter().any(|e| e.what == Happening::PowerOffCheck);
        for (channel, eyes) in self.eyes.iter_mut().enumerate() {
            if let Some(value_c) = moment.readings_c[channel].filter(|_| eyes.watched)
                && eyes.ends.at_end(value_c)
            {
                moment.readings_c[channel] = None;
                let seen = eyes.ends.push(moment.time_s, value_c);
                eyes.report(seen, FailureKind::Open, channel, moment.time_s, &mut found);
            } else if moment.readings_c[channel].is_some() {
                eyes.ends.spoke();
            }
        }
        let trusted = |c: usize| moment.readings_c[c].filter(|_| !self.eyes[c].blind);
        self.neighbors.read(trusted);
        let stretches = self.listen(moment);
        for (channel, stretch) in stretches.into_iter().enumerate() {
            let others_c = self.neighbors.median_beside(channel);
            let Some(value_c) = moment.readings_c[channel] else {
                continue;
            };
            let sample = Sample {
                time_s: moment.time_s,
                value_c,
            };
            let wild = stretch.and_then(|stretch| {
                let others_k = self.others_noise_k(channel);
                self.eyes[channel].noise.wild(stretch, others_k)
            });
            let eyes = &mut self.eyes[channel];
            if eyes.watched && !eyes.blind {
                eyes.report(wild, FailureKind::Noisy, channel, moment.time_s, &mut found);
                eyes.look(channel, sample, others_c, checked, &mut found);
            }
        }
        found
    }

    /// Takes the scatter of every channel before any is compared with the others.
    fn listen(&mut self, moment: &Moment) -> Vec<Option<(f64, f64)>> {
        let time_s = moment.time_s;
        let mut stretches = vec![None; self.eyes.len()];
        for (channel, eyes) in self.eyes.iter_mut().enumerate() {
            let heard = moment.readings_c[channel].filter(|_| eyes.watched && !eyes.blind);
            if let Some(value_c) = heard {
                stretches[channel] = eyes.noise.push(Sample { time_s, value_c });
                self.noise_levels_k[channel] = eyes.noise.level_k();
            }
        }
        stretches
    }

    /// Noise of a channel over the log so far, as a standard deviation; `None` where no stretch was long enough.
    pub fn noise_k(&self, channel: usize) -> Option<f64> {
        self.eyes[channel].noise.mean_k()
    }

    /// Readings kept in memory.
    pub fn retained(&self) -> usize {
        self.eyes
            .iter()
            .map(|e| e.noise.retained() + e.drift.retained() + e.jump.retained())
            .sum()
    }

    /// Median noise of the other channels.
    fn others_noise_k(&self, channel: usize) -> Option<f64> {
        let levels = self.noise_levels_k.iter().enumerate();
        let mut others: Vec<f64> = levels
            .filter(|(c, _)| *c != channel)
            .filter_map(|(_, k)| *k)
            .collect();
        median(&mut others)
    }
}

impl Eyes {
    fn new(channel: &ChannelUse, definitions: &Definitions) -> Eyes {
        let soak_band = channel.holds_place();
        Eyes {
            watched: channel.fitted,
            blind: false,
            seen: Vec::new(),
            ends: ends::Ends::new(definitions),
            short: short::Short::new(soak_band, definitions),
            stuck: stuck::Stuck::new(soak_band, definitions),
            reversed: reversed::Reversed::new(definitions),
            noise: noise::Noise::new(definitions),
            jump: jump::Jump::new(definitions),
            drift: drift::Drift::new(definitions),
            pickup: pickup::Pickup::new(definitions),
        }
    }

    fn look(
        &mut self,
        channel: usize,
        sample: Sample,
        others_c: Option<f64>,
        checked: bool,
        found: &mut Vec<Failing>,
    ) {
        use FailureKind::*;
        let now_s = sample.time_s;
        let seen = self.pickup.push(sample, checked);
        self.report(seen, Pickup, channel, now_s, found);
        let Some(others_c) = others_c else { return };
        let seen = self.short.push(sample, others_c);
        self.report(seen, Short, channel, now_s, found);
        let seen = self.reversed.push(sample, others_c);
        self.report(seen, Reversed, channel, now_s, found);
        let seen = self.stuck.push(sample, others_c);
        self.report(seen, Stuck, channel, now_s, found);
        let noise_k = self.noise.mean_k().unwrap_or(0.0);
        let seen = self.jump.push(sample, others_c, noise_k);
        self.report(seen, Detached, channel, now_s, found);
        if self.jump.waits() {
            self.drift.begin_anew();
        }
        let seen = self.drift.push(sample, others_c);
        self.report(seen, Drifting, channel, now_s, found);
    }

    /// Each kind is reported once a channel, and nothing behind a blind one.
    fn report(
        &mut self,
        seen: Option<Seen>,
        kind: FailureKind,
        channel: usize,
        now_s: f64,
        found: &mut Vec<Failing>,
    ) {
        let Some(seen) = seen else { return };
        if self.blind || self.seen.contains(&kind) {
            return;
        }
        self.seen.push(kind);
        self.blind |= kind.blind();
        found.push(Failing {
            channel,
            kind,
            first_s: seen.first_s,
            found_s: now_s,
            evidence: seen.evidence,
            acts_from_s: None,
        });
    }
}

/// The median of values; it sorts them.
pub(crate) fn median(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    match values.len() {
        0 => None,
        n if n % 2 == 1 => Some(values[middle]),
        _ => Some((values[middle - 1] + values[middle]) / 2.0),
    }
}
