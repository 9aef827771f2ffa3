//! How far persons keep from turns and leads, as data.

use rules::exposure::Persons;
use schemars::JsonSchema;
use serde::Serialize;

use super::needs::{Clause, clause};
use super::word;
use crate::need::Kept;

/// Distances for every reference level at the frequency: calculated, not measured.
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
    /// Beside the coil, from the turns, in m: the larger of `in_air` and `with_work`, which governs.
    pub beside_m: f64,
    /// Along the pipe at the height of the cable, from the outermost turn, in m: the larger of both.
    pub along_m: f64,
    /// Beside the leads, in m: the larger of both; `null` where they touch.
    pub leads_m: Option<f64>,
    /// Coil and leads in free air, by Biot and Savart.
    pub in_air: KeptDistances,
    /// The field that was solved with the work in the coil, beyond the mesh as that of the dipole which it sees, and the leads
    /// added size to size; known to about 4 percent; `null` where none was solved.
    pub with_work: Option<KeptDistances>,
    /// Where the level stands.
    pub clause: Clause,
}

/// Distances by one field.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct KeptDistances {
    /// Beside the coil, in m.
    pub beside_m: f64,
    /// Along the pipe, in m.
    pub along_m: f64,
    /// Beside the leads, in m; `null` where they touch.
    pub leads_m: Option<f64>,
}

fn kept(kept: Kept) -> KeptDistances {
    KeptDistances {
        beside_m: kept.beside_m,
        along_m: kept.along_m,
        leads_m: kept.leads_m,
    }
}

pub(super) fn exposure(found: &crate::need::Exposure) -> Exposure {
    let distances = found.distances.iter().map(|one| Distance {
        who: word(one.level.who),
        part: word(one.level.part),
        level_microtesla: one.level.microtesla,
        beside_m: one.governing.beside_m,
        along_m: one.governing.along_m,
        leads_m: one.governing.leads_m,
        in_air: kept(one.in_air),
        with_work: one.with_work.map(kept),
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
