//! Taking the strictest row that holds for one side of the weld.

use quantity::Units;

use crate::book::Page;
use crate::reader::push_once;
use crate::requirement::{Clause, Level, Remark};
use crate::row::Row;
use crate::sought::Sought;
use crate::weld::{Purpose, Side};
use crate::when::Fit;

/// One side of the weld as a table is read for it.
#[derive(Clone)]
pub(crate) struct Case<'a> {
    pub page: Page<'a>,
    pub purpose: Purpose,
    pub side: &'a Side,
    /// `side 1`, or `both sides` where the metals are the same.
    pub who: String,
    pub thickness_mm: f64,
    /// The units of the messages.
    pub units: Units,
}

/// The row that governs on one side.
#[derive(Clone, Debug)]
pub(crate) struct Picked<'a> {
    pub who: String,
    pub metal: String,
    pub value: f64,
    pub level: Level,
    pub row: &'a Row,
    pub clause: Clause,
}

/// The strictest row that is on, and remarks on rows that are off or in doubt.
pub(crate) fn strictest<'a>(
    case: &Case<'a>,
    sought: Sought,
    remarks: &mut Vec<Remark>,
) -> Option<Picked<'a>> {
    let mut best: Option<Picked<'_>> = None;
    let mut values = Vec::new();
    let mut unknown = Vec::new();
    for (row, value, fit) in fitting(case, sought) {
        let clause = row.clause_in(case.page.table, case.page.edition);
        if !row.is_on() {
            push_once(remarks, switched_off(case, sought, value, clause));
            continue;
        }
        if let Fit::Maybe(names) = fit {
            unknown.extend(names);
        }
        values.push(value);
        if best
            .as_ref()
            .is_none_or(|kept| sought.stricter.is(value, kept.value))
        {
            best = Some(Picked {
                who: case.who.clone(),
                metal: case.side.p_number.words(),
                value,
                level: case.page.level_of(row),
                row,
                clause,
            });
        }
    }
    let kept = best?;
    if values.iter().any(|value| *value != kept.value) {
        push_once(
            remarks,
            stricter_taken(case, sought, &kept, &values, unknown),
        );
    }
    Some(kept)
}

/// The rows of the purpose that hold or may hold, with their values.
fn fitting<'a>(case: &Case<'a>, sought: Sought) -> Vec<(&'a Row, f64, Fit)> {
    case.page
        .rows(case.purpose)
        .filter_map(|row| {
            let value = (sought.value)(&row.value, case.thickness_mm)?;
            match row.when.fit(case.side, case.thickness_mm) {
                Fit::No => None,
                fit => Some((row, value, fit)),
            }
        })
        .collect()
}

fn switched_off(case: &Case<'_>, sought: Sought, value: f64, clause: Clause) -> Remark {
    let note = clause
        .note
        .as_ref()
        .map_or(String::new(), |note| format!(" ({note})"));
    Remark {
        text: format!(
            "{}: {} {} by {} {} is unsure and switched off until the user confirms it{note}",
            case.who,
            sought.name,
            sought.measure.words(value, case.units),
            clause.document,
            clause.clause
        ),
        clause: Some(clause),
    }
}

fn stricter_taken(
    case: &Case<'_>,
    sought: Sought,
    kept: &Picked<'_>,
    values: &[f64],
    mut unknown: Vec<String>,
) -> Remark {
    unknown.sort();
    unknown.dedup();
    let others: Vec<String> = values
        .iter()
        .filter(|value| **value != kept.value)
        .map(|v| sought.measure.bare(*v, case.units))
        .collect();
    let why = match unknown.is_empty() {
        true => "several rows hold".to_string(),
        false => format!("{} not given", unknown.join(", ")),
    };
    Remark {
        text: format!(
            "{}: {why}; the stricter {} {} is taken, not {}",
            case.who,
            sought.name,
            sought.measure.words(kept.value, case.units),
            others.join(" or ")
        ),
        clause: Some(kept.clause.clone()),
    }
}
