//! The predicted cycle, as data.

use cycle::outcome::{self, Spot};
use schemars::JsonSchema;
use serde::Serialize;

use super::word;
use crate::plan::Plan;

/// The predicted cycle.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Course {
    /// The stages in order.
    pub stages: Vec<Stage>,
    /// Energy by where it goes.
    pub energy: Energy,
    /// Whether all of the soak band, bore included, is inside the range for the whole hold.
    pub soak_band_inside_whole_hold: bool,
    /// Time during which all of it is inside, in h.
    pub soak_band_inside_h: f64,
    /// Coldest place of the soak band during the hold.
    pub soak_band_coldest: Peak,
    /// Hottest place of the soak band during the hold.
    pub soak_band_hottest: Peak,
    /// Hottest place of outside and bore beyond the soak band, at any time.
    pub beyond_soak_band_hottest: Peak,
    /// Largest outside minus bore while heating, in K.
    pub surface_to_bore_heating_k: f64,
    /// Largest outside minus bore during the hold, in K.
    pub surface_to_bore_hold_k: f64,
    /// How hot the neighbors become.
    pub neighbors: Vec<Neighbor>,
    /// Whether the source is enough.
    pub source_enough: bool,
    /// Largest power out of the source, in kW.
    pub largest_power_kw: f64,
    /// Largest current, in A rms.
    pub largest_current_a: f64,
    /// Largest voltage, in V rms.
    pub largest_voltage_v: f64,
    /// The circuit by state of the joint.
    pub circuit: Vec<Circuit>,
    /// Temperatures along the pipe and through the wall at named instants.
    pub profiles: Vec<Profile>,
    /// Powers over time, one a step of the solver.
    pub powers: Vec<Power>,
    /// The channels of the scans, in their order.
    pub channels: Vec<String>,
    /// What the thermocouples will read.
    pub scans: Vec<Scan>,
}

/// A stage of the cycle.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Stage {
    /// `free_heating`, `heating`, `leveling`, `hold` or `cooling`.
    pub stage: String,
    /// Begin, in h.
    pub from_h: f64,
    /// End, in h.
    pub to_h: f64,
    /// Mean of the control thermocouples at the begin, in °C.
    pub from_c: f64,
    /// The same at the end.
    pub to_c: f64,
}

/// Energy over the cycle, in kWh.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Energy {
    /// Out of the source.
    pub source_kwh: f64,
    /// Into the metal.
    pub metal_kwh: f64,
    /// Lost in the cable of the coil.
    pub coil_kwh: f64,
    /// Lost in the leads.
    pub leads_kwh: f64,
    /// Given off by the metal.
    pub given_off_kwh: f64,
}

/// A place with its temperature and time.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Peak {
    /// Temperature in °C.
    pub temperature_c: f64,
    /// Distance from the weld center in mm.
    pub axial_mm: f64,
    /// Depth below the outside in mm.
    pub depth_mm: f64,
    /// When, in h.
    pub time_h: f64,
}

/// How hot a neighbor becomes.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Neighbor {
    /// Its name.
    pub name: String,
    /// Where it begins, in mm.
    pub axial_mm: f64,
    /// Highest temperature in °C.
    pub highest_c: f64,
    /// When, in h.
    pub time_h: f64,
    /// What it bears in °C, where known.
    pub limit_c: Option<f64>,
}

/// The circuit in one state of the joint.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Circuit {
    /// The state.
    pub name: String,
    /// Mean of the control thermocouples in °C.
    pub control_c: f64,
    /// Current in A rms.
    pub current_a: f64,
    /// Resistance seen by the source in ohm.
    pub resistance_ohm: f64,
    /// Reactance seen by the source in ohm.
    pub reactance_ohm: f64,
    /// Part of the resistance that is the joint, in ohm.
    pub metal_resistance_ohm: f64,
    /// Largest current that source and cable allow, in A rms.
    pub allowed_current_a: f64,
    /// What limits it: `power`, `current`, `voltage` or `cable`.
    pub limited_by: String,
    /// Power into the metal at that current, in kW.
    pub metal_power_at_limit_kw: f64,
}

/// Temperatures at a named instant.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Profile {
    /// Its name.
    pub name: String,
    /// When, in h.
    pub time_h: f64,
    /// Along the outside: [mm from the weld center, °C].
    pub outside: Vec<[f64; 2]>,
    /// Along the bore: [mm from the weld center, °C].
    pub bore: Vec<[f64; 2]>,
    /// Through the wall.
    pub through_wall: Vec<Wall>,
}

/// Temperatures through the wall at one place.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Wall {
    /// Distance from the weld center in mm.
    pub axial_mm: f64,
    /// [mm below the outside, °C].
    pub points: Vec<[f64; 2]>,
}

/// Powers as means of the step that ends at a time.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Power {
    /// Time since the start in s.
    pub time_s: f64,
    /// Mean of the control thermocouples in °C.
    pub control_c: f64,
    /// Out of the source, in kW.
    pub source_kw: f64,
    /// Into the metal, in kW.
    pub metal_kw: f64,
    /// Given off through blanket, bare surfaces and bore, in kW.
    pub given_off_kw: f64,
}

