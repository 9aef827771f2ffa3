//! Whether a record is what it says: everything is made again from what is attached, and compared.

use report::ReportError;
use serde_json::Value;

mod carried;
mod compared;

pub use carried::{Carried, carried, carried_by_data};
pub use compared::Compared;

use carried::{raw_files, text};
use compared::{DIFFERENT, bytes, explain, findings, hash_of, hash_of_confirmed};

use super::{BasisError, Looked, RawFile, RecordError, Revision, basis_with, record_again};
use crate::calendar;
use crate::confirmed::{self, ConfirmedFile, NotConfirmed};
use readings::{Mapping, MappingError};

/// Name of the attached job file.
pub(super) const JOB: &str = "job.toml";
/// Name of the attached mapping.
pub(super) const MAPPING: &str = "mapping.toml";
/// Name of the attached confirmed rows, where there are any.
pub(super) const CONFIRMED: &str = confirmed::FILE_NAME;
/// Name of the attached plan, where there is one.
pub(super) const PLAN: &str = "plan.json";
/// Name of the attached data.
pub(super) const RECORD: &str = "record.json";

/// What is compared key by key.
const FINDINGS: &str = "findings made again from the attached logs";

/// Name of an attached file of a logger; the number keeps apart what is named alike.
pub(super) fn log_name(index: usize, name: &str) -> String {
    let name = name.rsplit(['/', '\\']).next().unwrap_or(name);
    format!("log-{}-{name}", index + 1)
}

