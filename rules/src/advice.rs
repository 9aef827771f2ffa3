//! What no number says: what the code and the trade tell of a heat, and what is heeded while it is set up.

use crate::fault::RuleError;
use crate::joint::JointForm;
use crate::requirement::Remark;
use crate::row::{Row, Table, TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::{Side, Weld};
use crate::when::Fit;

/// Name of the table on bands, coils, thermocouples and blankets.
const SETTING_UP: &str = "Local heating";

/// What the contract's code and the practice tell of the heat for these metals.
///
/// # Errors
/// The code or its edition is not kept, a confirmation cannot be, a data file cannot be read.
pub fn advice(weld: &Weld) -> Result<Vec<Remark>, RuleError> {
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let own = shelf.table_of(&weld.code)?;
    let mut advice = of_table(weld, own, weld.code.edition.trim(), |_| true);
    advice.extend(of_table(weld, shelf.practice()?, "", |_| true));
    Ok(advice)
}

/// What is heeded while bands, coil, thermocouples and blanket are set up. `particular`: only what follows from the form, the
/// direction or the walls of this weld, and not what holds for every one.
///
/// # Errors
/// A confirmation cannot be, a data file cannot be read.
pub fn setting_up(weld: &Weld, particular: bool) -> Result<Vec<Remark>, RuleError> {
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let mut tables = shelf.of_kind(TableKind::Practice);
    let table = tables.find(|table| table.code == SETTING_UP);
    let asked = |row: &Row| !particular || is_particular(row);
    Ok(table.map_or_else(Vec::new, |table| of_table(weld, table, "", asked)))
}

fn is_particular(row: &Row) -> bool {
    row.when.orientation.is_some()
        || row.asked_if.walls_differ.is_some()
        || row.when.joints == [JointForm::Branch]
}

fn of_table(
    weld: &Weld,
    table: &Table,
    edition: &str,
    asked: impl Fn(&Row) -> bool,
) -> Vec<Remark> {
    let rows = table.rows.iter().filter(|row| {
        row.purpose == weld.purpose && asked(row) && row.is_on() && row.is_asked(weld) && {
            let holds = |side: &Side| {
                row.when.fit(side, side.wall.mm()) != Fit::No
                    && row
                        .when
                        .fits_pipe(side.outside_diameter.mm(), weld.orientation)
            };
            row.when.fits_edition(edition) && weld.sides.iter().any(holds)
        }
    });
    rows.filter_map(|row| match &row.value {
        Value::Advice(text) => Some(Remark {
            text: text.clone(),
            clause: Some(row.clause_in(table, edition)),
        }),
        _ => None,
    })
    .collect()
}
