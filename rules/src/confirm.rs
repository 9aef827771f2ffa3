//! What the user read in the document himself: rows that he confirms as they stand, or enters with his own value.

use quantity::{Status, Units};

use crate::column::UsColumn;
use crate::fault::{RuleError, RuleFault};
use crate::row::{Row, Table, Value};

/// The user's word on one row.
#[derive(Clone, Debug, PartialEq)]
pub struct Confirmation {
    /// The row's id.
    pub row: String,
    /// What the document says, where it is not what the row says; written as in the data files of the rules.
    pub value: Option<Value>,
    /// The units of the column in which that value was read.
    pub units: Units,
    /// Who read it.
    pub by: String,
    /// The date on which it was read, as it was written.
    pub on: String,
    /// Where it was read, and what else a reader should know.
    pub note: Option<String>,
}

/// Takes every confirmation into the tables; `units` are those of the messages.
///
/// # Errors
/// Every confirmation that cannot be, all at once.
pub(crate) fn apply(
    tables: &mut [Table],
    confirmed: &[Confirmation],
    units: Units,
) -> Result<(), RuleError> {
    let refused = |one: &Confirmation| match find(tables, &one.row) {
        None => Some(RuleFault::UnknownRow {
            row: one.row.clone(),
        }),
        Some(row) => refusal(row, one, units),
    };
    let faults: Vec<RuleFault> = confirmed.iter().filter_map(refused).collect();
    if !faults.is_empty() {
        return Err(RuleError { faults });
    }
    for table in tables {
        table.rows.retain(|row| !is_relieved(row, confirmed));
        for row in &mut table.rows {
            if let Some(one) = confirmed.iter().find(|one| one.row == row.id) {
                take(row, one);
            }
        }
    }
    Ok(())
}

fn find<'a>(tables: &'a [Table], id: &str) -> Option<&'a Row> {
    let mut rows = tables.iter().flat_map(|table| &table.rows);
    rows.find(|row| row.id == id)
}

/// A row that stands in for one that is off goes when that one is confirmed.
fn is_relieved(row: &Row, confirmed: &[Confirmation]) -> bool {
    let stands_in = row.stands_in_for.as_ref();
    stands_in.is_some_and(|absent| confirmed.iter().any(|one| one.row == *absent))
}

/// Why a row does not take a confirmation, if it does not.
fn refusal(row: &Row, one: &Confirmation, units: Units) -> Option<RuleFault> {
    let value = one.value.as_ref()?;
    let refused = |problem: String, allowed: String| {
        Some(RuleFault::NotConfirmable {
            row: row.id.clone(),
            problem,
            allowed,
        })
    };
    if row.status == Status::Verified && row.verified_in.is_empty() {
        let problem = format!("the row was read and says {}", row.value.words(units));
        return refused(
            problem,
            "no value of your own; a stricter one is the owner's or the procedure's".into(),
        );
    }
    if value.name() != row.value.name() {
        return refused(
            format!("a {} for a row of {}", value.name(), row.value.name()),
            format!("a value like {}", row.value.words(units)),
        );
    }
    let problem = value.unsound()?;
    refused(problem, format!("a sound value in {}", row.value.unit()))
}

/// A clause that was read stands in both columns; a number that was entered stands in its own, and takes the place of the
/// other too.
fn take(row: &mut Row, one: &Confirmation) {
    let shipped = row.value.words(one.units);
    let said = match &one.value {
        None => format!("confirmed by {} on {}", one.by, one.on),
        Some(_) => format!("entered by {} on {}, not {shipped}", one.by, one.on),
    };
    let said = |note: Option<String>| {
        let parts = [Some(said.clone()), one.note.clone(), note];
        Some(parts.into_iter().flatten().collect::<Vec<_>>().join("; "))
    };
    row.note = said(row.note.take());
    row.status = Status::UserGiven;
    row.acts_while_unsure = false;
    row.verified_in.clear();
    if let Some(us) = &mut row.us {
        us.note = us.note.take().and_then(|note| said(Some(note)));
        us.status = Status::UserGiven;
        us.verified_in.clear();
    }
    if let Some(value) = &one.value {
        row.value = value.clone();
        row.us = match one.units {
            Units::Si => None,
            Units::Us => Some(UsColumn {
                unit: value.us_unit().to_owned(),
                status: Status::UserGiven,
                verified_in: Vec::new(),
                when: row.us.take().map_or(row.when.clone(), |us| us.when),
                value: one.value.clone(),
                note: None,
            }),
        };
    }
}
