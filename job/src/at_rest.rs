//! The quick answer: one state of the metal, everything at rest at the set point with the coil as it is wound now.

pub use cycle::at_rest::AtRest;
use cycle::at_rest::at_rest as solved;
use cycle::practice::practice;
use cycle::setup::Setup;

use crate::hopeless::told;
use crate::model::Job;
use crate::plan::{PlanError, Prepared, prepared};
use crate::planned::Planned;

/// Where the turns of a quick answer come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WoundBy {
    /// The job file gives them.
    File,
    /// A plan proposed them.
    Plan,
    /// Nobody: they are wound by the habit of the trade.
    Habit,
}

/// A quick answer.
#[derive(Clone, Debug)]
pub struct Rested {
    /// What is known before the cycle is run.
    pub prepared: Prepared,
    /// The hold at rest.
    pub at_rest: AtRest,
    /// Where its turns come from.
    pub wound_by: WoundBy,
    /// Whether its frequency is that of a plan; else it is the job file's, or one that a plan would try.
    pub frequency_of_plan: bool,
}

/// The hold at rest. Where the file leaves turns and frequency to the plan and there is one, they are the plan's.
///
/// # Errors
/// [`PlanError`] where the rules refuse the weld, the model its setup, or the coil holds no set point.
pub fn at_rest(job: &Job, planned: Option<&Planned>) -> Result<Rested, PlanError> {
    let prepared = prepared(job)?;
    let own = &prepared.setup;
    let (tried, wound_by, frequency_of_plan) = match planned {
        Some(planned) => as_planned(own, planned),
        None => (own.clone(), by_file(own), false),
    };
    match solved(&tried, practice()) {
        Ok(at_rest) => Ok(Rested {
            prepared,
            at_rest,
            wound_by,
            frequency_of_plan,
        }),
        // The turns of a plan need not fit a weld that was changed since.
        Err(_) if wound_by == WoundBy::Plan => {
            let at_rest = solved(own, practice()).map_err(|error| told(error, own, job.units))?;
            Ok(Rested {
                wound_by: by_file(own),
                frequency_of_plan: false,
                prepared,
                at_rest,
            })
        }
        Err(error) => Err(told(error, own, job.units)),
    }
}

fn by_file(setup: &Setup) -> WoundBy {
    match setup.coil {
        Some(_) => WoundBy::File,
        None => WoundBy::Habit,
    }
}

fn as_planned(own: &Setup, planned: &Planned) -> (Setup, WoundBy, bool) {
    let mut setup = own.clone();
    let wound_by = match setup.coil {
        Some(_) => WoundBy::File,
        None => {
            setup.coil = Some(planned.coil.clone());
            WoundBy::Plan
        }
    };
    let [low, high] = setup.source.frequency_range_hz;
    let fits =
        setup.source.working_frequency_hz.is_none() && (low..=high).contains(&planned.frequency_hz);
    if fits {
        setup.source.working_frequency_hz = Some(planned.frequency_hz);
    }
    (setup, wound_by, fits)
}
