//! What a record carries of the folder that it was made from.

use serde_json::Value;

use super::{CONFIRMED, JOB, MAPPING, RECORD, VerifyError};
use crate::record::RawFile;

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

pub(super) fn text<'b>(name: &'static str, bytes: &'b [u8]) -> Result<&'b str, VerifyError> {
    std::str::from_utf8(bytes).map_err(|error| VerifyError::Unreadable {
        name,
        problem: error.to_string(),
    })
}

/// The attached files of the logger under the names that they had.
pub(super) fn raw_files(attached: &[(String, Vec<u8>)], kept: &Value) -> Vec<RawFile> {
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
