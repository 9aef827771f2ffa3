//! What was assumed and taken, what is left out, how the readings were read, how hard the solver worked.

use quantity::Status;
use report::{Block, Fact, Note, Row, Table, TableColumn};

use super::fact;
use crate::file::shape::{named, spoken};
use crate::sheet::PlanSheet;
use crate::sheet::words::{marked, trimmed};

/// Everything that the plan rests on.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let mut blocks = vec![assumptions(plan), statuses()];
    if !plan.taken.is_empty() {
        let taken = plan.taken.iter();
        blocks.push(Block::heading(
            2,
            "Left open by the job, and what was taken",
        ));
        blocks.push(Block::Facts(
            taken
                .map(|one| fact(&named(&one.key), spoken(&one.value)))
                .collect(),
        ));
    }
    blocks.push(Block::heading(2, "What the model leaves out"));
    let left_out = plan.outcome.not_modeled.iter().map(Note::plain);
    blocks.push(Block::Notes(left_out.collect()));
    blocks.push(Block::KeepTogether(vec![
        Block::heading(2, "Effort and balance of the computation"),
        effort(plan),
    ]));
    blocks.push(Block::heading(2, "How readings are read"));
    let definitions = plan.findings.definitions.iter();
    blocks.push(Block::Facts(
        definitions
            .map(|one| fact(one.id, one.text.as_str()))
            .collect(),
    ));
    blocks
}

fn assumptions(plan: &PlanSheet) -> Block {
    let rows = plan.outcome.assumptions.iter().map(|one| {
        Row::Cells(vec![
            one.text.as_str().into(),
            marked(one.value.as_str().into(), one.status),
            spread(one.spread.as_deref()).into(),
            one.status.words().into(),
            one.source.as_str().into(),
        ])
    });
    Block::Table(Table {
        caption: "What was assumed.".into(),
        columns: vec![
            TableColumn::words("What"),
            TableColumn::words("Value"),
            TableColumn::words("Spread"),
            TableColumn::words("Status"),
            TableColumn::words("Where it comes from"),
        ],
        rows: rows.collect(),
        first_cell_names_row: true,
    })
}

/// From one end to the other, on one line.
fn spread(spread: Option<&str>) -> String {
    spread.unwrap_or("not known").replace(' ', "\u{a0}")
}

/// What the words of a status mean.
fn statuses() -> Block {
    let meanings = [
        (Status::Verified, "read in public text of the named edition"),
        (Status::Computed, "computed here from a published formula"),
        (Status::UserGiven, "as it stands in the job"),
        (
            Status::CommonPractice,
            "a habit of the trade without a published source; marked",
        ),
        (
            Status::FromMemory,
            "recalled from the named document and not read again; marked",
        ),
        (
            Status::Estimate,
            "estimated here, with its spread beside it; marked",
        ),
        (
            Status::Unsure,
            "sources disagree; off until the user confirms it; marked",
        ),
    ];
    let facts: Vec<Fact> = meanings
        .map(|(status, meaning)| fact(status.words(), meaning))
        .to_vec();
    Block::KeepTogether(vec![
        Block::heading(2, "What a status means"),
        Block::Facts(facts),
    ])
}

fn effort(plan: &PlanSheet) -> Block {
    let effort = &plan.outcome.effort;
    Block::Facts(vec![
        fact(
            "Unknowns",
            format!(
                "{} of the field, {} of the heat",
                effort.field_unknowns, effort.heat_unknowns
            ),
        ),
        fact(
            "Solves",
            format!(
                "{} of the field in {} updates",
                effort.field_solves, effort.field_updates
            ),
        ),
        fact(
            "Steps of the heat",
            format!(
                "{} accepted of {} tried",
                effort.heat_steps, effort.heat_tries
            ),
        ),
        fact(
            "Worst residual of a field solve",
            format!("{:.1e}, relative", effort.worst_residual),
        ),
        fact(
            "Coil power against integrated loss",
            format!("{:.1e} apart at the worst, relative", effort.worst_balance),
        ),
        fact(
            "Power foreseen between updates",
            format!(
                "{} % off at the worst",
                trimmed(effort.worst_prediction_percent, 2)
            ),
        ),
        fact(
            "Heat put in, given off and stored",
            format!(
                "{} % of the heat put in is unaccounted for",
                trimmed(effort.energy_error_percent, 2)
            ),
        ),
    ])
}
