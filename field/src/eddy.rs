//! Eddy currents in a section: the magnetic vector potential of sinusoidal currents, on quadratic elements.
//!
//! Phasors are peak values with exp(+j w t). A [`Problem`] holds what depends on the section alone (mesh, pattern,
//! symbolic analysis); a [`Drive`] says what drives it, a [`State`] remembers the field strength from which
//! permeability is taken, and a [`Solution`] answers questions. Theory: docs/theory/eddy-currents.md.

mod active;
mod anywhere;
mod boundary;
mod drive;
mod estimate;
mod flux;
mod frozen;
mod problem;
mod solution;
mod solve;
mod source;

pub use drive::{Drive, EdgeField, Solves, Temperature};
pub use estimate::{mesh_settings, skin_depth_m, smallest_skin_depths_m, surface_fields_a_m};
pub use frozen::Frozen;
pub use problem::Problem;
pub use solution::{Circuit, Effort, PointInMetal, Solution};
pub use solve::State;
pub use source::Source;
