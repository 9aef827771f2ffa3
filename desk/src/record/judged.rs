//! Logs read and judged, kept as long as nothing under them changes, so that a chart can be moved without reading again.

use std::fs;
use std::sync::{Arc, Mutex};
use std::time::UNIX_EPOCH;

use axum::Json;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use job::folder::JobFolder;
use job::record::{Basis, RawFile, Record, RecordError, Revision, record_of_readings, understood};
use readings::{Complaint, LogFile, Mapping, Question, Understood};
use serde::{Deserialize, Serialize};
use tokio::sync::Semaphore;

use super::chart::{Meta, meta};
use super::choices::Choices;
use super::joint::joint;
use super::{basis_of, findings, logs, mapping_of, questions, stays_open, together};
use crate::board::path_of;
use crate::desk::Desk;
use crate::refusal::Refusal;
use crate::weld::Drawing;

/// So many records are kept; each holds its whole log.
const KEPT: usize = 2;

/// Bytes of logs that are kept besides the last.
const KEPT_BYTES: u64 = 64 << 20;

/// The most that the files of one heat hold together, in bytes, so that they can be read here: they are read whole into
/// memory, where reading and judging take up to [`TIMES`] of their size. Half a million scans of 24 channels are some
/// 80 MB of text.
pub const LARGEST_READ: u64 = 256 << 20;

/// So many times the size of a file its reading and judging take in memory, at most; measured, with one channel of short
/// numbers (16 to read them) and with 24 channels (7 to read and judge them).
const TIMES: u64 = 16;

/// Parts the names of logs in an address; no name has one.
const BETWEEN: char = '/';

/// One file as it was understood.
pub struct ReadFile {
    /// The file.
    pub file: LogFile,
    /// How it was understood.
    pub understood: Understood,
    /// What it leaves open.
    pub questions: Vec<Question>,
    /// What was not as it should be.
    pub complaints: Vec<Complaint>,
    /// Whether it is of another heat, as was said; then it is read and shown, and nothing else.
    pub left_out: bool,
}

/// The logs of a weld, read and judged.
pub struct Judged {
    key: String,
    /// What they were judged by.
    pub basis: Basis,
    /// How they were read.
    pub mapping: Mapping,
    /// Each file.
    pub read: Vec<ReadFile>,
    /// The record, or why there is none.
    pub record: Result<Record, RecordError>,
    /// The joint, where there is one to draw.
    joint: Option<Drawing>,
}

/// Records that were looked at last.
pub struct Records {
    kept: Mutex<Vec<Arc<Judged>>>,
    /// One at a time: a second would only slow both.
    turn: Semaphore,
}

impl Judged {
    /// The files of this heat.
    pub fn here(&self) -> impl Iterator<Item = &ReadFile> {
        self.read.iter().filter(|file| !file.left_out)
    }
}

impl Default for Records {
    fn default() -> Records {
        Records {
            kept: Mutex::default(),
            turn: Semaphore::new(1),
        }
    }
}

/// Which logs are asked for.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Wanted {
    /// Their names, parted by `/`; absent means all.
    logs: Option<String>,
}

impl Wanted {
    /// Those that are there.
    fn of(&self, folder: &JobFolder) -> Vec<String> {
        let all = folder.logs();
        match &self.logs {
            None => all,
            Some(wanted) => {
                let wanted: Vec<&str> = wanted.split(BETWEEN).collect();
                all.into_iter()
                    .filter(|name| wanted.contains(&name.as_str()))
                    .collect()
            }
        }
    }
}

