//! How numbers and names are written in reasons and workings.

use crate::requirement::Level;
use crate::weld::{PNumber, Purpose};

/// A number with at most one decimal, without a trailing zero.
pub(crate) fn short(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_string)
}

/// A number with up to three decimals, for coefficients.
pub(crate) fn exact(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// A purpose in words.
pub(crate) fn purpose_words(purpose: Purpose) -> &'static str {
    purpose.words()
}

/// P-number and group in words.
pub(crate) fn p_number_words(p_number: &PNumber) -> String {
    match p_number.group {
        Some(group) => format!("{} Gr. {group}", p_number.number),
        None => p_number.number.clone(),
    }
}

/// The name of a level's document where the document itself has no name.
pub(crate) fn level_words(level: Level) -> &'static str {
    match level {
        Level::Code => "the code",
        Level::Owner => "the owner's specification",
        Level::Procedure => "the procedure",
        Level::Guidance => "guidance",
    }
}
