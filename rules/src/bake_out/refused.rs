//! Metal that is not baked out: it keeps its hydrogen, or the heat would harm it.

use quantity::{Hours, Units};
use serde::Serialize;

use super::answer::{Asked, by_coefficient};
use super::law::{BakeRow, laws};
use super::value::BakeOutValue;
use crate::fault::RuleError;
use crate::preheat::sides;
use crate::requirement::Clause;
use crate::weld::Weld;
use crate::when::Fit;
use crate::wording::{short, temperature};

/// A side that is not baked out.
#[derive(Clone, Debug, Serialize)]
pub struct Hopeless {
    /// Which side.
    pub who: String,
    /// Time until the share is left, by each coefficient of its kind.
    pub times: Vec<(String, Hours)>,
    /// In words, with the numbers.
    pub reason: String,
    /// Where it stands.
    pub clause: Clause,
}

/// Every side that is not baked out, with the reason.
///
/// # Errors
/// A share that does not lie between 0 and 1.
pub(super) fn hopeless(
    weld: &Weld,
    asked: &Asked,
    rows: &[BakeRow<'_>],
) -> Result<Vec<Hopeless>, RuleError> {
    let mut found = Vec::new();
    for named in sides(weld) {
        let fitting = rows
            .iter()
            .filter(|(_, row, _)| row.when.fit(named.side, named.side.wall.mm()) != Fit::No);
        for (table, row, value) in fitting {
            let metal = named.side.p_number.words();
            let (times, reason) = match value {
                BakeOutValue::Hopeless(kind) => {
                    let times: Vec<(String, Hours)> =
                        by_coefficient(asked, &laws(weld, rows, *kind))?
                            .into_iter()
                            .filter_map(|one| Some((one.metal, one.time?)))
                            .collect();
                    let reason = hopeless_words((&named.who, weld.units), &metal, asked, &times);
                    (times, reason)
                }
                BakeOutValue::NotPlanned(why) => {
                    (Vec::new(), format!("{} ({metal}): {why}", named.who))
                }
                _ => continue,
            };
            found.push(Hopeless {
                who: named.who.clone(),
                times,
                reason,
                clause: row.clause_in(table, ""),
            });
        }
    }
    Ok(found)
}

fn hopeless_words(
    (who, units): (&str, Units),
    metal: &str,
    asked: &Asked,
    times: &[(String, Hours)],
) -> String {
    let times: Vec<String> = times
        .iter()
        .map(|(metal, time)| format!("{:.0} h by the coefficient of {metal}", time.h()))
        .collect();
    let by = if times.is_empty() {
        "no coefficient holds there".to_string()
    } else {
        times.join(", ")
    };
    format!(
        "{who} ({metal}): hopeless, the metal keeps its hydrogen; at {} {} % is left {} only after {by}",
        temperature(asked.temperature.c(), units),
        short(100.0 * asked.share),
        asked.place.words()
    )
}
