//! A coil under which no current holds the set point: told by how it lies, not by where a solver stopped.

use cycle::error::CycleError;
use cycle::setup::{Coil, Setup};
use quantity::Units;
use rules::thermocouple::{Face, Role};

use crate::plan::PlanError;
use crate::rest_numbers::Shown;

/// So many times the thickness of its blanket above the pipe, a cable no longer lies on it. Common practice, no source:
/// it is wound onto the blanket.
const FAR_ABOVE: f64 = 3.0;

/// Why a coil cannot hold the set point, in three sentences.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{tried}\n{needs}\n{change}")]
pub struct Hopeless {
    /// What was tried.
    pub tried: String,
    /// What it would need.
    pub needs: String,
    /// What to change.
    pub change: String,
}

/// What stopped a solver under a given coil, in the words of the trade; every other error as it is.
pub(crate) fn told(error: CycleError, setup: &Setup, units: Units) -> PlanError {
    let detail = match &error {
        CycleError::Solver { detail, .. } | CycleError::Property { detail, .. } => detail,
        _ => return error.into(),
    };
    match &setup.coil {
        Some(coil) if !coil.turns.is_empty() => {
            PlanError::Hopeless(hopeless(coil, setup, &Shown(units), detail))
        }
        _ => error.into(),
    }
}

fn hopeless(coil: &Coil, setup: &Setup, shown: &Shown, detail: &str) -> Hopeless {
    let half_mm = 0.5 * setup.heated_band.mm();
    let nearest_mm = of_turns(coil, |axial_mm, _| axial_mm.abs()).0;
    let lowest_mm = of_turns(coil, |_, standoff_mm| standoff_mm).0;
    let band = format!(
        "over the heated band, up to {} to either side of the weld",
        shown.length(half_mm)
    );
    let (first_mm, last_mm) = of_turns(coil, |axial_mm, _| axial_mm);
    let is_one_sided =
        first_mm > 0.5 * setup.soak_band.mm() || last_mm < -0.5 * setup.soak_band.mm();
    let (needs, change) = if nearest_mm > half_mm {
        (
            format!(
                "It would need turns {band}: the nearest lies {} from the weld, so the heat reaches it along the pipe only.",
                shown.length(nearest_mm)
            ),
            "Drag the turns over the weld, or let the plan propose them.".to_owned(),
        )
    } else if is_one_sided {
        (
            format!(
                "It would need turns on both sides of the weld, {band}: all of these lie on one side, the nearest {} from the \
                 weld.",
                shown.length(nearest_mm)
            ),
            "Drag turns to the other side or over the weld, or let the plan propose them."
                .to_owned(),
        )
    } else if lowest_mm > FAR_ABOVE * setup.blanket.thickness.mm() {
        (
            format!(
                "It would need turns that lie on the blanket, {} above the pipe: the lowest lies {} above it, and most of its \
                 field misses the metal.",
                shown.length(setup.blanket.thickness.mm()),
                shown.length(lowest_mm)
            ),
            "Bring the turns down onto the blanket.".to_owned(),
        )
    } else {
        (
            format!("It would need turns that lie evenly {band}. The computation stopped with: {detail}."),
            "Place the turns on both sides of the weld, or let the plan propose them; if that does not help, check the metals, \
             the blanket and the set point."
                .to_owned(),
        )
    };
    Hopeless {
        tried: tried(coil, setup, shown),
        needs,
        change,
    }
}

/// Which turns were to hold what.
fn tried(coil: &Coil, setup: &Setup, shown: &Shown) -> String {
    let (first, last) = of_turns(coil, |axial_mm, _| axial_mm);
    let (low, high) = of_turns(coil, |_, standoff_mm| standoff_mm);
    let standoff = match shown.length(low) == shown.length(high) {
        true => shown.length(low),
        false => format!("{} to {}", shown.length(low), shown.length(high)),
    };
    let turns = match coil.turns.len() {
        1 => format!("1 turn, {}", shown.along(first)),
        many => format!(
            "{many} turns, the first {}, the last {}",
            shown.along(first),
            shown.along(last)
        ),
    };
    let mut thermocouples = setup.thermocouples.iter();
    let control = thermocouples.find(|t| t.role == Role::Control && t.face == Face::Outside);
    let at = control.map_or("the control thermocouple".to_owned(), |t| {
        format!("{} ({})", t.name, shown.along(t.axial.mm()))
    });
    format!(
        "No current was found that holds {} at {at} with this coil: {turns}, {standoff} above the pipe.",
        shown.degree_words(setup.programme.set_point.c())
    )
}

/// The least and the most of a value over all turns; it is given place and standoff in mm.
fn of_turns(coil: &Coil, value: impl Fn(f64, f64) -> f64) -> (f64, f64) {
    let values = coil
        .turns
        .iter()
        .map(|turn| value(turn.axial.mm(), turn.standoff.mm()));
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
        (low.min(one), high.max(one))
    })
}
