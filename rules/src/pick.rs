//! Taking the strictest row that holds for one side of the weld.

use crate::requirement::{Clause, Remark};
use crate::row::{Row, Table, Value};
use crate::weld::{Purpose, Side};
use crate::when::Fit;
use crate::wording::{p_number_words, short};

/// One side of the weld as a table is read for it.
#[derive(Clone, Copy)]
pub(crate) struct Case<'a> {
    pub table: &'static Table,
    pub edition: &'a str,
    pub purpose: Purpose,
    pub side: &'a Side,
    /// 1 or 2.
    pub number: usize,
    pub thickness_mm: f64,
}

/// The row that governs on one side.
#[derive(Clone, Debug)]
pub(crate) struct Picked {
    pub side: usize,
    pub metal: String,
    pub value: f64,
    pub row: &'static Row,
    pub clause: Clause,
}

/// Which of several values is the stricter one.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Stricter {
    Higher,
    Lower,
}

impl Stricter {
    pub(crate) fn is(self, a: f64, than: f64) -> bool {
        match self {
            Stricter::Higher => a > than,
            Stricter::Lower => a < than,
        }
    }
}

/// What is looked for: its name, its unit, which value is the stricter, and how to take it from a row at a thickness.
#[derive(Clone, Copy)]
pub(crate) struct Sought {
    pub name: &'static str,
    pub unit: &'static str,
    pub stricter: Stricter,
    pub value: fn(&Value, f64) -> Option<f64>,
}

/// The strictest row that is on, and remarks on rows that are off or in doubt.
pub(crate) fn strictest(
    case: Case<'_>,
    sought: Sought,
    remarks: &mut Vec<Remark>,
) -> Option<Picked> {
    let mut best: Option<Picked> = None;
    let mut values = Vec::new();
    let mut unknown = Vec::new();
    for (row, value, fit) in fitting(case, sought) {
        let clause = row.clause_in(case.table, case.edition);
        if !row.is_on() {
            remarks.push(switched_off(case, sought, value, clause));
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
                side: case.number,
                metal: p_number_words(&case.side.p_number),
                value,
                row,
                clause,
            });
        }
    }
    let kept = best?;
    if values.iter().any(|value| *value != kept.value) {
        remarks.push(stricter_taken(case, sought, &kept, &values, unknown));
    }
    Some(kept)
}

/// The rows of the purpose that hold or may hold, with their values.
pub(crate) fn fitting(case: Case<'_>, sought: Sought) -> Vec<(&'static Row, f64, Fit)> {
    let rows = case
        .table
        .rows
        .iter()
        .filter(|row| row.purpose == case.purpose);
    rows.filter_map(|row| {
        let value = (sought.value)(&row.value, case.thickness_mm)?;
        match row.when.fit(case.side, case.thickness_mm) {
            Fit::No => None,
            fit => Some((row, value, fit)),
        }
    })
    .collect()
}

fn switched_off(case: Case<'_>, sought: Sought, value: f64, clause: Clause) -> Remark {
    let note = clause
        .note
        .as_ref()
        .map_or(String::new(), |note| format!(" ({note})"));
    Remark {
        text: format!(
            "side {}: {} {} {} by {} {} is unsure and switched off until the user confirms it{note}",
            case.number,
            sought.name,
            short(value),
            sought.unit,
            clause.document,
            clause.clause
        ),
        clause: Some(clause),
    }
}

fn stricter_taken(
    case: Case<'_>,
    sought: Sought,
    kept: &Picked,
    values: &[f64],
    mut unknown: Vec<String>,
) -> Remark {
    if case.side.p_number.group.is_none() {
        unknown.push("group number".into());
    }
    unknown.sort();
    unknown.dedup();
    let others: Vec<String> = values
        .iter()
        .filter(|value| **value != kept.value)
        .map(|v| short(*v))
        .collect();
    let why = if unknown.is_empty() {
        "several rows hold".to_string()
    } else {
        format!("{} not given", unknown.join(", "))
    };
    Remark {
        text: format!(
            "side {}: {why}; the stricter {} {} {} is taken, not {}",
            case.number,
            sought.name,
            short(kept.value),
            sought.unit,
            others.join(" or ")
        ),
        clause: Some(kept.clause.clone()),
    }
}
