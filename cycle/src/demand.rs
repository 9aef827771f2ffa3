//! What a cycle asks of coil and source, before it is run: a few states, each with a temperature and a power.

use field::eddy::{Drive, Solves, State, Temperature};
use num_complex::Complex64;
use quantity::{Celsius, Units};

use crate::circuit::{Impedance, SourceLimits};
use crate::error::CycleError;
use crate::joint::JointSection;
use crate::prepare::{Prepared, solver};
use crate::setup::Setup;
use crate::words::temperature;

/// One state of a cycle.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// Its name.
    pub name: String,
    /// Temperature of the heated zone in °C, the same everywhere.
    pub temperature_c: f64,
    /// Power into the metal in W.
    pub power_w: f64,
}

/// A coil's answer to a demand, a turn: what it takes at one frequency.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answer {
    /// Ampere turns, rms.
    pub ampere_turns: f64,
    /// Resistance of the joint over the square of the turns, in ohm.
    pub resistance_ohm: f64,
    /// Reactance over the square of the turns, in ohm.
    pub reactance_ohm: f64,
}

/// How far heat has spread beyond the heated band, in diffusion lengths of the heating time: half of one stands for
/// the tail of an error function.
const TAIL: f64 = 0.5;

/// The current of a demand is found within this share of its power.
const POWER_SHARE: f64 = 0.02;
const POWER_TRIES: usize = 8;

/// The demands of a programme, from the power that holds the set point (controller.md eq. 6): what heats the band and
/// its tails at the rate asked for, and losses in proportion to the excess over ambient.
pub fn demands(setup: &Setup, joint: &JointSection, hold_w: f64) -> Vec<Demand> {
    let programme = &setup.programme;
    let (start_c, set_point_c) = (programme.start.c(), programme.set_point.c());
    let ambient_c = setup.surroundings.ambient.c();
    let corner_c = programme.threshold.c().clamp(start_c, set_point_c);
    let free_k_s = programme.free_heating_rate.k_h() / 3600.0;
    let heating_k_s = programme.heating_rate.k_h() / 3600.0;
    let loss_w = |c: f64| hold_w * ((c - ambient_c) / (set_point_c - ambient_c)).max(0.0);
    let mut demands = Vec::new();
    let mut add = |name: String, c: f64, rate_k_s: f64| {
        let power_w = heat_capacity_j_k(setup, joint, c) * rate_k_s + loss_w(c);
        demands.push(Demand {
            name,
            temperature_c: c,
            power_w,
        });
    };
    if start_c < corner_c {
        add("start of heating".into(), start_c, free_k_s);
        add(heating_at(corner_c, setup.units), corner_c, free_k_s);
    }
    if corner_c < set_point_c {
        add(
            heating_at(0.5 * (corner_c + set_point_c), setup.units),
            0.5 * (corner_c + set_point_c),
            heating_k_s,
        );
        add("end of heating".into(), set_point_c, heating_k_s);
    }
    demands.push(Demand {
        name: "hold".into(),
        temperature_c: set_point_c,
        power_w: hold_w,
    });
    demands
}

/// The name of a state on the way up.
pub fn heating_at(c: f64, units: Units) -> String {
    format!("heating at {}", temperature(Celsius::from_c(c), units))
}

/// Heat capacity in J/K of what is heated: the heated band and half a diffusion length at each end.
fn heat_capacity_j_k(setup: &Setup, joint: &JointSection, temperature_c: f64) -> f64 {
    let heating_s = 0.5 * crate::prepare::duration_s(setup);
    [0, 1]
        .map(|side: usize| {
            let metal = &setup.joint.sides[side].metal;
            let specific = metal.specific_heat.at_c(temperature_c).unwrap_or(650.0);
            let conductivity = metal.conductivity.at_c(temperature_c).unwrap_or(35.0);
            let volumetric = metal.density_kg_m3.value * specific;
            let tail_m = TAIL * (conductivity / volumetric * heating_s).sqrt();
            let length_m = (0.5 * setup.heated_band.m() + tail_m).min(joint.lengths_m[side]);
            let z = [-0.5, 0.5][side] * length_m;
            let (outside_m, bore_m) = (joint.outside_radius_m(z), joint.bore_radius_m(z));
            volumetric * std::f64::consts::PI * (outside_m * outside_m - bore_m * bore_m) * length_m
        })
        .iter()
        .sum()
}

/// What the coil on the mesh takes to give a demand's power, at a frequency.
///
/// # Errors
/// What the field refuses.
pub fn answer(
    prepared: &Prepared,
    state: &mut State,
    demand: &Demand,
    frequency_hz: f64,
    guess_rms_a: f64,
) -> Result<Answer, CycleError> {
    let turns = prepared.coil.rings.len() as f64;
    let mut current_rms_a = guess_rms_a;
    let mut found = Answer {
        ampere_turns: 0.0,
        resistance_ohm: 0.0,
        reactance_ohm: 0.0,
    };
    for _ in 0..POWER_TRIES {
        let peak_a = std::f64::consts::SQRT_2 * current_rms_a;
        let drive = Drive {
            frequency_hz,
            currents_a: vec![Complex64::new(peak_a, 0.0)],
            edges: Vec::new(),
        };
        let solution = prepared
            .problem
            .solve(
                state,
                &drive,
                Temperature::Uniform(demand.temperature_c),
                Solves::Exactly(2),
            )
            .map_err(solver("looking at a coil"))?;
        let impedance = solution.circuits[0].impedance_ohm().unwrap_or_default();
        found = Answer {
            ampere_turns: current_rms_a * turns,
            resistance_ohm: impedance.re / (turns * turns),
            reactance_ohm: impedance.im / (turns * turns),
        };
        let ratio = demand.power_w / (current_rms_a * current_rms_a * impedance.re);
        if (ratio - 1.0).abs() < POWER_SHARE {
            break;
        }
        current_rms_a *= ratio.sqrt();
        state.scale(ratio.sqrt());
    }
    Ok(found)
}

impl Answer {
    /// Least reserve in percent of power, current and voltage with so many turns, the cable's resistance and the leads.
    pub fn reserve_percent(
        &self,
        turns: usize,
        limits: &SourceLimits,
        cable_ohm: f64,
        leads: &crate::circuit::LeadsImpedance,
    ) -> f64 {
        let square = (turns * turns) as f64;
        let impedance = Impedance {
            metal_ohm: self.resistance_ohm * square,
            coil_ohm: cable_ohm,
            leads_ohm: leads.resistance_ohm,
            coil_reactance_ohm: self.reactance_ohm * square,
            leads_reactance_ohm: leads.reactance_ohm,
        };
        let reserves = limits.reserves_percent(&impedance, self.ampere_turns / turns as f64);
        reserves.into_iter().fold(f64::INFINITY, f64::min)
    }
}
