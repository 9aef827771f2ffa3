//! How far persons keep from coil and leads.

use quantity::Status;
use report::{Block, Note, Row};
use rules::exposure::{BodyPart, Persons};

use super::{cited, table};
use crate::need::{Exposure, Kept};
use crate::sheet::words::trimmed;

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
        let meters = |of: fn(&Kept) -> Option<f64>| {
            let words = |kept: &Kept| of(kept).map(|m| format!("{m:.2} m"));
            match (words(&one.in_air), one.with_work.as_ref().and_then(words)) {
                (None, _) => "touching".to_owned(),
                (Some(in_air), None) => in_air,
                (Some(in_air), Some(with_work)) => format!("{in_air}; {with_work}"),
            }
        };
        Row::Cells(vec![
            format!("{who}{part}: {} µT", trimmed(one.level.microtesla, 2)).into(),
            meters(|kept| Some(kept.beside_m)).into(),
            meters(|kept| Some(kept.along_m)).into(),
            meters(|kept| kept.leads_m).into(),
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
            "Calculated, not measured, at {:.0} A and {:.1} kHz. {} Beyond the distance the field stays below the level. National law decides whose levels hold.",
            exposure.current_a,
            1e-3 * exposure.frequency_hz,
            by_which(exposure)
        )),
        table(heads, rows.collect()),
        Block::Notes(vec![Note::caution(
            "The levels do not protect wearers of pacemakers, defibrillators, pumps, stimulators or metal implants: they stay out of the marked zone until assessed (EN 50527).",
        )]),
    ]
}

/// The levels that were read, for the whole body, on a page that has little room; the others are named as left to the data.
pub(crate) fn exposure_in_short(exposure: &Exposure) -> Vec<Block> {
    let read = exposure.distances.iter().filter(|one| {
        one.level.part == BodyPart::Whole && one.level.clause.status == Status::Verified
    });
    let rows = read.map(|one| {
        let who = match one.level.who {
            Persons::Workers => "workers",
            Persons::Public => "public",
        };
        let kept = one.governing;
        let leads = kept
            .leads_m
            .map_or(String::new(), |m| format!(", leads {m:.2} m"));
        Row::Cells(vec![
            format!("{who}: {} µT rms", trimmed(one.level.microtesla, 2)).into(),
            format!(
                "beside {:.2} m, along {:.2} m{leads}",
                kept.beside_m, kept.along_m
            )
            .into(),
            cited(&one.level.clause),
        ])
    });
    vec![
        Block::heading(2, "Distances from turns and leads"),
        Block::paragraph(format!(
            "Calculated, not measured, at {:.0} A and {:.1} kHz, without the pipe (Biot and Savart); national law decides. No wearer of an implant comes near until assessed (EN 50527). Levels for limbs and those from memory are left to need.json.",
            exposure.current_a,
            1e-3 * exposure.frequency_hz
        )),
        table(["Level", "Distance", "Where it stands"], rows.collect()),
    ]
}

/// By which field, and which one governs.
fn by_which(exposure: &Exposure) -> &'static str {
    match exposure.distances.iter().any(|one| one.with_work.is_some()) {
        false => "Coil and leads in free air, by Biot and Savart; the pipe is left out.",
        true => {
            "First coil and leads in free air, by Biot and Savart; then the field that was solved with the work in the coil, \
             beyond the mesh as that of the dipole which it sees, the leads added size to size. The larger governs."
        }
    }
}
