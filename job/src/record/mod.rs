//! The second flow: a job and the files of a logger become a record.
//!
//! Logs → scans, events, complaints → checks → Record. What the files leave open comes back as questions; nothing is
//! judged before they are answered.

mod against;
mod basis;
mod deviation;
mod happened;
mod json;
mod judged;
mod looked;
mod matched;
mod replaced;
mod revision;
mod said;
mod sheet;
mod statement;
mod verify;

use std::time::Duration;

use crate::calendar;
use crate::file::planned_sha256;

use checks::{CheckError, Findings};
use readings::{Complaint, JoinError, Log, Mapping, Question, Reading};
use report::{Attachment, Moment, Relationship, ReportError, Sheet};

pub use against::{
    Against, ChannelAgainst, Explained, Explanation, Gap, PlanFault, PointAgainst, PowerForeseen,
    Supposition,
};
pub use basis::{Basis, BasisError, basis, basis_with};
pub use deviation::{Deviation, deviations};
pub use looked::{Looked, first_rows_words, reading_words};
pub use replaced::{Replaced, replaced};
pub use revision::{KeepError, KeptRevision, Revision, keep, next_revision, revisions, stem};
pub use said::{NO_THERMOCOUPLE, Said, about, answer_words, said};
pub use verify::{Carried, Compared, Verified, VerifyError, carried, carried_by_data, verify};

use matched::Matched;

