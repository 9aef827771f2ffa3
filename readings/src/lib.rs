//! Readings: what thermocouples said, one time and all channels together.
//!
//! A plan, a logger file and a live wire all end as the same thing, a run of [`Scan`]s. Nothing here knows what is
//! good or bad.

mod scan;

pub use scan::{Channel, Scan};
