//! What no thermocouple on site can say: the whole soak band with its bore, the source, the neighbors.

use cycle::outcome::{Difference, NeighborOutcome, Spot};
use quantity::Millimeters;
use report::{Block, Row, State, Table, TableColumn, Text};

use crate::sheet::PlanSheet;
use crate::sheet::words::{both_c, both_k, both_tape, duration_h, moment_s, trimmed};

/// The table of what only the prediction can say.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let differences = &plan.outcome.surface_to_bore;
    let mut rows = vec![
        soak(plan),
        bore(plan, "while heating", &differences.heating),
        bore(plan, "in the hold", &differences.hold),
        source(plan),
    ];
    let neighbors = plan.outcome.neighbors.iter();
    rows.extend(neighbors.map(|one| neighbor(plan, one)));
    vec![Block::Table(Table {
        caption: "What only the prediction can say; no thermocouple on site sees it.".into(),
        columns: vec![
            TableColumn::words("What"),
            TableColumn::words("Finding"),
            TableColumn::words("By how much, when, where"),
        ],
        rows,
        first_cell_names_row: true,
    })]
}

fn row(what: impl Into<Text>, finding: Text, more: impl Into<Text>) -> Row {
    Row::Cells(vec![what.into(), finding, more.into()])
}

fn status(is_fine: bool, fine: &str, not: &str) -> Text {
    match is_fine {
        true => Text::default().status(State::Fine, fine),
        false => Text::default().status(State::Look, not),
    }
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

fn soak(plan: &PlanSheet) -> Row {
    let soak = &plan.outcome.soak;
    let what = "Soak band, bore included, inside the hold range";
    if soak.hold_from_s.is_none() {
        return row(
            what,
            Text::default().status(State::Look, "the hold never began"),
            "The control thermocouples did not come into the range.",
        );
    }
    let lag = match soak.lag_s {
        None => "Some place of the band never came into the range".to_string(),
        Some(lag) => format!(
            "The last place came {:.0} min after the control thermocouples",
            lag / 60.0
        ),
    };
    row(
        what,
        status(
            soak.inside_whole_hold,
            "inside for the whole hold",
            "not inside for the whole hold",
        ),
        format!(
            "Inside for {}. Coldest {}. Hottest {}. {lag}.",
            duration_h(soak.time_inside_h),
            spot(plan, &soak.coldest, soak.coldest_time_s),
            spot(plan, &soak.hottest, soak.hottest_time_s),
        ),
    )
}

fn bore(plan: &PlanSheet, when: &str, difference: &Difference) -> Row {
    row(
        format!("Outside less bore {when}, largest in the soak band"),
        Text::default().status(State::Open, "no limit is set"),
        format!(
            "{} at {}, {} from the weld center",
            both_k(difference.difference_k, plan.job.units),
            moment_s(difference.time_s),
            tape(plan, difference.axial_mm)
        ),
    )
}

fn source(plan: &PlanSheet) -> Row {
    let source = &plan.outcome.source;
    let reserve = format!(
        "Left at the worst moment: {} % of power, {} % of current, {} % of voltage.",
        trimmed(source.power_reserve_percent, 0),
        trimmed(source.current_reserve_percent, 0),
        trimmed(source.voltage_reserve_percent, 0)
    );
    let more = match &source.first_shortfall {
        None => reserve,
        Some(short) => format!(
            "First in the stage of {}, at {}, {}: {} holds it back; {} behind at the most. {reserve}",
            short.stage.words(),
            moment_s(short.time_s),
            both_c(short.control_c, plan.job.units),
            short.limit.words(),
            both_k(short.farthest_behind_k, plan.job.units)
        ),
    };
    row(
        "The source follows the program",
        status(source.enough, "follows throughout", "falls behind"),
        more,
    )
}

fn neighbor(plan: &PlanSheet, neighbor: &NeighborOutcome) -> Row {
    let units = plan.job.units;
    let name = format!(
        "{}, {} from the weld center",
        neighbor.name,
        tape(plan, neighbor.axial_mm)
    );
    let highest = format!(
        "{} at {}",
        both_c(neighbor.highest_c, units),
        moment_s(neighbor.time_s)
    );
    let Some(limit) = neighbor.limit_c else {
        let open = Text::default().status(State::Open, "what it bears is not given");
        return row(name, open, highest);
    };
    let is_fine = neighbor.highest_c <= limit;
    let by = both_k((limit - neighbor.highest_c).abs(), units);
    let how = if is_fine { "in hand" } else { "too hot" };
    row(
        name,
        status(is_fine, "stays below what it bears", "hotter than it bears"),
        format!("{highest}, against {}: {by} {how}", both_c(limit, units)),
    )
}
