//! The units in which a person reads and writes.

use serde::{Deserialize, Serialize};

/// The units of a sheet; inside the program everything is metric.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Units {
    /// °C and mm first.
    Si,
    /// °F and inches first.
    Us,
}
