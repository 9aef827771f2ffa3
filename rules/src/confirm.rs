//! What the user read in the document himself: rows that he confirms as they stand, or enters with his own value.

use quantity::Status;

use crate::fault::{RuleError, RuleFault};
use crate::row::{Row, Table, Value};

/// The user's word on one row.
#[derive(Clone, Debug, PartialEq)]
pub struct Confirmation {
    /// The row's id.
    pub row: String,
    /// What the document says, where it is not what the row says; written as in the data files of the rules.
    pub value: Option<Value>,
    /// Who read it.
    pub by: String,
    /// The date on which it was read, as it was written.
    pub on: String,
    /// Where it was read, and what else a reader should know.
    pub note: Option<String>,
}

/// Takes every confirmation into the tables.
///
/// # Errors
/// Every confirmation that cannot be, all at once.
pub(crate) fn apply(tables: &mut [Table], confirmed: &[Confirmation]) -> Result<(), RuleError> {
    let refused = |one: &Confirmation| match find(tables, &one.row) {
        None => Some(RuleFault::UnknownRow {
            row: one.row.clone(),
        }),
        Some(row) => refusal(row, one),
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
fn refusal(row: &Row, one: &Confirmation) -> Option<RuleFault> {
    let value = one.value.as_ref()?;
    let refused = |problem: String, allowed: String| {
        Some(RuleFault::NotConfirmable {
            row: row.id.clone(),
            problem,
            allowed,
        })
    };
    if row.status == Status::Verified && row.verified_in.is_empty() {
        let problem = format!("the row was read and says {}", row.value_words());
        return refused(
            problem,
            "no value of your own; a stricter one is the owner's or the procedure's".into(),
        );
    }
    if value.name() != row.value.name() {
        return refused(
            format!("a {} for a row of {}", value.name(), row.value.name()),
            format!("a value like {}", row.value_words()),
        );
    }
    let problem = value.unsound()?;
    refused(problem, format!("a sound value in {}", row.value.unit()))
}

fn take(row: &mut Row, one: &Confirmation) {
    let shipped = row.value_words();
    let said = match &one.value {
        None => format!("confirmed by {} on {}", one.by, one.on),
        Some(_) => format!("entered by {} on {}, not {shipped}", one.by, one.on),
    };
    let parts = [Some(said), one.note.clone(), row.note.take()];
    row.note = Some(parts.into_iter().flatten().collect::<Vec<_>>().join("; "));
    row.status = Status::UserGiven;
    row.acts_while_unsure = false;
    row.verified_in.clear();
    if let Some(value) = &one.value {
        row.value = value.clone();
    }
}
