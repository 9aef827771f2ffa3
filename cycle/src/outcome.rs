//! What a plan predicts.

use quantity::Status;
use readings::{Channel, Scan};
use serde::Serialize;

use crate::stray_with_work::WithWork;

/// The predicted cycle. Times are seconds since the start, distances along the pipe are from the weld center.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// One channel a thermocouple, in the order of the setup.
    pub channels: Vec<Channel>,
    /// What the thermocouples will read, at the recording interval.
    pub scans: Vec<Scan>,
    /// Controller, circuit and temperatures over time, one moment a step of the solver.
    pub history: Vec<Moment>,
    /// The stages in order.
    pub stages: Vec<StageSpan>,
    /// Energy by where it goes.
    pub energy: Energy,
    /// Temperatures along the pipe and through the wall at named instants.
    pub profiles: Vec<Profile>,
    /// Temperatures along the pipe at about even steps of time.
    pub frames: Vec<Frame>,
    /// Largest difference between outside and bore.
    pub surface_to_bore: SurfaceToBore,
    /// Whether all of the soak band was where it should be.
    pub soak: SoakVerdict,
    /// Hottest place of outside and bore beyond the soak band, at any time.
    pub beyond: Beyond,
    /// How hot the neighbors became.
    pub neighbors: Vec<NeighborOutcome>,
    /// Whether the source was enough.
    pub source: SourceVerdict,
    /// The section at the end of heating, for pictures.
    pub snapshot: Snapshot,
    /// The circuit by state of the joint.
    pub circuit: Vec<CircuitState>,
    /// The field outside coil and work per ampere, the largest of the states that were solved.
    pub stray: WithWork,
    /// The working frequency in Hz.
    pub frequency_hz: f64,
    /// What was assumed, each with its source.
    pub assumptions: Vec<Assumption>,
    /// What a supervisor should look at before the heat goes on.
    pub cautions: Vec<String>,
    /// What the model leaves out.
    pub not_modeled: Vec<String>,
    /// How hard the solver worked and how well it closed its books.
    pub effort: Effort,
}

/// A stage of the cycle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// Heating below the threshold of the rate limit.
    FreeHeating,
    /// Heating above the threshold.
    Heating,
    /// The set point is reached and some control thermocouple is not yet in the hold range.
    Leveling,
    /// The hold clock runs.
    Hold,
    /// Cooling down to the end of control.
    Cooling,
}

impl Stage {
    /// The words that stand on a plan.
    pub fn words(self) -> &'static str {
        match self {
            Stage::FreeHeating => "heating below the rate threshold",
            Stage::Heating => "heating",
            Stage::Leveling => "waiting for all control thermocouples",
            Stage::Hold => "hold",
            Stage::Cooling => "cooling",
        }
    }
}

/// What keeps the current from being higher.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Its rated power.
    Power,
    /// Its largest current.
    Current,
    /// Its largest voltage.
    Voltage,
    /// The current that the cable bears.
    Cable,
}

impl Limit {
    /// The words that stand on a plan.
    pub fn words(self) -> &'static str {
        match self {
            Limit::Power => "the rated power of the source",
            Limit::Current => "the largest current of the source",
            Limit::Voltage => "the largest voltage of the source",
            Limit::Cable => "the current that the cable bears",
        }
    }
}

/// A place in the metal with its temperature.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Spot {
    /// Temperature in °C.
    pub temperature_c: f64,
    /// Distance from the weld center in mm.
    pub axial_mm: f64,
    /// Depth below the outside in mm.
    pub depth_mm: f64,
}

/// One moment of the cycle.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Moment {
    /// Time since the start in s.
    pub time_s: f64,
    /// Stage.
    pub stage: Stage,
    /// What the programme asks for, in °C.
    pub set_point_c: f64,
    /// Mean of the control thermocouples in °C.
    pub control_c: f64,
    /// Coldest control thermocouple in °C.
    pub control_coldest_c: f64,
    /// Hottest control thermocouple in °C.
    pub control_hottest_c: f64,
    /// Power into the metal in W.
    pub metal_power_w: f64,
    /// Power out of the source in W: metal, coil cable and leads.
    pub source_power_w: f64,
    /// Heat that the blanket, bare surfaces and bore give off, in W.
    pub loss_w: f64,
    /// Current in A rms.
    pub current_rms_a: f64,
    /// Voltage at the source in V rms.
    pub voltage_rms_v: f64,
    /// Series resistance seen by the source in ohm.
    pub resistance_ohm: f64,
    /// Series reactance seen by the source in ohm.
    pub reactance_ohm: f64,
    /// Frequency in Hz.
    pub frequency_hz: f64,
    /// Outside at the weld center in °C.
    pub weld_outside_c: f64,
    /// Bore at the weld center in °C.
    pub weld_bore_c: f64,
    /// Hottest place of the soak band, through the whole wall.
    pub soak_hottest: Spot,
    /// Coldest place of the soak band, through the whole wall.
    pub soak_coldest: Spot,
    /// What kept the source from giving what the programme asked for.
    pub limited_by: Option<Limit>,
}

