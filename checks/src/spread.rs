//! Hottest less coldest.

use crate::peak::Reading;

/// Hottest less coldest channel in one scan.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spread {
    pub spread_k: f64,
    pub time_s: f64,
    pub hottest: usize,
    pub coldest: usize,
}

/// Keeps the wider of the two.
pub(crate) fn widen(kept: &mut Option<Spread>, other: Spread) {
    if kept.is_none_or(|k| other.spread_k > k.spread_k) {
        *kept = Some(other);
    }
}

/// The spread of readings of one scan; `None` for fewer than two.
pub(crate) fn spread_of(readings: &[Reading]) -> Option<Spread> {
    let hottest = readings
        .iter()
        .max_by(|a, b| a.value_c.total_cmp(&b.value_c))?;
    let coldest = readings
        .iter()
        .min_by(|a, b| a.value_c.total_cmp(&b.value_c))?;
    (readings.len() > 1).then_some(Spread {
        spread_k: hottest.value_c - coldest.value_c,
        time_s: hottest.time_s,
        hottest: hottest.channel,
        coldest: coldest.channel,
    })
}
