//! Whether the table would let stress relief go: told and asked, never decided.

use crate::book::{Book, Page};
use crate::reader::push_once;
use crate::requirement::Remark;
use crate::row::{Row, Value};
use crate::weld::{Purpose, Side, Weld};
use crate::when::Fit;
use crate::wording::{p_number_words, short};

/// One remark a side: left out under which conditions, or mandatory and up to which thickness it would not be.
pub(crate) fn remarks(weld: &Weld, book: &Book<'_>, thickness_mm: f64) -> Vec<Remark> {
    if weld.purpose != Purpose::StressRelief {
        return Vec::new();
    }
    let mut remarks = Vec::new();
    for (index, side) in weld.sides.iter().enumerate() {
        if let Some(remark) = of_side(side, &weld.who(index), book.first(), thickness_mm) {
            push_once(&mut remarks, remark);
        }
    }
    remarks
}

fn of_side(side: &Side, who: &str, page: Page<'_>, thickness_mm: f64) -> Option<Remark> {
    let rows: Vec<&Row> = page
        .rows(Purpose::StressRelief)
        .filter(|row| {
            matches!(row.value, Value::Exemption { .. }) && row.when.fits_metal(side) && row.is_on()
        })
        .collect();
    let fitting = rows
        .iter()
        .find_map(|row| match row.when.fit(side, thickness_mm) {
            Fit::No => None,
            fit => Some((*row, fit)),
        });
    let metal = p_number_words(&side.p_number);
    let (row, text) = match fitting {
        Some((row, fit)) => (row, may_go(who, &metal, thickness_mm, &row.value, &fit)),
        None => (*rows.first()?, mandatory(who, &metal, thickness_mm, &rows)),
    };
    Some(Remark {
        text,
        clause: Some(row.clause_in(page.table, page.edition)),
    })
}

fn mandatory(who: &str, metal: &str, thickness_mm: f64, rows: &[&Row]) -> String {
    let known: Vec<String> = rows.iter().map(|row| row.when.words()).collect();
    format!(
        "{who} (P-No. {metal}): stress relief is mandatory at {} mm; it may be left out only for {}",
        short(thickness_mm),
        known.join("; or ")
    )
}

fn may_go(who: &str, metal: &str, thickness_mm: f64, value: &Value, fit: &Fit) -> String {
    let mut conditions = Vec::new();
    if let Value::Exemption {
        provided: Some(text),
    } = value
    {
        conditions.push(text.clone());
    }
    if let Fit::Maybe(unknown) = fit {
        conditions.push(format!(
            "{} (not given) lies in the row's range",
            unknown.join(", ")
        ));
    }
    let at = short(thickness_mm);
    if conditions.is_empty() {
        return format!(
            "{who} (P-No. {metal}): the table asks no stress relief at {at} mm; service or procedure may"
        );
    }
    format!(
        "{who} (P-No. {metal}): the table lets stress relief go at {at} mm provided that {}; is it so? service or procedure may still ask it",
        conditions.join(" and ")
    )
}
