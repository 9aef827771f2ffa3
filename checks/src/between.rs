//! Thermocouples that speak more slowly than the scans come: between two of their own readings they are read on the straight
//! line. A reading that is missing from the pace of a thermocouple is silence all the same.

use std::collections::VecDeque;

use crate::definitions::Definitions;
use crate::pace::Moment;

/// A step up to this many times the pace of a thermocouple belongs to it.
const OWN_PACE: f64 = 1.5;

/// The newest reading of a channel with its pace.
#[derive(Clone, Copy, Debug)]
struct Own {
    time_s: f64,
    value_c: f64,
    step_s: Option<f64>,
    /// The shorter of the last two steps.
    pace_s: Option<f64>,
}

/// Follows the pace of every channel.
#[derive(Clone, Debug)]
pub(crate) struct Between {
    longest_s: f64,
    newest: Vec<Option<Own>>,
}

impl Between {
    pub fn new(channels: usize, definitions: &Definitions) -> Between {
        Between {
            longest_s: definitions.gap_ceiling.s(),
            newest: vec![None; channels],
        }
    }

    /// Takes the next scan and fills the scans that wait before it.
    pub fn push(&mut self, moment: &Moment, waiting: &mut VecDeque<Moment>) {
        for (channel, value_c) in moment.readings_c.iter().enumerate() {
            let Some(value_c) = *value_c else { continue };
            let time_s = moment.time_s;
            let before = self.newest[channel];
            let step_s = before.map(|before| time_s - before.time_s);
            if let (Some(before), Some(step_s)) = (before, step_s) {
                let pace_s = before.pace_s.unwrap_or(0.0);
                if step_s <= (OWN_PACE * pace_s).min(self.longest_s) {
                    fill(waiting, channel, before, [time_s, value_c]);
                }
            }
            let steps_s = step_s.into_iter().chain(before.and_then(|b| b.step_s));
            self.newest[channel] = Some(Own {
                time_s,
                value_c,
                step_s,
                pace_s: steps_s.reduce(f64::min),
            });
        }
    }
}

fn fill(waiting: &mut VecDeque<Moment>, channel: usize, before: Own, [time_s, value_c]: [f64; 2]) {
    let between = waiting.iter_mut().rev();
    for moment in between.take_while(|m| m.time_s > before.time_s) {
        if moment.readings_c[channel].is_none() {
            let part = (moment.time_s - before.time_s) / (time_s - before.time_s);
            moment.readings_c[channel] = Some(before.value_c + part * (value_c - before.value_c));
            moment.filled.push(channel);
        }
    }
}
