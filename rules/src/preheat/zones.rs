//! How far the preheat must reach and where it is measured.

use quantity::{Hours, Millimeters};

use super::outcome::{Settling, Standing, Zone};
use super::question::{MethodRow, newest};
use super::value::PreheatValue;
use crate::fault::RuleError;
use crate::formula::{PipeWall, WidthFrom};
use crate::row::{Table, TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::{Purpose, Weld};
use crate::when::Fit;

/// Every rule that gives a reach: the contract's code binds, practice guides, other codes stand beside.
pub(crate) fn zones(weld: &Weld, shelf: &Shelf) -> Result<Vec<Zone>, RuleError> {
    let own = shelf.table_of(&weld.code)?;
    let mut zones = of_table(weld, own, weld.code.edition.trim(), Standing::Binding);
    for table in shelf
        .tables()
        .iter()
        .filter(|table| !std::ptr::eq(*table, own))
    {
        let standing = match table.kind {
            TableKind::Code => Standing::Comparison,
            _ => Standing::Guidance,
        };
        zones.extend(of_table(weld, table, newest(table), standing));
    }
    zones.sort_by_key(|zone| zone.standing);
    Ok(zones)
}

fn of_table(weld: &Weld, table: &Table, edition: &str, standing: Standing) -> Vec<Zone> {
    let [first, second] = &weld.sides;
    let thick = if second.wall > first.wall {
        second
    } else {
        first
    };
    let pipe = PipeWall {
        outside_diameter_mm: thick.outside_diameter.mm(),
        wall_mm: thick.wall.mm(),
    };
    let rows = table
        .rows
        .iter()
        .filter(|row| row.purpose == Purpose::Preheat && row.is_on());
    rows.filter(|row| row.when.fit(thick, thick.wall.mm()) != Fit::No)
        .filter_map(|row| {
            let Value::Band(band) = &row.value else {
                return None;
            };
            let soak = band.soak.as_ref()?;
            let (width_mm, _) = soak.work_out(0.0, 0.0, pipe, weld.units);
            Some(Zone {
                name: band.name.clone(),
                reach: Millimeters::from_mm(0.5 * width_mm),
                from_edge: soak.from == WidthFrom::CapWidth,
                standing,
                clause: row.clause_in(table, edition),
            })
        })
        .collect()
}

/// How long to wait before the heated face is read.
pub(crate) fn settling(weld: &Weld, rows: &[MethodRow<'_>]) -> Option<Settling> {
    let thickest_mm = weld.sides[0].wall.mm().max(weld.sides[1].wall.mm());
    rows.iter().find_map(|row| match row.value {
        PreheatValue::Settling { minutes, each_mm } => Some(Settling {
            wait: Hours::from_min(minutes * thickest_mm / each_mm),
            clause: row.clause(),
        }),
        _ => None,
    })
}
