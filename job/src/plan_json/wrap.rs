//! Coil, blanket, source, thermocouples and programme, as data.

use schemars::JsonSchema;
use serde::Serialize;

use super::word;
use crate::plan::Plan;

/// What goes round the pipe and what it is asked to do.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Wrap {
    /// The coil.
    pub coil: Coil,
    /// The blanket.
    pub blanket: Blanket,
    /// The source.
    pub source: Source,
    /// Thermocouples and points that are only predicted.
    pub thermocouples: Vec<Thermocouple>,
    /// What the controller is asked to do.
    pub programme: Programme,
}

/// The coil.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Coil {
    /// The cable.
    pub cable: String,
    /// Its outside diameter in mm.
    pub cable_diameter_mm: f64,
    /// The turns along the pipe, in series.
    pub turns: Vec<Turn>,
    /// One way from source to coil, in mm.
    pub lead_length_mm: f64,
    /// Between the centers of the two leads, in mm.
    pub lead_spacing_mm: f64,
    /// Where the leads leave the coil, in hours of a clock.
    pub lead_exit_clock: f64,
    /// Why turns and frequency are as they are, by the estimate before the cycle; `null` where both were given.
    pub proposed_because: Option<String>,
    /// What was tried on the way to a proposal.
    pub trials: Vec<Trial>,
}

/// One turn.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Turn {
    /// Its middle from the weld center, in mm.
    pub axial_mm: f64,
    /// From the pipe to the underside of the cable, in mm.
    pub standoff_mm: f64,
}

/// One candidate of a proposal.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Trial {
    /// Number of turns.
    pub turns: usize,
    /// Mean pitch in mm.
    pub pitch_mm: f64,
    /// Middle of the coil from the weld center in mm.
    pub offset_mm: f64,
    /// Frequency in Hz.
    pub frequency_hz: f64,
    /// What became of it.
    pub verdict: String,
}

/// The blanket.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Blanket {
    /// Its material.
    pub material: String,
    /// Thickness of all layers together, in mm.
    pub thickness_mm: f64,
    /// How far it reaches from the weld center on the first and the second side, in mm.
    pub reach_mm: [f64; 2],
}

/// The source.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Source {
    /// Its name.
    pub name: String,
    /// Rated power in kW.
    pub power_kw: f64,
    /// Largest current in A rms.
    pub current_a: f64,
    /// Largest voltage in V rms.
    pub voltage_v: f64,
    /// The working frequency in Hz.
    pub frequency_hz: f64,
}

/// A thermocouple, or a point that is only predicted.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Thermocouple {
    /// Its channel.
    pub name: String,
    /// `control`, `monitor` or `spare`.
    pub role: String,
    /// `outside` or `bore`.
    pub face: String,
    /// `soak_band`, `heated_band_edge` or `neighbor`.
    pub place: String,
    /// Distance along the pipe from the weld center, in mm.
    pub axial_mm: f64,
    /// Position round the pipe, in hours of a clock.
    pub clock: f64,
    /// Round the outside from 12 o'clock, clockwise looking towards the second side, in mm.
    pub tape_mm: f64,
    /// Whether a wire is fitted.
    pub fitted: bool,
    /// Why it is there.
    pub reason: String,
}

/// What the controller is asked to do.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Programme {
    /// Temperature of the metal at the start, in °C.
    pub start_c: f64,
    /// Below this no heating limit holds, in °C.
    pub threshold_c: f64,
    /// Heating rate below the threshold, in K/h.
    pub free_heating_rate_k_h: f64,
    /// Fastest heating above it, in K/h.
    pub heating_rate_k_h: f64,
    /// Set point of the hold, in °C.
    pub set_point_c: f64,
    /// The range that all limits leave, in °C.
    pub hold_range_c: [f64; 2],
    /// Hold time, in h.
    pub hold_time_h: f64,
    /// Fastest cooling, in K/h.
    pub cooling_rate_k_h: f64,
    /// Down to this the cooling is controlled, in °C.
    pub controlled_down_to_c: f64,
}

pub(super) fn wrap(plan: &Plan) -> Wrap {
    Wrap {
        coil: coil(plan),
        blanket: blanket(plan),
        source: source(plan),
        thermocouples: plan
            .setup
            .thermocouples
            .iter()
            .map(|t| thermocouple(t, plan))
            .collect(),
        programme: programme(plan),
    }
}

fn coil(plan: &Plan) -> Coil {
    let trials = plan.proposal.iter().flat_map(|p| &p.trials);
    Coil {
        cable: plan.setup.cable.name.clone(),
        cable_diameter_mm: plan.setup.cable.outside_diameter_mm.value,
        turns: plan
            .coil
            .turns
            .iter()
            .map(|t| Turn {
                axial_mm: t.axial.mm(),
                standoff_mm: t.standoff.mm(),
            })
            .collect(),
        lead_length_mm: plan.setup.leads.length.mm(),
        lead_spacing_mm: plan.setup.leads.spacing.mm(),
        lead_exit_clock: plan.job.lead_exit_clock,
        proposed_because: plan.proposal.as_ref().map(|p| p.reason.clone()),
        trials: trials
            .map(|t| Trial {
                turns: t.turns,
                pitch_mm: t.pitch_mm,
                offset_mm: t.offset_mm,
                frequency_hz: t.frequency_hz,
                verdict: t.verdict.clone(),
            })
            .collect(),
    }
}

fn blanket(plan: &Plan) -> Blanket {
    let blanket = &plan.setup.blanket;
    Blanket {
        material: blanket.material.name.clone(),
        thickness_mm: blanket.thickness.mm(),
        reach_mm: blanket.reach.map(|r| r.mm()),
    }
}

fn source(plan: &Plan) -> Source {
    let source = &plan.setup.source;
    Source {
        name: source.name.clone(),
        power_kw: source.power_kw,
        current_a: source.current_rms_a,
        voltage_v: source.voltage_rms_v,
        frequency_hz: plan.outcome.frequency_hz,
    }
}

fn thermocouple(thermocouple: &rules::thermocouple::Thermocouple, plan: &Plan) -> Thermocouple {
    Thermocouple {
        name: thermocouple.name.clone(),
        role: word(thermocouple.role),
        face: word(thermocouple.face),
        place: word(thermocouple.place),
        axial_mm: thermocouple.axial.mm(),
        clock: thermocouple.clock,
        tape_mm: thermocouple.arc_mm(plan.outside_diameter_at(thermocouple.axial)),
        fitted: thermocouple.fitted,
        reason: thermocouple.reason.clone(),
    }
}

fn programme(plan: &Plan) -> Programme {
    let programme = &plan.programme;
    Programme {
        start_c: programme.start.c(),
        threshold_c: programme.threshold.c(),
        free_heating_rate_k_h: programme.free_heating_rate.k_h(),
        heating_rate_k_h: programme.heating_rate.k_h(),
        set_point_c: programme.set_point.c(),
        hold_range_c: programme.hold_range.map(|t| t.c()),
        hold_time_h: programme.hold_time.h(),
        cooling_rate_k_h: programme.cooling_rate.k_h(),
        controlled_down_to_c: programme.controlled_down_to.c(),
    }
}
