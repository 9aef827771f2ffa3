//! What is read of a `plan.json` for the comparison.

use serde::Deserialize;

use crate::rest_change::Kept;

use super::number::LimitKind;

#[derive(Deserialize)]
pub(super) struct File {
    pub format: String,
    pub job: Job,
    pub verdicts: Verdicts,
    pub wrap: Wrap,
    pub course: Course,
    /// A plan of another version may keep it otherwise, and is compared without it.
    #[serde(default)]
    at_rest: serde_json::Value,
}

impl File {
    pub(super) fn at_rest(&self) -> Option<Kept> {
        serde_json::from_value(self.at_rest.clone()).ok()
    }
}

#[derive(Deserialize)]
pub(super) struct Job {
    pub weld: String,
}

#[derive(Deserialize)]
pub(super) struct Verdicts {
    pub findings: Vec<Finding>,
    pub foreseen: Vec<Foreseen>,
}

#[derive(Deserialize)]
pub(super) struct Finding {
    pub verdict: String,
    pub limit: Limit,
    pub predicted: Option<Value>,
    pub when_h: Option<f64>,
    pub channel: Option<String>,
    pub reason: String,
}

#[derive(Deserialize)]
pub(super) struct Limit {
    pub kind: LimitKind,
    pub value: Value,
    pub above_c: Option<f64>,
    pub within_mm: Option<f64>,
}

#[derive(Deserialize)]
pub(super) struct Value {
    pub number: f64,
}

#[derive(Deserialize)]
pub(super) struct Foreseen {
    pub verdict: String,
}

#[derive(Deserialize)]
pub(super) struct Wrap {
    pub coil: Coil,
    pub blanket: Blanket,
    pub source: Source,
    pub programme: Programme,
}

#[derive(Deserialize)]
pub(super) struct Coil {
    pub cable: String,
    pub cable_diameter_mm: f64,
    pub turns: Vec<Turn>,
    pub lead_length_mm: f64,
}

#[derive(Deserialize)]
pub(super) struct Turn {
    pub axial_mm: f64,
    pub standoff_mm: f64,
}

#[derive(Deserialize)]
pub(super) struct Blanket {
    pub material: String,
    pub thickness_mm: f64,
    pub reach_mm: [f64; 2],
}

#[derive(Deserialize)]
pub(super) struct Source {
    pub power_kw: f64,
    pub current_a: f64,
    pub voltage_v: f64,
    pub frequency_hz: f64,
}

#[derive(Deserialize)]
pub(super) struct Programme {
    pub threshold_c: f64,
    pub free_heating_rate_k_h: f64,
    pub heating_rate_k_h: f64,
    pub set_point_c: f64,
    pub hold_range_c: [f64; 2],
    pub hold_time_h: f64,
    pub cooling_rate_k_h: f64,
    pub controlled_down_to_c: f64,
}

#[derive(Deserialize)]
pub(super) struct Course {
    pub stages: Vec<Stage>,
    pub profiles: Vec<Profile>,
    pub energy: Energy,
    pub soak_band_coldest: Peak,
    pub soak_band_hottest: Peak,
    pub beyond_soak_band_hottest: Peak,
    pub soak_band_inside_h: f64,
    pub surface_to_bore_heating_k: f64,
    pub surface_to_bore_hold_k: f64,
    pub neighbors: Vec<Neighbor>,
    pub largest_power_kw: f64,
    pub largest_current_a: f64,
    pub largest_voltage_v: f64,
}

#[derive(Deserialize)]
pub(super) struct Stage {
    pub stage: String,
    pub from_h: f64,
    pub to_h: f64,
}

#[derive(Deserialize)]
pub(super) struct Energy {
    pub source_kwh: f64,
}

#[derive(Deserialize)]
pub(super) struct Peak {
    pub temperature_c: f64,
    pub axial_mm: f64,
    pub depth_mm: f64,
    pub time_h: f64,
}

#[derive(Deserialize)]
pub(super) struct Profile {
    pub through_wall: Vec<ThroughWall>,
}

#[derive(Deserialize)]
pub(super) struct ThroughWall {
    pub axial_mm: f64,
    pub points: Vec<[f64; 2]>,
}

#[derive(Deserialize)]
pub(super) struct Neighbor {
    pub name: String,
    pub highest_c: f64,
    pub limit_c: Option<f64>,
}
