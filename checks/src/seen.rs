//! What was seen in a hold.

use crate::peak::Reading;
use crate::spread::{Spread, widen};

/// What was seen since the hold was last whole; it belongs to the hold only if the weld comes back.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Seen {
    pub widest: Option<Spread>,
    /// The widest after the hold has settled.
    pub settled: Option<Spread>,
    pub highest: Option<Reading>,
    pub lowest: Option<Reading>,
    pub gap_s: Option<f64>,
}

impl Seen {
    pub fn merge(&mut self, other: Seen) {
        if let Some(spread) = other.widest {
            widen(&mut self.widest, spread);
        }
        if let Some(spread) = other.settled {
            widen(&mut self.settled, spread);
        }
        if let Some(high) = other.highest
            && self.highest.is_none_or(|h| high.value_c > h.value_c)
        {
            self.highest = Some(high);
        }
        if let Some(low) = other.lowest
            && self.lowest.is_none_or(|l| low.value_c < l.value_c)
        {
            self.lowest = Some(low);
        }
        self.gap_s = self.gap_s.or(other.gap_s);
    }
}
