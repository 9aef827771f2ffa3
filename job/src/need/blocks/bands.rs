//! The bands of a weld: how wide, how that came about, where it stands.

use quantity::Units;
use report::{Block, Row};
use rules::band::{BandRow, BandSteps, Bands, Governing};

use super::thermocouples::thermocouples;
use super::{cited_in, table};
use crate::need::Need;
use crate::sheet::words::{both_tape, trimmed};

/// Soak, heated and gradient control band; of a branch weld those on the branch, too; and the thermocouples.
pub(crate) fn bands(need: &Need, units: Units, home: &str) -> Vec<Block> {
    let Some(bands) = &need.bands else {
        return Vec::new();
    };
    let heading = match &need.branch_bands {
        None => "Bands, centered on the weld",
        Some(_) => "Bands along the run, centered on the branch",
    };
    let mut blocks = vec![Block::heading(2, heading), rows(bands, units, home)];
    let told = [
        bands.heating_index.map(wall_area),
        need.branch_bands.as_ref().map(|one| on_branch(one, units)),
        thermocouples(&need.thermocouples, units),
    ];
    let told: Vec<String> = told.into_iter().flatten().collect();
    if !told.is_empty() {
        blocks.push(Block::paragraph(told.join(" ")));
    }
    blocks
}

fn rows(bands: &Bands, units: Units, home: &str) -> Block {
    let mut told = None;
    let unit = match units {
        Units::Si => "mm",
        Units::Us => "in",
    };
    let mut row = |name: &str, governing: &Governing, step: fn(&BandSteps) -> Option<&String>| {
        let place = match told.replace(governing.row) == Some(governing.row) {
            true => "as above".into(),
            false => cited_in(home, &bands.by_rule[governing.row].clause),
        };
        let by: &BandRow = &bands.by_rule[governing.row];
        let working = step(&by.steps).map_or(String::new(), |words| format!("{words} {unit}"));
        Row::Cells(vec![
            name.into(),
            both_tape(governing.width, units).into(),
            working.into(),
            place,
        ])
    };
    table(
        ["Band", "Full width", "Working", "Where it stands"],
        vec![
            row("soak", &bands.soak, |steps| steps.soak.as_ref()),
            row("heated", &bands.heated, |steps| steps.heated.as_ref()),
            row("blanket", &bands.gradient_control, |steps| {
                steps.gradient_control.as_ref()
            }),
        ],
    )
}

/// The wall-area criterion of AWS D10.10.
fn wall_area(index: f64) -> String {
    format!(
        "The blanket covers the gradient control band. Heating index by the wall areas: {}; 5 is wanted (AWS D10.10).",
        trimmed(index, 1)
    )
}

fn on_branch(bands: &Bands, units: Units) -> String {
    let half = |one: &Governing| both_tape(one.width * 0.5, units);
    format!(
        "On the branch, from the middle of the weld outward: soak band {}, heated band {}, blanket {}.",
        half(&bands.soak),
        half(&bands.heated),
        half(&bands.gradient_control)
    )
}