/// Why there is no record.
#[derive(Debug, thiserror::Error)]
pub enum RecordError {
    /// No log was given.
    #[error("no log was given; name one file or more behind the job file")]
    NoLog,
    /// The files leave something open.
    #[error("{}", questions.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Open {
        /// What they leave open.
        questions: Vec<Question>,
    },
    /// Every file was said to be of another heat.
    #[error(
        "{} said to be of another heat, and no file is left to judge; take that answer back of what is of this one, with {}=",
        is_or_are(.files), readings::of_one_file(.files.first().map_or("FILE", String::as_str), readings::HEAT)
    )]
    AllLeftOut {
        /// The files.
        files: Vec<String>,
    },
    /// A file holds no readings.
    #[error("{file} holds no readings that could be read:\n{}", .complaints.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Nothing {
        /// The file.
        file: String,
        /// What was wrong.
        complaints: Vec<Complaint>,
    },
    /// The files are not one log.
    #[error(transparent)]
    Join(#[from] JoinError),
    /// No channel of the job stands in the log.
    #[error(
        "no thermocouple of {job} is a channel of the log: the job has {wanted}, the log has {found}; say which channel is which (\"name.CH 1=TC1\" on the command line)"
    )]
    NoChannel {
        /// The job file.
        job: String,
        /// Names of the job.
        wanted: String,
        /// Names of the log.
        found: String,
    },
    /// A name of the job fits several channels of the log.
    #[error(
        "{job} names {wanted}, and several channels of the log fit that name: {}; say under another name which of them it is not, \
         for example \"name.{}=another\"", .fit.join(", "), .fit.last().map_or("", String::as_str)
    )]
    SeveralFit {
        /// The job file.
        job: String,
        /// The name of the job.
        wanted: String,
        /// The channels.
        fit: Vec<String>,
    },
    /// The power of a zone is not in the log.
    #[error(
        "no power {wanted:?} of a zone stands in the log, it has {found}; the zone of the job file names the column"
    )]
    NoPower {
        /// What the job names.
        wanted: String,
        /// What the log has.
        found: String,
    },
    /// The plan can't be read.
    #[error(transparent)]
    Plan(#[from] PlanFault),
    /// The dispositions can't be taken.
    #[error(transparent)]
    Check(#[from] CheckError),
    /// The document could not be set.
    #[error("the document could not be set: {0}")]
    Document(#[from] ReportError),
    /// The data could not be written.
    #[error("record.json could not be written: {0}")]
    Json(#[from] serde_json::Error),
}

fn is_or_are(files: &[String]) -> String {
    let verb = if files.len() == 1 { "is" } else { "are" };
    format!("{} {verb}", files.join(", "))
}

/// A file as it was given.
#[derive(Clone, Debug)]
pub struct RawFile {
    /// Its name.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// A record.
#[derive(Clone, Debug)]
pub struct Record {
    /// What was judged by.
    pub basis: Basis,
    /// The files as they were given.
    pub raw: Vec<RawFile>,
    /// How they were read, with what a person said.
    pub mapping: Mapping,
    /// What they say.
    pub log: Log,
    /// Which channel of the log is which thermocouple.
    pub matched: Matched,
    /// What was found.
    pub findings: Findings,
    /// What an inspector should know before the findings.
    pub deviations: Vec<Deviation>,
    /// Who looked at how the files were understood; `None` where nobody put a name to it.
    pub looked_at: Option<Looked>,
    /// Which revision it is.
    pub revision: Revision,
    /// The plan's file and what it foresaw beside what was measured.
    pub plan: Option<(RawFile, Against)>,
}

/// How far a record has come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step<'a> {
    /// A file is being read.
    Reading {
        /// Its name.
        file: &'a str,
        /// Part of the bytes of all files that was read before it.
        part: f64,
    },
    /// Scans are being judged.
    Judging {
        /// Part of them that was.
        part: f64,
    },
}

/// How files are understood, before anything is judged.
pub fn understood(raw: &[RawFile], mapping: &Mapping) -> Vec<Reading> {
    raw.iter()
        .map(|file| readings::read(&file.name, &file.bytes, mapping))
        .collect()
}

/// Makes the record of a heat.
///
/// # Errors
/// [`RecordError`] where there is no log, where files leave something open or hold nothing, or where what was decided
/// about thermocouples can't be.
pub fn record(
    basis: &Basis,
    raw: Vec<RawFile>,
    mapping: &Mapping,
    revision: Revision,
) -> Result<Record, RecordError> {
    record_watched(basis, raw, mapping, revision, &mut |_| {})
}

/// [`record`], which tells how far it has come.
///
/// # Errors
/// As there.
pub fn record_watched(
    basis: &Basis,
    raw: Vec<RawFile>,
    mapping: &Mapping,
    revision: Revision,
    watch: &mut dyn FnMut(Step<'_>),
) -> Result<Record, RecordError> {
    let raw = kept_in(raw, mapping)?;
    let read = read(&raw, mapping, watch);
    let log = one_log(read, mapping, Silences::Ask)?;
    judged_record(basis, raw, log, mapping, revision, watch)
}

/// The record of files that have been read already by [`understood`].
///
/// # Errors
/// As [`record`].
pub fn record_of_readings(
    basis: &Basis,
    raw: Vec<RawFile>,
    mut read: Vec<Reading>,
    mapping: &Mapping,
    revision: Revision,
) -> Result<Record, RecordError> {
    let raw = kept_in(raw, mapping)?;
    read.retain(|reading| !mapping.leaves_out(&reading.file.name));
    let log = one_log(read, mapping, Silences::Ask)?;
    judged_record(basis, raw, log, mapping, revision, &mut |_| {})
}

/// [`record`] of what a record carries: files far apart were one heat to whoever made it, asked or not.
fn record_again(
    basis: &Basis,
    raw: Vec<RawFile>,
    mapping: &Mapping,
    revision: Revision,
) -> Result<Record, RecordError> {
    let read = understood(&raw, mapping);
    let log = one_log(read, mapping, Silences::Leave)?;
    judged_record(basis, raw, log, mapping, revision, &mut |_| {})
}

/// Without the files that are of another heat.
fn kept_in(mut raw: Vec<RawFile>, mapping: &Mapping) -> Result<Vec<RawFile>, RecordError> {
    let files: Vec<String> = raw.iter().map(|file| file.name.clone()).collect();
    raw.retain(|file| !mapping.leaves_out(&file.name));
    match raw.is_empty() && !files.is_empty() {
        true => Err(RecordError::AllLeftOut { files }),
        false => Ok(raw),
    }
}

fn judged_record(
    basis: &Basis,
    raw: Vec<RawFile>,
    log: Log,
    mapping: &Mapping,
    revision: Revision,
    watch: &mut dyn FnMut(Step<'_>),
) -> Result<Record, RecordError> {
    let matched = matched::matched(basis, &log)?;
    let (findings, untouched) = judged::judged(basis, &log, &matched, watch)?;
    let deviations = deviations(basis, &log, &matched, (&findings, untouched.as_ref()));
    Ok(Record {
        basis: basis.clone(),
        raw,
        mapping: mapping.clone(),
        log,
        matched,
        findings,
        deviations,
        looked_at: None,
        revision,
        plan: None,
    })
}

/// What long silences between files are.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Silences {
    /// A question, where nobody answered it.
    Ask,
    /// Part of one heat.
    Leave,
}

/// What files leave open between them about their heats, before a record is made; nothing as long as one of them leaves
/// something open by itself.
pub fn heats_open(read: &[Reading], mapping: &Mapping) -> Vec<Question> {
    let here = read
        .iter()
        .filter(|one| !mapping.leaves_out(&one.file.name));
    let logs: Option<Vec<&Log>> = here.map(|reading| reading.log.as_ref()).collect();
    logs.map_or_else(Vec::new, |logs| readings::other_heats(&logs, mapping))
}

fn read(raw: &[RawFile], mapping: &Mapping, watch: &mut dyn FnMut(Step<'_>)) -> Vec<Reading> {
    let all: usize = raw.iter().map(|file| file.bytes.len()).sum();
    let (mut done, mut read) = (0, Vec::new());
    for file in raw {
        watch(Step::Reading {
            file: &file.name,
            part: done as f64 / all.max(1) as f64,
        });
        read.push(readings::read(&file.name, &file.bytes, mapping));
        done += file.bytes.len();
    }
    read
}

fn one_log(read: Vec<Reading>, mapping: &Mapping, silences: Silences) -> Result<Log, RecordError> {
    let questions: Vec<Question> = read.iter().flat_map(|r| r.questions.clone()).collect();
    if !questions.is_empty() {
        return Err(RecordError::Open { questions });
    }
    let mut logs = Vec::new();
    for reading in read {
        let Some(log) = reading.log else {
            return Err(RecordError::Nothing {
                file: reading.file.name,
                complaints: reading.complaints,
            });
        };
        logs.push(log);
    }
    if logs.is_empty() {
        return Err(RecordError::NoLog);
    }
    let questions = match silences {
        Silences::Ask => readings::other_heats(&logs.iter().collect::<Vec<_>>(), mapping),
        Silences::Leave => Vec::new(),
    };
    if !questions.is_empty() {
        return Err(RecordError::Open { questions });
    }
    Ok(readings::join(logs, mapping)?)
}

impl Record {
    /// Lays a plan (`plan.json`) on the log; it decides nothing.
    ///
    /// # Errors
    /// [`RecordError::Plan`] where the file is no plan that this version reads.
    pub fn with_plan(mut self, file: RawFile) -> Result<Record, RecordError> {
        let plan = against::plan_read(&file.name, &file.bytes)?;
        let same_job = match &plan.planned_sha256 {
            Some(planned) => {
                *planned == planned_sha256(&self.basis.text, self.basis.confirmed_rows())
            }
            None => plan.job_sha256 == readings::sha256(self.basis.text.as_bytes()),
        };
        let against = against::against(&plan, same_job, &self.log, &self.matched, &self.findings);
        self.plan = Some((file, against));
        Ok(self)
    }

    /// Whether measured values met every limit and nothing stands in the way of saying so.
    pub fn all_met(&self) -> bool {
        self.findings.all_met() && self.deviations.iter().all(|d| !d.open)
    }

    /// The document; `made` are the words at its foot.
    pub fn sheet(&self, made: &str) -> Sheet {
        sheet::sheet(self, made)
    }

    /// The record as data; `version` is that of the program and `made_at` when it was made.
    ///
    /// # Errors
    /// Where a number has no form in JSON.
    pub fn json(&self, version: &str, made_at: Moment) -> Result<Vec<u8>, serde_json::Error> {
        json::json(self, version, made_at)
    }

    /// The record as PDF/A-3 with everything attached from which it can be made again.
    ///
    /// # Errors
    /// [`RecordError`] where the document can't be set or the data not written.
    pub fn pdf(&self, version: &str, made_at: Moment) -> Result<Vec<u8>, RecordError> {
        let sheet = self.sheet(&calendar::made(version, made_at));
        self.pdf_of(&sheet, version, made_at)
    }

    /// [`Record::pdf`] of a document that was made already.
    ///
    /// # Errors
    /// As there.
    pub fn pdf_of(
        &self,
        sheet: &Sheet,
        version: &str,
        made_at: Moment,
    ) -> Result<Vec<u8>, RecordError> {
        let attachments = self.attachments(version, made_at)?;
        Ok(report::pdf(sheet, &attachments, made_at)?)
    }

    fn attachments(&self, version: &str, made_at: Moment) -> Result<Vec<Attachment>, RecordError> {
        let mut attachments = vec![
            Attachment {
                name: verify::JOB.into(),
                mime: "application/toml".into(),
                bytes: self.basis.text.clone().into_bytes(),
                description: "The job file by whose limits the log was judged".into(),
                relationship: Relationship::Source,
            },
            Attachment {
                name: verify::MAPPING.into(),
                mime: "application/toml".into(),
                bytes: self.mapping.to_toml().into_bytes(),
                description: "What a person said of the files of the logger".into(),
                relationship: Relationship::Source,
            },
        ];
        if let Some(confirmed) = &self.basis.confirmed {
            attachments.push(Attachment {
                name: verify::CONFIRMED.into(),
                mime: "application/toml".into(),
                bytes: confirmed.text.clone().into_bytes(),
                description: "The rows of the rules that somebody read in the document".into(),
                relationship: Relationship::Source,
            });
        }
        if let Some((plan, _)) = &self.plan {
            attachments.push(Attachment {
                name: verify::PLAN.into(),
                mime: "application/json".into(),
                bytes: plan.bytes.clone(),
                description: "The plan that the log was laid beside".into(),
                relationship: Relationship::Source,
            });
        }
        for (index, file) in self.raw.iter().enumerate() {
            attachments.push(Attachment {
                name: verify::log_name(index, &file.name),
                mime: "application/octet-stream".into(),
                bytes: file.bytes.clone(),
                description: format!("{}, as it was given", file.name),
                relationship: Relationship::Source,
            });
        }
        attachments.push(Attachment {
            name: verify::RECORD.into(),
            mime: "application/json".into(),
            bytes: self.json(version, made_at)?,
            description: "The record for other programs".into(),
            relationship: Relationship::Data,
        });
        Ok(attachments)
    }

    /// Length of the log.
    pub fn length(&self) -> Duration {
        self.log
            .scans
            .last()
            .map_or(Duration::ZERO, |scan| scan.elapsed)
    }
}
