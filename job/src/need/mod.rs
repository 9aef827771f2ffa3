//! What a weld needs, who says so, and what disagrees: read from the rules alone, without any heat computed.

mod answer;
mod bake_out;
pub(crate) mod blocks;
mod exposure;
mod notes;
mod page;
mod time_temperature;

pub(crate) use answer::answerable;
pub use answer::{Need, StressRelief, Unanswered, need};
pub use bake_out::{BakeOutNeed, bake_out_need};
pub use exposure::{Distances, Exposure, Kept, exposure, exposure_of};
pub use page::need_sheet;
pub use time_temperature::{TimeTemperatureNeed, Way, time_temperature_need};
