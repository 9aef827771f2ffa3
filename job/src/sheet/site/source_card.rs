//! What to set at the source, and what its meters should show.

use cycle::outcome::Stage;
use report::{Block, Row, Table, TableColumn};

use crate::sheet::PlanSheet;
use crate::sheet::words::{frequency, trimmed};

/// The settings with the readings to expect.
pub(super) fn settings(plan: &PlanSheet) -> Block {
    let source = &plan.setup.source;
    let expected = |name: &str, amps: f64, volts: f64, watts: f64| {
        Row::Cells(vec![
            name.into(),
            format!("{amps:.0}").into(),
            format!("{volts:.0}").into(),
            trimmed(watts / 1000.0, 1).into(),
        ])
    };
    let moments = &plan.outcome.history;
    let mut rows = Vec::new();
    let start = moments.iter().find(|m| m.source_power_w > 0.0);
    if let Some(m) = start {
        rows.push(expected(
            "Cold, at first",
            m.current_rms_a,
            m.voltage_rms_v,
            m.source_power_w,
        ));
    }
    let verdict = &plan.outcome.source;
    rows.push(expected(
        "Largest",
        verdict.largest_current_rms_a,
        verdict.largest_voltage_rms_v,
        verdict.largest_power_w,
    ));
    let hold: Vec<_> = moments.iter().filter(|m| m.stage == Stage::Hold).collect();
    if let Some(m) = hold.get(hold.len() / 2) {
        rows.push(expected(
            "Middle of hold",
            m.current_rms_a,
            m.voltage_rms_v,
            m.source_power_w,
        ));
    }
    Block::Table(Table {
        caption: format!(
            "{} ({:.0} A, {:.0} V, {} kW), about {}. Meters to expect:",
            source.name,
            source.current_rms_a,
            source.voltage_rms_v,
            trimmed(source.power_kw, 0),
            frequency(plan.outcome.frequency_hz)
        )
        .into(),
        columns: vec![
            TableColumn::words("Source"),
            TableColumn::numbers("A"),
            TableColumn::numbers("V"),
            TableColumn::numbers("kW"),
        ],
        rows,
        first_cell_names_row: true,
    })
}

/// The coil in one sentence.
pub(super) fn coil_words(plan: &PlanSheet) -> String {
    let setup = plan.setup;
    let turns = plan.coil.turns.len();
    let units = plan.job.units;
    format!(
        "{turns} turns of {}, {} thick, on {} of {}; leads {}, kept side by side.",
        setup.cable.name,
        crate::sheet::words::both_dimension(
            quantity::Millimeters::from_mm(setup.cable.outside_diameter_mm.value),
            units
        ),
        crate::sheet::words::both_tape(setup.blanket.thickness, units),
        setup.blanket.material.name,
        lead_length(setup.leads.length, units)
    )
}

fn lead_length(length: quantity::Millimeters, units: quantity::Units) -> String {
    let (meters, feet) = (trimmed(length.m(), 1), trimmed(length.inches() / 12.0, 0));
    match units {
        quantity::Units::Si => format!("{meters} m ({feet} ft)"),
        quantity::Units::Us => format!("{feet} ft ({meters} m)"),
    }
}
