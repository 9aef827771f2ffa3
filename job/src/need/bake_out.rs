//! The hydrogen bake-out of a weld, and what a predicted cycle leaves.

use quantity::{Celsius, Hours};
use rules::RuleError;
use rules::bake_out::{BakeOut, OfWeld, bake_out, of_weld};
use rules::weld::Weld;
use serde::Serialize;

/// The bake-out of a weld.
#[derive(Clone, Debug, Serialize)]
pub struct BakeOutNeed {
    /// What is asked, and why.
    pub of_weld: OfWeld,
    /// The answer.
    pub answer: BakeOut,
}

/// The bake-out of a weld at the temperature in use for its metal; along a history, where there is one.
///
/// # Errors
/// Confirmations that cannot be, measures that cannot be, data files that cannot be read.
pub fn bake_out_need(
    weld: &Weld,
    history: Vec<(Hours, Celsius)>,
) -> Result<BakeOutNeed, RuleError> {
    let of_weld = of_weld(weld)?;
    let mut asked = of_weld.asked.clone();
    asked.history = history;
    Ok(BakeOutNeed {
        answer: bake_out(weld, &asked)?,
        of_weld,
    })
}
