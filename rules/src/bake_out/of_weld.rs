//! What a weld asks of its bake-out: the wall of the joint, a temperature, a share of the hydrogen.

use quantity::{Celsius, Millimeters};
use serde::Serialize;

use super::answer::Asked;
use super::law::{BakeRow, rows};
use super::value::{BakeOutValue, Shares};
use super::wall::Wall;
use crate::fault::{RuleError, RuleFault};
use crate::own;
use crate::requirement::Clause;
use crate::row::Value;
use crate::shelf::Shelf;
use crate::thickness::walls_mm;
use crate::weld::{Purpose, Side, Weld};
use crate::when::Fit;
use crate::wording::length;

/// What a weld asks of its bake-out, with the reasons.
#[derive(Clone, Debug, Serialize)]
pub struct OfWeld {
    /// The numbers; the history is empty.
    pub asked: Asked,
    /// Why this wall.
    pub wall_reason: String,
    /// Why this temperature.
    pub temperature_reason: String,
    /// Where the temperature stands.
    pub temperature_clause: Clause,
}

/// The wall is that of the thickest part; a cladding seals its face. The temperature is the own one of a bake-out job, else
/// the highest lower end of the practice for the metals, else that of the hottest hold in use.
///
/// # Errors
/// Confirmations that cannot be; data files that cannot be read or lack a row.
pub fn of_weld(weld: &Weld) -> Result<OfWeld, RuleError> {
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let rows = rows(&shelf);
    let shares = sought(&rows)?;
    let (wall, wall_reason) = wall(weld);
    let (c, temperature_reason, temperature_clause) = own_temperature(weld)
        .or_else(|| of_practice(weld, &shelf))
        .or_else(|| hottest_hold(weld, &rows))
        .ok_or_else(|| no_row("a hold in use"))?;
    Ok(OfWeld {
        asked: Asked {
            wall,
            temperature: Celsius::from_c(c),
            share: shares.sought,
            place: shares.place,
            history: Vec::new(),
        },
        wall_reason,
        temperature_reason,
        temperature_clause,
    })
}

fn sought<'a>(rows: &[BakeRow<'a>]) -> Result<&'a Shares, RuleError> {
    let found = rows.iter().find_map(|(_, _, value)| match value {
        BakeOutValue::Shares(shares) => Some(shares),
        _ => None,
    });
    found.ok_or_else(|| no_row("the shares of the hydrogen"))
}

fn no_row(what: &str) -> RuleError {
    RuleFault::Table {
        file: "bake-out.toml".into(),
        problem: format!("no row of {what}"),
    }
    .into()
}

fn wall(weld: &Weld) -> (Wall, String) {
    let [first_mm, second_mm] = walls_mm(weld);
    let pad_mm = weld.joint.pad.map_or(0.0, Millimeters::mm);
    let thickest_mm = first_mm.max(second_mm).max(pad_mm);
    let thickness = Millimeters::from_mm(thickest_mm);
    let part = match weld.joint.form.is_girth() || first_mm == second_mm {
        true => "wall",
        false => "thickest part",
    };
    let slab = format!("the {part}, {}, as a slab", length(thickest_mm, weld.units));
    match weld.sides.iter().any(|side| side.cladding.is_some()) {
        true => (
            Wall::OneFaceSealed(thickness),
            format!("{slab}; the cladding seals one face and keeps its own hydrogen"),
        ),
        false => (
            Wall::BothFacesFree(thickness),
            format!("{slab} with both faces free"),
        ),
    }
}

type Temperature = (f64, String, Clause);

fn own_temperature(weld: &Weld) -> Option<Temperature> {
    if weld.purpose != Purpose::HydrogenBakeOut {
        return None;
    }
    let set = own::limits(weld, &[]).into_iter().filter_map(|limit| {
        let crate::requirement::LimitKind::HoldMin(c) = limit.kind else {
            return None;
        };
        Some((c.c(), limit.reason, limit.clause))
    });
    set.reduce(hotter)
}

fn hotter(kept: Temperature, other: Temperature) -> Temperature {
    if other.0 > kept.0 { other } else { kept }
}

fn fits(weld: &Weld, when: &crate::when::When) -> bool {
    let holds = |side: &Side| when.fit(side, side.wall.mm()) != Fit::No;
    weld.sides.iter().any(holds)
}

fn of_practice(weld: &Weld, shelf: &Shelf) -> Option<Temperature> {
    let table = shelf.practice().ok()?;
    let rows = table.rows.iter().filter(|row| {
        row.purpose == Purpose::HydrogenBakeOut && row.is_on() && fits(weld, &row.when)
    });
    let lower_ends = rows.filter_map(|row| match row.value {
        Value::HoldRange { min: Some(c), .. } => Some((
            c,
            "lower end in use for this metal".to_owned(),
            row.clause_in(table, ""),
        )),
        _ => None,
    });
    lower_ends.reduce(hotter)
}

fn hottest_hold(weld: &Weld, rows: &[BakeRow<'_>]) -> Option<Temperature> {
    let holds = rows.iter().filter(|(_, row, _)| fits(weld, &row.when));
    let temperatures = holds.filter_map(|(table, row, value)| match value {
        BakeOutValue::CommonHold(hold) => Some((
            hold.temperature_c,
            "no temperature is in use for this metal; that of the hottest hold in use".to_owned(),
            row.clause_in(table, ""),
        )),
        _ => None,
    });
    temperatures.reduce(hotter)
}
