//! What can be wrong with a question to the rules; all faults are named at once.

use std::fmt;

use crate::requirement::Level;

/// Every fault that was found, never only the first.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleError {
    /// The faults, at least one.
    pub faults: Vec<RuleFault>,
}

impl fmt::Display for RuleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lines: Vec<String> = self.faults.iter().map(RuleFault::to_string).collect();
        f.write_str(&lines.join("\n"))
    }
}

impl std::error::Error for RuleError {}

impl From<RuleFault> for RuleError {
    fn from(fault: RuleFault) -> RuleError {
        RuleError {
            faults: vec![fault],
        }
    }
}

/// One fault.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum RuleFault {
    /// A data file of the rules cannot be read.
    #[error("rule table {file}: {problem}; hint: every row needs clause, status, unit and value")]
    Table {
        /// Name of the file.
        file: String,
        /// What the reader of the file says.
        problem: String,
    },
    /// No table of this code is kept.
    #[error(
        "code: no table of '{asked}' is kept; known are {known}; hint: write the code as listed"
    )]
    UnknownCode {
        /// The code that was asked for.
        asked: String,
        /// The codes that are known.
        known: String,
    },
    /// The code is kept, the edition is not.
    #[error(
        "edition: {code} is not known in edition '{asked}'; known are {known}; hint: name the edition of the contract, never the nearest one"
    )]
    UnknownEdition {
        /// The code.
        code: String,
        /// The edition that was asked for.
        asked: String,
        /// The editions that are known.
        known: String,
    },
    /// The table has no row for this metal.
    #[error(
        "side {side}: {document} has no {purpose} row for {asked}; it has rows for {known}; hint: {hint}"
    )]
    UnknownPNumber {
        /// Which side, 1 or 2.
        side: usize,
        /// The document and its edition.
        document: String,
        /// The purpose in words.
        purpose: String,
        /// P-number and group that were asked for.
        asked: String,
        /// The P-numbers that are known.
        known: String,
        /// What to do.
        hint: String,
    },
    /// A row exists for the metal but not at this thickness.
    #[error(
        "side {side}: {document} gives {quantity} for {p_number} {known}, asked at {asked}; hint: check the wall"
    )]
    ThicknessOutOfRange {
        /// Which side, 1 or 2.
        side: usize,
        /// The document and its edition.
        document: String,
        /// What was looked for.
        quantity: String,
        /// The P-number.
        p_number: String,
        /// The ranges in which it is known.
        known: String,
        /// The thickness that was asked for, with its unit.
        asked: String,
    },
    /// The only row is one that is switched off.
    #[error(
        "side {side}: {document} {clause}: {quantity} {value} is kept as unsure and switched off; hint: read the clause and give the value as the procedure's own"
    )]
    OnlyUnsure {
        /// Which side, 1 or 2.
        side: usize,
        /// The document and its edition.
        document: String,
        /// The clause.
        clause: String,
        /// What it would give.
        quantity: String,
        /// The value that is not used.
        value: String,
    },
    /// A measure of the weld cannot be.
    #[error("weld: {what} is {value} {unit}, {must}; hint: check the drawing")]
    BadMeasure {
        /// Which measure.
        what: String,
        /// Its value.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// What it must be.
        must: String,
    },
    /// A procedure or an owner's specification asks less than what stands above it.
    #[error(
        "{weaker_document}: {quantity} {own} {unit} is weaker than {document} {clause}, which says {limit} {unit}; hint: {hint}"
    )]
    ProcedureBelowCode {
        /// Who sets the weaker limit.
        level: Level,
        /// Name of the document that sets the weaker limit.
        weaker_document: String,
        /// What it limits.
        quantity: &'static str,
        /// The weaker limit.
        own: f64,
        /// The limit above it.
        limit: f64,
        /// Unit of both.
        unit: &'static str,
        /// The document above.
        document: String,
        /// Its clause.
        clause: String,
        /// What to do.
        hint: String,
    },
    /// Nothing lies between the lowest and the highest permitted temperature.
    #[error(
        "hold: at least {min} {unit} ({min_from}) and at most {max} {unit} ({max_from}) leave no range; hint: {hint}"
    )]
    EmptyRange {
        /// The lowest permitted temperature.
        min: f64,
        /// Who sets it.
        min_from: String,
        /// The highest permitted temperature.
        max: f64,
        /// Who sets it.
        max_from: String,
        /// Unit of both.
        unit: &'static str,
        /// Whether the code asks more than the metal bears, and no document of the job has a part in it.
        of_the_metal: bool,
        /// What to do.
        hint: String,
    },
    /// A limit of a procedure or an owner is no sensible number.
    #[error(
        "{document}: {quantity} is {value} {unit}, it must be positive; hint: check the sign and the unit"
    )]
    BadLimit {
        /// The document that sets it.
        document: String,
        /// What it limits.
        quantity: &'static str,
        /// Its value.
        value: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// A confirmation names a row that is not kept.
    #[error(
        "confirmation of {row}: no such row is kept; hint: 'soakwright rules' lists the rows with their ids"
    )]
    UnknownRow {
        /// The id that was asked for.
        row: String,
    },
    /// A confirmation that its row does not take.
    #[error(
        "confirmation of {row}: {problem}; allowed: {allowed}; hint: 'soakwright rules {row}' explains the row"
    )]
    NotConfirmable {
        /// The row's id.
        row: String,
        /// What is wrong.
        problem: String,
        /// What is allowed.
        allowed: String,
    },
    /// No rule gives a band.
    #[error("bands: no rule gives a {band} band for {purpose}; hint: the rule tables lack a row")]
    NoBand {
        /// Soak, heated or gradient control.
        band: &'static str,
        /// The purpose in words.
        purpose: String,
    },
}