impl Records {
    /// The logs of a folder read and judged; `Err` are the words of what stands in the way.
    ///
    /// # Errors
    /// A job file that is refused, a mapping that is none, a log that cannot be read from the disk.
    pub async fn of(&self, folder: JobFolder, wanted: &Wanted) -> Result<Arc<Judged>, String> {
        let names = wanted.of(&folder);
        let text = folder.job_file().map_err(|error| error.to_string())?.text;
        let key = key(&folder, &names, &text);
        let known = || {
            let kept = self.kept.lock().expect("no holder panics");
            kept.iter().find(|one| one.key == key).cloned()
        };
        if let Some(judged) = known() {
            return Ok(judged);
        }
        let _turn = self.turn.acquire().await;
        // While this one stood in line, the one before may have made it.
        if let Some(judged) = known() {
            return Ok(judged);
        }
        let own_key = key.clone();
        let made = tokio::task::spawn_blocking(move || judge(&folder, &names, &text, own_key));
        let judged = Arc::new(made.await.map_err(|_| {
            "The desk could not finish this; nothing was changed. Keep the log and tell us."
                .to_owned()
        })??);
        let mut kept = self.kept.lock().expect("no holder panics");
        kept.insert(0, judged.clone());
        thin(&mut kept);
        Ok(judged)
    }
}

/// The last one is kept, whatever its size: the chart is drawn from it.
fn thin(kept: &mut Vec<Arc<Judged>>) {
    kept.truncate(KEPT);
    let bytes = |one: &Arc<Judged>| -> u64 {
        let files = one.read.iter().map(|file| file.file.bytes as u64);
        files.sum()
    };
    while kept.len() > 1 && kept.iter().map(bytes).sum::<u64>() > KEPT_BYTES {
        kept.pop();
    }
}

/// Changes when anything changes on which a record rests.
fn key(folder: &JobFolder, names: &[String], text: &str) -> String {
    let stamp = |path: std::path::PathBuf| {
        let meta = fs::metadata(path).ok();
        let changed = meta.as_ref().and_then(|meta| meta.modified().ok());
        let since = changed.and_then(|at| at.duration_since(UNIX_EPOCH).ok());
        let bytes = meta.map_or(0, |meta| meta.len());
        format!("{bytes}@{}", since.map_or(0, |since| since.as_nanos()))
    };
    let logs = names
        .iter()
        .map(|name| format!("{name} {}", stamp(folder.logs_path().join(name))));
    let logs: Vec<String> = logs.collect();
    format!(
        "{}\n{}\n{}\n{}\n{}\n{}",
        folder.path().display(),
        readings::sha256(text.as_bytes()),
        stamp(folder.path().join(job::confirmed::FILE_NAME)),
        folder.mapping().unwrap_or_default(),
        stamp(folder.path().join("plan").join("plan.json")),
        logs.join("\n")
    )
}

/// Whether the logs can be read, told before any is.
fn small_enough(folder: &JobFolder, names: &[String]) -> Result<(), String> {
    let size = |name: &String| fs::metadata(folder.logs_path().join(name)).map_or(0, |m| m.len());
    let sizes: Vec<u64> = names.iter().map(size).collect();
    let all: u64 = sizes.iter().sum();
    if all <= LARGEST_READ {
        return Ok(());
    }
    let megabytes = |bytes: u64| bytes.div_ceil(1 << 20);
    let named = names.iter().zip(&sizes);
    let named: Vec<String> = named
        .map(|(name, size)| format!("{name} ({} MB)", megabytes(*size)))
        .collect();
    Err(format!(
        "{} {} MB, and {} MB can be read here: files are read whole into memory, where they take up to {TIMES} times their \
         size. Everything is kept as it came. Take the tick from what is not of this heat; or judge it where some {} GB of \
         memory are free, by this command in the folder of the project:\n{}\nThis page then has the revision that it made.",
        match named.len() {
            1 => format!("{} has", names[0]),
            _ => format!("{} have together", named.join(", ")),
        },
        megabytes(all),
        LARGEST_READ >> 20,
        (TIMES * all).div_ceil(1 << 30),
        command(folder)
    ))
}

