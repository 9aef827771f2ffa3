//! Thermocouples that fail, found while the scans come.
//!
//! Every level here is a proposal of the project, stated in the definitions; no standard that we know sets one. A
//! thermocouple is compared with the median of its neighbors, never judged by its own steadiness alone: at a hold an
//! honest one may keep its value for an hour.

mod answer;
mod drift;
mod ends;
mod jump;
mod neighbors;
mod noise;
mod pickup;
mod reversed;
mod short;
mod steps;
mod stuck;

use crate::channel::ChannelUse;
use crate::definitions::Definitions;
use crate::event::{Event, Happening};
use crate::failure::{Failing, FailureKind};
use crate::pace::Moment;
use crate::slope::Sample;
use crate::zone::{Powers, Zone};

use neighbors::Neighbors;

/// What an eye has seen: when it began, and the words for it.
pub(crate) struct Seen {
    pub first_s: f64,
    pub evidence: String,
}

/// Watches one channel for every kind of failure.
#[derive(Clone, Debug)]
struct Eyes {
    name: String,
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
    pub powers: Powers,
    answers: answer::Answers,
    steps: steps::Steps,
}

impl Watch {
    pub fn new(channels: &[ChannelUse], definitions: &Definitions) -> Watch {
        Watch {
            eyes: channels.iter().map(|c| Eyes::new(c, definitions)).collect(),
            neighbors: Neighbors::new(channels),
            noise_levels_k: vec![None; channels.len()],
            powers: Powers::new(0),
            answers: answer::Answers::new(vec![None; channels.len()], 0, 1.0),
            steps: steps::Steps::new(vec![None; channels.len()], 0, definitions),
        }
    }

    /// Thermocouples are held against the power of their zone as well.
    pub fn of_zones(&mut self, zones: &[Zone], channels: &[ChannelUse], definitions: &Definitions) {
        let zone_of = |channel: &ChannelUse| {
            let mut zones = zones.iter();
            zones.position(|zone| channel.fitted && zone.thermocouples.contains(&channel.name))
        };
        let zone_of: Vec<Option<usize>> = channels.iter().map(zone_of).collect();
        let swap_times = definitions.signs.swap_times;
        self.powers = Powers::new(zones.len());
        self.steps = steps::Steps::new(zone_of.clone(), zones.len(), definitions);
        self.answers = answer::Answers::new(zone_of, zones.len(), swap_times);
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
        self.hold_against_power(moment, &mut found);
        found
    }

    /// Looks for thermocouples that step with the power, and for those that answer the power of another zone.
    fn hold_against_power(&mut self, moment: &Moment, found: &mut Vec<Failing>) {
        let powers = self.powers.at(moment.time_s);
        if powers.is_empty() {
            return;
        }
        let time_s = moment.time_s;
        if self.steps.push(moment, &powers) {
            for (channel, seen) in self.steps.seen() {
                self.eyes[channel].report(Some(seen), FailureKind::Pickup, channel, time_s, found);
            }
        }
        if !self.answers.push(moment, &powers) {
            return;
        }
        for exchange in self.answers.exchanged() {
            for (channel, other) in
                [(0, 1), (1, 0)].map(|(i, j)| (exchange.channels[i], exchange.channels[j]))
            {
                let seen = self.exchange_seen(&exchange, other);
                self.eyes[channel].report(
                    Some(seen),
                    FailureKind::Exchanged,
                    channel,
                    time_s,
                    found,
                );
            }
        }
    }

    fn exchange_seen(&self, exchange: &answer::Exchange, other: usize) -> Seen {
        let times = match exchange.times.is_finite() {
            true => format!("{:.1} times as well as that of its own", exchange.times),
            false => "and not that of its own".into(),
        };
        Seen {
            first_s: exchange.first_s,
            evidence: format!(
                "answers the power of the zone of {}, {times}, and that one answers the power of this one's zone",
                self.eyes[other].name
            ),
        }
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
            .sum::<usize>()
            + self.powers.retained()
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
            name: channel.name.clone(),
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
