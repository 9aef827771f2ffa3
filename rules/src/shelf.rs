//! The shelf of rule tables: those that ship with the program, with what the user confirmed or entered.

use std::borrow::Cow;
use std::sync::LazyLock;

use quantity::Units;

use crate::confirm::{self, Confirmation};
use crate::fault::{RuleError, RuleFault};
use crate::row::{Table, TableKind};
use crate::weld::CodeEdition;

/// Every data file; a test holds this list against the folder.
pub(crate) const FILES: [(&str, &str); 22] = [
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
        "asme-viii-2-2010.toml",
        include_str!("../data/asme-viii-2-2010.toml"),
    ),
    ("asme-i-2007.toml", include_str!("../data/asme-i-2007.toml")),
    (
        "local-heating.toml",
        include_str!("../data/local-heating.toml"),
    ),
    ("en-13480-4.toml", include_str!("../data/en-13480-4.toml")),
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
    ("exposure.toml", include_str!("../data/exposure.toml")),
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

static IN_US_UNITS: LazyLock<Result<Vec<Table>, RuleError>> =
    LazyLock::new(|| Ok(in_units(tables()?, Units::Us)));

fn in_units(tables: &[Table], units: Units) -> Vec<Table> {
    let read = |table: &Table| Table {
        rows: table.rows.iter().map(|row| row.in_units(units)).collect(),
        ..table.clone()
    };
    tables.iter().map(read).collect()
}

/// The tables by which one weld is read.
#[derive(Clone, Debug)]
pub struct Shelf {
    tables: Cow<'static, [Table]>,
}

/// Name of the table that holds the habits of the trade.
const PRACTICE: &str = "Common practice";

impl Shelf {
    /// What ships, in the column of the units, with the rows that the user confirmed or entered.
    ///
    /// # Errors
    /// [`RuleFault::Table`] if a data file cannot be read, and every confirmation that cannot be.
    pub fn with(confirmed: &[Confirmation], units: Units) -> Result<Shelf, RuleError> {
        if confirmed.is_empty() {
            let shipped = match units {
                Units::Si => tables()?,
                Units::Us => IN_US_UNITS.as_deref().map_err(Clone::clone)?,
            };
            return Ok(Shelf {
                tables: Cow::Borrowed(shipped),
            });
        }
        let mut tables = tables()?.to_vec();
        confirm::apply(&mut tables, confirmed, units)?;
        Ok(Shelf {
            tables: Cow::Owned(in_units(&tables, units)),
        })
    }

    /// Every table, codes first.
    pub fn tables(&self) -> &[Table] {
        &self.tables
    }

    /// The table of a code in an edition.
    ///
    /// # Errors
    /// [`RuleFault::UnknownCode`] or [`RuleFault::UnknownEdition`], with what is known.
    pub fn table_of(&self, asked: &CodeEdition) -> Result<&Table, RuleError> {
        let same_code = |table: &&Table| table.code.eq_ignore_ascii_case(asked.code.trim());
        let in_edition = |table: &&Table| {
            let mut editions = table.editions.iter();
            editions.any(|edition| edition == asked.edition.trim())
        };
        let mut found = self.of_kind(TableKind::Code).filter(same_code);
        match found.find(in_edition) {
            Some(table) => Ok(table),
            None => Err(self.not_kept(asked).into()),
        }
    }

    fn not_kept(&self, asked: &CodeEdition) -> RuleFault {
        let of_code = self
            .of_kind(TableKind::Code)
            .filter(|table| table.code.eq_ignore_ascii_case(asked.code.trim()));
        let editions: Vec<&str> = of_code
            .flat_map(|table| table.editions.iter().map(String::as_str))
            .collect();
        if !editions.is_empty() {
            return RuleFault::UnknownEdition {
                code: asked.code.clone(),
                asked: asked.edition.clone(),
                known: editions.join(", "),
            };
        }
        let mut known: Vec<&str> = self
            .of_kind(TableKind::Code)
            .map(|table| table.code.as_str())
            .collect();
        known.dedup();
        RuleFault::UnknownCode {
            asked: asked.code.clone(),
            known: known.join(", "),
        }
    }

    /// The table of common practices.
    pub(crate) fn practice(&self) -> Result<&Table, RuleError> {
        let missing = || RuleFault::Table {
            file: "practice.toml".into(),
            problem: "no table of common practices".into(),
        };
        let mut practices = self.of_kind(TableKind::Practice);
        practices
            .find(|table| table.code == PRACTICE)
            .ok_or_else(|| missing().into())
    }

    /// The tables of one kind.
    pub(crate) fn of_kind(&self, kind: TableKind) -> impl Iterator<Item = &Table> {
        self.tables.iter().filter(move |table| table.kind == kind)
    }
}
