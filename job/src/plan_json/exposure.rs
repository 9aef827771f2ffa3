//! How far persons keep from turns and leads, as data.

use rules::exposure::Persons;
use schemars::JsonSchema;
use serde::Serialize;

use super::needs::{Clause, clause};
use super::word;

/// Distances for every reference level at the frequency: calculated, not measured, without the pipe.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Exposure {
    /// The current in A rms: the most that the source gives.
    pub current_rms_a: f64,
    /// The frequency in Hz.
    pub frequency_hz: f64,
    /// The farthest distance for workers by the levels that were read, in m.
    pub workers_m: Option<f64>,
    /// The same for everybody.
    pub public_m: Option<f64>,
    /// One for each level, the lowest first.
    pub distances: Vec<Distance>,
}

/// Where the field stays below one level.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Distance {
    /// `workers` or `public`.
    pub who: String,
    /// `whole` or `limbs`.
    pub part: String,
    /// The level in µT rms.
    pub level_microtesla: f64,
    /// Beside the coil, from the turns, in m.
    pub beside_m: f64,
    /// Along the pipe, from the last turn, in m.
    pub along_m: f64,
    /// Beside the leads, in m; `null` where they touch.
    pub leads_m: Option<f64>,
    /// Where the level stands.
    pub clause: Clause,
}

pub(super) fn exposure(found: &crate::need::Exposure) -> Exposure {
    let distances = found.distances.iter().map(|one| Distance {
        who: word(one.level.who),
        part: word(one.level.part),
        level_microtesla: one.level.microtesla,
        beside_m: one.beside_m,
        along_m: one.along_m,
        leads_m: one.leads_m,
        clause: clause(&one.level.clause),
    });
    Exposure {
        current_rms_a: found.current_a,
        frequency_hz: found.frequency_hz,
        workers_m: found.keep_away_m(Persons::Workers),
        public_m: found.keep_away_m(Persons::Public),
        distances: distances.collect(),
    }
}
