//! The drawing of the joint that stays in view beside the chart.

use cycle::setup::{Coil, Turn};
use job::at_rest::WoundBy;
use quantity::Millimeters;
use rules::Confirmation;
use serde::Deserialize;

use crate::weld::{Drawing, drawing};

/// What a plan's data says about turns.
#[derive(Deserialize)]
struct PlanFile {
    wrap: WrapRead,
}

#[derive(Deserialize)]
struct WrapRead {
    coil: CoilRead,
}

#[derive(Deserialize)]
struct CoilRead {
    turns: Vec<TurnRead>,
}

#[derive(Deserialize)]
struct TurnRead {
    axial_mm: f64,
    standoff_mm: f64,
}

/// The joint of a job file, with the turns of its plan where the file leaves them open; `None` where it is no weld or is
/// refused.
pub fn joint(text: &str, confirmed: &[Confirmation], plan: Option<&[u8]>) -> Option<Drawing> {
    if job::is_card(text) {
        return None;
    }
    let job = job::read_with(text, job::folder::JOB_FILE, confirmed).ok()?;
    let prepared = job::plan::prepared(&job).ok()?;
    let wound = plan.and_then(coil_of_plan);
    let wound_by = match (&job.coil, &wound) {
        (Some(_), _) => WoundBy::File,
        (None, Some(_)) => WoundBy::Plan,
        (None, None) => WoundBy::Habit,
    };
    drawing(&job, &prepared, wound.as_ref(), wound_by)
}

fn coil_of_plan(bytes: &[u8]) -> Option<Coil> {
    let plan: PlanFile = serde_json::from_slice(bytes).ok()?;
    let turn = |one: &TurnRead| Turn {
        axial: Millimeters::from_mm(one.axial_mm),
        standoff: Millimeters::from_mm(one.standoff_mm),
    };
    Some(Coil {
        turns: plan.wrap.coil.turns.iter().map(turn).collect(),
    })
}
