//! What a record carries and what is made again from it, beside each other.

use std::collections::BTreeSet;

use report::Moment;
use serde_json::Value;

use super::{CONFIRMED, FINDINGS};
use crate::record::{Record, RecordError};

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

pub(super) fn hash_of(what: &str, bytes: &[u8], said: Option<&str>) -> Compared {
    let found = readings::sha256(bytes);
    let agrees = said == Some(found.as_str());
    Compared {
        what: format!("fingerprint (SHA-256) of {what}"),
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
pub(super) fn hash_of_confirmed(attached: Option<&[u8]>, told: &Value) -> Option<Compared> {
    let said = told["sha256"].as_str();
    match (attached, said) {
        (None, None) => None,
        (Some(bytes), said) => Some(hash_of(CONFIRMED, bytes, said)),
        (None, Some(said)) => Some(Compared {
            what: format!("fingerprint (SHA-256) of {CONFIRMED}"),
            agrees: Some(false),
            says: format!("the record says {said}, and no such file is attached"),
        }),
    }
}

/// The data made again. The same version has to say the same in every key; another one may word its sentences otherwise and
/// tell more, but what it measured, judged and named stands.
pub(super) fn findings(kept: &Value, again: &[u8], made_by: &str, version: &str) -> Compared {
    let again: Value = serde_json::from_slice(again).unwrap_or(Value::Null);
    let is_same_version = made_by == version;
    let is_same = |key: &str| match is_same_version {
        true => kept[key] == again[key],
        false => is_sentence(key, &kept[key]) || says_the_same(&kept[key], &again[key]),
    };
    let keys = |value: &Value| -> BTreeSet<String> {
        value
            .as_object()
            .into_iter()
            .flat_map(|o| o.keys().cloned())
            .collect()
    };
    let all = keys(kept).into_iter().chain(keys(&again));
    let differing: BTreeSet<String> = all.filter(|key| !is_same(key)).collect();
    let differing: Vec<String> = differing.into_iter().collect();
    Compared {
        what: FINDINGS.into(),
        agrees: Some(differing.is_empty()),
        says: match (differing.is_empty(), is_same_version) {
            (true, true) => "the same".into(),
            (true, false) => format!(
                "the same in every number, verdict and name; sentences are not compared: version {made_by} made it, this is {version}"
            ),
            (false, _) => format!("different in {}", differing.join(", ")),
        },
    }
}

/// Keys that hold sentences, or lists of them.
const SENTENCES: [&str; 7] = [
    "says",
    "reason",
    "text",
    "note",
    "evidence",
    "complaints",
    "shown",
];

/// Keys that hold a sentence, or a word that means something.
const SENTENCE_OR_WORD: [&str; 2] = ["what", "why"];

/// Numbers that differ by less than this part differ in how the last digits were rounded.
const ROUNDED: f64 = 1e-9;

fn is_sentence(key: &str, value: &Value) -> bool {
    let has_blank = || value.as_str().is_some_and(|words| words.contains(' '));
    SENTENCES.contains(&key) || SENTENCE_OR_WORD.contains(&key) && has_blank()
}

/// Whether what was measured, judged and named is the same.
fn says_the_same(kept: &Value, again: &Value) -> bool {
    match (kept, again) {
        (Value::Object(kept), Value::Object(again)) => kept.iter().all(|(key, value)| {
            is_sentence(key, value) || says_the_same(value, again.get(key).unwrap_or(&Value::Null))
        }),
        (Value::Array(kept), Value::Array(again)) => {
            let pairs = kept.iter().zip(again);
            kept.len() == again.len() && pairs.into_iter().all(|(a, b)| says_the_same(a, b))
        }
        (Value::Number(kept), Value::Number(again)) => {
            let [a, b] = [kept, again].map(|n| n.as_f64().unwrap_or(f64::NAN));
            a == b || (a - b).abs() <= ROUNDED * a.abs().max(b.abs())
        }
        // A key that came later says nothing of a record that did not have it yet.
        (Value::Null, _) => true,
        _ => kept == again,
    }
}

/// Bytes that differ where everything else agrees: a page was changed, or another build of the version set it otherwise.
pub(super) fn explain(of_bytes: &mut Compared, version: &str) {
    if of_bytes.agrees == Some(false) && of_bytes.says.starts_with(DIFFERENT) {
        of_bytes.says.push_str(&format!(
            ". Fingerprints and findings agree, so the difference lies in what the pages show or in how the document is put together. \
             Either it was changed after it was made, or a copy of the program of the same version {version}, but not the same in \
             every detail, made it and words or sets its pages otherwise: verify it with the copy that made it. Until that agrees, \
             it counts as changed"
        ));
    }
}

/// How the words begin where bytes differ.
pub(super) const DIFFERENT: &str = "different from byte";

/// Every byte, where the same version made it.
pub(super) fn bytes(
    again: &Record,
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

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::findings;

    fn kept() -> Value {
        json!({
            "weld": "W 1",
            "complaints": ["line 7: no number"],
            "looked_at": null,
            "findings": { "findings": [{
                "verdict": "met", "measured": { "temperature": 621.25 }, "reason": "at 2.37 h", "channel": "TC 1",
                "beside": [{ "what": "steepest slope over 15 min" }],
            }] },
        })
    }

    /// Whether a record of the version `made_by` agrees with what version 2 makes of its logs.
    fn agrees(made_by: &str, change: impl Fn(&mut Value)) -> bool {
        let mut again = kept();
        change(&mut again);
        let again = serde_json::to_vec(&again).expect("JSON");
        findings(&kept(), &again, made_by, "2").agrees == Some(true)
    }

    #[test]
    fn another_version_may_word_it_otherwise_and_tell_more_but_not_measure_judge_or_name_otherwise()
    {
        let finding =
            |value: &mut Value, key: &str, new: Value| value["findings"]["findings"][0][key] = new;
        let reworded = |value: &mut Value| {
            finding(value, "reason", json!("at 2 h 22 min"));
            finding(value, "beside", json!([{ "what": "the steepest 15 min" }]));
            finding(value, "told_later", json!(3));
            value["complaints"] = json!(["line 7 holds no number"]);
            value["looked_at"] = json!({ "by": "N. N." });
        };
        assert!(agrees("1", reworded) && !agrees("2", reworded));
        assert!(agrees("1", |value| finding(
            value,
            "measured",
            json!({ "temperature": 621.250_000_000_1 })
        )));
        let otherwise: [fn(&mut Value); 4] = [
            |value| value["findings"]["findings"][0]["verdict"] = json!("not_met"),
            |value| value["findings"]["findings"][0]["measured"]["temperature"] = json!(621.3),
            |value| value["findings"]["findings"][0]["channel"] = json!("TC 2"),
            |value| value["findings"]["findings"] = json!([]),
        ];
        for change in otherwise {
            assert!(!agrees("1", change) && !agrees("2", change));
        }
    }
}
