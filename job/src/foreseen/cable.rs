//! Turns that do not lie on the blanket, and how hot it is where they lie.

use checks::Verdict;
use cycle::at_rest::along;
use cycle::cable_in_blanket::{TurnInBlanket, turns_in_blanket};
use cycle::outcome::Outcome;
use cycle::practice::practice;
use cycle::prepare::joint_of;
use cycle::setup::{Coil, Setup};
use quantity::{Celsius, Units};

use super::{About, Foreseen, fine};
use crate::model::Job;
use crate::plan::Prepared;
use crate::wording::{length, temperature};

/// Turns within the blanket, at the hottest moment of the metal under them; none where all lie on it.
pub(super) fn cable(
    job: &Job,
    prepared: &Prepared,
    coil: &Coil,
    outcome: &Outcome,
) -> Option<Foreseen> {
    outcome.frames.first()?;
    let joint = joint_of(&prepared.setup, practice()).ok()?;
    let hottest = |z_mm: f64| {
        let moments = outcome.frames.iter().map(|f| along(&f.outside, z_mm));
        moments.fold(f64::NEG_INFINITY, f64::max)
    };
    let inside = turns_in_blanket(&prepared.setup, coil, &joint, &hottest).ok()?;
    let worst = worst_in_blanket(&inside)?;
    let says = in_blanket_words(&inside, worst, &prepared.setup, job.units);
    let bears_c = job.cable.max_cable_temperature_c.value;
    let over_k = worst.surroundings_c - bears_c;
    if over_k <= 0.0 {
        return Some(fine(About::Cable, says));
    }
    Some(Foreseen {
        about: About::Cable,
        verdict: Verdict::NotMet,
        says,
        remedy: Some(on_the_blanket(&prepared.setup, job.units)),
        severity: over_k / bears_c.max(50.0),
    })
}

/// The turn within the blanket whose surroundings are hottest.
pub fn worst_in_blanket(inside: &[TurnInBlanket]) -> Option<&TurnInBlanket> {
    let hotter =
        |a: &&TurnInBlanket, b: &&TurnInBlanket| a.surroundings_c.total_cmp(&b.surroundings_c);
    inside.iter().max_by(hotter)
}

/// What the surroundings of turns within the blanket reach, beside what the cable bears.
pub fn in_blanket_words(
    inside: &[TurnInBlanket],
    worst: &TurnInBlanket,
    setup: &Setup,
    units: Units,
) -> String {
    let turns = match inside.len() {
        1 => format!("turn {} lies", worst.number),
        many => format!("{many} turns lie"),
    };
    let mm = |mm: f64| length(quantity::Millimeters::from_mm(mm), units);
    let degrees = |c: f64| temperature(Celsius::from_c(c), units);
    format!(
        "{turns} within the blanket, not on it: turn {} is {} above the metal under {} of blanket, where it reaches {}; \
         the {} itself bears {}",
        worst.number,
        mm(worst.standoff_mm),
        mm(setup.blanket.thickness.mm()),
        degrees(worst.surroundings_c),
        setup.cable.name,
        degrees(setup.cable.max_cable_temperature_c.value)
    )
}

fn on_the_blanket(setup: &Setup, units: Units) -> String {
    format!(
        "wind the turns on the blanket: a standoff of at least {}",
        length(setup.blanket.thickness, units)
    )
}
