//! What is taken where a file is silent, read from `data/taken.toml`.

use std::sync::LazyLock;

use quantity::Source;
use serde::Deserialize;

/// A value that is taken, with what it means and where it comes from.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(dead_code)]
pub(crate) struct Choice {
    pub text: String,
    pub value: f64,
    pub unit: String,
    pub source: Source,
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
    pub controlled_down_to_c: Choice,
}

/// The choices that ship with the program.
pub(crate) static CHOICES: LazyLock<Choices> = LazyLock::new(|| {
    toml::from_str(include_str!("../../data/taken.toml")).expect("the data file is read by a test")
});

#[cfg(test)]
mod tests {
    use super::CHOICES;

    #[test]
    fn every_choice_says_what_it_is_and_where_it_comes_from() {
        let choices = [
            &CHOICES.lead_length_mm,
            &CHOICES.hold_range_k,
            &CHOICES.controlled_down_to_c,
        ];
        assert!(
            choices
                .iter()
                .all(|c| !c.text.is_empty() && !c.unit.is_empty() && !c.source.citation.is_empty())
        );
    }
}
