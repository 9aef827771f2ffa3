//! Numbers of the trade that no material, no rule and no job file gives, read from `data/practice.toml`.

use std::sync::LazyLock;

use quantity::Source;
use serde::Deserialize;

/// A number with the range in which it is met, what it means, and where it comes from.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Habit {
    /// What it means.
    pub text: String,
    /// The value to use.
    pub value: f64,
    /// How low it may be.
    pub low: f64,
    /// How high it may be.
    pub high: f64,
    /// The unit of the three.
    pub unit: String,
    /// Where it comes from.
    pub source: Source,
}

/// All numbers of the file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Practice {
    /// Part of an allowed rate at which the programme runs.
    pub rate_margin: Habit,
    /// Time held beyond the required hold, in min.
    pub hold_margin_min: Habit,
    /// How long the hold clock waits for the monitors of the soak band, in h.
    pub patience_h: Habit,
    /// Heating slower than this at the limit of the source is given up, in K/h.
    pub stall_k_h: Habit,
    /// Distance between turns in mm.
    pub pitch_mm: Habit,
    /// Turns of one coil.
    pub turns: Habit,
    /// Length over height of the taper at an unequal joint.
    pub taper: Habit,
    /// How far inside the hold range a proposed coil keeps the soak band, in K.
    pub soak_margin_k: Habit,
    /// Reserve that a proposed coil leaves the source, in percent.
    pub reserve_percent: Habit,
    /// Convection in the bore.
    pub bore: BorePractice,
}

/// Convection in the bore by the state of its ends.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BorePractice {
    /// A lying pipe open at both ends.
    pub open_horizontal: BoreAir,
    /// A standing pipe open at both ends.
    pub open_vertical: BoreAir,
    /// A pipe open at one end.
    pub half_open: BoreAir,
    /// A pipe closed at both ends.
    pub closed: BoreAir,
    /// A pipe plugged at both sides.
    pub plugged: BoreAir,
}

/// How a bore gives heat to its air.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BoreAir {
    /// Heat transfer coefficient in W/(m2 K).
    pub coefficient: Habit,
    /// How far the air follows the bore under the blanket: 0 ambient, 1 the mean of the bore.
    pub warmth: Habit,
}

static PRACTICE: LazyLock<Practice> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/practice.toml")).expect("the data file is read by a test")
});

/// The numbers of the trade.
pub fn practice() -> &'static Practice {
    &PRACTICE
}

#[cfg(test)]
mod tests {
    use super::practice;

    #[test]
    fn every_value_lies_in_its_own_range() {
        let practice = practice();
        let bore = &practice.bore;
        let airs = [
            &bore.open_horizontal,
            &bore.open_vertical,
            &bore.half_open,
            &bore.closed,
            &bore.plugged,
        ];
        let mut habits = vec![
            &practice.rate_margin,
            &practice.hold_margin_min,
            &practice.patience_h,
            &practice.stall_k_h,
            &practice.pitch_mm,
            &practice.turns,
            &practice.taper,
            &practice.soak_margin_k,
            &practice.reserve_percent,
        ];
        for air in airs {
            habits.extend([&air.coefficient, &air.warmth]);
        }
        for habit in habits {
            assert!(
                habit.low <= habit.value && habit.value <= habit.high,
                "{}",
                habit.text
            );
            assert!(!habit.source.citation.is_empty());
        }
    }
}
