//! The document of a record: a first page that stands alone, the chart, then what stands behind it.

pub(crate) mod against;
mod behind;
mod chart;
mod first;
mod map;
mod results;

use quantity::Units;
use report::{Block, Paper, Running, Sheet};

use super::Record;

/// The document of a record.
pub(super) fn sheet(record: &Record, made: &str) -> Sheet {
    let who = &record.basis.identification;
    let named = |name: &str, value: &str| match value {
        "" => name.to_string(),
        value => format!("{name} {value}"),
    };
    let mut blocks = vec![Block::OnePage(first::blocks(record)), Block::PageBreak];
    blocks.extend(chart::blocks(record));
    blocks.push(Block::PageBreak);
    blocks.extend(results::blocks(record));
    blocks.extend(against::blocks(record));
    blocks.extend(behind::blocks(record));
    Sheet {
        title: format!("Heat record, {}", named("weld", &who.weld)),
        subject: String::new(),
        author: who.prepared_by.clone(),
        language: "en-US".into(),
        paper: match record.basis.units {
            Units::Si => Paper::A4,
            Units::Us => Paper::Letter,
        },
        margins: report::Margins::Usual,
        running: Running {
            head_left: named("Weld", &who.weld),
            head_right: format!("Record, revision {}", record.revision.number),
            foot_left: made.into(),
            mark: record
                .basis
                .demo
                .as_ref()
                .map(|_| "demo, not for use".into()),
        },
        blocks,
    }
}
