//! The situations. All are invented; they are for tests and trials, never for validation of physics.

mod clocks;
mod cycles;
mod failing;
mod paces;
mod plain;

use crate::situation::Situation;

pub use plain::plain;

/// Every situation.
pub fn all() -> Vec<Situation> {
    [cycles::all(), paces::all(), clocks::all(), failing::all()].concat()
}

/// A situation by its name.
pub fn named(name: &str) -> Option<Situation> {
    all().into_iter().find(|s| s.name == name)
}
