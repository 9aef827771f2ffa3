//! How far persons keep from coil and leads: the field at the source's full current, in free air.

use cycle::setup::Coil;
use cycle::stray_field::{Path, Vector, distances_m, paths};
use quantity::Status;
use rules::RuleError;
use rules::exposure::{BodyPart, Persons, ReferenceLevel, reference_levels};
use serde::Serialize;

use crate::model::Job;

/// Distances for every reference level that holds at the frequency.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Exposure {
    /// The current in A, rms: the most that the source gives.
    pub current_a: f64,
    /// The frequency in Hz.
    pub frequency_hz: f64,
    /// One for each level, the lowest first.
    pub distances: Vec<Distances>,
}

/// Where the field stays below one level.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Distances {
    /// The level.
    pub level: ReferenceLevel,
    /// Beside the coil, from the turns, in m.
    pub beside_m: f64,
    /// Along the pipe, from the last turn, in m.
    pub along_m: f64,
    /// Beside the leads, in m; none where they touch.
    pub leads_m: Option<f64>,
}

/// The levels are written in µT.
const TESLA_PER_MICROTESLA: f64 = 1e-6;

/// The exposure of a job whose turns are given; none where they are not.
///
/// # Errors
/// A data file of the rules cannot be read.
pub fn exposure(job: &Job) -> Result<Option<Exposure>, RuleError> {
    let frequency_hz = job
        .source
        .working_frequency_hz
        .unwrap_or(job.source.frequency_range_hz[1]);
    job.coil
        .as_ref()
        .filter(|coil| !coil.turns.is_empty())
        .map(|coil| exposure_of(job, coil, frequency_hz))
        .transpose()
}

/// Calculated, not measured: at the largest current of the source.
///
/// # Errors
/// A data file of the rules cannot be read.
pub fn exposure_of(job: &Job, coil: &Coil, frequency_hz: f64) -> Result<Exposure, RuleError> {
    let cable_m = 1e-3 * job.cable.outside_diameter_mm.value;
    let all = paths(&job.joint, coil, cable_m, &job.leads);
    let current_a = job.source.current_rms_a;
    let lines = lines(&all, coil.turns.len());
    let levels = reference_levels(frequency_hz)?;
    let tesla: Vec<f64> = levels
        .iter()
        .map(|level| TESLA_PER_MICROTESLA * level.microtesla)
        .collect();
    let at = |line: (Vector, Vector)| distances_m(&all, line, current_a, &tesla);
    let (beside, along, leads) = (at(lines.beside), at(lines.along), lines.leads.map(at));
    let distances = levels
        .into_iter()
        .enumerate()
        .map(|(index, level)| Distances {
            level,
            beside_m: beside[index],
            along_m: along[index],
            leads_m: leads.as_ref().map(|leads| leads[index]),
        })
        .collect();
    Ok(Exposure {
        current_a,
        frequency_hz,
        distances,
    })
}

impl Distances {
    /// The farthest of the three.
    pub fn farthest_m(&self) -> f64 {
        self.beside_m
            .max(self.along_m)
            .max(self.leads_m.unwrap_or_default())
    }
}

impl Exposure {
    /// How far persons keep from turns and leads by the levels for the whole body that were read, in m; none where none was.
    pub fn keep_away_m(&self, who: Persons) -> Option<f64> {
        let read = self.distances.iter().filter(|one| {
            one.level.who == who
                && one.level.part == BodyPart::Whole
                && one.level.clause.status == Status::Verified
        });
        read.map(Distances::farthest_m).reduce(f64::max)
    }
}

/// The lines along which a person walks away: a start and a direction.
struct Lines {
    beside: (Vector, Vector),
    along: (Vector, Vector),
    leads: Option<(Vector, Vector)>,
}

fn lines(paths: &[Path], turns: usize) -> Lines {
    let corners = |paths: &[Path]| {
        paths
            .iter()
            .flat_map(|path| path.corners_m.clone())
            .collect::<Vec<_>>()
    };
    let of_turns = corners(&paths[..turns]);
    let most = |part: usize| of_turns.iter().map(|at| at[part]).fold(f64::MIN, f64::max);
    let least_z = of_turns.iter().map(|at| at[2]).fold(f64::MAX, f64::min);
    let middle_z = 0.5 * (most(2) + least_z);
    // The leads leave towards +x, so beside the coil is measured on the other side.
    let leads = paths.get(turns).map(|lead| {
        let [near, far] = [lead.corners_m[0], lead.corners_m[1]];
        ([0.5 * (near[0] + far[0]), 0.0, 0.0], [0.0, 1.0, 0.0])
    });
    Lines {
        beside: ([-most(0), 0.0, middle_z], [-1.0, 0.0, 0.0]),
        along: ([0.0, 0.0, most(2)], [0.0, 0.0, 1.0]),
        leads,
    }
}
