//! The first flow: a job becomes a plan.
//!
//! Job → Requirement → Bands → coil → cycle → scans → checks → Plan. A plan is a predicted record: the scans that the
//! cycle predicts pass the same checks as a log would. What thermocouples can't see is judged from the model beside it.

use std::ops::ControlFlow;

use checks::{ChannelUse, Checker, Findings};
use cycle::error::CycleError;
use cycle::outcome::Outcome;
use cycle::practice::practice;
use cycle::proposal::Proposal;
pub use cycle::run::Progress;
use cycle::setup::{Coil, Programme, Setup, Wrap};
use quantity::{Celsius, Hours, Millimeters, Units};
use report::{Paper, Sheet};
use rules::RuleError;
use rules::band::Bands;
use rules::preheat::Preheat;
use rules::requirement::{Remark, Requirement};
use rules::thermocouple::Thermocouple;
use rules::weld::Weld;

use crate::foreseen::{Foreseen, foreseen};
use crate::hopeless::{Hopeless, told};
use crate::model::{Job, Taken};
use crate::need::{BakeOutNeed, Exposure, bake_out_need, exposure_of};
use crate::programme::programme;
use crate::rest_change::Kept;
use crate::sheet::{PlanSheet, plan_sheet};
use crate::wording::length;

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// The rules refuse the weld.
    #[error(transparent)]
    Rules(#[from] RuleError),
    /// The model refuses the setup, or its solvers stopped.
    #[error(transparent)]
    Cycle(#[from] CycleError),
    /// No current holds the set point with the given coil.
    #[error(transparent)]
    Hopeless(#[from] Hopeless),
}

/// What is known before the cycle is run.
#[derive(Clone, Debug)]
pub struct Prepared {
    /// What the weld needs.
    pub requirement: Requirement,
    /// What is heeded while the heat is set up.
    pub advice: Vec<Remark>,
    /// Preheat and interpass temperature by every method.
    pub preheat: Preheat,
    /// The bands by rule.
    pub bands: Bands,
    /// What the controller is asked to do.
    pub programme: Programme,
    /// Everything that the cycle starts from.
    pub setup: Setup,
    /// What was taken where file and limits are silent.
    pub taken: Vec<Taken>,
}

/// A plan.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The job.
    pub job: Job,
    /// What the weld needs.
    pub requirement: Requirement,
    /// What is heeded while the heat is set up.
    pub advice: Vec<Remark>,
    /// Preheat and interpass temperature by every method.
    pub preheat: Preheat,
    /// The bands by rule.
    pub bands: Bands,
    /// What the controller is asked to do.
    pub programme: Programme,
    /// Everything that the cycle started from.
    pub setup: Setup,
    /// The turns.
    pub coil: Coil,
    /// How they were chosen; `None` where they were given.
    pub proposal: Option<Proposal>,
    /// The predicted cycle.
    pub outcome: Outcome,
    /// The metal at rest at the set point, by which a later plan says what made it differ; `None` where it was not
    /// computed.
    pub at_rest: Option<Kept>,
    /// What the predicted scans say of each limit.
    pub findings: Findings,
    /// What only the model can say, worst first.
    pub foreseen: Vec<Foreseen>,
    /// The bake-out of the weld, and what this cycle leaves of its hydrogen.
    pub bake_out: BakeOutNeed,
    /// How far persons keep from turns and leads.
    pub exposure: Exposure,
    /// What was taken where file and limits are silent.
    pub taken: Vec<Taken>,
}

impl Plan {
    /// Whether the predicted values meet every limit and nothing foreseen stands in the way.
    pub fn complies(&self) -> bool {
        self.findings.all_met()
            && self
                .foreseen
                .iter()
                .all(|f| f.verdict == checks::Verdict::Met)
    }

    /// The document; `made` says who or what made it and when.
    pub fn sheet(&self, made: &str) -> Sheet {
        plan_sheet(&PlanSheet {
            job: &self.job,
            requirement: &self.requirement,
            advice: &self.advice,
            preheat: &self.preheat,
            bake_out: &self.bake_out,
            exposure: &self.exposure,
            bands: &self.bands,
            setup: &self.setup,
            coil: &self.coil,
            proposal: self.proposal.as_ref(),
            outcome: &self.outcome,
            findings: &self.findings,
            foreseen: &self.foreseen,
            taken: &self.taken,
            made,
            paper: match self.job.units {
                Units::Si => Paper::A4,
                Units::Us => Paper::Letter,
            },
        })
    }

    /// Outside diameter where a tape is laid round the pipe, at a distance from the weld center.
    pub fn outside_diameter_at(&self, axial: Millimeters) -> Millimeters {
        let side = &self.job.joint.sides[usize::from(axial.mm() > 0.0)];
        let Some(transition) = side.transition else {
            return side.outside_diameter;
        };
        let beyond_mm = axial.mm().abs() - transition.straight.mm();
        let part = (beyond_mm / transition.length.mm().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        transition.outside_diameter + (side.outside_diameter - transition.outside_diameter) * part
    }
}

/// Plans a job; `progress` is told how far it has come.
///
/// # Errors
/// [`PlanError`] where the rules refuse the weld, or the model its setup.
pub fn plan(
    job: &Job,
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Plan, PlanError> {
    let prepared = prepared(job)?;
    let cycle = cycle::plan::plan(&prepared.setup, progress)
        .map_err(|error| told(error, &prepared.setup, job.units))?;
    let at_rest = at_rest(job, &prepared, &cycle.coil, cycle.outcome.frequency_hz);
    let plan = judged(job, prepared, cycle.coil, cycle.proposal, cycle.outcome)?;
    Ok(Plan { at_rest, ..plan })
}

/// The metal at rest with the coil of a plan; `None` where no current brings it there.
fn at_rest(job: &Job, prepared: &Prepared, coil: &Coil, frequency_hz: f64) -> Option<Kept> {
    let mut setup = prepared.setup.clone();
    setup.coil = Some(coil.clone());
    setup.source.working_frequency_hz = Some(frequency_hz);
    let at_rest = cycle::at_rest::at_rest(&setup, practice()).ok()?;
    Some(Kept::of(job.units, prepared, &at_rest))
}

/// Everything that is known before the cycle is run.
///
/// # Errors
/// [`PlanError::Rules`] where the rules refuse the weld.
pub fn prepared(job: &Job) -> Result<Prepared, PlanError> {
    let requirement = rules::requirement(&job.weld)?;
    let bands = rules::bands(&job.weld)?;
    let preheat = rules::preheat::preheat(&job.weld)?;
    let (programme, more) = programme(job, &requirement);
    let mut taken = job.taken.clone();
    taken.extend(more);
    let thermocouples = thermocouples(job, &bands, &mut taken)?;
    let setup = setup(job, &bands, programme, thermocouples);
    Ok(Prepared {
        advice: advice(&job.weld)?,
        requirement,
        preheat,
        bands,
        programme,
        setup,
        taken,
    })
}

/// What code and practice tell of the heat, and how it is set up.
fn advice(weld: &Weld) -> Result<Vec<Remark>, RuleError> {
    let mut advice = rules::advice(weld)?;
    advice.extend(rules::setting_up(weld, false)?);
    Ok(advice)
}

/// The plan of a predicted cycle: its scans checked, and what only the model can say.
///
/// # Errors
/// [`PlanError::Rules`] where the rules do not take the predicted temperatures.
pub fn judged(
    job: &Job,
    prepared: Prepared,
    coil: Coil,
    proposal: Option<Proposal>,
    outcome: Outcome,
) -> Result<Plan, PlanError> {
    let findings = checked(
        &prepared.requirement,
        &prepared.setup.thermocouples,
        job,
        &outcome,
    );
    let foreseen = foreseen(job, &prepared, &coil, &outcome);
    Ok(Plan {
        bake_out: bake_out_need(&job.weld, coldest(&outcome))?,
        exposure: exposure_of(job, &coil, outcome.frequency_hz, Some(&outcome.stray))?,
        job: job.clone(),
        requirement: prepared.requirement,
        advice: prepared.advice,
        preheat: prepared.preheat,
        bands: prepared.bands,
        programme: prepared.programme,
        setup: prepared.setup,
        coil,
        proposal,
        outcome,
        at_rest: None,
        findings,
        foreseen,
        taken: prepared.taken,
    })
}

/// The coldest place of the soak band, bore included, at every moment.
fn coldest(outcome: &Outcome) -> Vec<(Hours, Celsius)> {
    let moments = outcome.history.iter();
    moments
        .map(|moment| {
            (
                Hours::from_s(moment.time_s),
                Celsius::from_c(moment.soak_coldest.temperature_c),
            )
        })
        .collect()
}

/// The predicted scans pass the same checks as a log.
fn checked(
    requirement: &Requirement,
    thermocouples: &[Thermocouple],
    job: &Job,
    outcome: &Outcome,
) -> Findings {
    let channels: Vec<ChannelUse> = thermocouples.iter().map(ChannelUse::from).collect();
    let mut checker = Checker::new(requirement, &channels, job.reading.clone()).of_prediction();
    outcome.scans.iter().for_each(|scan| checker.push(scan));
    checker.findings()
}

/// The given thermocouples, or the proposed ones that lie on the pipe.
fn thermocouples(
    job: &Job,
    bands: &Bands,
    taken: &mut Vec<Taken>,
) -> Result<Vec<Thermocouple>, RuleError> {
    if let Some(given) = &job.thermocouples {
        return Ok(given.clone());
    }
    let [first, second] = [
        job.joint.sides[0].length.mm(),
        job.joint.sides[1].length.mm(),
    ];
    let on_pipe = |t: &Thermocouple| (-first..=second).contains(&t.axial.mm());
    let (on, off): (Vec<_>, Vec<_>) = rules::layout(&job.weld, bands)?
        .into_iter()
        .partition(on_pipe);
    taken.extend(off.iter().map(|t| Taken {
        key: t.name.clone(),
        value: format!(
            "left out: {} from the weld the pipe has ended",
            length(Millimeters::from_mm(t.axial.mm().abs()), job.units)
        ),
    }));
    Ok(on)
}

fn setup(
    job: &Job,
    bands: &Bands,
    programme: Programme,
    thermocouples: Vec<Thermocouple>,
) -> Setup {
    Setup {
        joint: job.joint.clone(),
        surroundings: job.surroundings,
        blanket: Wrap {
            material: job.blanket.material.clone(),
            thickness: job.blanket.thickness,
            reach: job
                .blanket
                .reach
                .unwrap_or_else(|| proposed_reach(job, bands)),
        },
        cable: job.cable.clone(),
        coil: job.coil.clone(),
        leads: job.leads.clone(),
        source: job.source.clone(),
        programme,
        thermocouples,
        soak_band: bands.soak.width,
        heated_band: bands.heated.width,
        neighbors: job.neighbors.clone(),
        recording_interval: job.cycle.recording_interval,
        units: job.units,
    }
}

/// Half the gradient control band on each side, no further than the side goes.
fn proposed_reach(job: &Job, bands: &Bands) -> [Millimeters; 2] {
    let half_mm = 0.5 * bands.gradient_control.width.mm();
    [0, 1].map(|side| Millimeters::from_mm(half_mm.min(job.joint.sides[side].length.mm())))
}
