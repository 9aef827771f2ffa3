//! The shelf of rule tables that ship with the program.

use std::sync::LazyLock;

use crate::fault::{RuleError, RuleFault};
use crate::row::{Table, TableKind};
use crate::weld::CodeEdition;

/// Every data file; a test holds this list against the folder.
pub(crate) const FILES: [(&str, &str); 17] = [
    (
        "asme-b31-3-to-2012.toml",
        include_str!("../data/asme-b31-3-to-2012.toml"),
    ),
    (
        "asme-b31-3-from-2014.toml",
        include_str!("../data/asme-b31-3-from-2014.toml"),
    ),
    (
        "asme-viii-1-from-2010.toml",
        include_str!("../data/asme-viii-1-from-2010.toml"),
    ),
    (
        "asme-b31-1-to-2012.toml",
        include_str!("../data/asme-b31-1-to-2012.toml"),
    ),
    (
        "asme-b31-1-from-2014.toml",
        include_str!("../data/asme-b31-1-from-2014.toml"),
    ),
    ("en-13445-4.toml", include_str!("../data/en-13445-4.toml")),
    ("pd-5500.toml", include_str!("../data/pd-5500.toml")),
    ("aws-d1-1.toml", include_str!("../data/aws-d1-1.toml")),
    ("aws-d10-10.toml", include_str!("../data/aws-d10-10.toml")),
    ("other-bands.toml", include_str!("../data/other-bands.toml")),
    ("ceilings.toml", include_str!("../data/ceilings.toml")),
    ("practice.toml", include_str!("../data/practice.toml")),
    (
        "thermocouples.toml",
        include_str!("../data/thermocouples.toml"),
    ),
    (
        "preheat-carbon-equivalents.toml",
        include_str!("../data/preheat-carbon-equivalents.toml"),
    ),
    ("bake-out.toml", include_str!("../data/bake-out.toml")),
    (
        "time-temperature.toml",
        include_str!("../data/time-temperature.toml"),
    ),
    (
        "preheat-en-1011-2.toml",
        include_str!("../data/preheat-en-1011-2.toml"),
    ),
];

static TABLES: LazyLock<Result<Vec<Table>, RuleError>> =
    LazyLock::new(|| FILES.iter().map(read).collect());

fn read((name, text): &(&str, &str)) -> Result<Table, RuleError> {
    toml::from_str(text).map_err(|problem| {
        RuleError::from(RuleFault::Table {
            file: (*name).to_string(),
            problem: problem.to_string(),
        })
    })
}

/// Every table that ships, codes first.
///
/// # Errors
/// [`RuleFault::Table`] if a data file cannot be read.
pub fn tables() -> Result<&'static [Table], RuleError> {
    TABLES.as_deref().map_err(Clone::clone)
}

/// The table of a code in an edition.
///
/// # Errors
/// [`RuleFault::UnknownCode`] or [`RuleFault::UnknownEdition`], with what is known.
pub fn table_of(asked: &CodeEdition) -> Result<&'static Table, RuleError> {
    let codes = || tables().map(|all| all.iter().filter(|table| table.kind == TableKind::Code));
    let same_code = |table: &&Table| table.code.eq_ignore_ascii_case(asked.code.trim());
    let found = codes()?.filter(same_code).find(|table| {
        table
            .editions
            .iter()
            .any(|edition| edition == asked.edition.trim())
    });
    if let Some(table) = found {
        return Ok(table);
    }
    let editions: Vec<&str> = codes()?
        .filter(same_code)
        .flat_map(|table| table.editions.iter().map(String::as_str))
        .collect();
    if editions.is_empty() {
        let mut known: Vec<&str> = codes()?.map(|table| table.code.as_str()).collect();
        known.dedup();
        return Err(RuleFault::UnknownCode {
            asked: asked.code.clone(),
            known: known.join(", "),
        }
        .into());
    }
    Err(RuleFault::UnknownEdition {
        code: asked.code.clone(),
        asked: asked.edition.clone(),
        known: editions.join(", "),
    }
    .into())
}

/// The table of common practices.
pub(crate) fn practice() -> Result<&'static Table, RuleError> {
    let missing = || RuleFault::Table {
        file: "practice.toml".into(),
        problem: "no table of common practices".into(),
    };
    let mut found = tables()?
        .iter()
        .filter(|table| table.kind == TableKind::Practice && table.code == PRACTICE);
    found.next().ok_or_else(|| missing().into())
}

/// Name of the table that holds the habits of the trade.
const PRACTICE: &str = "Common practice";

/// The tables of practices, and of the metal itself.
pub(crate) fn tables_of_kind(
    kind: TableKind,
) -> Result<impl Iterator<Item = &'static Table>, RuleError> {
    Ok(tables()?.iter().filter(move |table| table.kind == kind))
}
