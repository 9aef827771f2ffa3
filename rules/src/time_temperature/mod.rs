//! Time and temperature as one number: Hollomon-Jaffe and Larson-Miller parameter, equivalent time, ramps, several
//! cycles, the ceiling of a code, and what a procedure qualification leaves.
//!
//! [`Exposure`] takes one sample after the other; [`combined`] takes whole cycles; [`budget`] compares with what was
//! qualified; [`critical_parameters`] names the ceilings.

mod budget;
mod critical;
mod cycles;
mod exposure;
mod parameter;
mod ramp;
pub mod value;

pub use budget::{Budget, budget};
pub use critical::{CriticalParameter, critical_parameters};
pub use cycles::{Combined, Cycle, combined};
pub use exposure::Exposure;
pub(crate) use parameter::bad as bad_measure;
pub use parameter::{Parameter, doubt, hollomon_jaffe, larson_miller};
pub use ramp::{RampRule, ramp_time};
