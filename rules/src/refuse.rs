//! Refusing a metal or a thickness that a page has no row for, with what it has.

use quantity::Units;

use crate::book::Page;
use crate::fault::{RuleError, RuleFault};
use crate::reader::Sides;
use crate::row::{Row, Value};
use crate::sought::HOLD_MIN;
use crate::weld::Weld;
use crate::wording::{length, purpose_words};

/// # Errors
/// One fault for each side without a lower end of its hold.
pub(crate) fn unknown_metals(
    weld: &Weld,
    page: Page<'_>,
    thickness_mm: f64,
    mins: &Sides<'_>,
) -> Result<(), RuleError> {
    let known = mins.iter().any(Option::is_some);
    let unknown = [0, 1]
        .into_iter()
        .filter(|index| mins[*index].is_none() && !(known && needs_none(weld, page, *index)));
    let faults: Vec<RuleFault> = unknown
        .map(|index| fault(weld, page, thickness_mm, index))
        .collect();
    if faults.is_empty() {
        Ok(())
    } else {
        Err(RuleError { faults })
    }
}

/// Whether the table asks no stress relief of this side's metal at any thickness, so that the other side alone is read.
fn needs_none(weld: &Weld, page: Page<'_>, index: usize) -> bool {
    let side = &weld.sides[index];
    page.rows(weld.purpose).any(|row| {
        let free = matches!(&row.value, Value::Exemption { provided } if provided.is_empty());
        free && row.is_on() && row.when.is_only_metal() && row.when.fits_metal(side)
    })
}

fn fault(weld: &Weld, page: Page<'_>, thickness_mm: f64, index: usize) -> RuleFault {
    let side = &weld.sides[index];
    let rows: Vec<&Row> = page
        .rows(weld.purpose)
        .filter(|row| matches!(row.value, Value::HoldRange { min: Some(_), .. }))
        .collect();
    let of_metal: Vec<&Row> = rows
        .iter()
        .copied()
        .filter(|row| row.when.fits_metal(side))
        .collect();
    let document = format!("{} {}", page.table.code, page.edition)
        .trim()
        .to_string();
    if let Some(row) = of_metal
        .iter()
        .find(|row| row.when.fits_thickness(thickness_mm))
    {
        return only_unsure(index, document, row, weld.units);
    }
    if !of_metal.is_empty() {
        return out_of_range(weld, index, document, &of_metal, thickness_mm);
    }
    let mut known: Vec<String> = rows.iter().map(|row| row.when.metal_words()).collect();
    known.sort();
    known.dedup();
    RuleFault::UnknownPNumber {
        side: index + 1,
        document,
        purpose: purpose_words(weld.purpose).to_string(),
        asked: side.p_number.words(),
        known: match known.is_empty() {
            true => upper_end_only(page, weld, index),
            false => known.join("; "),
        },
        hint: "check P-number and group, or give the procedure's own hold range and time".into(),
    }
}

/// Where the table gives nothing but an upper end, that one.
fn upper_end_only(page: Page<'_>, weld: &Weld, index: usize) -> String {
    let mut rows = page
        .rows(weld.purpose)
        .filter(|row| row.is_on() && row.when.fits_metal(&weld.sides[index]) && row.is_asked(weld));
    let found = rows.find(|row| matches!(row.value, Value::HoldRange { max: Some(_), .. }));
    found.map_or("none".to_owned(), |row| {
        let end = row.value.words(weld.units);
        format!("none with a lower end, only {end} ({}); the procedure gives the rest, if stress relief is wanted at all", row.clause)
    })
}

fn only_unsure(index: usize, document: String, row: &Row, units: Units) -> RuleFault {
    RuleFault::OnlyUnsure {
        side: index + 1,
        document,
        clause: row.clause.clone(),
        quantity: HOLD_MIN.name.to_string(),
        value: row.value.words(units),
    }
}

fn out_of_range(
    weld: &Weld,
    index: usize,
    document: String,
    rows: &[&Row],
    thickness_mm: f64,
) -> RuleFault {
    let known: Vec<String> = rows
        .iter()
        .map(|row| row.when.thickness_words(weld.units))
        .collect();
    RuleFault::ThicknessOutOfRange {
        side: index + 1,
        document,
        quantity: HOLD_MIN.name.to_string(),
        p_number: weld.sides[index].p_number.words(),
        known: known.join(" or "),
        asked: length(thickness_mm, weld.units),
    }
}
