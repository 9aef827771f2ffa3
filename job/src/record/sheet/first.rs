//! The first page: which weld, which limits, what was measured, what deviates, and who signs for what.

use checks::{Finding, Measured, Origin, Verdict, level_words, limit_words};
use quantity::Units;
use report::{Block, Column, Fact, Note, Row, State, Table, TableColumn, Text, WriteIn};
use rules::requirement::{Level, LimitKind};

use crate::record::Record;
use crate::sheet::words::marked;

/// The levels in the order in which they are told.
const LEVELS: [Level; 4] = [Level::Code, Level::Owner, Level::Procedure, Level::Guidance];
/// Deviations on the first page; the others stand behind.
const DEVIATIONS: usize = 6;
/// Length of a line to write on, in mm.
const LINE_MM: f64 = 42.0;

pub(super) fn blocks(record: &Record) -> Vec<Block> {
    let mut blocks = vec![facts(record)];
    if let Some(scenario) = &record.basis.demo {
        blocks.push(Block::paragraph(
            Text::default().italic(format!("Demo, not for use: {scenario}")),
        ));
    }
    blocks.push(Block::paragraph(Text::default().strong(statement(record))));
    blocks.push(limits(record));
    blocks.push(Block::heading(3, "Deviations"));
    blocks.push(deviations(record));
    blocks.push(Block::heading(3, "Signatures"));
    blocks.extend(signatures());
    blocks
}

fn facts(record: &Record) -> Block {
    let who = &record.basis.identification;
    let start = record.log.start.local();
    let utc = match record.log.start.moment() {
        Some(at) => format!("{} UTC", at.strftime("%Y-%m-%d %H:%M")),
        None => "time zone not stated".into(),
    };
    let given = |value: &str| match value {
        "" => "not given".to_string(),
        value => value.to_string(),
    };
    let left = vec![
        Fact::new("Project", given(&who.project)),
        Fact::new("Weld", given(&who.weld)),
        Fact::new("Line or vessel", given(&who.line)),
        Fact::new("Procedure", given(&who.procedure)),
    ];
    let right = vec![
        Fact::new("Judged by", record.basis.what.clone()),
        Fact::new(
            "Begins",
            format!("{} ({utc})", start.strftime("%Y-%m-%d %H:%M")),
        ),
        Fact::new(
            "Lasts",
            crate::sheet::words::duration_h(record.length().as_secs_f64() / 3600.0),
        ),
        Fact::new(
            "Readings",
            format!(
                "{} channels, {} scans, {} file{}",
                record.log.channels.len(),
                record.log.scans.len(),
                record.log.files.len(),
                if record.log.files.len() == 1 { "" } else { "s" }
            ),
        ),
    ];
    Block::Columns(vec![
        Column::new(1.0, vec![Block::Facts(left)]),
        Column::new(1.0, vec![Block::Facts(right)]),
    ])
}

fn statement(record: &Record) -> String {
    format!(
        "{}. The definitions, named in brackets, stand behind; the code of the contract decides.",
        record.statement()
    )
}

fn limits(record: &Record) -> Block {
    let mut rows = Vec::new();
    for level in LEVELS {
        let mut of_level = record.findings.of_level(level).peekable();
        if of_level.peek().is_some() {
            rows.push(Row::Group(level_words(level).into()));
        }
        rows.extend(of_level.map(|finding| row(record, finding)));
    }
    Block::Table(Table {
        caption: Text::default(),
        columns: vec![
            TableColumn::words("Limit"),
            TableColumn::words("Where it stands"),
            TableColumn::numbers("Measured"),
            TableColumn::words("Finding"),
            TableColumn::words("By how much, when, where"),
        ],
        rows,
        first_cell_names_row: true,
    })
}

fn row(record: &Record, finding: &Finding) -> Row {
    let units = record.basis.units;
    let clause = &finding.limit.clause;
    let mut told = Vec::new();
    if let Some(by) = finding.by_how_much {
        let how = match finding.verdict {
            Verdict::NotMet => format!("missed by {}", by.words(units)),
            _ => format!("{} to spare", by.words(units)),
        };
        told.push(how);
    }
    told.extend(finding.channel.clone());
    if let Some(when) = finding.when {
        told.push(format!("at {}", when.words()));
    }
    if finding.verdict != Verdict::Met {
        told.push(finding.reason.clone());
    }
    told.extend(missed_within_resolution(finding));
    Row::Cells(vec![
        limit_words(&finding.limit.kind, units).into(),
        marked(
            format!("{} {}", clause.document, clause.clause).into(),
            clause.status,
        ),
        finding
            .measured
            .map_or("none".to_string(), |m| m.words(units))
            .into(),
        verdict(finding.verdict),
        format!("{} [{}]", told.join(", "), finding.definition).into(),
    ])
}

/// A hold that is met only as far as the step of the recorder can be trusted.
fn missed_within_resolution(finding: &Finding) -> Option<String> {
    let LimitKind::HoldTime(asked) = finding.limit.kind else {
        return None;
    };
    let mut beside = finding.beside.iter();
    let narrower = beside.find(|b| b.what.ends_with("narrower at each end"))?;
    let Some(Measured::Time(run)) = narrower.measured else {
        return None;
    };
    let words = || {
        format!(
            "but {}: {}",
            narrower.what,
            Measured::Time(run).words(Units::Si)
        )
    };
    (finding.verdict == Verdict::Met && run.h() < asked.h()).then(words)
}

pub(super) fn verdict(verdict: Verdict) -> Text {
    let state = match verdict {
        Verdict::Met => State::Fine,
        Verdict::NotMet => State::Passed,
        Verdict::NotJudged => State::Open,
    };
    let words = match verdict {
        Verdict::NotJudged => "could not be judged",
        other => other.words(Origin::Measured),
    };
    Text::default().status(state, words)
}

fn deviations(record: &Record) -> Block {
    let mut notes: Vec<Note> = record
        .deviations
        .iter()
        .take(DEVIATIONS)
        .map(|d| match d.open {
            true => Note::caution(d.says.as_str()),
            false => Note::plain(d.says.as_str()),
        })
        .collect();
    let more = record.deviations.len().saturating_sub(DEVIATIONS);
    let complaints = record.log.complaints.len();
    if more > 0 {
        notes.push(Note::plain(format!("{more} more stand behind")));
    }
    if complaints > 0 {
        notes.push(Note::plain(format!(
            "{complaints} remark{} on the logger's files behind",
            if complaints == 1 { "" } else { "s" }
        )));
    }
    if notes.is_empty() {
        notes.push(Note::plain("none found"));
    }
    Block::Notes(notes)
}

/// Who signs, and what the name under it means.
fn signatures() -> Vec<Block> {
    let means = [
        (
            "Operator",
            "the heat was run and the thermocouples sat as shown",
        ),
        ("Supervisor", "the record is of this weld and complete"),
        (
            "Inspector",
            "the record was read and accepted for the contract",
        ),
    ];
    means
        .iter()
        .map(|(who, meaning)| {
            Block::WriteIns(vec![
                WriteIn {
                    label: format!("{who}: {meaning}"),
                    width_mm: LINE_MM,
                },
                WriteIn {
                    label: "Date".into(),
                    width_mm: LINE_MM / 2.0,
                },
            ])
        })
        .collect()
}
