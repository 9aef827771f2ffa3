//! The job folder: one weld with its job file, plan, logs and record. It can be copied to a stick and opened elsewhere;
//! whatever else keeps an index of folders can be made again from them.
//!
//! ```text
//! job.toml      the job file
//! plan/         plan.pdf, plan.html, plan.json
//! logs/         logger files as they came
//! record/       the record
//! ```

mod accept_error;
mod acceptance;
mod changed;
mod due;
mod error;
mod last_record;
mod logs;
mod name;
mod number;
mod part;
mod project;
mod row;
mod state;
mod whole;

use std::fmt;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

use quantity::Units;
use report::Moment;
use rules::Confirmation;

use crate::confirmed::{self, NotConfirmed};
use crate::file::card::{is_card, read_card};
use crate::file::{Account, planned_sha256};
use crate::plan_before::{self, AgainstBefore, with_the_one_before};
use crate::planned::Planned;
use crate::record::{Basis, BasisError, KeepError, Record, basis_with, keep};

pub use accept_error::AcceptError;
pub use acceptance::{Acceptance, Accepted, RecordFolder, Signatory};
pub use due::{Due, due};
pub use error::FolderError;
pub use last_record::LastRecord;
pub use logs::{Brought, LogError};
pub use name::{checked_name, name_for};
pub use number::NotNumbered;
pub use part::{Part, clear_left};
pub use project::{Project, REMOVED};
pub use row::Row;
pub use state::{Contents, PlanAge, SinceWelding, State};
pub use whole::{NewFile, write_whole};

/// Name of the job file.
pub const JOB_FILE: &str = "job.toml";

const PLAN: &str = "plan";
const PLAN_JSON: &str = "plan.json";
const LOGS: &str = "logs";
const RECORD: &str = "record";
const RECORD_JSON: &str = "record.json";
/// Name of what a person said of the logger's files, where the job file has no key for it.
pub const MAPPING_FILE: &str = "mapping.toml";

const LOCK: &str = ".lock";

