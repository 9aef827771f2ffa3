//! What the weld needs, and by which clause: code tables, requirement, bands, thermocouple layout.
//!
//! All values live in `rules/data` with code, edition, clause and status. The room knows no readings, no field and
//! no clock. The way through: [`requirement()`] reads the tables for a weld, [`bands()`] works out the widths,
//! [`layout()`] proposes thermocouples, [`preheat::preheat()`] sets every preheat method side by side, [`lookup()`] walks
//! over everything that is kept.

mod advice;
mod asked_if;
mod book;
mod both_sides;
mod ceiling;
mod composition;
mod condition;
mod confirm;
mod critical;
mod guidance;
mod layout;
mod lookup;
mod lower_hold;
mod missing;
mod own;
mod pick;
mod range;
mod reader;
mod refuse;
mod require;
mod sought;
mod sound;
mod thickness;
mod weaker;
mod when;
mod widths;
mod wording;

pub mod answers;
pub mod bake_out;
pub mod band;
pub mod column;
pub mod exposure;
pub mod fault;
pub mod formula;
pub mod joint;
pub mod preheat;
pub mod requirement;
pub mod row;
pub mod shelf;
pub mod standing;
pub mod thermocouple;
pub mod time_temperature;
pub mod weld;
pub mod welding;

pub use advice::{advice, setting_up};
pub use asked_if::{AskedIf, SumRange};
pub use composition::NotAt;
pub use condition::Condition;
pub use confirm::Confirmation;
pub use critical::{Critical, Estimate, NoEstimate, critical_temperatures};
pub use fault::{RuleError, RuleFault};
pub use layout::layout;
pub use lookup::{Entry, UsEntry, lookup};
pub use own::card_limits;
pub use require::requirement;
pub use standing::standing;
pub use when::When;
pub use widths::bands;
