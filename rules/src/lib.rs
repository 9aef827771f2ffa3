//! What the weld needs, and by which clause: code tables, requirement, bands, thermocouple layout.
//!
//! All values live in `rules/data` with code, edition, clause and status. The room knows no readings, no field and
//! no clock.

pub mod band;
pub mod requirement;
pub mod thermocouple;
pub mod weld;
