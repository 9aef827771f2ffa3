//! Limit by limit: what is predicted, whether it meets the limit, by how much, when and where.

use checks::{Finding, Origin, Verdict, level_words, limit_words};
use report::{Block, Note, Row, State, Table, TableColumn, Text};
use rules::requirement::Level;

use crate::sheet::PlanSheet;
use crate::sheet::words::{marked, moment_s};

/// The levels in the order in which they are told.
const LEVELS: [Level; 4] = [Level::Code, Level::Owner, Level::Procedure, Level::Guidance];

/// The table of findings and the cautions that go before the heat.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let scenario = plan.job.demo.iter();
    let mut blocks: Vec<Block> = scenario
        .map(|words| Block::paragraph(Text::default().italic(words.as_str())))
        .collect();
    if !plan.outcome.cautions.is_empty() {
        let cautions = plan.outcome.cautions.iter();
        blocks.push(Block::Notes(cautions.map(Note::caution).collect()));
    }
    blocks.push(Block::paragraph(format!(
        "Every limit is read from the predicted readings as a log would be read; the hold is judged by {}. A prediction \
         proves nothing; the record of the heat does.",
        plan.findings.soak_band_names().join(", ")
    )));
    let levels = LEVELS.iter();
    blocks.push(Block::Table(Table {
        caption: "Limit by limit, each level apart.".into(),
        columns: vec![
            TableColumn::words("Limit"),
            TableColumn::words("Where it stands"),
            TableColumn::numbers("Predicted"),
            TableColumn::words("Finding"),
            TableColumn::words("By how much, when, where, why"),
        ],
        rows: levels.flat_map(|level| of_level(plan, *level)).collect(),
        first_cell_names_row: true,
    }));
    blocks
}

fn of_level(plan: &PlanSheet, level: Level) -> Vec<Row> {
    let findings = plan.findings.of_level(level);
    let rows: Vec<Row> = findings.map(|f| row(plan, f)).collect();
    if rows.is_empty() {
        return rows;
    }
    let mut all = vec![Row::Group(level_words(level).into())];
    all.extend(rows);
    all
}

fn row(plan: &PlanSheet, finding: &Finding) -> Row {
    let units = plan.job.units;
    let clause = &finding.limit.clause;
    let measured = finding.measured.map(|m| m.words(units));
    Row::Cells(vec![
        limit_words(&finding.limit.kind, units).into(),
        marked(
            format!("{} {}", clause.document, clause.clause).into(),
            clause.status,
        ),
        measured.unwrap_or("none".into()).into(),
        verdict(finding.verdict),
        evidence(plan, finding),
    ])
}

fn verdict(verdict: Verdict) -> Text {
    let state = match verdict {
        Verdict::Met => State::Fine,
        Verdict::NotMet => State::Passed,
        Verdict::NotJudged => State::Open,
    };
    let words = verdict.words(Origin::Predicted).trim_end_matches(':');
    Text::default().status(state, words)
}

fn evidence(plan: &PlanSheet, finding: &Finding) -> Text {
    let units = plan.job.units;
    let mut parts = Vec::new();
    if let Some(by) = finding.by_how_much {
        let how = match finding.verdict {
            Verdict::NotMet => format!("missed by {}", by.words(units)),
            _ => format!("{} to spare", by.words(units)),
        };
        parts.push(how);
    }
    parts.extend(finding.channel.clone());
    if let Some(when) = finding.when {
        parts.push(format!("at {}", moment_s(when.s())));
    }
    parts.push(finding.reason.clone());
    // What other channels read, and what says the same again, stands in the data; here only what is other beside it.
    let same = |channel: &Option<String>| channel.is_none() || *channel == finding.channel;
    let found = finding.measured.map(|measured| measured.words(units));
    for beside in finding.beside.iter().filter(|one| same(&one.channel)) {
        let words = beside.measured.map(|measured| measured.words(units));
        if let Some(words) = words.filter(|words| found.as_ref() != Some(words)) {
            parts.push(format!("{}: {words}", beside.what));
        }
    }
    format!("{} [{}]", parts.join("; "), finding.definition).into()
}
