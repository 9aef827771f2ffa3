//! The turns, and where they were proposed: what was tried and why this one.

use cycle::proposal::TrialRow;
use quantity::Units;
use report::{Align, Block, Row, Table, TableColumn};

use crate::sheet::PlanSheet;
use crate::sheet::axes::along;
use crate::sheet::words::{first_c, frequency, trimmed};

/// Headings of the trials.
const COLUMNS: [&str; 9] = [
    "Turns",
    "Pitch",
    "Middle from weld",
    "Pitch, middle over ends",
    "Frequency",
    "Coldest",
    "Hottest",
    "kW",
    "Least reserve, %",
];

/// Those of them that are lengths.
const LENGTHS: [&str; 2] = ["Pitch", "Middle from weld"];

/// Why this coil and what else was tried.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let Some(proposal) = plan.proposal else {
        return vec![Block::paragraph(
            "Turns and frequency are those of the job; none were proposed.",
        )];
    };
    let (length, _) = along(plan.job.units);
    let heading = |name: &str| match LENGTHS.contains(&name) {
        true => format!("{name}, {length}"),
        false => name.to_owned(),
    };
    let mut columns: Vec<TableColumn> = COLUMNS
        .map(|name| TableColumn::numbers(heading(name)))
        .to_vec();
    columns.push(TableColumn {
        heading: "Result".into(),
        align: Align::Start,
    });
    let shown = told(&proposal.trials);
    let left_out = proposal.trials.len() - shown.len();
    let rows = shown.into_iter().map(|trial| row(plan, trial));
    vec![
        Block::paragraph(proposal.reason.clone()),
        Block::Table(Table {
            caption: caption(&proposal.trials, left_out).into(),
            columns,
            rows: rows.collect(),
            first_cell_names_row: false,
        }),
    ]
}

/// What the rows were judged by: all by the circuit, those with temperatures at the steady hold as well.
fn caption(trials: &[TrialRow], left_out: usize) -> String {
    let mut says = "What was tried, an estimate before the cycle was computed. Least reserve: of power, current and voltage, \
                    over the states from the start of heating to the hold; where no hold was computed, the result names \
                    the state."
        .to_owned();
    if trials.iter().any(|one| one.coldest_c.is_some()) {
        says += " Rows with temperatures were judged at the steady hold too: coldest and hottest place of the soak band, \
                 power into the metal. Middle from weld: how far the middle of the coil lies from the weld. Pitch, middle \
                 over ends: how many times wider it is in the middle.";
    }
    if left_out > 0 {
        says += &format!(" {left_out} more with less reserve stand in the plan as data.");
    }
    says
}

/// Most trials of which only the circuit was looked at that are told.
const MOST_OF_CIRCUIT: usize = 8;

/// All trials judged at the hold, and of the others those with the most reserve.
fn told(trials: &[TrialRow]) -> Vec<&TrialRow> {
    let (held, mut circuit): (Vec<&TrialRow>, Vec<&TrialRow>) =
        trials.iter().partition(|one| one.coldest_c.is_some());
    circuit.sort_by(|a, b| b.least_reserve_percent.total_cmp(&a.least_reserve_percent));
    circuit.truncate(MOST_OF_CIRCUIT);
    held.into_iter().chain(circuit).collect()
}

fn row(plan: &PlanSheet, trial: &TrialRow) -> Row {
    let (_, unit_mm) = along(plan.job.units);
    let digits = match plan.job.units {
        Units::Si => 0,
        Units::Us => 2,
    };
    Row::cells([
        trial.turns.to_string(),
        trimmed(trial.pitch_mm / unit_mm, digits),
        trimmed(trial.offset_mm / unit_mm, digits),
        trimmed(trial.opening, 2),
        frequency(trial.frequency_hz),
        known(trial.coldest_c, |c| first_c(c, plan.job.units)),
        known(trial.hottest_c, |c| first_c(c, plan.job.units)),
        known(trial.hold_power_w, |watts| trimmed(watts / 1e3, 1)),
        trimmed(trial.least_reserve_percent, 0),
        trial.verdict.clone(),
    ])
}

/// What was not computed has a dash.
fn known(value: Option<f64>, words: impl Fn(f64) -> String) -> String {
    value.map_or("–".into(), words)
}
