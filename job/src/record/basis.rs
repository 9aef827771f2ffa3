//! What a log is judged by: limits, what each channel is, definitions, and the paper around them.

use checks::{ChannelUse, Definitions};
use quantity::Units;
use rules::Confirmation;
use rules::requirement::Limit;

use crate::confirmed::ConfirmedFile;
use crate::file::{Refusal, card};
use crate::model::{Identification, Paper};
use crate::plan::{PlanError, prepared};

/// What a log is judged by.
#[derive(Clone, Debug)]
pub struct Basis {
    /// The name of the job file, as it was given.
    pub file_name: String,
    /// The file itself.
    pub text: String,
    /// The invented scenario of a demo; `None` for a real heat.
    pub demo: Option<String>,
    /// The units of the sheet.
    pub units: Units,
    /// Who and what.
    pub identification: Identification,
    /// The code of the contract or the card, in words.
    pub what: String,
    /// The rows of the rules that somebody read in the document, which stand beside a job file.
    pub confirmed: Option<ConfirmedFile>,
    /// Every limit of every level.
    pub limits: Vec<Limit>,
    /// What the rules have to say besides.
    pub remarks: Vec<String>,
    /// What each thermocouple is, and where it sits round the pipe in hours of a clock where that is known.
    pub channels: Vec<(ChannelUse, Option<f64>)>,
    /// The definitions by which the log is read.
    pub definitions: Definitions,
    /// How the files are read, people, equipment and what was decided.
    pub paper: Paper,
}

/// Place and text of a question that a remark of the rules asks; `None` where it tells something.
pub(super) fn asked_under(remark: &str) -> Option<(&str, &str)> {
    let asked = remark.strip_prefix("to be answered (");
    asked.and_then(|rest| rest.split_once("): "))
}

/// Why nothing can be judged.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum BasisError {
    /// The file is refused.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// Neither a job nor a card.
    #[error(
        "{file} is neither a job file (it has no [[side]]) nor a cycle card (it has no table [card]); docs/job-file.md and \
         docs/cycle-card.md describe both"
    )]
    Neither {
        /// The file.
        file: String,
    },
    /// The rules refuse the weld.
    #[error(transparent)]
    Rules(#[from] PlanError),
}

impl Basis {
    /// Places in the job file of the questions of the rules that nobody answered; each stands on the record as a remark.
    pub fn unanswered(&self) -> Vec<&str> {
        let asked = self.remarks.iter().filter_map(|remark| asked_under(remark));
        asked.map(|(place, _)| place).collect()
    }

    /// The rows that were confirmed beside the job file.
    pub(crate) fn confirmed_rows(&self) -> &[Confirmation] {
        self.confirmed.as_ref().map_or(&[], |file| &file.rows)
    }
}

/// [`basis_with`], where nothing is confirmed.
///
/// # Errors
/// As there.
pub fn basis(text: &str, file_name: &str) -> Result<Basis, BasisError> {
    basis_with(text, file_name, None)
}

/// Reads a job file with the rows that were confirmed beside it, or a cycle card, which rests on no row. `file_name` is only
/// for the messages.
///
/// # Errors
/// [`BasisError`] with everything that is wrong.
pub fn basis_with(
    text: &str,
    file_name: &str,
    confirmed: Option<ConfirmedFile>,
) -> Result<Basis, BasisError> {
    if card::is_card(text) {
        return Ok(card::read_card(text, file_name)?);
    }
    if !text.contains("[[side]]") {
        let file = file_name.to_owned();
        return Err(BasisError::Neither { file });
    }
    let rows = confirmed.as_ref().map_or(&[][..], |file| &file.rows);
    let job = crate::file::read_with(text, file_name, rows)?;
    let prepared = prepared(&job)?;
    let thermocouples = prepared.setup.thermocouples.iter();
    Ok(Basis {
        file_name: job.file_name.clone(),
        text: job.text.clone(),
        demo: job.demo.clone(),
        units: job.units,
        identification: job.identification.clone(),
        what: format!("{} {}", job.weld.code.code, job.weld.code.edition),
        confirmed,
        limits: prepared.requirement.limits.clone(),
        remarks: prepared
            .requirement
            .remarks
            .iter()
            .map(|r| r.text.clone())
            .collect(),
        channels: thermocouples
            .map(|t| (ChannelUse::from(t), Some(t.clock)))
            .collect(),
        definitions: job.reading.clone(),
        paper: job.paper.clone(),
    })
}
