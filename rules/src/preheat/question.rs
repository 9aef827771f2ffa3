//! The weld as the methods ask of it, and the rows that they read.

use std::collections::BTreeMap;

use super::carbon_equivalent::{NotWorked, Worked};
use super::outcome::Missing;
use super::value::PreheatValue;
use crate::fault::{RuleError, RuleFault};
use crate::requirement::Clause;
use crate::row::{Row, Table, Value};
use crate::shelf::Shelf;
use crate::weld::{Side, Weld};
use crate::when::Fit;

/// A side with how it is called.
pub(crate) struct Named<'a> {
    pub who: String,
    pub side: &'a Side,
}

/// The sides that differ in metal or wall; one alone where they do not.
pub(crate) fn sides(weld: &Weld) -> Vec<Named<'_>> {
    let [first, second] = &weld.sides;
    let named = |who: &str, side| Named {
        who: who.into(),
        side,
    };
    match first.same_metal(second) && first.wall == second.wall {
        true => vec![named("both sides", first)],
        false => vec![named("side 1", first), named("side 2", second)],
    }
}

/// A row of a preheat method with where it stands.
pub(crate) struct MethodRow<'a> {
    pub table: &'a Table,
    edition: String,
    pub row: &'a Row,
    pub value: &'a PreheatValue,
}

impl MethodRow<'_> {
    pub(crate) fn clause(&self) -> Clause {
        self.row.clause_in(self.table, &self.edition)
    }

    /// Whether it holds for a side at a thickness in mm.
    pub(crate) fn fits(&self, side: &Side, thickness_mm: f64) -> bool {
        self.row.when.fit(side, thickness_mm) != Fit::No
    }
}

/// The newest edition of a table, which is the one that is read where the contract names none.
pub(crate) fn newest(table: &Table) -> &str {
    table.editions.last().map_or("", String::as_str)
}

/// Every row of a preheat method; the contract's own table is read in the contract's edition.
///
/// # Errors
/// A data file cannot be read, or the code of the contract is not kept.
pub(crate) fn method_rows<'a>(
    weld: &Weld,
    shelf: &'a Shelf,
) -> Result<Vec<MethodRow<'a>>, RuleError> {
    let own = shelf.table_of(&weld.code)?;
    let rows = shelf
        .tables()
        .iter()
        .flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    let edition = |table: &Table| match std::ptr::eq(table, own) {
        true => weld.code.edition.trim().to_string(),
        false => newest(table).to_string(),
    };
    Ok(rows
        .filter_map(|(table, row)| match &row.value {
            Value::Preheat(value) => Some(MethodRow {
                table,
                edition: edition(table),
                row,
                value,
            }),
            _ => None,
        })
        .collect())
}

/// A carbon equivalent by its name, at a composition, and where its formula stands.
pub(crate) fn equivalent(
    rows: &[MethodRow<'_>],
    name: &str,
    percent: &BTreeMap<String, f64>,
) -> Result<(Result<Worked, NotWorked>, Clause), RuleError> {
    let found = rows.iter().find_map(|row| match row.value {
        PreheatValue::CarbonEquivalent(formula) if formula.name == name => {
            Some((formula.at(percent), row.clause()))
        }
        _ => None,
    });
    found.ok_or_else(|| no_row(name))
}

/// A fault for a row that the data files lack.
pub(crate) fn no_row(what: &str) -> RuleError {
    RuleFault::Table {
        file: "preheat".into(),
        problem: format!("no row of {what}"),
    }
    .into()
}

/// Hydrogen of the deposited metal in ml/100 g; named as missing where it is not given.
pub(crate) fn hydrogen(weld: &Weld, missing: &mut Vec<Missing>) -> Option<f64> {
    let given = weld.welding.hydrogen_ml_100g;
    if given.is_none() {
        missing.push(Missing::new(
            "hydrogen of the deposited metal",
            "welding.hydrogen",
        ));
    }
    given
}

/// Heat input in kJ/mm; named as missing where it is not given.
pub(crate) fn heat_input(weld: &Weld, missing: &mut Vec<Missing>) -> Option<f64> {
    let given = weld.welding.heat_input_kj_mm;
    if given.is_none() {
        missing.push(Missing::new("heat input", "welding.heat_input"));
    }
    given
}

/// Measures of the welding that cannot be.
pub(crate) fn bad_measures(weld: &Weld) -> Vec<RuleFault> {
    let welding = &weld.welding;
    let numbers = [
        ("heat input", welding.heat_input_kj_mm, "kJ/mm"),
        ("hydrogen", welding.hydrogen_ml_100g, "ml/100 g"),
        ("yield strength", welding.yield_strength_mpa, "MPa"),
        (
            "combined thickness",
            welding.combined_thickness.map(|t| t.mm()),
            "mm",
        ),
    ];
    let mut faults: Vec<RuleFault> = numbers
        .into_iter()
        .filter_map(|(what, value, unit)| {
            let value = value.filter(|value| !(value.is_finite() && *value > 0.0))?;
            Some(bad(what.into(), value, unit, "it must be more than zero"))
        })
        .collect();
    let [first, second] = &weld.sides;
    for (who, percent) in [
        ("side 1", &first.chemistry),
        ("side 2", &second.chemistry),
        ("weld metal", &welding.weld_metal),
    ] {
        faults.extend(bad_contents(who, percent));
    }
    faults
}

fn bad_contents(who: &str, percent: &BTreeMap<String, f64>) -> Vec<RuleFault> {
    let bad_ones = percent
        .iter()
        .filter(|(_, value)| !(0.0..=100.0).contains(*value));
    bad_ones
        .map(|(element, value)| {
            bad(
                format!("{element} of {who}"),
                *value,
                "%",
                "it must lie between 0 and 100 %",
            )
        })
        .collect()
}

fn bad(what: String, value: f64, unit: &'static str, must: &str) -> RuleFault {
    RuleFault::BadMeasure {
        what,
        value,
        unit,
        must: must.into(),
    }
}
