//! Coil, circuit and source, controller, field and heat in time: a plan, told as the record that it should become.
//!
//! A [`setup::Setup`] goes in, an [`outcome::Outcome`] comes out. The room may not mark its own work: whether the
//! predicted scans satisfy a requirement is for others to say.

pub mod assumptions;
pub mod at_rest;
pub mod cable_in_blanket;
pub mod cautions;
pub mod check;
pub mod circuit;
pub mod circuit_table;
pub mod closed_forms;
pub mod coil;
pub mod controller;
pub mod demand;
pub mod error;
pub mod grain;
mod heat_along;
pub mod joint;
pub mod laws;
pub mod layout;
pub mod outcome;
pub mod plan;
pub mod practice;
pub mod prepare;
pub mod proposal;
pub mod propose;
pub mod record;
pub mod run;
pub mod seek;
pub mod setup;
pub mod snapshot;
pub mod stray_field;
pub mod stray_with_work;
pub mod surface_lines;
pub mod surroundings;
pub mod watch;
pub mod words;