/// A stage with its times.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct StageSpan {
    /// Stage.
    pub stage: Stage,
    /// Begin in s.
    pub from_s: f64,
    /// End in s.
    pub to_s: f64,
    /// Mean of the control thermocouples at the begin in °C.
    pub from_c: f64,
    /// Mean of the control thermocouples at the end in °C.
    pub to_c: f64,
}

/// Energy over the cycle in kWh.
#[derive(Clone, Copy, Debug, Default, Serialize)]
pub struct Energy {
    /// Out of the source.
    pub source_kwh: f64,
    /// Into the metal.
    pub metal_kwh: f64,
    /// Lost in the cable of the coil.
    pub coil_kwh: f64,
    /// Lost in the leads.
    pub leads_kwh: f64,
    /// Given off by the metal through blanket, bare surfaces and bore.
    pub given_off_kwh: f64,
    /// Still in metal and blanket at the end, above the start.
    pub stored_kwh: f64,
}

/// Temperatures along the pipe at an instant.
#[derive(Clone, Debug, Serialize)]
pub struct Frame {
    /// Time in s.
    pub time_s: f64,
    /// Along the outside: (mm from the weld center, °C), ascending.
    pub outside: Vec<(f64, f64)>,
    /// Along the bore: (mm from the weld center, °C), ascending.
    pub bore: Vec<(f64, f64)>,
}

/// Temperatures at a named instant.
#[derive(Clone, Debug, Serialize)]
pub struct Profile {
    /// Its name ("end of heating").
    pub name: String,
    /// Time in s.
    pub time_s: f64,
    /// Along the outside: (distance from the weld center in mm, °C), ascending.
    pub outside: Vec<(f64, f64)>,
    /// Along the bore: (distance from the weld center in mm, °C), ascending.
    pub bore: Vec<(f64, f64)>,
    /// Through the wall at the weld center and at the edges of the soak band.
    pub through_wall: Vec<ThroughWall>,
}

/// Temperatures through the wall.
#[derive(Clone, Debug, Serialize)]
pub struct ThroughWall {
    /// Distance from the weld center in mm.
    pub axial_mm: f64,
    /// (depth below the outside in mm, °C), from the outside in.
    pub points: Vec<(f64, f64)>,
}

/// Largest difference between outside and bore at one place along the pipe, within the soak band.
#[derive(Clone, Copy, Debug, Default, Serialize)]
pub struct SurfaceToBore {
    /// While heating.
    pub heating: Difference,
    /// During the hold.
    pub hold: Difference,
}

/// A difference with its place and time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Difference {
    /// Outside minus bore in K, the largest by amount.
    pub difference_k: f64,
    /// Time in s.
    pub time_s: f64,
    /// Distance from the weld center in mm.
    pub axial_mm: f64,
}

/// Whether all of the soak band, bore included, was inside the hold range.
#[derive(Clone, Copy, Debug, Default, Serialize)]
pub struct SoakVerdict {
    /// Inside the hold range at all of its places for the whole hold.
    pub inside_whole_hold: bool,
    /// Begin of the hold in s; `None` when it never began.
    pub hold_from_s: Option<f64>,
    /// End of the hold in s.
    pub hold_to_s: Option<f64>,
    /// Time during which all of the soak band was inside the range, in h.
    pub time_inside_h: f64,
    /// Coldest place during the hold.
    pub coldest: Spot,
    /// When it was coldest, in s.
    pub coldest_time_s: f64,
    /// Hottest place during the hold.
    pub hottest: Spot,
    /// When it was hottest, in s.
    pub hottest_time_s: f64,
    /// How much later than the control thermocouples the last place of the band came into the range, in s;
    /// `None` when it never did.
    pub lag_s: Option<f64>,
}

/// The hottest place beyond the soak band.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Beyond {
    /// Place and temperature.
    pub hottest: Spot,
    /// When, in s.
    pub time_s: f64,
}

/// How hot a neighbor became.
#[derive(Clone, Debug, Serialize)]
pub struct NeighborOutcome {
    /// Its name.
    pub name: String,
    /// Where it begins, in mm.
    pub axial_mm: f64,
    /// Highest temperature in °C.
    pub highest_c: f64,
    /// When, in s.
    pub time_s: f64,
    /// What it bears, in °C, where known.
    pub limit_c: Option<f64>,
}

