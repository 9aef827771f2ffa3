//! How far persons keep from coil and leads.

use quantity::Units;
use report::{Block, Note, Row, Text};
use rules::exposure::{BodyPart, Persons, ReferenceLevel};

use super::{cited, table};
use crate::need::{Distances, Exposure, Kept};
use crate::sheet::words::{marked, trimmed};

/// Distances that persons keep.
pub(crate) fn exposure(exposure: &Exposure, units: Units) -> Vec<Block> {
    let rows = exposure.distances.iter().map(|one| {
        let meters = |of: fn(&Kept) -> Option<f64>| {
            let words = |kept: &Kept| of(kept).map(|m| far(m, units));
            match (words(&one.in_air), one.with_work.as_ref().and_then(words)) {
                (None, _) => "touching".to_owned(),
                (Some(in_air), None) => in_air,
                (Some(in_air), Some(with_work)) => format!("{in_air}; {with_work}"),
            }
        };
        Row::Cells(vec![
            whose(&one.level).into(),
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

/// All levels on a page that has little room: one row for whom, which part and which level, the farthest first.
pub(crate) fn exposure_in_short(exposure: &Exposure, units: Units) -> Vec<Block> {
    let alike = |a: &&Distances, b: &&Distances| {
        let of = |level: &ReferenceLevel| (level.microtesla, level.who, level.part);
        of(&a.level) == of(&b.level)
    };
    let mut all: Vec<&Distances> = exposure.distances.iter().collect();
    all.sort_by_key(|one| (one.level.who, one.level.part));
    all.sort_by(|a, b| a.level.microtesla.total_cmp(&b.level.microtesla));
    let rows = all.chunk_by(alike).map(|alike| row_in_short(alike, units));
    let heads = [
        "Level (rms)",
        "Beside the turns",
        "Along the pipe",
        "Beside the leads",
        "Where it stands",
    ];
    vec![
        Block::heading(
            2,
            format!(
                "Distances from turns and leads at {:.0} A and {:.1} kHz, calculated, not measured",
                exposure.current_a,
                1e-3 * exposure.frequency_hz
            ),
        ),
        Block::paragraph(
            "In free air, without the pipe (Biot and Savart). National law decides whose hold. Implant wearers stay away until assessed (EN 50527).",
        ),
        table(heads, rows.collect()),
    ]
}

/// Every document that sets the level, without the journal it appeared in.
fn row_in_short(alike: &[&Distances], units: Units) -> Row {
    let kept = alike[0].governing;
    let meters = |m: f64| far(m, units).into();
    let mut places = Text::default();
    for one in alike {
        let clause = &one.level.clause;
        let document = clause.document.split(", ").next().unwrap_or_default();
        let words = format!("{document} {}", clause.clause);
        if !places.is_empty() {
            places = places.and("; ");
        }
        places.0.extend(marked(Text::plain(words), clause.status).0);
    }
    Row::Cells(vec![
        whose(&alike[0].level).into(),
        meters(kept.beside_m),
        meters(kept.along_m),
        kept.leads_m.map_or("touching".into(), meters),
        places,
    ])
}

/// A distance from turns or leads.
fn far(m: f64, units: Units) -> String {
    let (number, unit) = units.of(m, "m");
    format!("{number:.2} {unit}")
}

/// For whom, which part of the body, which level.
fn whose(level: &ReferenceLevel) -> String {
    let who = match level.who {
        Persons::Workers => "workers",
        Persons::Public => "public",
    };
    let part = match level.part {
        BodyPart::Whole => "",
        BodyPart::Limbs => ", limbs",
    };
    format!("{who}{part}: {} µT", trimmed(level.microtesla, 2))
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
