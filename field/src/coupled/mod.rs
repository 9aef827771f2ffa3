//! Field and heat together, in time and at rest.
//!
//! A [`Run`] walks in time: between two solves of the field the heat of the currents is foreseen from how
//! resistivity and permeability change with temperature, and a new field is solved when temperatures, current or
//! frequency have moved too far. [`rest`] finds the state of rest under a current, or the current that holds a point
//! at a temperature. Theory: `docs/theory/coupling.md`.

mod depth;
mod predictor;
mod rest;
mod run;
mod settings;
mod update;

pub use predictor::Predictor;
pub use rest::{Held, Rest, rest};
pub use run::{Demand, Effort, Run, StepReport, Trial};
pub use settings::Settings;
pub use update::{FieldReport, Setup};
