//! Thermocouples: where they sit and what they are for.

use quantity::Millimeters;
use serde::{Deserialize, Serialize};

/// A thermocouple of the layout.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Thermocouple {
    /// Its name, for example `TC1`; the name of its channel.
    pub name: String,
    /// What it is for.
    pub role: Role,
    /// Which surface it sits on.
    pub face: Face,
    /// Distance along the pipe from the weld center line; negative on the first side.
    pub axial: Millimeters,
    /// Position round the pipe, 12 = top (vertical pipe: 12 = north), in hours from 0 (exclusive) to 12.
    pub clock: f64,
    /// Which part of the joint it watches.
    pub place: Place,
    /// Why it is there.
    pub reason: String,
    /// Whether a wire is fitted; a point that cannot be reached is `false` and is read from the prediction only.
    #[serde(default = "fitted_unless_said")]
    pub fitted: bool,
}

fn fitted_unless_said() -> bool {
    true
}

/// What a thermocouple is for, in words: its role in the soak band, or where else it sits.
pub fn told_as(role: Role, place: Place) -> &'static str {
    match (role, place) {
        (Role::Monitor, Place::HeatedBandEdge | Place::Neighbor) => place.words(),
        _ => role.words(),
    }
}

/// What a thermocouple is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// The controller follows it, and the hold is judged by it.
    Control,
    /// The hold and the spread are judged by it.
    Monitor,
    /// Wired beside another, used when that fails.
    Spare,
}

impl Role {
    /// One word.
    pub fn words(self) -> &'static str {
        match self {
            Role::Control => "control",
            Role::Monitor => "monitor",
            Role::Spare => "spare",
        }
    }
}

/// A surface of the pipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Face {
    /// The outside.
    Outside,
    /// The bore.
    Bore,
}

/// The part of the joint that a thermocouple watches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// In the soak band: the hold range holds here.
    SoakBand,
    /// At the edge of the heated band: gradients are judged here.
    HeatedBandEdge,
    /// At a neighbor: flange, valve, coating.
    Neighbor,
}

impl Place {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Place::SoakBand => "soak band",
            Place::HeatedBandEdge => "edge of the heated band",
            Place::Neighbor => "neighbor",
        }
    }
}
