//! Who judges when.

use std::sync::Arc;

use crate::channel::ChannelUse;
use crate::disposition::Disposition;

/// Which channels judge at a time.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Judges {
    /// Those of the soak band, by which the hold is judged.
    pub hold: Vec<bool>,
    /// Those by which rates are judged.
    pub rate: Vec<bool>,
    /// Those that are read at all.
    pub any: Vec<bool>,
    /// Whether too few are left to judge the hold by.
    pub short: bool,
}

/// When a channel leaves, and which takes its place.
#[derive(Clone, Debug)]
struct Leave {
    channel: usize,
    from_s: f64,
    replaced_by: Option<usize>,
}

/// Keeps the set through the log.
#[derive(Clone, Debug)]
pub(crate) struct Roster {
    leaves: Vec<Leave>,
    at_start: Judges,
    /// Roles that a spare takes over.
    places: Vec<(bool, bool)>,
    fewest: usize,
    now: Arc<Judges>,
    /// The set changes next at this time.
    changes_s: f64,
}

impl Roster {
    pub fn new(channels: &[ChannelUse], dispositions: &[Disposition], fewest: usize) -> Roster {
        let number = |name: &str| channels.iter().position(|c| c.name == name);
        let leaves = dispositions.iter().filter_map(|d| {
            Some(Leave {
                channel: number(&d.channel)?,
                from_s: d.from.s(),
                replaced_by: d.replaced_by.as_deref().and_then(number),
            })
        });
        let at_start = Judges {
            hold: channels.iter().map(ChannelUse::judges_hold).collect(),
            rate: channels.iter().map(ChannelUse::judges_rate).collect(),
            any: channels.iter().map(|c| c.fitted).collect(),
            short: false,
        };
        let places = channels
            .iter()
            .map(|c| (c.holds_place(), c.rates_place()))
            .collect();
        Roster {
            leaves: leaves.collect(),
            now: Arc::new(at_start.clone()),
            at_start,
            places,
            fewest,
            changes_s: f64::NEG_INFINITY,
        }
    }

    /// A channel leaves by evidence.
    pub fn leave(&mut self, channel: usize, from_s: f64) {
        self.leaves.push(Leave {
            channel,
            from_s,
            replaced_by: None,
        });
        self.changes_s = f64::NEG_INFINITY;
    }

    /// Channels that judge the hold at any time, those that rates are judged by, spares that step in among them.
    pub fn ever(&self) -> (Vec<usize>, Vec<usize>) {
        let steps_in = |c: usize| self.leaves.iter().any(|l| l.replaced_by == Some(c));
        let of = |own: &[bool], place: fn(&(bool, bool)) -> bool| -> Vec<usize> {
            (0..own.len())
                .filter(|c| own[*c] || (steps_in(*c) && place(&self.places[*c])))
                .collect()
        };
        (
            of(&self.at_start.hold, |p| p.0),
            of(&self.at_start.rate, |p| p.1),
        )
    }

    /// The set at a time; times never go back.
    pub fn at(&mut self, time_s: f64) -> Arc<Judges> {
        if time_s >= self.changes_s {
            self.now = Arc::new(self.set_at(time_s));
            let later = self.leaves.iter().map(|l| l.from_s);
            self.changes_s = later
                .filter(|from_s| *from_s > time_s)
                .fold(f64::INFINITY, f64::min);
        }
        Arc::clone(&self.now)
    }

    fn set_at(&self, time_s: f64) -> Judges {
        let mut judges = self.at_start.clone();
        let gone = || self.leaves.iter().filter(|l| l.from_s <= time_s);
        for spare in gone().filter_map(|l| l.replaced_by) {
            let (hold, rate) = self.places[spare];
            judges.hold[spare] = hold;
            judges.rate[spare] = rate;
        }
        for leave in gone() {
            judges.hold[leave.channel] = false;
            judges.rate[leave.channel] = false;
            judges.any[leave.channel] = false;
        }
        let left = judges.hold.iter().filter(|h| **h).count();
        judges.short = left < self.fewest;
        judges
    }
}
