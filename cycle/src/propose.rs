//! Proposing a coil: turns and frequency by what the source can do, then their places by the state of rest at the hold
//! (docs/theory/controller.md, section 4).

pub(crate) mod bench;
mod search;
mod turns;
mod words;

use std::ops::ControlFlow;

use field::section::Shape;

use crate::coil::place;
use crate::error::CycleError;
use crate::grain::Grain;
use crate::joint::JointSection;
use crate::layout::Layout;
use crate::practice::Practice;
use crate::prepare::{joint_of, prepare};
use crate::proposal::Proposal;
use crate::run::{Progress, go_on};
use crate::setup::{Coil, Setup};
use bench::Bench;
use search::SPAN_STEP;

/// Frequencies that are looked at within the source's range.
const FREQUENCIES: usize = 4;

/// Places are given to half a millimeter: two neighbors may come closer by that.
const TAPE_MM: f64 = 1.0;

/// Places at which the mesh allows for turns lie this part of the pitch apart.
const PLACE_STEP: f64 = 0.5;

/// Proposes a coil and a frequency; a setup that has a coil keeps it and only gets a frequency.
///
/// # Errors
/// A joint or source outside the range of the model, and what the solvers refuse.
pub fn propose(
    setup: &Setup,
    practice: &Practice,
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Proposal, CycleError> {
    let joint = joint_of(setup, practice)?;
    let frequencies_hz = frequencies_hz(setup);
    let first = first_layout(setup, practice, &joint);
    let coil = setup.coil.clone().unwrap_or_else(|| first.coil());
    let places = if setup.coil.is_some() {
        Vec::new()
    } else {
        places(setup, practice, &joint, &first)?
    };
    let top_hz = frequencies_hz.iter().copied().fold(0.0, f64::max);
    let prepared = prepare(setup, &coil, top_hz, places, &Grain::PROPOSAL, practice)?;
    let mut bench = Bench::new(setup, practice, prepared);
    tell(progress, 0.0)?;
    let middle_hz = frequencies_hz[frequencies_hz.len() / 2];
    let reference = bench.rest(&first, middle_hz)?;
    tell(progress, 0.3)?;
    let mut choice = bench.turns_and_frequency(&reference, &frequencies_hz)?;
    tell(progress, 0.6)?;
    if setup.coil.is_some() {
        let reason = bench.frequency_reason(&choice);
        let frequency_hz = choice.frequency_hz;
        return Ok(Proposal {
            coil,
            frequency_hz,
            trials: bench.trials,
            reason,
        });
    }
    let turns = choice.turns;
    let mut best = bench.search(Layout { turns, ..first }, &choice)?;
    if best.layout.span_m != first.span_m {
        // A wider coil asks for another number of turns.
        choice = bench.turns_and_frequency(&best, &frequencies_hz)?;
        let turns = choice.turns;
        best = bench.try_layout(
            Layout {
                turns,
                ..best.layout
            },
            &choice,
        )?;
    }
    tell(progress, 1.0)?;
    let reason = bench.reason(&best, &choice);
    let frequency_hz = choice.frequency_hz;
    Ok(Proposal {
        coil: best.layout.coil(),
        frequency_hz,
        trials: bench.trials,
        reason,
    })
}

fn tell(
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
    part: f64,
) -> Result<(), CycleError> {
    let told = progress(Progress {
        part,
        stage: crate::outcome::Stage::FreeHeating,
        time_s: 0.0,
        control_c: 0.0,
    });
    go_on(told)
}

/// Frequencies of the source's range on a logarithmic scale, or the one that is given.
pub(crate) fn frequencies_hz(setup: &Setup) -> Vec<f64> {
    if let Some(given_hz) = setup.source.working_frequency_hz {
        return vec![given_hz];
    }
    let [low, high] = setup.source.frequency_range_hz;
    if high / low < 1.05 {
        return vec![(low * high).sqrt()];
    }
    // Not at the ends: there sources are hardest to tune. A tenth of a kilohertz is as finely as one is set.
    let step = |k: usize| low * libm::pow(high / low, (k as f64 + 0.5) / FREQUENCIES as f64);
    (0..FREQUENCIES)
        .map(step)
        .map(|hz| (100.0 * libm::round(hz / 100.0)).clamp(low, high))
        .collect()
}

/// The habit of the trade: the coil spans the heated band, one turn every 40 mm or so, on the blanket.
pub(crate) fn first_layout(setup: &Setup, practice: &Practice, joint: &JointSection) -> Layout {
    let cable_m = setup.cable.outside_diameter_mm.value * 1e-3;
    let room_m = setup
        .blanket
        .reach
        .iter()
        .zip(joint.lengths_m)
        .map(|(reach, length)| reach.m().min(length))
        .fold(f64::INFINITY, f64::min);
    let span_m = (setup.heated_band.m() - cable_m)
        .min(2.0 * room_m - cable_m)
        .max(2.0 * least_pitch_m(setup, practice));
    let turns = turns_for(span_m, practice.pitch_mm.value * 1e-3, practice);
    Layout {
        turns,
        span_m,
        offset_m: 0.0,
        opening: 0.0,
        standoff_m: setup.blanket.thickness.m(),
    }
}

fn turns_for(span_m: f64, pitch_m: f64, practice: &Practice) -> usize {
    let turns = libm::round(span_m / pitch_m) + 1.0;
    turns.clamp(practice.turns.low, practice.turns.high) as usize
}

fn least_pitch_m(setup: &Setup, practice: &Practice) -> f64 {
    let cable_mm = setup.cable.outside_diameter_mm.value + TAPE_MM;
    1e-3 * practice.pitch_mm.low.max(cable_mm)
}

/// Every place where a turn of a candidate may come to lie.
fn places(
    setup: &Setup,
    practice: &Practice,
    joint: &JointSection,
    first: &Layout,
) -> Result<Vec<Shape>, CycleError> {
    let pitch_m = (PLACE_STEP * least_pitch_m(setup, practice))
        .max(1e-3 * (setup.cable.outside_diameter_mm.value + TAPE_MM));
    let span_m =
        (SPAN_STEP * SPAN_STEP * first.span_m).min(joint.lengths_m[0] + joint.lengths_m[1]);
    let all = Layout {
        turns: libm::floor(span_m / pitch_m) as usize + 1,
        span_m,
        ..*first
    };
    let inside = |coil: Coil| {
        let within = |z: f64| z > -joint.lengths_m[0] && z < joint.lengths_m[1];
        Coil {
            turns: coil
                .turns
                .into_iter()
                .filter(|turn| within(turn.axial.m()))
                .collect(),
        }
    };
    Ok(place(&inside(all.coil()), &setup.cable, joint)?
        .shapes()
        .collect())
}
