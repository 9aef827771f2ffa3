//! Coil, circuit and source, controller, field and heat in time: a plan, told as the record that it should become.
//!
//! A [`setup::Setup`] goes in, an [`outcome::Outcome`] comes out. The room may not mark its own work: whether the
//! predicted scans satisfy a requirement is for others to say.

pub mod error;
pub mod outcome;
pub mod pending;
pub mod proposal;
pub mod setup;
