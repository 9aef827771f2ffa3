//! What is to be heeded while the heat is set up: of the contract's code, and of the practices of the trade.

use crate::fault::RuleError;
use crate::requirement::Remark;
use crate::row::{Table, TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::{Side, Weld};
use crate::when::Fit;

/// Everything for the weld's purpose, form, direction, walls and metals; the code's own first.
///
/// # Errors
/// The code or its edition is not kept, a confirmation cannot be, a data file cannot be read.
pub fn advice(weld: &Weld) -> Result<Vec<Remark>, RuleError> {
    let shelf = Shelf::with(&weld.confirmed)?;
    let own = shelf.table_of(&weld.code)?;
    let mut advice = of_table(weld, own, weld.code.edition.trim());
    for table in shelf.of_kind(TableKind::Practice) {
        advice.extend(of_table(weld, table, ""));
    }
    Ok(advice)
}

fn of_table(weld: &Weld, table: &Table, edition: &str) -> Vec<Remark> {
    let rows = table.rows.iter().filter(|row| {
        row.purpose == weld.purpose && row.is_on() && row.is_asked(weld) && {
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
