//! Which way what was changed went, and numbers as they are told, so that a reader who computes with them finds the same.

use super::facts::Facts;

/// Shorter than this is no change of a length, in mm.
pub(super) const SAME_MM: f64 = 1.0;
/// A standoff or a blanket that changes by less has not changed, in mm.
const SAME_THICKNESS_MM: f64 = 0.2;
/// Less than this is no change of a temperature, in K.
const SAME_K: f64 = 0.5;
/// Less than this part is no change of a frequency.
const SAME_PART: f64 = 0.01;

/// Amperes as they are told.
pub(super) fn amperes(facts: &Facts) -> f64 {
    facts.current_a.round()
}

/// Kilowatts as they are told.
pub(super) fn kilowatts(w: f64) -> f64 {
    (w / 10.0).round() / 100.0
}

/// By how many percent a number changed.
pub(super) fn percent(was: f64, is: f64) -> f64 {
    100.0 * (is / was.abs().max(f64::MIN_POSITIVE) - 1.0)
}

/// Which way a quantity went: up, down or nowhere.
pub(super) fn way(by: f64, least: f64) -> i8 {
    match by {
        more if more > least => 1,
        less if less < -least => -1,
        _ => 0,
    }
}

/// Whether the turns lie farther from the metal than before, or nearer.
pub(super) fn farther(before: &Facts, now: &Facts) -> i8 {
    way(now.standoff_mm - before.standoff_mm, SAME_THICKNESS_MM)
}

/// Whether the coil is longer than before, or shorter.
pub(super) fn longer(before: &Facts, now: &Facts) -> i8 {
    way(now.span_mm() - before.span_mm(), SAME_MM)
}

/// Whether the frequency is higher than before, or lower.
pub(super) fn faster(before: &Facts, now: &Facts) -> i8 {
    way(now.frequency_hz / before.frequency_hz - 1.0, SAME_PART)
}

/// Whether the blanket is thicker than before, or thinner.
pub(super) fn thicker(before: &Facts, now: &Facts) -> i8 {
    way(now.blanket_mm - before.blanket_mm, SAME_THICKNESS_MM)
}

/// Whether the set point is higher than before, or lower.
pub(super) fn hotter(before: &Facts, now: &Facts) -> i8 {
    way(now.set_point_c - before.set_point_c, SAME_K)
}

/// Whether there are more turns than before, or fewer.
pub(super) fn more_turns(before: &Facts, now: &Facts) -> i8 {
    way(
        now.turns_mm.len() as f64 - before.turns_mm.len() as f64,
        0.5,
    )
}
