//! Specimens: logs with known answers, for tests and trials.
//!
//! A [`Situation`] holds the true temperature of every place as straight pieces in continuous time, what goes wrong
//! between metal and instrument, and how it is logged. From the true lines, never from readings, come its
//! [`Answer`] and what must be said of each limit. [`Situation::record`] samples it with noise that repeats itself.
//!
//! All of it is invented: good for tests of reading and judging, never for validation of physics.

mod answer;
mod card;
mod chance;
pub mod dialects;
mod fault;
mod hold;
mod line;
mod ramp;
mod recording;
mod sheet;
mod situation;
pub mod situations;

pub use answer::{Answer, Expectations, Expected, Margins};
pub use card::Card;
pub use chance::Chance;
pub use fault::{Fault, Shown};
pub use line::{Line, Piece};
pub use ramp::Rates;
pub use recording::{Recording, Row};
pub use sheet::{Damage, Encoding, Harm, Scan, Sheet, Specimen, Told};
pub use situation::{Channel, Failed, Failing, Logging, Pace, Situation};
