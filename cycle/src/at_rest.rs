//! One state of the metal, answered at once: everything at rest at the set point, with a coil as it is wound now.
//!
//! No cycle is run: it says what the hold asks of coil and source and where it is coldest, not how it comes to be.

use field::eddy::Solution;

use crate::cable_in_blanket::{TurnInBlanket, turns_in_blanket};
use crate::circuit::Impedance;
use crate::error::CycleError;
use crate::grain::Grain;
use crate::heat_along::heat_up_to;
use crate::outcome::{Difference, Limit, Snapshot, Spot};
use crate::practice::Practice;
use crate::prepare::{Prepared, joint_of, prepare};
use crate::propose::bench::Bench;
use crate::propose::{first_layout, frequencies_hz};
use crate::setup::{Coil, Setup};
use crate::snapshot::snapshot;

/// The hold at rest.
#[derive(Clone, Debug)]
pub struct AtRest {
    /// The coil that it was computed with.
    pub coil: Coil,
    /// Whether the setup gave that coil; else it is wound by the habit of the trade.
    pub is_given: bool,
    /// Working frequency in Hz.
    pub frequency_hz: f64,
    /// Current in A rms.
    pub current_rms_a: f64,
    /// Voltage at the source in V rms.
    pub voltage_rms_v: f64,
    /// Power into the metal in W.
    pub metal_power_w: f64,
    /// Lost in the cable of the coil in W.
    pub coil_loss_w: f64,
    /// Lost in the leads in W.
    pub leads_loss_w: f64,
    /// Reserves of power, current and voltage in percent; negative where the source is short.
    pub reserves_percent: [f64; 3],
    /// Largest current that source and cable allow in this state, in A rms.
    pub allowed_current_rms_a: f64,
    /// What limits it.
    pub limited_by: Limit,
    /// Coldest place of the soak band.
    pub soak_coldest: Spot,
    /// Hottest place of the soak band.
    pub soak_hottest: Spot,
    /// Hottest place of outside and bore beyond the soak band.
    pub beyond_hottest: Spot,
    /// Outside minus bore in the soak band where it is largest.
    pub surface_to_bore: Difference,
    /// Temperatures of the thermocouples in °C, in the order of the setup.
    pub thermocouples_c: Vec<f64>,
    /// Along the outside: (mm from the weld center, °C).
    pub outside: Vec<(f64, f64)>,
    /// Along the bore: (mm from the weld center, °C).
    pub bore: Vec<(f64, f64)>,
    /// Where along the pipe the heat of the coil arises: (mm from the weld center, W set free up to there).
    pub heat_up_to: Vec<(f64, f64)>,
    /// Turns that lie within the blanket, and how hot it is there.
    pub turns_in_blanket: Vec<TurnInBlanket>,
    /// Thickness of the wall at the coldest and the hottest place of the soak band and at the hottest beyond it, in mm.
    pub walls_mm: [f64; 3],
    /// The section.
    pub snapshot: Snapshot,
}

impl AtRest {
    /// Power out of the source in W.
    pub fn source_power_w(&self) -> f64 {
        self.metal_power_w + self.coil_loss_w + self.leads_loss_w
    }
}

/// The hold at rest, with the given coil or with one wound by habit.
///
/// # Errors
/// A setup outside the range of the model, with both numbers; what the solvers refuse.
pub fn at_rest(setup: &Setup, practice: &Practice) -> Result<AtRest, CycleError> {
    let joint = joint_of(setup, practice)?;
    let layout = first_layout(setup, practice, &joint);
    let coil = setup.coil.clone().unwrap_or_else(|| layout.coil());
    let frequencies = frequencies_hz(setup);
    let frequency_hz = frequencies[frequencies.len() / 2];
    let wound = Setup {
        coil: Some(coil.clone()),
        ..setup.clone()
    };
    let prepared = prepare(
        &wound,
        &coil,
        frequency_hz,
        Vec::new(),
        &Grain::PROPOSAL,
        practice,
    )?;
    let mut bench = Bench::new(&wound, practice, prepared);
    let rested = bench.rest(&layout, frequency_hz)?;
    let (nodal_c, solution) = bench.last().ok_or_else(|| CycleError::Solver {
        doing: "coming to rest".into(),
        detail: "nothing was solved".into(),
    })?;
    let prepared = &bench.prepared;
    let impedance = impedance(prepared, solution, rested.power_w, rested.current_rms_a);
    let square = rested.current_rms_a * rested.current_rms_a;
    let look = prepared.watch.look(&nodal_c);
    let profile = prepared.watch.profile("", 0.0, &nodal_c, &|_| 0.0);
    let on_outside = |z_mm: f64| along(&profile.outside, z_mm);
    let joint = &prepared.joint;
    let wall_mm = |spot: &Spot| {
        let z_m = spot.axial_mm * 1e-3;
        1e3 * (joint.outside_radius_m(z_m) - joint.bore_radius_m(z_m))
    };
    let (allowed_current_rms_a, limited_by) = prepared.limits.allowed_rms_a(&impedance);
    Ok(AtRest {
        is_given: setup.coil.is_some(),
        turns_in_blanket: turns_in_blanket(&wound, &coil, joint, &on_outside)?,
        walls_mm: [&look.soak_coldest, &look.soak_hottest, &look.beyond_hottest].map(wall_mm),
        coil,
        frequency_hz,
        current_rms_a: rested.current_rms_a,
        voltage_rms_v: rested.current_rms_a * impedance.amount_ohm(),
        metal_power_w: rested.power_w,
        coil_loss_w: square * impedance.coil_ohm,
        leads_loss_w: square * impedance.leads_ohm,
        reserves_percent: prepared
            .limits
            .reserves_percent(&impedance, rested.current_rms_a),
        allowed_current_rms_a,
        limited_by,
        soak_coldest: look.soak_coldest,
        soak_hottest: look.soak_hottest,
        beyond_hottest: look.beyond_hottest,
        surface_to_bore: look.surface_to_bore,
        thermocouples_c: look.thermocouples_c,
        outside: profile.outside,
        bore: profile.bore,
        heat_up_to: heat_up_to(prepared, solution, rested.power_w),
        snapshot: snapshot(prepared, solution, 0.0, &nodal_c),
    })
}

/// How many frequencies a plan tries where the setup gives none; the quick answer takes one from their middle.
pub fn frequencies_tried(setup: &Setup) -> usize {
    frequencies_hz(setup).len()
}

/// What the source sees: resistance of the joint from its power, reactance from the field.
fn impedance(
    prepared: &Prepared,
    solution: &Solution,
    power_w: f64,
    current_rms_a: f64,
) -> Impedance {
    let coil = solution
        .circuits
        .first()
        .and_then(|circuit| circuit.impedance_ohm());
    Impedance {
        metal_ohm: power_w / (current_rms_a * current_rms_a).max(f64::MIN_POSITIVE),
        coil_ohm: prepared.coil_ohm,
        leads_ohm: prepared.leads.resistance_ohm,
        coil_reactance_ohm: coil.map_or(0.0, |z| z.im),
        leads_reactance_ohm: prepared.leads.reactance_ohm,
    }
}

/// A line of (mm, °C) read at a place; its end value beyond its ends.
pub fn along(line: &[(f64, f64)], z_mm: f64) -> f64 {
    let after = line.partition_point(|point| point.0 < z_mm);
    match (line.get(after.wrapping_sub(1)), line.get(after)) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (z_mm - a.0) / (b.0 - a.0).max(f64::MIN_POSITIVE),
        (Some(end), None) | (None, Some(end)) => end.1,
        (None, None) => 0.0,
    }
}
