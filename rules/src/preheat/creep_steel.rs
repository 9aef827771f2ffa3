//! EN 1011-2, creep-resisting steel: preheat by thickness and hydrogen. Its rows are unsure and act
//! all the same: they can only ask more.

use quantity::Celsius;
use serde::{Deserialize, Serialize};

use super::method_b::standing;
use super::outcome::{Method, Outcome, Standing};
use super::question::{MethodRow, Named, hydrogen, sides};
use super::value::PreheatValue;
use crate::weld::Weld;
use crate::wording::short;

/// Preheat and interpass temperature of a steel in °C.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CreepSteel {
    /// The steel.
    pub steel: String,
    /// With hydrogen up to 5 ml/100 g.
    pub hydrogen_to_5_c: Option<f64>,
    /// With hydrogen over 5 to 10 ml/100 g.
    pub hydrogen_over_5_to_10_c: Option<f64>,
    /// With hydrogen over 15 ml/100 g.
    pub hydrogen_over_15_c: Option<f64>,
    /// Highest interpass temperature.
    pub interpass_to_c: f64,
}

impl CreepSteel {
    /// The least preheat in °C; none where the table gives none. Between 10 and 15 ml/100 g it is silent.
    pub fn at(&self, ml_100g: f64) -> Option<f64> {
        if ml_100g <= 5.0 {
            self.hydrogen_to_5_c
        } else if ml_100g <= 10.0 {
            self.hydrogen_over_5_to_10_c
        } else if ml_100g > 15.0 {
            self.hydrogen_over_15_c
        } else {
            None
        }
    }

    pub(crate) fn words(&self) -> String {
        let cell = |c: Option<f64>| c.map_or("none given".into(), |c| format!("{} °C", short(c)));
        format!(
            "{}: to 5 ml/100 g {}, over 5 to 10 {}, over 15 {}; interpass to {} °C",
            self.steel,
            cell(self.hydrogen_to_5_c),
            cell(self.hydrogen_over_5_to_10_c),
            cell(self.hydrogen_over_15_c),
            short(self.interpass_to_c)
        )
    }
}

/// The rows of the table that hold for a side; sides of other metal have none.
pub(crate) fn methods(weld: &Weld, rows: &[MethodRow<'_>]) -> Vec<Method> {
    let mut methods = Vec::new();
    for named in sides(weld) {
        methods.extend(rows.iter().filter_map(|row| match row.value {
            PreheatValue::CreepSteel(steel) if row.fits(named.side, named.side.wall.mm()) => {
                Some(of_side(weld, rows, &named, row, steel))
            }
            _ => None,
        }));
    }
    methods
}

fn of_side(
    weld: &Weld,
    rows: &[MethodRow<'_>],
    named: &Named<'_>,
    row: &MethodRow<'_>,
    steel: &CreepSteel,
) -> Method {
    Method {
        name: "EN 1011-2 creep-resisting steel".into(),
        who: named.who.clone(),
        standing: standing(weld, rows, &row.table.code, Standing::Guidance),
        outcome: if row.row.is_on() {
            outcome(weld, steel)
        } else {
            Outcome::Off(steel.words())
        },
        range: row.row.when.words(weld.units),
        working: steel.words(),
        warnings: Vec::new(),
        clause: row.clause(),
    }
}

fn outcome(weld: &Weld, steel: &CreepSteel) -> Outcome {
    let mut missing = Vec::new();
    let Some(ml_100g) = hydrogen(weld, &mut missing) else {
        return Outcome::Missing(missing);
    };
    match steel.at(ml_100g) {
        Some(c) => Outcome::AtLeast {
            temperature: Celsius::from_c(c),
            worked_c: c,
        },
        None => Outcome::NotApplicable(format!(
            "the table gives none at {} ml/100 g",
            short(ml_100g)
        )),
    }
}
