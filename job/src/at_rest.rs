//! The quick answer: one state of the metal, everything at rest at the set point with the coil as it is wound now.

pub use cycle::at_rest::AtRest;
use cycle::at_rest::at_rest as solved;
use cycle::practice::practice;

use crate::model::Job;
use crate::plan::{PlanError, Prepared, prepared};

/// What is known of a job before its cycle is run, with the hold at rest.
///
/// # Errors
/// [`PlanError`] where the rules refuse the weld, or the model its setup.
pub fn at_rest(job: &Job) -> Result<(Prepared, AtRest), PlanError> {
    let prepared = prepared(job)?;
    let rested = solved(&prepared.setup, practice())?;
    Ok((prepared, rested))
}
