//! Heat in the metal of a section and in the blankets round it.
//!
//! A [`Model`] is made once for a section, its mesh and its [`Boundary`] laws; [`steady`] finds the state of rest,
//! a [`Transient`] walks in time with TR-BDF2 steps of controlled error. Theory: `docs/theory/heat.md`.

mod boundary;
mod build;
mod element;
mod evaluate;
mod layout;
mod lookup;
mod model;
mod newton;
mod pieces;
mod probe;
mod recall;
mod source;
mod steady;
mod step;
mod surface;
mod transient;

pub use boundary::{Blanket, Boundary, Convection, Law, Loss, Radiation};
pub use evaluate::Conditions;
pub use model::{Exchange, Model, State};
pub use pieces::pieces_between;
pub use probe::Probe;
pub use source::{NoSource, Source, SteadySource};
pub use steady::{Steady, steady, steady_within};
pub use step::{Energy, Step, StepSettings, Stepper};
pub use transient::{Effort, Transient};

#[cfg(test)]
mod tests;