/// One scan.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Scan {
    /// Time since the start in s.
    pub time_s: f64,
    /// One reading a channel in °C; `null` where it says nothing.
    pub readings_c: Vec<Option<f64>>,
}

pub(super) fn course(plan: &Plan) -> Course {
    let outcome = &plan.outcome;
    let soak = &outcome.soak;
    Course {
        stages: outcome.stages.iter().map(stage).collect(),
        energy: energy(&outcome.energy),
        soak_band_inside_whole_hold: soak.inside_whole_hold,
        soak_band_inside_h: soak.time_inside_h,
        soak_band_coldest: peak(&soak.coldest, soak.coldest_time_s),
        soak_band_hottest: peak(&soak.hottest, soak.hottest_time_s),
        beyond_soak_band_hottest: peak(&outcome.beyond.hottest, outcome.beyond.time_s),
        surface_to_bore_heating_k: outcome.surface_to_bore.heating.difference_k,
        surface_to_bore_hold_k: outcome.surface_to_bore.hold.difference_k,
        neighbors: outcome.neighbors.iter().map(neighbor).collect(),
        source_enough: outcome.source.enough,
        largest_power_kw: outcome.source.largest_power_w / 1e3,
        largest_current_a: outcome.source.largest_current_rms_a,
        largest_voltage_v: outcome.source.largest_voltage_rms_v,
        circuit: outcome.circuit.iter().map(circuit).collect(),
        profiles: outcome.profiles.iter().map(profile).collect(),
        powers: outcome.history.iter().map(power).collect(),
        channels: outcome.channels.iter().map(|c| c.name.clone()).collect(),
        scans: outcome.scans.iter().map(scan).collect(),
    }
}

fn stage(span: &outcome::StageSpan) -> Stage {
    Stage {
        stage: word(span.stage),
        from_h: span.from_s / 3600.0,
        to_h: span.to_s / 3600.0,
        from_c: span.from_c,
        to_c: span.to_c,
    }
}

fn power(moment: &outcome::Moment) -> Power {
    Power {
        time_s: moment.time_s,
        control_c: rounded(moment.control_c),
        source_kw: rounded(moment.source_power_w / 1e3),
        metal_kw: rounded(moment.metal_power_w / 1e3),
        given_off_kw: rounded(moment.loss_w / 1e3),
    }
}

/// To a thousandth: finer than anything that reads it.
fn rounded(value: f64) -> f64 {
    (value * 1e3).round() / 1e3
}

fn energy(energy: &outcome::Energy) -> Energy {
    Energy {
        source_kwh: energy.source_kwh,
        metal_kwh: energy.metal_kwh,
        coil_kwh: energy.coil_kwh,
        leads_kwh: energy.leads_kwh,
        given_off_kwh: energy.given_off_kwh,
    }
}

fn peak(spot: &Spot, time_s: f64) -> Peak {
    Peak {
        temperature_c: spot.temperature_c,
        axial_mm: spot.axial_mm,
        depth_mm: spot.depth_mm,
        time_h: time_s / 3600.0,
    }
}

fn neighbor(neighbor: &outcome::NeighborOutcome) -> Neighbor {
    Neighbor {
        name: neighbor.name.clone(),
        axial_mm: neighbor.axial_mm,
        highest_c: neighbor.highest_c,
        time_h: neighbor.time_s / 3600.0,
        limit_c: neighbor.limit_c,
    }
}

fn circuit(state: &outcome::CircuitState) -> Circuit {
    Circuit {
        name: state.name.clone(),
        control_c: state.control_c,
        current_a: state.current_rms_a,
        resistance_ohm: state.resistance_ohm,
        reactance_ohm: state.reactance_ohm,
        metal_resistance_ohm: state.metal_resistance_ohm,
        allowed_current_a: state.allowed_current_rms_a,
        limited_by: word(state.limited_by),
        metal_power_at_limit_kw: state.metal_power_at_limit_w / 1e3,
    }
}

fn profile(profile: &outcome::Profile) -> Profile {
    let wall = |wall: &outcome::ThroughWall| Wall {
        axial_mm: wall.axial_mm,
        points: pairs(&wall.points),
    };
    Profile {
        name: profile.name.clone(),
        time_h: profile.time_s / 3600.0,
        outside: pairs(&profile.outside),
        bore: pairs(&profile.bore),
        through_wall: profile.through_wall.iter().map(wall).collect(),
    }
}

fn pairs(points: &[(f64, f64)]) -> Vec<[f64; 2]> {
    points.iter().map(|p| [p.0, p.1]).collect()
}

/// Readings to a hundredth of a degree: finer than anything that reads them.
fn scan(scan: &readings::Scan) -> Scan {
    let reading = |t: &Option<quantity::Celsius>| t.map(|t| (t.c() * 100.0).round() / 100.0);
    Scan {
        time_s: scan.elapsed.as_secs_f64(),
        readings_c: scan.readings.iter().map(reading).collect(),
    }
}
