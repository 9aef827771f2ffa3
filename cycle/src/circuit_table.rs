//! The circuit by state of the joint, read from a record.

use std::f64::consts::PI;

use quantity::Celsius;

use crate::circuit::Impedance;
use crate::demand::heating_at;
use crate::outcome::{CircuitState, Moment, Stage};
use crate::prepare::Prepared;
use crate::record::Record;
use crate::setup::Setup;

/// A state of the record with its name.
type Named = (String, usize);

/// The rows: the coil alone, then the joint from cold to the hold and back.
pub fn circuit_table(prepared: &Prepared, record: &Record, setup: &Setup) -> Vec<CircuitState> {
    let mut rows = vec![alone(prepared, record)];
    for (name, index) in states(record, setup) {
        let (moment, impedance) = (&record.moments[index], &record.impedances[index]);
        rows.push(row(
            prepared,
            name,
            moment.control_c,
            moment.current_rms_a,
            impedance,
        ));
    }
    rows
}

/// The moments that stand in the table, each once.
fn states(record: &Record, setup: &Setup) -> Vec<Named> {
    let [threshold_c, set_point_c] =
        [setup.programme.threshold, setup.programme.set_point].map(Celsius::c);
    let moments = &record.moments;
    let heats = |m: &Moment| m.stage < Stage::Hold && m.current_rms_a > 0.0;
    let passes = |c: f64| moments.iter().position(|m| heats(m) && m.control_c >= c);
    let last = |stage: Stage| {
        moments
            .iter()
            .rposition(|m| m.stage == stage && m.current_rms_a > 0.0)
    };
    let middle_c = 0.5 * (threshold_c + set_point_c);
    let mut states: Vec<Named> = Vec::new();
    let mut add = |name: String, index: Option<usize>| {
        if let Some(index) = index.filter(|index| states.iter().all(|known| known.1 != *index)) {
            states.push((name, index));
        }
    };
    add("start of heating".into(), moments.iter().position(heats));
    for c in [threshold_c, middle_c] {
        add(heating_at(c, setup.units), passes(c));
    }
    add("end of heating".into(), moments.iter().rposition(heats));
    add("end of the hold".into(), last(Stage::Hold));
    add("end of cooling under power".into(), last(Stage::Cooling));
    states
}

/// The coil without the joint, at the largest current of source and cable (circuit.md eq. 4).
fn alone(prepared: &Prepared, record: &Record) -> CircuitState {
    let omega = 2.0 * PI * prepared.frequency_hz;
    let impedance = Impedance {
        metal_ohm: 0.0,
        coil_ohm: prepared.coil_ohm,
        leads_ohm: prepared.leads.resistance_ohm,
        coil_reactance_ohm: omega * prepared.coil.inductance_in_air_h(),
        leads_reactance_ohm: prepared.leads.reactance_ohm,
    };
    let (allowed_a, _) = prepared.limits.allowed_rms_a(&impedance);
    row(
        prepared,
        "coil alone, no joint".into(),
        record.start_c(),
        allowed_a,
        &impedance,
    )
}

fn row(
    prepared: &Prepared,
    name: String,
    control_c: f64,
    current_rms_a: f64,
    impedance: &Impedance,
) -> CircuitState {
    let (allowed_current_rms_a, limited_by) = prepared.limits.allowed_rms_a(impedance);
    let square = allowed_current_rms_a * allowed_current_rms_a;
    let coil_ohm = libm::hypot(
        impedance.metal_ohm + impedance.coil_ohm,
        impedance.coil_reactance_ohm,
    );
    CircuitState {
        name,
        control_c,
        current_rms_a,
        resistance_ohm: impedance.resistance_ohm(),
        reactance_ohm: impedance.reactance_ohm(),
        metal_resistance_ohm: impedance.metal_ohm,
        coil_resistance_ohm: impedance.coil_ohm,
        leads_resistance_ohm: impedance.leads_ohm,
        leads_reactance_ohm: impedance.leads_reactance_ohm,
        quality: impedance.reactance_ohm() / impedance.resistance_ohm(),
        voltage_per_turn_rms_v: current_rms_a * coil_ohm / prepared.coil.rings.len() as f64,
        allowed_current_rms_a,
        limited_by,
        metal_power_at_limit_w: square * impedance.metal_ohm,
        source_power_at_limit_w: square * impedance.resistance_ohm(),
    }
}
