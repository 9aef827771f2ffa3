//! Zones of the coil, each with its own power, and their power over time.

use std::collections::VecDeque;

use serde::Serialize;

/// A zone of the coil with its own power.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Zone {
    /// The name of its power in the log.
    pub power: String,
    /// The thermocouples that it heats.
    pub thermocouples: Vec<String>,
}

/// A power that is older than this says nothing any more, in s: common practice of loggers that write changes only is
/// to repeat a value at least so often (no source).
const STALE_S: f64 = 300.0;

/// The power of each zone, up to the scan that is looked at.
#[derive(Clone, Debug)]
pub(crate) struct Powers {
    ahead: Vec<VecDeque<(f64, f64)>>,
    newest: Vec<Option<(f64, f64)>>,
}

impl Powers {
    pub fn new(zones: usize) -> Powers {
        Powers {
            ahead: vec![VecDeque::new(); zones],
            newest: vec![None; zones],
        }
    }

    /// Takes a power; one earlier than the last of its zone is left out.
    pub fn note(&mut self, zone: usize, time_s: f64, power: f64) {
        let Some(ahead) = self.ahead.get_mut(zone) else {
            return;
        };
        let last_s = ahead.back().or(self.newest[zone].as_ref()).map(|p| p.0);
        if power.is_finite() && last_s.is_none_or(|last_s| time_s > last_s) {
            ahead.push_back((time_s, power));
        }
    }

    /// The power of every zone at a time.
    pub fn at(&mut self, time_s: f64) -> Vec<Option<f64>> {
        let zones = self.ahead.iter_mut().zip(&mut self.newest);
        zones
            .map(|(ahead, newest)| {
                while ahead.front().is_some_and(|next| next.0 <= time_s) {
                    *newest = ahead.pop_front();
                }
                newest
                    .filter(|(noted_s, _)| time_s - noted_s <= STALE_S)
                    .map(|(_, power)| power)
            })
            .collect()
    }

    /// Powers kept in memory.
    pub fn retained(&self) -> usize {
        self.ahead.iter().map(VecDeque::len).sum()
    }
}

/// Every fault of the zones against the names of the channels.
pub(crate) fn faults(zones: &[Zone], known: &[&str]) -> Vec<String> {
    let mut faults = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    for zone in zones {
        for name in &zone.thermocouples {
            if !known.contains(&name.as_str()) {
                faults.push(format!(
                    "the zone of {:?} names {name:?}, the channels are {}",
                    zone.power,
                    known.join(", ")
                ));
            }
            if seen.contains(&name.as_str()) {
                faults.push(format!("{name:?} stands in two zones, one heats it"));
            }
            seen.push(name);
        }
    }
    faults
}
