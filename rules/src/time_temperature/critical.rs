//! The highest parameter that a code permits without proof of the properties.

use serde::Serialize;

use super::value::TimeTemperatureValue;
use crate::fault::RuleError;
use crate::preheat::sides;
use crate::requirement::Clause;
use crate::row::Value;
use crate::shelf::Shelf;
use crate::weld::Weld;
use crate::when::Fit;

/// A highest parameter for one side.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CriticalParameter {
    /// Which side.
    pub who: String,
    /// P in thousands.
    pub at_most: f64,
    /// Whether the row is used; an unsure one waits for the user's word.
    pub is_on: bool,
    /// Where it stands.
    pub clause: Clause,
}

/// The highest parameters of the contract's code for the sides of a weld; none where the code sets none.
///
/// # Errors
/// The code or its edition is not kept.
pub fn critical_parameters(weld: &Weld) -> Result<Vec<CriticalParameter>, RuleError> {
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let table = shelf.table_of(&weld.code)?;
    let mut found = Vec::new();
    for named in sides(weld) {
        let thickness_mm = named.side.wall.mm();
        for row in table
            .rows
            .iter()
            .filter(|row| row.when.fit(named.side, thickness_mm) != Fit::No)
        {
            if let Value::TimeTemperature(TimeTemperatureValue::Critical(at_most)) = row.value {
                found.push(CriticalParameter {
                    who: named.who.clone(),
                    at_most,
                    is_on: row.is_on(),
                    clause: row.clause_in(table, weld.code.edition.trim()),
                });
            }
        }
    }
    Ok(found)
}
