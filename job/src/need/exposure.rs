//! How far persons keep from coil and leads: the field at the source's full current, in free air.

use cycle::stray_field::{Path, Vector, distance_m, paths};
use rules::RuleError;
use rules::exposure::{ReferenceLevel, reference_levels};
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

/// Calculated, not measured; none where the turns are not given.
///
/// # Errors
/// A data file of the rules cannot be read.
pub fn exposure(job: &Job) -> Result<Option<Exposure>, RuleError> {
    let Some(coil) = job.coil.as_ref().filter(|coil| !coil.turns.is_empty()) else {
        return Ok(None);
    };
    let cable_m = 1e-3 * job.cable.outside_diameter_mm.value;
    let all = paths(&job.joint, coil, cable_m, &job.leads);
    let current_a = job.source.current_rms_a;
    let frequency_hz = job
        .source
        .working_frequency_hz
        .unwrap_or(job.source.frequency_range_hz[1]);
    let lines = lines(&all, coil.turns.len());
    let levels = reference_levels(frequency_hz)?;
    let at = |line: (Vector, Vector), level: &ReferenceLevel| {
        distance_m(
            &all,
            line,
            current_a,
            TESLA_PER_MICROTESLA * level.microtesla,
        )
    };
    let distances = levels
        .into_iter()
        .map(|level| Distances {
            beside_m: at(lines.beside, &level),
            along_m: at(lines.along, &level),
            leads_m: lines.leads.map(|line| at(line, &level)),
            level,
        })
        .collect();
    Ok(Some(Exposure {
        current_a,
        frequency_hz,
        distances,
    }))
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
