//! Coil, circuit and source, controller, field and heat in time: a plan, told as the record that it should become.
//!
//! A [`setup::Setup`] goes in, an [`outcome::Outcome`] comes out. The room may not mark its own work: whether the
//! predicted scans satisfy a requirement is for others to say.

pub mod assumptions;
pub mod circuit;
pub mod closed_forms;
pub mod coil;
pub mod controller;
pub mod error;
pub mod joint;
pub mod laws;
pub mod outcome;
pub mod practice;
pub mod proposal;
pub mod record;
pub mod seek;
pub mod setup;
pub mod surface_lines;
pub mod surroundings;
pub mod watch;
