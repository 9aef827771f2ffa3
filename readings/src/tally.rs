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
    channel: usize,
    why: Why,
    found: String,
    line: usize,
    count: usize,
}

/// The counts of a file.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    counts: Vec<Count>,
}

/// Different things kept a channel; more are counted under the last.
const KEPT: usize = 8;

impl Tally {
    pub fn count(&mut self, channel: usize, why: Why, found: &str, line: usize) {
        let of_channel = |c: &&mut Count| c.channel == channel && c.why == why;
        let full = self
            .counts
            .iter()
            .filter(|c| c.channel == channel && c.why == why)
            .count()
            >= KEPT;
        let mut same = self.counts.iter_mut().filter(of_channel);
        let known = match full {
            true => same.next_back(),
            false => same.find(|c| c.found == found),
        };
        match known {
            Some(known) => known.count += 1,
            None => self.counts.push(Count {
                channel,
                why,
                found: found.to_string(),
                line,
                count: 1,
            }),
        }
    }

    /// The complaints with their lines.
    pub fn complaints(self, names: &[String]) -> Vec<(usize, ComplaintKind)> {
        let complaint = |c: Count| {
            let channel = names[c.channel].clone();
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
        self.counts.into_iter().map(complaint).collect()
    }
}
