//! The median of the neighbors of each channel in one scan.

use crate::channel::ChannelUse;

/// Thermocouples of the soak band, sorted by their readings in the present scan.
#[derive(Clone, Debug)]
pub(crate) struct Neighbors {
    soak: Vec<usize>,
    sorted: Vec<(f64, usize)>,
}

impl Neighbors {
    pub fn new(channels: &[ChannelUse]) -> Neighbors {
        Neighbors {
            soak: (0..channels.len())
                .filter(|c| channels[*c].holds_place())
                .collect(),
            sorted: Vec::new(),
        }
    }

    /// Takes the readings of a scan, those only that are trusted.
    pub fn read(&mut self, trusted: impl Fn(usize) -> Option<f64>) {
        self.sorted.clear();
        let read = self.soak.iter().filter_map(|c| Some((trusted(*c)?, *c)));
        self.sorted.extend(read);
        self.sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    }

    /// The median of the thermocouples of the soak band other than this one.
    pub fn median_beside(&self, channel: usize) -> Option<f64> {
        let own = self.sorted.iter().position(|(_, c)| *c == channel);
        let count = self.sorted.len() - usize::from(own.is_some());
        let pick = |rank: usize| {
            let skips = own.is_some_and(|own| rank >= own);
            self.sorted[rank + usize::from(skips)].0
        };
        match count {
            0 => None,
            n if n % 2 == 1 => Some(pick(n / 2)),
            n => Some((pick(n / 2 - 1) + pick(n / 2)) / 2.0),
        }
    }
}
