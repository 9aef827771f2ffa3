//! What a record carries of the folder that it was made from.

use serde_json::Value;

use super::{CONFIRMED, JOB, MAPPING, RECORD, VerifyError};
use crate::record::RawFile;

/// What a record carries of the folder that it was made from, by SHA-256.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    /// Of the job file.
    pub job: String,
    /// Of the confirmed rows, where there are any.
    pub confirmed: Option<String>,
    /// Of what was said of the logger's files; `None` where the record does not tell.
    pub mapping: Option<String>,
    /// Names of the logger's files, each with its own.
    pub logs: Vec<(String, String)>,
}

/// What the document of a record carries of the folder that it was made from.
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
        job: readings::sha256(of(JOB)?.as_bytes()),
        confirmed: confirmed.map(|(_, bytes)| readings::sha256(bytes)),
        mapping: Some(readings::sha256(of(MAPPING)?.as_bytes())),
        logs: raw
            .into_iter()
            .map(|file| (file.name, readings::sha256(&file.bytes)))
            .collect(),
    })
}

/// The same as the data of a record tells it.
pub fn carried_by_data(kept: &Value) -> Carried {
    let told = |value: &Value| value.as_str().map(str::to_owned);
    let files = kept["files"].as_array().into_iter().flatten();
    Carried {
        job: told(&kept["job_sha256"]).unwrap_or_default(),
        confirmed: told(&kept["confirmed"]["sha256"]),
        mapping: told(&kept["mapping_sha256"]),
        logs: files
            .filter_map(|file| Some((told(&file["name"])?, told(&file["sha256"])?)))
            .collect(),
    }
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
