//! A plan's data as it was written, as far as a log is compared with it.

use serde::Deserialize;

use crate::plan_json::FORMAT;

/// Why a plan can't be read.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PlanFault {
    /// It is no plan of this program.
    #[error("{file} is no plan of this program ({problem}); soakwright plan writes plan.json")]
    NoPlan {
        /// The file.
        file: String,
        /// What is wrong.
        problem: String,
    },
    /// It is of another format.
    #[error("{file} is of the format {found}, this program reads {FORMAT}; make the plan anew")]
    Format {
        /// The file.
        file: String,
        /// Its format.
        found: String,
    },
}

/// What a plan foresaw.
#[derive(Clone, Debug)]
pub struct PlanRead {
    /// The name of its file.
    pub file_name: String,
    /// SHA-256 of the file.
    pub sha256: String,
    /// Version of the program that made it.
    pub program_version: String,
    /// SHA-256 of the job file that it was made from.
    pub job_sha256: String,
    /// SHA-256 of what of it the plan was made from; plans of earlier versions lack it.
    pub planned_sha256: Option<String>,
    /// The thermocouples in the order of the readings.
    pub channels: Vec<String>,
    /// Time in s and readings in °C.
    pub scans: Vec<ScanRead>,
    /// Powers over time.
    pub powers: Vec<PowerRead>,
    /// Above this heating is limited, in °C.
    pub threshold_c: f64,
    /// Lower end of the hold, in °C.
    pub hold_from_c: f64,
    /// Rated power of the source in kW.
    pub rated_kw: f64,
}

/// One scan.
#[derive(Clone, Debug, Deserialize)]
pub struct ScanRead {
    time_s: f64,
    readings_c: Vec<Option<f64>>,
}

/// Power at one time.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct PowerRead {
    /// Time in s.
    pub time_s: f64,
    /// Mean of the control thermocouples in °C.
    pub control_c: f64,
    /// Out of the source in kW.
    pub source_kw: f64,
    /// Into the metal in kW.
    pub metal_kw: f64,
    /// Given off by metal and blanket in kW.
    pub given_off_kw: f64,
}

#[derive(Deserialize)]
struct File {
    format: String,
    program_version: String,
    job: JobRead,
    wrap: WrapRead,
    course: CourseRead,
}

#[derive(Deserialize)]
struct JobRead {
    sha256: String,
    #[serde(default)]
    planned_sha256: Option<String>,
}

#[derive(Deserialize)]
struct WrapRead {
    source: SourceRead,
    programme: ProgrammeRead,
}

#[derive(Deserialize)]
struct SourceRead {
    power_kw: f64,
}

#[derive(Deserialize)]
struct ProgrammeRead {
    threshold_c: f64,
    hold_range_c: [f64; 2],
}

#[derive(Deserialize)]
struct CourseRead {
    channels: Vec<String>,
    scans: Vec<ScanRead>,
    #[serde(default)]
    powers: Vec<PowerRead>,
}

/// Reads `plan.json`.
///
/// # Errors
/// [`PlanFault`] where the bytes are no plan of this program or of another format.
pub fn plan_read(file_name: &str, bytes: &[u8]) -> Result<PlanRead, PlanFault> {
    let file: File = serde_json::from_slice(bytes).map_err(|error| PlanFault::NoPlan {
        file: file_name.to_owned(),
        problem: error.to_string(),
    })?;
    if file.format != FORMAT {
        return Err(PlanFault::Format {
            file: file_name.to_owned(),
            found: file.format,
        });
    }
    Ok(PlanRead {
        file_name: file_name.to_owned(),
        sha256: readings::sha256(bytes),
        program_version: file.program_version,
        job_sha256: file.job.sha256,
        planned_sha256: file.job.planned_sha256,
        channels: file.course.channels,
        scans: file.course.scans,
        powers: file.course.powers,
        threshold_c: file.wrap.programme.threshold_c,
        hold_from_c: file.wrap.programme.hold_range_c[0],
        rated_kw: file.wrap.source.power_kw,
    })
}

impl PlanRead {
    /// The reading of a channel at a time, between two scans along the straight line.
    pub fn reading_c(&self, channel: usize, time_s: f64) -> Option<f64> {
        let behind = self.scans.partition_point(|s| s.time_s < time_s);
        let next = self.scans.get(behind)?;
        let next_c = next.readings_c.get(channel).copied().flatten()?;
        let Some(before) = behind.checked_sub(1).map(|i| &self.scans[i]) else {
            return (next.time_s == time_s).then_some(next_c);
        };
        let before_c = before.readings_c.get(channel).copied().flatten()?;
        let part = (time_s - before.time_s) / (next.time_s - before.time_s);
        Some(before_c + part * (next_c - before_c))
    }

    /// Time in s and mean of some channels, where all of them speak.
    pub fn means(&self, channels: &[usize]) -> Vec<[f64; 2]> {
        let mean = |scan: &ScanRead| {
            let readings: Option<Vec<f64>> = channels
                .iter()
                .map(|c| scan.readings_c.get(*c).copied().flatten())
                .collect();
            readings.map(|r| [scan.time_s, r.iter().sum::<f64>() / r.len() as f64])
        };
        self.scans.iter().filter_map(mean).collect()
    }
}
