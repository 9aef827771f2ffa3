//! Hottest and coldest channel of a set in one scan.

use crate::pace::Moment;
use crate::peak::Reading;

/// Hottest and coldest channel of a set in one scan.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Envelope {
    pub hottest: Reading,
    pub coldest: Reading,
}

impl Envelope {
    /// `None` where none of them spoke.
    pub fn of(moment: &Moment, channels: &[usize]) -> Option<Envelope> {
        let judging = channels.iter().filter(|c| moment.judges.hold[**c]);
        let speaking = judging.filter_map(|channel| {
            moment.readings_c[*channel].map(|value_c| Reading {
                value_c,
                time_s: moment.time_s,
                channel: *channel,
            })
        });
        let mut envelope: Option<Envelope> = None;
        for reading in speaking {
            let kept = envelope.get_or_insert(Envelope {
                hottest: reading,
                coldest: reading,
            });
            if reading.value_c > kept.hottest.value_c {
                kept.hottest = reading;
            }
            if reading.value_c < kept.coldest.value_c {
                kept.coldest = reading;
            }
        }
        envelope
    }
}
