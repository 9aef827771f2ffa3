//! What is taken where a file is silent, read from `data/taken.toml`.

use std::sync::LazyLock;

use cycle::words::quantity;
use quantity::{Source, Units};
use serde::Deserialize;

/// A value that is taken, with what it means and where it comes from.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Choice {
    pub text: String,
    pub value: f64,
    pub unit: String,
    pub source: Source,
}

impl Choice {
    /// What stands on a plan: the value, what it is, how far it can be trusted.
    pub fn words(&self, units: Units) -> String {
        format!(
            "{}, {} ({})",
            quantity(self.value, &self.unit, units),
            self.text,
            self.source.status.words()
        )
    }
}

/// All of them.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Choices {
    pub lead_length_mm: Choice,
    pub lead_exit_clock: Choice,
    pub ambient_c: Choice,
    pub recording_interval_s: Choice,
    pub heating_rate_k_h: Choice,
    pub hold_time_h: Choice,
    pub hold_range_k: Choice,
    pub preheat_margin_k: Choice,
    pub controlled_down_to_c: Choice,
}

/// The choices that ship with the program.
pub(crate) static CHOICES: LazyLock<Choices> = LazyLock::new(|| {
    toml::from_str(include_str!("../../data/taken.toml")).expect("the data file is read by a test")
});

#[cfg(test)]
mod tests {
    use quantity::Units;

    use super::CHOICES;

    #[test]
    fn every_choice_says_what_it_is_and_how_far_it_can_be_trusted() {
        let words = CHOICES.lead_length_mm.words(Units::Si);
        assert!(
            words.starts_with("5000 mm, ") && words.ends_with("(common practice, no source)"),
            "{words}"
        );
        assert!(!CHOICES.hold_range_k.source.citation.is_empty());
    }
}