/// Whether the source was enough.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct SourceVerdict {
    /// The programme was followed throughout.
    pub enough: bool,
    /// Where it first fell behind.
    pub first_shortfall: Option<Shortfall>,
    /// Largest power out of the source in W.
    pub largest_power_w: f64,
    /// Largest current in A rms.
    pub largest_current_rms_a: f64,
    /// Largest voltage in V rms.
    pub largest_voltage_rms_v: f64,
    /// What is left of the rated power at the worst moment, in percent.
    pub power_reserve_percent: f64,
    /// What is left of the largest current, in percent.
    pub current_reserve_percent: f64,
    /// What is left of the largest voltage, in percent.
    pub voltage_reserve_percent: f64,
}

/// Where the source fell behind the programme.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Shortfall {
    /// Stage.
    pub stage: Stage,
    /// Time in s.
    pub time_s: f64,
    /// Mean of the control thermocouples in °C.
    pub control_c: f64,
    /// The limit that held it back.
    pub limit: Limit,
    /// How far an unlimited programme would have been ahead in the end, in K; the set point waits for the joint.
    pub farthest_behind_k: f64,
}

/// The section at one instant, for pictures. Places are (r, z) in mm.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Snapshot {
    /// Time in s.
    pub time_s: f64,
    /// Places of the nodes.
    pub nodes_mm: Vec<[f64; 2]>,
    /// Six node numbers a triangle: corners, then the middles of sides 01, 12, 20.
    pub elements: Vec<[u32; 6]>,
    /// Pipe side (body) of each triangle; `None` is air.
    pub bodies: Vec<Option<u16>>,
    /// Temperature of each node in °C; `None` in the air.
    pub temperature_c: Vec<Option<f64>>,
    /// Loss density of each triangle in W/m3 (time mean); zero in the air.
    pub loss_w_m3: Vec<f64>,
    /// Flux function r·A of each node in Wb per radian, at the instant of peak current; its contours are field lines.
    pub flux_wb: Vec<f64>,
    /// Outline of each metal body.
    pub metal_outlines_mm: Vec<Vec<[f64; 2]>>,
    /// Outline of the blanket.
    pub blanket_outline_mm: Vec<[f64; 2]>,
    /// Turns: center and radius.
    pub turns_mm: Vec<([f64; 2], f64)>,
}

/// The circuit in one state of the joint, as the source sees it.
#[derive(Clone, Debug, Serialize)]
pub struct CircuitState {
    /// Its name ("cold", "300 °C", "hold").
    pub name: String,
    /// Mean of the control thermocouples in °C; the temperature of the start for the coil alone.
    pub control_c: f64,
    /// Current of the state in A rms.
    pub current_rms_a: f64,
    /// Resistance of coil with joint, cable and leads, in ohm.
    pub resistance_ohm: f64,
    /// Reactance of coil with joint and leads, in ohm.
    pub reactance_ohm: f64,
    /// Part of the resistance that is the joint, in ohm.
    pub metal_resistance_ohm: f64,
    /// Part of the resistance that is the cable of the coil, in ohm.
    pub coil_resistance_ohm: f64,
    /// Part of the resistance that is the leads, in ohm.
    pub leads_resistance_ohm: f64,
    /// Part of the reactance that is the leads, in ohm.
    pub leads_reactance_ohm: f64,
    /// Reactance over resistance.
    pub quality: f64,
    /// Mean voltage across one turn at the current of the state, in V rms.
    pub voltage_per_turn_rms_v: f64,
    /// Largest current that the source allows, in A rms.
    pub allowed_current_rms_a: f64,
    /// What limits it.
    pub limited_by: Limit,
    /// Power into the metal at that current, in W.
    pub metal_power_at_limit_w: f64,
    /// Power out of the source at that current, in W.
    pub source_power_at_limit_w: f64,
}

/// Something that was assumed.
#[derive(Clone, Debug, Serialize)]
pub struct Assumption {
    /// What it is about.
    pub text: String,
    /// The value with its unit.
    pub value: String,
    /// How far it may be off, where known.
    pub spread: Option<String>,
    /// How far it can be trusted.
    pub status: Status,
    /// Where it comes from.
    pub source: String,
}

/// How hard the solver worked, and how well it closed its books.
#[derive(Clone, Copy, Debug, Default, Serialize)]
pub struct Effort {
    /// Unknowns of the field.
    pub field_unknowns: usize,
    /// Unknowns of the heat.
    pub heat_unknowns: usize,
    /// Field updates.
    pub field_updates: usize,
    /// Field solves.
    pub field_solves: usize,
    /// Accepted steps of the heat.
    pub heat_steps: usize,
    /// Tried steps of the heat, the controller's trials among them.
    pub heat_tries: usize,
    /// Worst residual of a field solve, relative.
    pub worst_residual: f64,
    /// Worst difference between coil power and integrated loss, relative.
    pub worst_balance: f64,
    /// Worst difference between predicted and solved power at a field update, in percent.
    pub worst_prediction_percent: f64,
    /// Difference between heat put in, heat given off and heat stored, in percent of the heat put in.
    pub energy_error_percent: f64,
}