/// Why the logs of a folder cannot be judged.
#[derive(Debug, thiserror::Error)]
pub enum NotBased {
    /// The confirmed rows cannot be used.
    #[error(transparent)]
    Confirmed(#[from] NotConfirmed),
    /// The job file is refused.
    #[error(transparent)]
    Basis(#[from] BasisError),
}

/// SHA-256 of a file in hexadecimal digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fingerprint(pub String);

impl Fingerprint {
    /// Of some bytes.
    pub fn of(bytes: &[u8]) -> Fingerprint {
        Fingerprint(readings::sha256(bytes))
    }
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A job file as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobFile {
    /// The text.
    pub text: String,
    /// Its fingerprint.
    pub fingerprint: Fingerprint,
}

/// The folder of one weld.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobFolder {
    path: PathBuf,
}

impl JobFolder {
    /// At a path, whether or not it is there.
    pub fn at(path: impl Into<PathBuf>) -> JobFolder {
        JobFolder { path: path.into() }
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Its own name.
    pub fn name(&self) -> String {
        let name = self.path.file_name().unwrap_or_default();
        name.to_string_lossy().into_owned()
    }

    /// The job file.
    ///
    /// # Errors
    /// [`FolderError::System`], or [`FolderError::NoText`] with the line.
    pub fn job_file(&self) -> Result<JobFile, FolderError> {
        let path = self.path.join(JOB_FILE);
        let bytes = fs::read(&path).map_err(FolderError::system("reading", &path))?;
        let fingerprint = Fingerprint::of(&bytes);
        match String::from_utf8(bytes) {
            Ok(text) => Ok(JobFile { text, fingerprint }),
            Err(error) => {
                let good = &error.as_bytes()[..error.utf8_error().valid_up_to()];
                let line = 1 + good.iter().filter(|byte| **byte == b'\n').count();
                Err(FolderError::NoText { path, line })
            }
        }
    }

    /// Saves the job file, if it still is what the writer had read.
    ///
    /// # Errors
    /// [`FolderError::ChangedMeanwhile`] where somebody else was faster; [`FolderError::System`]. In both cases the
    /// file stands as before.
    pub fn save_job(&self, text: &str, read: &Fingerprint) -> Result<Fingerprint, FolderError> {
        let _lock = self.lock()?;
        let path = self.path.join(JOB_FILE);
        let bytes = fs::read(&path).map_err(FolderError::system("reading", &path))?;
        let now = Fingerprint::of(&bytes);
        if now != *read {
            return Err(FolderError::ChangedMeanwhile { path, now });
        }
        self.write(&self.path, JOB_FILE, text.as_bytes())?;
        Ok(Fingerprint::of(text.as_bytes()))
    }

    /// The rows of the rules that somebody confirmed beside the job file.
    ///
    /// # Errors
    /// The file is there and cannot be read, or holds something that cannot be.
    pub fn confirmed(&self) -> Result<Vec<Confirmation>, NotConfirmed> {
        confirmed::beside(&self.path.join(JOB_FILE))
    }

    /// What the logs are judged by: the job file with the rows confirmed beside it, or a cycle card, which rests on none.
    ///
    /// # Errors
    /// [`NotBased`] with everything that is wrong.
    pub fn basis(&self, text: &str) -> Result<Basis, NotBased> {
        let confirmed = match is_card(text) {
            true => None,
            false => confirmed::file_beside(&self.path.join(JOB_FILE))?,
        };
        Ok(basis_with(text, JOB_FILE, confirmed)?)
    }

    /// Saves the files of a plan.
    ///
    /// # Errors
    /// [`FolderError::System`]; the plan from before stands.
    pub fn save_plan(&self, files: &[NewFile]) -> Result<(), FolderError> {
        let _lock = self.lock()?;
        let path = self.path.join(PLAN);
        write_whole(&path, &with_the_one_before(&path, files.to_vec()))
    }

    /// The plan against the one before it, where both are there and can be compared.
    pub fn against_before(&self, units: Units) -> Option<AgainstBefore> {
        plan_before::in_folder(&self.path.join(PLAN), units)
    }

    /// A file of the plan, if it is there.
    pub fn plan_file(&self, name: &str) -> Option<Vec<u8>> {
        fs::read(self.path.join(PLAN).join(name)).ok()
    }

    /// What the plan says, if one that can be read is there.
    pub fn planned(&self, units: Units) -> Option<Planned> {
        Planned::read(&self.plan_file(PLAN_JSON)?, units)
    }

    /// Where logs lie.
    pub fn logs_path(&self) -> PathBuf {
        self.path.join(LOGS)
    }

    /// Where the record lies.
    pub fn record_path(&self) -> PathBuf {
        self.path.join(RECORD)
    }

    /// Keeps a record as the next revision; `version` is that of the program.
    ///
    /// # Errors
    /// [`KeepError`]; then no revision was added.
    pub fn save_record(
        &self,
        record: Record,
        version: &str,
        at: Moment,
    ) -> Result<Record, KeepError> {
        let _lock = self.lock()?;
        let (record, _) = keep(record, &self.record_path(), version, at)?;
        Ok(record)
    }

    /// What was said of the logger's files beside the job file, if anything was.
    pub fn mapping(&self) -> Option<String> {
        fs::read_to_string(self.path.join(MAPPING_FILE)).ok()
    }

    /// Keeps what was said of the logger's files.
    ///
    /// # Errors
    /// [`FolderError::System`]; what was said before stands.
    pub fn save_mapping(&self, text: &str) -> Result<(), FolderError> {
        let _lock = self.lock()?;
        self.write(&self.path, MAPPING_FILE, text.as_bytes())
    }

    /// Takes away what a killed program left half-written.
    pub fn clear_left(&self) {
        for inside in ["", PLAN, LOGS, RECORD] {
            clear_left(&self.path.join(inside));
        }
    }

    /// Names of the logs, in alphabetical order.
    pub fn logs(&self) -> Vec<String> {
        names(&self.logs_path(), |entry| entry.is_file())
    }

    /// What the folder holds. A file that cannot be read counts as not there, except the job file.
    pub fn contents(&self) -> Contents {
        let file = self.job_file().ok();
        let confirmed = self.confirmed().unwrap_or_default();
        let account = file.as_ref().map(|file| account(&file.text, &confirmed));
        let record = self.record_path();
        Contents {
            is_card: file.as_ref().is_some_and(|file| is_card(&file.text)),
            account,
            plan: self.plan_age(file.as_ref()),
            logs: self.logs(),
            record: record.join(RECORD_JSON).is_file(),
            accepted: self.records().accepted().is_some(),
        }
    }

    fn plan_age(&self, file: Option<&JobFile>) -> Option<PlanAge> {
        let plan: serde_json::Value = serde_json::from_slice(&self.plan_file(PLAN_JSON)?).ok()?;
        let of = plan["job"]["sha256"].as_str()?;
        let planned = plan["job"]["planned_sha256"].as_str();
        let confirmed = self.confirmed().unwrap_or_default();
        let is_of = |file: &JobFile| match planned {
            Some(planned) => planned == planned_sha256(&file.text, &confirmed),
            None => file.fingerprint.0 == of,
        };
        Some(match file {
            Some(file) if is_of(file) => PlanAge::OfThisFile,
            _ => PlanAge::OfAnEarlierFile,
        })
    }

    fn write(&self, folder: &Path, name: &str, bytes: &[u8]) -> Result<(), FolderError> {
        write_whole(
            folder,
            &[NewFile {
                name: name.to_owned(),
                bytes: bytes.to_owned(),
            }],
        )
    }

    fn lock(&self) -> Result<File, FolderError> {
        lock(&self.path)
    }
}

/// Only one writer at a time; the lock goes when the file is dropped, also when the program is killed.
fn lock(folder: &Path) -> Result<File, FolderError> {
    let path = folder.join(LOCK);
    let lock = File::create(&path).and_then(|file| file.lock().map(|()| file));
    lock.map_err(FolderError::system("locking", &path))
}

/// What is wrong in a job file or a cycle card, and what it lacks.
fn account(text: &str, confirmed: &[Confirmation]) -> Account {
    let refusal = match is_card(text) {
        true => read_card(text, JOB_FILE).err(),
        false => crate::file::read_with(text, JOB_FILE, confirmed).err(),
    };
    refusal.map_or_else(Account::default, |refusal| refusal.account())
}

/// Names of the entries of a folder that are wanted, hidden ones left out, in alphabetical order.
fn names(folder: &Path, wanted: impl Fn(&Path) -> bool) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .filter(|entry| wanted(&entry.path()))
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| !name.starts_with('.'))
        .collect();
    names.sort();
    names
}
