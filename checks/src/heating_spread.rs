//! The largest difference between near places while heating.

use crate::pace::Moment;
use crate::peak::Reading;
use crate::spread::{Spread, spread_of, widen};

/// Follows pairs of channels no further apart than a limit says.
#[derive(Clone, Debug)]
pub(crate) struct HeatingSpreadFold {
    pub within_mm: f64,
    /// Channel and its distance along the pipe, ascending by distance.
    places: Vec<(usize, f64)>,
    pub widest: Option<Spread>,
}

impl HeatingSpreadFold {
    pub fn new(within_mm: f64, mut places: Vec<(usize, f64)>) -> HeatingSpreadFold {
        places.sort_by(|a, b| a.1.total_cmp(&b.1));
        HeatingSpreadFold {
            within_mm,
            places,
            widest: None,
        }
    }

    /// Takes a scan of the heating stage.
    pub fn push(&mut self, moment: &Moment) {
        for (first, (_, from_mm)) in self.places.iter().enumerate() {
            let near: Vec<Reading> = self.places[first..]
                .iter()
                .take_while(|(_, at_mm)| at_mm - from_mm <= self.within_mm)
                .filter(|(channel, _)| moment.judges.hold[*channel])
                .filter_map(|(channel, _)| {
                    let value_c = moment.readings_c[*channel]?;
                    Some(Reading {
                        value_c,
                        time_s: moment.time_s,
                        channel: *channel,
                    })
                })
                .collect();
            if let Some(spread) = spread_of(&near) {
                widen(&mut self.widest, spread);
            }
            let last_mm = self.places.last().map_or(0.0, |p| p.1);
            if last_mm - from_mm <= self.within_mm {
                break;
            }
        }
    }
}
