//! The record as data.

use checks::Findings;
use report::Moment;
use serde::Serialize;

use crate::calendar;
use crate::confirmed::ConfirmedFile;

use super::{Against, Deviation, Looked, Record};

/// Name and version of the format; the version rises when a key changes its meaning or goes.
const FORMAT: &str = "soakwright-record/1";

/// What numbers are in; `docs/record-json.md` says which is which.
#[derive(Serialize)]
struct UnitsTold {
    temperature: &'static str,
    difference: &'static str,
    time: &'static str,
    rate: &'static str,
    length: &'static str,
}

const UNITS: UnitsTold = UnitsTold {
    temperature: "°C",
    difference: "K",
    time: "h since the first scan",
    rate: "K/h",
    length: "mm",
};

#[derive(Serialize)]
struct RecordFile<'a> {
    format: &'static str,
    units: UnitsTold,
    /// The program and its version.
    soakwright: &'a str,
    made: String,
    revision: u32,
    previous_sha256: Option<&'a str>,
    weld: &'a str,
    job_file: &'a str,
    job_sha256: String,
    judged_by: &'a str,
    /// Absent where nothing is confirmed, as in records from before there was such a file.
    #[serde(skip_serializing_if = "Option::is_none")]
    confirmed: Option<ConfirmedRows<'a>>,
    mapping_sha256: String,
    files: Vec<LoggedFile<'a>>,
    /// Absent where nobody put a name to it, as in records from before it was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    looked_at: Option<&'a Looked>,
    start_local: String,
    start_utc: Option<String>,
    time_zone: Option<String>,
    scans: usize,
    length_h: f64,
    channels_of_the_log: Vec<&'a str>,
    deviations: &'a [Deviation],
    /// Absent where every question of the rules was answered, as in records from before it was told.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    unanswered: Vec<&'a str>,
    complaints: Vec<String>,
    findings: &'a Findings,
    against_plan: Option<&'a Against>,
}

/// The file of confirmed rows.
#[derive(Serialize)]
struct ConfirmedRows<'a> {
    sha256: String,
    rows: Vec<ConfirmedRow<'a>>,
}

/// A row that somebody read in the document.
#[derive(Serialize)]
struct ConfirmedRow<'a> {
    row: &'a str,
    by: &'a str,
    on: &'a str,
    value_entered: bool,
    note: Option<&'a str>,
}

#[derive(Serialize)]
struct LoggedFile<'a> {
    name: &'a str,
    bytes: usize,
    lines: usize,
    sha256: &'a str,
}

fn confirmed(file: &ConfirmedFile) -> ConfirmedRows<'_> {
    let rows = file.rows.iter().map(|one| ConfirmedRow {
        row: &one.row,
        by: &one.by,
        on: &one.on,
        value_entered: one.value.is_some(),
        note: one.note.as_deref(),
    });
    ConfirmedRows {
        sha256: readings::sha256(file.text.as_bytes()),
        rows: rows.collect(),
    }
}

pub(super) fn json(
    record: &Record,
    version: &str,
    at: Moment,
) -> Result<Vec<u8>, serde_json::Error> {
    let files = record.log.files.iter().map(|file| LoggedFile {
        name: &file.name,
        bytes: file.bytes,
        lines: file.lines,
        sha256: &file.sha256,
    });
    let zone = match &record.log.start {
        readings::Start::Moment { zone, .. } => zone.iana_name().map(str::to_owned),
        readings::Start::Local(_) => None,
    };
    let file = RecordFile {
        format: FORMAT,
        units: UNITS,
        soakwright: version,
        made: calendar::written(at),
        revision: record.revision.number,
        previous_sha256: record.revision.previous_sha256.as_deref(),
        weld: &record.basis.identification.weld,
        job_file: &record.basis.file_name,
        job_sha256: readings::sha256(record.basis.text.as_bytes()),
        judged_by: &record.basis.what,
        confirmed: record.basis.confirmed.as_ref().map(confirmed),
        mapping_sha256: readings::sha256(record.mapping.to_toml().as_bytes()),
        files: files.collect(),
        looked_at: record.looked_at.as_ref(),
        start_local: record.log.start.local().to_string(),
        start_utc: record.log.start.moment().map(|m| m.to_string()),
        time_zone: zone,
        scans: record.log.scans.len(),
        length_h: record.length().as_secs_f64() / 3600.0,
        channels_of_the_log: record
            .log
            .channels
            .iter()
            .map(|c| c.name.as_str())
            .collect(),
        deviations: &record.deviations,
        unanswered: record.basis.unanswered(),
        complaints: record
            .log
            .complaints
            .iter()
            .map(ToString::to_string)
            .collect(),
        findings: &record.findings,
        against_plan: record.plan.as_ref().map(|(_, against)| against),
    };
    serde_json::to_vec_pretty(&file)
}