/// Why a record cannot be made again.
#[derive(Debug, thiserror::Error)]
pub enum VerifyError {
    /// The document cannot be opened.
    #[error("the file can't be opened as a record: {0}")]
    Document(#[from] ReportError),
    /// An attachment is missing.
    #[error("no {name} is attached; a record carries it")]
    Missing {
        /// Its name.
        name: &'static str,
    },
    /// An attachment is no text.
    #[error("the attached {name} can't be read: {problem}")]
    Unreadable {
        /// Its name.
        name: &'static str,
        /// What is wrong.
        problem: String,
    },
    /// The attached confirmed rows are refused.
    #[error("attached: {0}")]
    Confirmed(#[from] NotConfirmed),
    /// The attached job file is refused.
    #[error(transparent)]
    Basis(#[from] BasisError),
    /// The attached mapping is refused.
    #[error(transparent)]
    Mapping(#[from] MappingError),
    /// The record cannot be made from what is attached.
    #[error(transparent)]
    Record(#[from] RecordError),
}

/// What came of making a record again.
#[derive(Clone, Debug)]
pub struct Verified {
    /// The name of the job file.
    pub job_file: String,
    /// The version of the program that made it.
    pub made_by: String,
    /// When it was made.
    pub made: String,
    /// The weld, as the record names it; empty where it does not.
    pub weld: String,
    /// Which revision it is.
    pub revision: u32,
    /// What the record made again says; `None` where nothing could be made of what it carries.
    pub statement: Option<String>,
    /// One line for each thing compared.
    pub compared: Vec<Compared>,
    /// Deviations of the record made again that wait for an answer.
    pub waiting: Vec<String>,
    /// Whether the record made again says that every limit was met.
    pub all_met: bool,
}

impl Verified {
    /// Whether everything that could be compared agrees.
    pub fn agrees(&self) -> bool {
        self.compared.iter().all(|one| one.agrees != Some(false))
    }

    /// Whether hashes and findings agree and only bytes of the document differ, as where another build made it.
    pub fn only_bytes_differ(&self) -> bool {
        let mut differing = self.compared.iter().filter(|one| one.agrees == Some(false));
        let first = differing.next();
        first.is_some_and(|one| one.says.starts_with(DIFFERENT)) && differing.next().is_none()
    }

    /// Which weld it is of, and whether the limits were met, as the record made again says.
    pub fn stands(&self) -> String {
        let of = match self.weld.as_str() {
            "" => format!("A weld that it does not name ({})", self.job_file),
            weld => format!("Weld {weld}"),
        };
        let made = calendar::in_words(&self.made);
        let says = match &self.statement {
            Some(statement) => format!("Made again, it says: {statement}"),
            None => "Nothing could be made again of what it carries".to_owned(),
        };
        format!("{of}, revision {}, made {made}. {says}.", self.revision)
    }

    /// What was compared in words, for a record of this name: which weld it is of first, then one line each.
    pub fn lines(&self, name: &str) -> Vec<String> {
        let mut lines = vec![
            self.stands(),
            format!(
                "{name}, made by soakwright {} from {}",
                self.made_by, self.job_file
            ),
        ];
        lines.extend(self.compared.iter().map(|one| {
            let word = match one.agrees {
                Some(true) => "agrees",
                Some(false) => "DIFFERS",
                None => "open",
            };
            format!("{word:8}  {}: {}", one.what, one.says)
        }));
        lines
    }
}

/// Makes a record again from what is attached to it and compares hashes, findings and, where the same version of the
/// program made it, every byte.
///
/// # Errors
/// [`VerifyError`] where the document can't be opened, an attachment is missing, or nothing can be made of them.
pub fn verify(pdf: &[u8], version: &str) -> Result<Verified, VerifyError> {
    let attached = report::attached(pdf)?;
    let of = |name: &'static str| {
        let found = attached.iter().find(|(n, _)| n == name);
        found
            .map(|(_, bytes)| bytes.as_slice())
            .ok_or(VerifyError::Missing { name })
    };
    let (job, kept_json) = (text(JOB, of(JOB)?)?, of(RECORD)?);
    let kept: Value =
        serde_json::from_slice(kept_json).map_err(|error| VerifyError::Unreadable {
            name: RECORD,
            problem: error.to_string(),
        })?;
    let told = |key: &str| kept[key].as_str().unwrap_or_default().to_owned();
    let mapping = Mapping::from_toml(text(MAPPING, of(MAPPING)?)?)?;
    let raw = raw_files(&attached, &kept);
    let revision = Revision {
        number: kept["revision"]
            .as_u64()
            .and_then(|n| u32::try_from(n).ok())
            .unwrap_or(1),
        previous_sha256: kept["previous_sha256"].as_str().map(str::to_owned),
    };
    let number = revision.number;
    let mut compared = vec![hash_of(
        "job file",
        job.as_bytes(),
        kept["job_sha256"].as_str(),
    )];
    let confirmed = attached.iter().find(|(name, _)| name == CONFIRMED);
    let confirmed = confirmed.map(|(_, bytes)| bytes.clone());
    compared.extend(hash_of_confirmed(confirmed.as_deref(), &kept["confirmed"]));
    for (index, file) in raw.iter().enumerate() {
        let said = kept["files"].as_array().and_then(|files| {
            let of_name = files
                .iter()
                .find(|f| f["name"].as_str() == Some(file.name.as_str()));
            of_name.or_else(|| files.get(index))?["sha256"].as_str()
        });
        compared.push(hash_of(&file.name, &file.bytes, said));
    }
    let confirmed = confirmed.map(|bytes| ConfirmedFile::of(bytes, CONFIRMED));
    let basis = basis_with(job, &told("job_file"), confirmed.transpose()?)?;
    let again = record_again(&basis, raw, &mapping, revision);
    let mut again = match again {
        Err(problem) if compared.iter().any(|one| one.agrees == Some(false)) => {
            compared.push(Compared {
                what: FINDINGS.into(),
                agrees: Some(false),
                says: format!("nothing can be made of them: {problem}"),
            });
            return Ok(Verified {
                waiting: Vec::new(),
                all_met: false,
                weld: told("weld"),
                revision: number,
                statement: None,
                job_file: told("job_file"),
                made_by: told("soakwright"),
                made: told("made"),
                compared,
            });
        }
        again => again?,
    };
    again.looked_at = Looked::kept(&kept["looked_at"]);
    if let Some((_, bytes)) = attached.iter().find(|(name, _)| name == PLAN) {
        let against = &kept["against_plan"];
        let said = against["plan_sha256"].as_str();
        compared.push(hash_of("plan", bytes, said));
        again = again.with_plan(RawFile {
            name: against["plan_file"].as_str().unwrap_or(PLAN).to_owned(),
            bytes: bytes.clone(),
        })?;
    }
    let made_at = calendar::read(&told("made")).ok_or(VerifyError::Unreadable {
        name: RECORD,
        problem: format!("made = \"{}\" is no time", told("made")),
    })?;
    let made_by = told("soakwright");
    let json = again.json(&made_by, made_at).map_err(RecordError::from)?;
    compared.push(findings(&kept, &json, &made_by, version));
    let agree = compared.iter().all(|one| one.agrees == Some(true));
    compared.push(bytes(&again, pdf, &made_by, version, made_at)?);
    if let (true, Some(of_bytes)) = (agree, compared.last_mut()) {
        explain(of_bytes, &made_by);
    }
    let waiting = again.deviations.iter().filter(|d| d.open);
    Ok(Verified {
        waiting: waiting.map(|d| d.says.clone()).collect(),
        all_met: again.findings.all_met(),
        weld: again.basis.identification.weld.clone(),
        revision: number,
        statement: Some(again.statement()),
        job_file: told("job_file"),
        made_by,
        made: told("made"),
        compared,
    })
}
