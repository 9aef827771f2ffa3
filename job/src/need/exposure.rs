//! How far persons keep from coil and leads at the source's full current: in free air, and with the work where a plan
//! solved the field.

use cycle::setup::Coil;
use cycle::stray_field::{Line, Lines, distances_m, lines, paths};
use cycle::stray_with_work::WithWork;
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
    /// What governs: the larger of both.
    #[serde(flatten)]
    pub governing: Kept,
    /// Coil and leads in free air, by Biot and Savart.
    pub in_air: Kept,
    /// The field that was solved with the work in the coil, and the leads; none where no plan was solved.
    pub with_work: Option<Kept>,
}

/// Distances on the lines along which a person walks away.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Kept {
    /// Beside the coil, from the turns, in m.
    pub beside_m: f64,
    /// Along the pipe at the height of the cable, from the outermost turn, in m: the larger of both ways.
    pub along_m: f64,
    /// Beside the leads, in m; none where they touch.
    pub leads_m: Option<f64>,
}

impl Kept {
    /// The larger on each line: nobody is nearer than either asks.
    fn larger(self, other: Kept) -> Kept {
        Kept {
            beside_m: self.beside_m.max(other.beside_m),
            along_m: self.along_m.max(other.along_m),
            leads_m: self.leads_m.zip(other.leads_m).map(|(a, b)| a.max(b)),
        }
    }
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
        .map(|coil| exposure_of(job, coil, frequency_hz, None))
        .transpose()
}

/// Calculated, not measured: at the largest current of the source; with the solved field where a plan has one.
///
/// # Errors
/// A data file of the rules cannot be read.
pub fn exposure_of(
    job: &Job,
    coil: &Coil,
    frequency_hz: f64,
    solved: Option<&WithWork>,
) -> Result<Exposure, RuleError> {
    let cable_m = 1e-3 * job.cable.outside_diameter_mm.value;
    let all = paths(&job.joint, coil, cable_m, &job.leads);
    let current_a = job.source.current_rms_a;
    let lines = lines(&all, coil.turns.len());
    let levels = reference_levels(frequency_hz)?;
    let tesla: Vec<f64> = levels
        .iter()
        .map(|level| TESLA_PER_MICROTESLA * level.microtesla)
        .collect();
    let in_air = kept(&lines, |line| {
        Some(distances_m(&all, line, current_a, &tesla))
    });
    let leads = &all[coil.turns.len()..];
    let with_work = solved
        .filter(|solved| solved.is_solved())
        .and_then(|solved| {
            kept(&lines, |line| {
                solved.distances_m(line, leads, current_a, &tesla)
            })
        });
    let distances = levels
        .into_iter()
        .zip(in_air.unwrap_or_default())
        .enumerate();
    let distances = distances.map(|(index, (level, in_air))| {
        let with_work = with_work.as_ref().map(|all| all[index]);
        Distances {
            level,
            governing: with_work.map_or(in_air, |with_work| in_air.larger(with_work)),
            in_air,
            with_work,
        }
    });
    Ok(Exposure {
        current_a,
        frequency_hz,
        distances: distances.collect(),
    })
}

/// The distances of each level on all lines; none where the field is not known on one of them.
fn kept(lines: &Lines, at: impl Fn(Line) -> Option<Vec<f64>>) -> Option<Vec<Kept>> {
    let beside = at(lines.beside)?;
    let [up, down] = [at(lines.along[0])?, at(lines.along[1])?];
    let leads = match lines.leads {
        Some(line) => Some(at(line)?),
        None => None,
    };
    let of_level = |index: usize| Kept {
        beside_m: beside[index],
        along_m: up[index].max(down[index]),
        leads_m: leads.as_ref().map(|leads| leads[index]),
    };
    Some((0..beside.len()).map(of_level).collect())
}

impl Distances {
    /// The farthest of the three.
    pub fn farthest_m(&self) -> f64 {
        let Kept {
            beside_m,
            along_m,
            leads_m,
        } = self.governing;
        beside_m.max(along_m).max(leads_m.unwrap_or_default())
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
