//! Whether the table would let stress relief go: told and asked, never decided.

use crate::requirement::Remark;
use crate::row::{Table, Value};
use crate::weld::{Purpose, Weld};
use crate::when::Fit;
use crate::wording::{p_number_words, short};

/// One remark a side: left out under which conditions, or mandatory and up to which thickness it would not be.
pub(crate) fn remarks(weld: &Weld, table: &Table, edition: &str, thickness_mm: f64) -> Vec<Remark> {
    if weld.purpose != Purpose::StressRelief {
        return Vec::new();
    }
    let same = weld.sides[0] == weld.sides[1];
    let sides = weld.sides.iter().enumerate().take(if same { 1 } else { 2 });
    sides
        .filter_map(|(index, side)| {
            let rows: Vec<_> = table
                .rows
                .iter()
                .filter(|row| matches!(row.value, Value::Exemption { .. }) && row.when.fits_metal(side) && row.is_on())
                .collect();
            let first = rows.first()?;
            let fitting = rows.iter().find_map(|row| match row.when.fit(side, thickness_mm) {
                Fit::No => None,
                fit => Some((*row, fit)),
            });
            let metal = p_number_words(&side.p_number);
            let who = if same { "both sides".to_string() } else { format!("side {}", index + 1) };
            let (row, text) = match fitting {
                Some((row, fit)) => (row, may_go(&who, &metal, thickness_mm, &row.value, &fit)),
                None => {
                    let known: Vec<String> = rows.iter().map(|row| row.when.words()).collect();
                    let text = format!(
                        "{who} (P-No. {metal}): stress relief is mandatory at {} mm; it may be left out only for {}",
                        short(thickness_mm),
                        known.join("; or ")
                    );
                    (*first, text)
                }
            };
            Some(Remark {
                text,
                clause: Some(row.clause_in(table, edition)),
            })
        })
        .collect()
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
