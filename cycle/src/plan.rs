//! A plan: a coil where none is given, the cycle, and everything told.

use std::ops::ControlFlow;

use field::coupled::FieldReport;

use crate::assumptions::{assumptions, not_modeled};
use crate::cautions::cautions;
use crate::circuit_table::circuit_table;
use crate::error::CycleError;
use crate::grain::Grain;
use crate::outcome::{Effort, Outcome};
use crate::practice::{Practice, practice};
use crate::prepare::{Prepared, prepare};
use crate::proposal::Proposal;
use crate::propose::propose;
use crate::record::channels;
use crate::run::{Fineness, Finished, Progress, run};
use crate::setup::{Coil, Setup};

/// A plan.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The coil that was planned with: the given one, or the proposed one.
    pub coil: Coil,
    /// How coil or frequency were chosen; `None` where both were given.
    pub proposal: Option<Proposal>,
    /// The predicted cycle.
    pub outcome: Outcome,
}

/// Part of the progress that a proposal takes.
const PROPOSAL_PART: f64 = 0.3;

/// Plans a cycle.
///
/// # Errors
/// A setup outside the range of the model, with both numbers; what the solvers refuse.
pub fn plan(
    setup: &Setup,
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Plan, CycleError> {
    let practice = practice();
    let given = setup.coil.clone().zip(setup.source.working_frequency_hz);
    let (coil, frequency_hz, proposal) = match given {
        Some((coil, frequency_hz)) => (coil, frequency_hz, None),
        None => {
            let mut first = |p: Progress| {
                progress(Progress {
                    part: PROPOSAL_PART * p.part,
                    ..p
                })
            };
            let proposal = propose(setup, practice, &mut first)?;
            (proposal.coil.clone(), proposal.frequency_hz, Some(proposal))
        }
    };
    let begun = if proposal.is_some() {
        PROPOSAL_PART
    } else {
        0.0
    };
    let mut rest = |p: Progress| {
        progress(Progress {
            part: begun + (1.0 - begun) * p.part,
            ..p
        })
    };
    let outcome = outcome(
        setup,
        &coil,
        frequency_hz,
        &Accuracy::plan(),
        practice,
        &mut rest,
    )?;
    Ok(Plan {
        coil,
        proposal,
        outcome,
    })
}

/// How accurate a run is: its mesh and its steps.
#[derive(Clone, Copy, Debug)]
pub struct Accuracy {
    /// The mesh.
    pub grain: Grain,
    /// Field, heat and controller in time.
    pub fineness: Fineness,
}

impl Accuracy {
    /// For plans.
    pub fn plan() -> Accuracy {
        Accuracy {
            grain: Grain::PLAN,
            fineness: Fineness::plan(),
        }
    }

    /// For checking what [`Accuracy::plan`] costs.
    pub fn fine() -> Accuracy {
        Accuracy {
            grain: Grain::FINE,
            fineness: Fineness::fine(),
        }
    }
}

/// Runs a cycle with a coil and a frequency, and tells everything about it.
///
/// # Errors
/// A setup outside the range of the model, with both numbers; what the solvers refuse.
pub fn outcome(
    setup: &Setup,
    coil: &Coil,
    frequency_hz: f64,
    accuracy: &Accuracy,
    practice: &Practice,
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Outcome, CycleError> {
    let setup = &Setup {
        coil: Some(coil.clone()),
        ..setup.clone()
    };
    let prepared = prepare(
        setup,
        coil,
        frequency_hz,
        Vec::new(),
        &accuracy.grain,
        practice,
    )?;
    let finished = run(&prepared, setup, practice, &accuracy.fineness, progress)?;
    let record = &finished.record;
    Ok(Outcome {
        channels: channels(setup),
        stages: record.stages(),
        soak: record.soak(),
        beyond: record.beyond,
        source: record.source(),
        circuit: circuit_table(&prepared, record, setup),
        frequency_hz,
        assumptions: assumptions(setup, practice, &prepared.joint),
        cautions: cautions(setup, &prepared, record, &finished.controller),
        not_modeled: not_modeled(),
        effort: effort(&prepared, &finished),
        energy: record.energy,
        surface_to_bore: record.surface_to_bore,
        snapshot: finished.snapshot,
        stray: finished.stray,
        scans: finished.record.scans,
        history: finished.record.moments,
        profiles: finished.record.profiles,
        frames: finished.record.frames,
        neighbors: finished.record.neighbors,
    })
}

fn effort(prepared: &Prepared, finished: &Finished) -> Effort {
    let worst =
        |of: &dyn Fn(&FieldReport) -> f64| finished.fields.iter().map(of).fold(0.0, f64::max);
    Effort {
        field_unknowns: prepared.problem.unknowns(),
        heat_unknowns: prepared.heat.unknowns(),
        field_updates: finished.effort.updates,
        field_solves: finished.effort.field_solves,
        heat_steps: finished.effort.heat.steps,
        heat_tries: finished.tries,
        worst_residual: worst(&|field| field.residual),
        worst_balance: worst(&|field| field.imbalance),
        worst_prediction_percent: worst(&|field| {
            field.foreseen_w.map_or(0.0, |foreseen_w| {
                100.0 * (foreseen_w / field.power_w - 1.0).abs()
            })
        }),
        energy_error_percent: finished.record.energy_error_percent(),
    }
}
