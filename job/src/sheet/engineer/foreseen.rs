//! What no thermocouple on site can say: the whole soak band with its bore, the source, the neighbors.

use checks::Verdict;
use cycle::outcome::{Difference, NeighborOutcome, Spot};
use quantity::Millimeters;
use report::{Block, Fact, Row, State, Table, TableColumn, Text};

use super::fact;
use crate::foreseen::Foreseen;
use crate::sheet::PlanSheet;
use crate::sheet::words::{both_c, both_k, both_tape, duration_h, moment_s, trimmed};

/// What only the prediction can say: what was found, then the numbers behind it.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let differences = &plan.outcome.surface_to_bore;
    let mut numbers = vec![
        fact("Soak band, bore included", soak(plan)),
        fact("Beyond the soak band", beyond(plan)),
        fact(
            "Outside less bore, heating",
            difference(plan, &differences.heating),
        ),
        fact(
            "Outside less bore, hold",
            difference(plan, &differences.hold),
        ),
        fact("Source", source(plan)),
    ];
    let neighbors = plan.outcome.neighbors.iter();
    numbers.extend(neighbors.map(|one| neighbor(plan, one)));
    vec![
        Block::Table(Table {
            caption:
                "What only the prediction can say, worst first; no thermocouple on site sees it."
                    .into(),
            columns: vec![
                TableColumn::words("What"),
                TableColumn::words("Finding"),
                TableColumn::words("How, and what can be done"),
            ],
            rows: plan.foreseen.iter().map(row).collect(),
            first_cell_names_row: true,
        }),
        Block::heading(2, "The numbers behind it"),
        Block::Facts(numbers),
    ]
}

fn row(one: &Foreseen) -> Row {
    let (state, words) = match one.verdict {
        Verdict::Met => (State::Fine, "nothing stands in the way"),
        Verdict::NotMet => (State::Passed, "predicted values do not meet it"),
        Verdict::NotJudged => (State::Open, "could not be judged"),
    };
    let says = match &one.remedy {
        None => one.says.clone(),
        Some(remedy) => format!("{}; what can be done: {remedy}", one.says),
    };
    Row::Cells(vec![
        one.about.words().into(),
        Text::default().status(state, words),
        says.into(),
    ])
}

fn tape(plan: &PlanSheet, mm: f64) -> String {
    both_tape(Millimeters::from_mm(mm), plan.job.units)
}

fn spot(plan: &PlanSheet, spot: &Spot, time_s: f64) -> String {
    format!(
        "{}, {} from the weld center, {} deep, at {}",
        both_c(spot.temperature_c, plan.job.units),
        tape(plan, spot.axial_mm),
        tape(plan, spot.depth_mm),
        moment_s(time_s)
    )
}

fn soak(plan: &PlanSheet) -> String {
    let soak = &plan.outcome.soak;
    if soak.hold_from_s.is_none() {
        return "The hold never began.".into();
    }
    let lag = match soak.lag_s {
        None => "Some place of the band never came into the range".to_string(),
        Some(lag) => format!(
            "The last place came {:.0} min after the control thermocouples",
            lag / 60.0
        ),
    };
    format!(
        "Inside the hold range for {}. Coldest {}. Hottest {}. {lag}.",
        duration_h(soak.time_inside_h),
        spot(plan, &soak.coldest, soak.coldest_time_s),
        spot(plan, &soak.hottest, soak.hottest_time_s),
    )
}

fn beyond(plan: &PlanSheet) -> String {
    let beyond = &plan.outcome.beyond;
    format!("Hottest {}.", spot(plan, &beyond.hottest, beyond.time_s))
}

/// The largest of the soak band; no paper sets a limit for it.
fn difference(plan: &PlanSheet, difference: &Difference) -> String {
    format!(
        "at most {} at {}, {} from the weld center, within the soak band; no limit is set",
        both_k(difference.difference_k, plan.job.units),
        moment_s(difference.time_s),
        tape(plan, difference.axial_mm)
    )
}

fn source(plan: &PlanSheet) -> String {
    let source = &plan.outcome.source;
    let reserve = format!(
        "Left at the worst moment: {} % of power, {} % of current, {} % of voltage.",
        trimmed(source.power_reserve_percent, 0),
        trimmed(source.current_reserve_percent, 0),
        trimmed(source.voltage_reserve_percent, 0)
    );
    match &source.first_shortfall {
        None => format!("Follows the program throughout. {reserve}"),
        Some(short) => format!(
            "Runs out first in the stage of {}, at {}, {}: {} holds it back; {} behind at the most. {reserve}",
            short.stage.words(),
            moment_s(short.time_s),
            both_c(short.control_c, plan.job.units),
            short.limit.words(),
            both_k(short.farthest_behind_k, plan.job.units)
        ),
    }
}

fn neighbor(plan: &PlanSheet, neighbor: &NeighborOutcome) -> Fact {
    let units = plan.job.units;
    let bears = match neighbor.limit_c {
        None => "what it bears is not given".to_string(),
        Some(limit) => {
            let by = both_k((limit - neighbor.highest_c).abs(), units);
            let how = if neighbor.highest_c <= limit {
                "to spare"
            } else {
                "too hot"
            };
            format!("it bears {}: {by} {how}", both_c(limit, units))
        }
    };
    let hottest = format!(
        "hottest {} at {}, {} from the weld center; {bears}",
        both_c(neighbor.highest_c, units),
        moment_s(neighbor.time_s),
        tape(plan, neighbor.axial_mm)
    );
    fact(&neighbor.name, hottest)
}