/// The command that makes the record of a folder, with all that lies in it.
fn command(folder: &JobFolder) -> String {
    let name = folder.name();
    let at = |file: &str| match name.contains(' ') {
        true => format!("\"{name}\"/{file}"),
        false => format!("{name}/{file}"),
    };
    let mut words = vec![format!(
        "soakwright record {} {}",
        at("job.toml"),
        at("logs/*")
    )];
    if folder.plan_file("plan.json").is_some() {
        words.push(format!("--plan {}", at("plan/plan.json")));
    }
    if folder.mapping().is_some() {
        words.push(format!("--mapping {}", at(job::folder::MAPPING_FILE)));
    }
    words.push(format!("--out {}", at("record")));
    words.join(" ")
}

fn judge(folder: &JobFolder, names: &[String], text: &str, key: String) -> Result<Judged, String> {
    let basis = basis_of(folder, text)?;
    let mapping = mapping_of(folder, &basis)?;
    small_enough(folder, names)?;
    let mut raw = Vec::new();
    for name in names {
        let path = folder.logs_path().join(name);
        let bytes = fs::read(&path).map_err(|error| format!("{name}: {error}"))?;
        raw.push(RawFile {
            name: name.clone(),
            bytes,
        });
    }
    let readings = understood(&raw, &mapping);
    let read = readings.iter().map(|one| ReadFile {
        file: one.file.clone(),
        understood: one.understood.clone(),
        questions: one.questions.clone(),
        complaints: one.complaints.clone(),
        left_out: mapping.leaves_out(&one.file.name),
    });
    let read = read.collect();
    let record = record_of_readings(&basis, raw, readings, &mapping, Revision::default());
    let plan = folder.plan_file("plan.json");
    let rows = basis.confirmed.as_ref().map_or(&[][..], |file| &file.rows);
    let joint = joint(text, rows, plan.as_deref());
    let record = record.and_then(|record| match plan {
        None => Ok(record),
        Some(bytes) => record.with_plan(RawFile {
            name: "plan.json".into(),
            bytes,
        }),
    });
    Ok(Judged {
        key,
        basis,
        mapping,
        read,
        record,
        joint,
    })
}

/// What the page shows.
#[derive(Debug, Serialize)]
pub struct Shown {
    /// Fingerprint of the job file that was judged by.
    tag: String,
    /// How the files were understood.
    understood: String,
    /// Whether anything is open that must be answered first.
    open: bool,
    /// Findings, deviations, definitions.
    findings: String,
    /// What was decided about thermocouples, with the form.
    decided: String,
    /// Choices of the forms of decisions.
    choices: Choices,
    /// What a record made now leaves open.
    stays_open: String,
    /// What the chart needs besides the readings; `None` where there is nothing to draw.
    chart: Option<Meta>,
    /// The joint beside it.
    joint: Option<Drawing>,
}

/// The logs of a weld, read and judged, in pieces of the page.
pub async fn judged(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Query(wanted): Query<Wanted>,
) -> Result<Json<Shown>, Refusal> {
    let folder = desk.folder(&name)?;
    let judged = desk.records.of(folder, &wanted).await;
    let judged = judged.map_err(unprocessable)?;
    let record = judged.record.as_ref();
    let address = format!("/weld/{}", path_of(&name));
    Ok(Json(Shown {
        tag: readings::sha256(judged.basis.text.as_bytes()),
        understood: logs::understood(&judged).into_string(),
        open: !questions::asked(&judged).is_empty(),
        findings: match record {
            Ok(record) => findings::findings(record).into_string(),
            Err(error) => findings::none(error).into_string(),
        },
        decided: findings::decided(&judged).into_string(),
        choices: Choices::of(&judged),
        stays_open: record
            .map(|record| stays_open::stays_open(record, &address).into_string())
            .map(|open| together::together(&judged).into_string() + &open)
            .unwrap_or_default(),
        chart: record.ok().map(meta),
        joint: judged.joint.clone(),
    }))
}

pub(super) fn unprocessable(words: String) -> Refusal {
    Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, words)
}
