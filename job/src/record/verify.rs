//! Whether a record is what it says: everything is made again from what is attached, and compared.

use report::{Moment, ReportError};
use serde_json::Value;

use super::{BasisError, Looked, RawFile, RecordError, Revision, basis_with, record};
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

/// One thing that was made again and compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compared {
    /// What.
    pub what: String,
    /// Whether it agrees; `None` where it can't be compared.
    pub agrees: Option<bool>,
    /// Why, or where it differs.
    pub says: String,
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

    /// What was compared in words, for a record of this name: one line each, what it is first.
    pub fn lines(&self, name: &str) -> Vec<String> {
        let mut lines = vec![format!(
            "{name}, made {} by soakwright {} from {}",
            self.made, self.made_by, self.job_file
        )];
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
    let again = record(&basis, raw, &mapping, revision);
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
    compared.push(findings(&kept, &json));
    let agree = compared.iter().all(|one| one.agrees == Some(true));
    compared.push(bytes(&again, pdf, &made_by, version, made_at)?);
    if let (true, Some(of_bytes)) = (agree, compared.last_mut()) {
        explain(of_bytes, &made_by);
    }
    let waiting = again.deviations.iter().filter(|d| d.open);
    Ok(Verified {
        waiting: waiting.map(|d| d.says.clone()).collect(),
        all_met: again.findings.all_met(),
        job_file: told("job_file"),
        made_by,
        made: told("made"),
        compared,
    })
}

/// What a record carries of the folder that it was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    /// The job file.
    pub job: String,
    /// The confirmed rows, where there are any.
    pub confirmed: Option<Vec<u8>>,
    /// What was said of the logger's files.
    pub mapping: String,
    /// Names of the logger's files and their SHA-256.
    pub logs: Vec<(String, String)>,
}

/// What a record carries of the folder that it was made from.
///
/// # Errors
/// [`VerifyError`] where the document can't be opened or an attachment is missing or no text.
pub fn carried(pdf: &[u8]) -> Result<Carried, VerifyError> {
    let attached = report::attached(pdf)?;
    let of = |name: &'static str| {
        let found = attached.iter().find(|(n, _)| n == name);
        let bytes = found.map(|(_, bytes)| bytes.as_slice());
        text(name, bytes.ok_or(VerifyError::Missing { name })?)
    };
    let kept: Value = serde_json::from_str(of(RECORD)?).unwrap_or_default();
    let raw = raw_files(&attached, &kept);
    let confirmed = attached.iter().find(|(name, _)| name == CONFIRMED);
    Ok(Carried {
        job: of(JOB)?.to_owned(),
        confirmed: confirmed.map(|(_, bytes)| bytes.clone()),
        mapping: of(MAPPING)?.to_owned(),
        logs: raw
            .into_iter()
            .map(|file| (file.name, readings::sha256(&file.bytes)))
            .collect(),
    })
}

fn text<'b>(name: &'static str, bytes: &'b [u8]) -> Result<&'b str, VerifyError> {
    std::str::from_utf8(bytes).map_err(|error| VerifyError::Unreadable {
        name,
        problem: error.to_string(),
    })
}

/// The attached files of the logger under the names that they had.
fn raw_files(attached: &[(String, Vec<u8>)], kept: &Value) -> Vec<RawFile> {
    let mut raw: Vec<(usize, RawFile)> = Vec::new();
    for (name, bytes) in attached {
        let Some((number, short)) = name
            .strip_prefix("log-")
            .and_then(|rest| rest.split_once('-'))
        else {
            continue;
        };
        let names = kept["files"]
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(|f| f["name"].as_str());
        let full = names
            .into_iter()
            .find(|full| full.rsplit(['/', '\\']).next() == Some(short));
        raw.push((
            number.parse().unwrap_or(usize::MAX),
            RawFile {
                name: full.unwrap_or(short).to_owned(),
                bytes: bytes.clone(),
            },
        ));
    }
    raw.sort_by_key(|(number, _)| *number);
    raw.into_iter().map(|(_, file)| file).collect()
}

fn hash_of(what: &str, bytes: &[u8], said: Option<&str>) -> Compared {
    let found = readings::sha256(bytes);
    let agrees = said == Some(found.as_str());
    Compared {
        what: format!("SHA-256 of {what}"),
        agrees: Some(agrees),
        says: match agrees {
            true => found,
            false => format!(
                "the record says {}, the attached file has {found}",
                said.unwrap_or("nothing")
            ),
        },
    }
}

/// Nothing where the record neither carries confirmed rows nor tells of any.
fn hash_of_confirmed(attached: Option<&[u8]>, told: &Value) -> Option<Compared> {
    let said = told["sha256"].as_str();
    match (attached, said) {
        (None, None) => None,
        (Some(bytes), said) => Some(hash_of(CONFIRMED, bytes, said)),
        (None, Some(said)) => Some(Compared {
            what: format!("SHA-256 of {CONFIRMED}"),
            agrees: Some(false),
            says: format!("the record says {said}, and no such file is attached"),
        }),
    }
}

/// The data made again, key by key.
fn findings(kept: &Value, again: &[u8]) -> Compared {
    let again: Value = serde_json::from_slice(again).unwrap_or(Value::Null);
    let keys = kept
        .as_object()
        .into_iter()
        .chain(again.as_object())
        .flat_map(|o| o.keys());
    let mut differing: Vec<&str> = keys
        .filter(|key| kept[key.as_str()] != again[key.as_str()])
        .map(String::as_str)
        .collect();
    differing.sort_unstable();
    differing.dedup();
    Compared {
        what: FINDINGS.into(),
        agrees: Some(differing.is_empty()),
        says: match differing.is_empty() {
            true => "the same".into(),
            false => format!("different in {}", differing.join(", ")),
        },
    }
}

/// Bytes that differ where everything else agrees: a page was changed, or another build of the version set it otherwise.
fn explain(of_bytes: &mut Compared, version: &str) {
    if of_bytes.agrees == Some(false) && of_bytes.says.starts_with(DIFFERENT) {
        of_bytes.says.push_str(&format!(
            ". Hashes and findings agree, so the difference lies in what the pages show or in how the document is put together. \
             Either it was changed after it was made, or another build of version {version} made it, which words or sets its \
             pages otherwise: verify it with the build that made it. Until that agrees, it counts as changed"
        ));
    }
}

/// How the words begin where bytes differ.
const DIFFERENT: &str = "different from byte";

/// Every byte, where the same version made it.
fn bytes(
    again: &super::Record,
    pdf: &[u8],
    made_by: &str,
    version: &str,
    made_at: Moment,
) -> Result<Compared, RecordError> {
    let what = "every byte of the document".to_owned();
    if made_by != version {
        return Ok(Compared {
            what,
            agrees: None,
            says: format!("not compared: version {made_by} made it, this is {version}"),
        });
    }
    let made = again.pdf(version, made_at)?;
    let (whole, length) = (made.len(), pdf.len());
    let first = made.iter().zip(pdf).position(|(a, b)| a != b);
    let says = match first {
        Some(at) => format!("{DIFFERENT} {at} on, of {length}"),
        None if length < whole => format!("cut off at byte {length}, of {whole}"),
        None if length > whole => format!(
            "the first {whole} bytes are the record, unchanged; {} bytes were added behind them, as a signature adds its own. What \
             is added can change what a page shows: the record is the first {whole} bytes alone",
            length - whole
        ),
        None => format!("{length} bytes, the same"),
    };
    Ok(Compared {
        what,
        agrees: Some(first.is_none() && whole == length),
        says,
    })
}
