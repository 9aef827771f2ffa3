//! What a weld needs, who says so, and what disagrees: read from the rules alone, without any heat computed.

mod answer;
mod exposure;
mod page;

pub(crate) use answer::answerable;
pub use answer::{Need, StressRelief, Unanswered, need};
pub use exposure::{Distances, Exposure, exposure};
pub use page::need_sheet;
