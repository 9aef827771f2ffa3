//! How far persons keep from coil and leads.

use report::{Block, Note, Row};
use rules::exposure::{BodyPart, Persons};

use super::{cited, table};
use crate::need::Exposure;

/// Distances that persons keep.
pub(crate) fn exposure(exposure: &Exposure) -> Vec<Block> {
    let rows = exposure.distances.iter().map(|one| {
        let who = match one.level.who {
            Persons::Workers => "workers",
            Persons::Public => "public",
        };
        let part = match one.level.part {
            BodyPart::Whole => "",
            BodyPart::Limbs => ", limbs",
        };
        let meters = |m: f64| format!("{m:.2} m");
        Row::Cells(vec![
            format!("{who}{part}: {:.0} µT", one.level.microtesla).into(),
            meters(one.beside_m).into(),
            meters(one.along_m).into(),
            one.leads_m.map_or("touching".to_owned(), meters).into(),
            cited(&one.level.clause),
        ])
    });
    let heads = [
        "Level (rms)",
        "Beside the turns",
        "Along the pipe",
        "Beside the leads",
        "Where it stands",
    ];
    vec![
        Block::heading(2, "Distances from coil and leads"),
        Block::paragraph(format!(
            "Calculated, not measured: coil and leads in free air at {:.0} A and {:.1} kHz, by Biot and Savart; the pipe is left out. Beyond the distance the field stays below the level. National law decides whose levels hold.",
            exposure.current_a,
            1e-3 * exposure.frequency_hz
        )),
        table(heads, rows.collect()),
        Block::Notes(vec![Note::caution(
            "The levels do not protect wearers of pacemakers, defibrillators, pumps, stimulators or metal implants: they stay out of the marked zone until assessed (EN 50527).",
        )]),
    ]
}
