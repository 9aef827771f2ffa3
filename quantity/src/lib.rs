//! Physical quantities that travel between rooms, and where a value comes from.
//!
//! Each quantity is built and read with its unit in the name. A temperature and a difference of temperatures are
//! two types, because a difference of 100 °F is 55.6 K and not 37.8 °C.

mod curve;
mod measure;
mod source;
mod temperature;
mod units;

pub use curve::{Curve, OutOfRange};
pub use measure::{Hours, KelvinsPerHour, Millimeters};
pub use source::{Source, Sourced, Status};
pub use temperature::{Celsius, Kelvins};
pub use units::Units;
