//! The circuit by state of the joint, and where the energy goes.

use cycle::outcome::CircuitState;
use report::{Block, Row, Table, TableColumn};

use super::fact;
use crate::sheet::PlanSheet;
use crate::sheet::words::{first_c, frequency, trimmed};

/// Headings of the circuit, without the state and the bound.
const COLUMNS: [&str; 11] = [
    "Control",
    "I, A",
    "R, mΩ",
    "joint",
    "coil",
    "leads",
    "X, mΩ",
    "X/R",
    "V a turn",
    "most A",
    "kW in metal",
];

/// The circuit table and the energy.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    vec![
        Block::heading(2, "The circuit as the source sees it"),
        table(plan),
        Block::heading(2, "Energy"),
        energy(plan),
    ]
}

fn table(plan: &PlanSheet) -> Block {
    let mut columns = vec![TableColumn::words("State")];
    columns.extend(COLUMNS.map(TableColumn::numbers));
    columns.push(TableColumn::words("bound by"));
    let rows = plan.outcome.circuit.iter().map(|state| row(plan, state));
    Block::Table(Table {
        caption: format!(
            "At {}. The resistances of joint, coil cable and leads add up to R. The last three columns are for the largest \
             current that the source allows. In the hold the pipe beyond still takes up heat; the quick answer, in which nothing \
             warms up any more, takes less.",
            frequency(plan.outcome.frequency_hz)
        )
        .into(),
        columns,
        rows: rows.collect(),
        first_cell_names_row: true,
    })
}

fn row(plan: &PlanSheet, state: &CircuitState) -> Row {
    let milliohm = |ohm: f64, decimals: usize| trimmed(ohm * 1e3, decimals);
    Row::cells([
        state.name.clone(),
        first_c(state.control_c, plan.job.units),
        trimmed(state.current_rms_a, 0),
        milliohm(state.resistance_ohm, 0),
        milliohm(state.metal_resistance_ohm, 0),
        milliohm(state.coil_resistance_ohm, 1),
        milliohm(state.leads_resistance_ohm, 1),
        milliohm(state.reactance_ohm, 0),
        trimmed(state.quality, 1),
        trimmed(state.voltage_per_turn_rms_v, 0),
        trimmed(state.allowed_current_rms_a, 0),
        trimmed(state.metal_power_at_limit_w / 1e3, 1),
        state.limited_by.words().into(),
    ])
}

fn energy(plan: &PlanSheet) -> Block {
    let energy = &plan.outcome.energy;
    let kwh = |value: f64| format!("{} kWh", trimmed(value, 1));
    Block::Facts(vec![
        fact("Out of the source", kwh(energy.source_kwh)),
        fact("Into the metal", kwh(energy.metal_kwh)),
        fact("Lost in the cable of the coil", kwh(energy.coil_kwh)),
        fact("Lost in the leads", kwh(energy.leads_kwh)),
        fact("Given off by the metal", kwh(energy.given_off_kwh)),
        fact("Still stored at the end", kwh(energy.stored_kwh)),
    ])
}
