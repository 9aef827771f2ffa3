//! Cells without a reading, counted by channel and by what stands there.

use crate::complaint::ComplaintKind;

/// Why a cell gave no reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Why {
    NoNumber,
    BadStatus,
    OutOfReach,
}

#[derive(Clone, Debug)]
struct Count {
    why: Why,
    found: String,
    line: usize,
    count: usize,
}

/// The counts of a file.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    /// Of each channel.
    counts: Vec<Vec<Count>>,
}

/// Different things kept a channel; more are counted under the last.
const KEPT: usize = 8;

impl Tally {
    pub fn count(&mut self, channel: usize, why: Why, found: &str, line: usize) {
        if self.counts.len() <= channel {
            self.counts.resize(channel + 1, Vec::new());
        }
        let counts = &mut self.counts[channel];
        let full = counts.iter().filter(|c| c.why == why).count() >= KEPT;
        let mut same = counts.iter_mut().filter(|c| c.why == why);
        let known = match full {
            true => same.next_back(),
            false => same.find(|c| c.found == found),
        };
        match known {
            Some(known) => known.count += 1,
            None => counts.push(Count {
                why,
                found: found.to_string(),
                line,
                count: 1,
            }),
        }
    }

    /// Takes the counts of a later part of the file, whose channels stand at `places`.
    pub fn append(&mut self, part: Tally, places: &[usize]) {
        for (channel, counts) in part.counts.into_iter().enumerate() {
            let place = places[channel];
            if self.counts.len() <= place {
                self.counts.resize(place + 1, Vec::new());
            }
            for count in counts {
                let same = |c: &&mut Count| c.why == count.why && c.found == count.found;
                match self.counts[place].iter_mut().find(same) {
                    Some(known) => known.count += count.count,
                    None => self.counts[place].push(count),
                }
            }
        }
    }

    /// The complaints with their lines.
    pub fn complaints(self, names: &[String]) -> Vec<(usize, ComplaintKind)> {
        let complaint = |(channel, c): (usize, Count)| {
            let channel = names[channel].clone();
            let (found, count) = (c.found, c.count);
            let kind = match c.why {
                Why::NoNumber => ComplaintKind::NoNumber {
                    channel,
                    found,
                    count,
                },
                Why::BadStatus => ComplaintKind::BadStatus {
                    channel,
                    status: found,
                    count,
                },
                Why::OutOfReach => ComplaintKind::OutOfReach {
                    channel,
                    found,
                    count,
                },
            };
            (c.line, kind)
        };
        let counts = self.counts.into_iter().enumerate();
        let each = counts.flat_map(|(channel, of)| of.into_iter().map(move |c| (channel, c)));
        each.map(complaint).collect()
    }
}
