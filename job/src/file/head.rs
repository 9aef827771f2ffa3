//! The head of the file: what the heat is for, under which code, for whom, in which units.

use quantity::Units;
use rules::weld::{CodeEdition, Purpose};

use crate::known_names;
use crate::model::Identification;
use crate::toml_reader::{Table, Value};

use super::code_name::{CodeName, code_name};
use super::places::Silent;

/// The words of `purpose`.
pub(crate) const PURPOSES: &[&str] = &["stress_relief", "preheat", "hydrogen_bake_out"];

/// The words of `units`.
pub(crate) const UNITS: &[&str] = &["si", "us"];

/// What the head says.
pub(crate) struct Head<'a> {
    pub purpose: Option<Purpose>,
    pub code: Option<CodeEdition>,
    pub units: Units,
    pub demo: Option<String>,
    pub identification: Identification,
    pub code_at: Option<Value<'a>>,
    pub edition_at: Option<Value<'a>>,
}

pub(crate) fn read<'a>(root: &Table<'a>, silent: &Silent) -> Head<'a> {
    let purpose = root.need("purpose", "\"stress_relief\"");
    with_purpose(root, purpose, silent)
}

/// The head of a file of which only the needs are asked: a need is told for every purpose.
pub(crate) fn read_need<'a>(root: &Table<'a>, silent: &Silent) -> Head<'a> {
    with_purpose(root, root.get("purpose"), silent)
}

fn with_purpose<'a>(root: &Table<'a>, purpose: Option<Value<'a>>, silent: &Silent) -> Head<'a> {
    let purpose = purpose.and_then(|v| v.word_of(PURPOSES));
    let code_at = root.need("code", "\"ASME B31.3\"");
    let edition_at = root.need("edition", "\"2022\"");
    let edition = edition_at.as_ref().and_then(edition_text);
    let code = code_at
        .as_ref()
        .and_then(|at| code(root, at, edition.as_deref(), silent));
    Head {
        purpose: purpose.map(|word| {
            [
                Purpose::StressRelief,
                Purpose::Preheat,
                Purpose::HydrogenBakeOut,
            ][word]
        }),
        code: code.zip(edition).map(|(code, edition)| CodeEdition {
            code: code.to_owned(),
            edition,
        }),
        units: units(root, silent),
        demo: demo(root),
        identification: identification(root),
        code_at,
        edition_at,
    }
}

/// The code that is meant; what is not the name itself is told as understood.
fn code(
    root: &Table<'_>,
    at: &Value<'_>,
    edition: Option<&str>,
    silent: &Silent,
) -> Option<&'static str> {
    let written = at.text()?;
    let near = match code_name(written, edition) {
        CodeName::Known(code) => {
            silent.understand(root, "code", code, written);
            return Some(code);
        }
        CodeName::Near(near) => near,
    };
    let near: Vec<String> = near.iter().map(|code| format!("{code:?}")).collect();
    let hint = match near.len() {
        0 => None,
        1 => Some(format!("did you mean {}?", near[0])),
        _ => Some(format!("it may be {}: write which", near.join(" or "))),
    };
    at.fault(
        format!("{written:?}"),
        format!("a known code: {}", known_names::codes().join(", ")),
        hint,
    );
    None
}

/// An edition is a text, but a bare year says the same.
fn edition_text(value: &Value<'_>) -> Option<String> {
    match value.as_text() {
        Some(text) => Some(text.to_owned()),
        None => value.count().map(|year| year.to_string()),
    }
}

pub(crate) fn units(root: &Table<'_>, silent: &Silent) -> Units {
    let Some(value) = root.get("units") else {
        silent.take(root, "units", "si");
        return Units::Si;
    };
    match value.word_of(UNITS) {
        Some(1) => Units::Us,
        _ => Units::Si,
    }
}

pub(crate) fn demo(root: &Table<'_>) -> Option<String> {
    let demo = root.get("demo").and_then(|v| v.boolean()).unwrap_or(false);
    let scenario = root
        .get("scenario")
        .and_then(|v| v.text().map(str::to_owned));
    if demo && scenario.is_none() {
        root.note(
            "an invented job that does not say what is invented".into(),
            "scenario = \"an invented ...\" beside demo = true".into(),
            None,
        );
    }
    demo.then(|| scenario.unwrap_or_default())
}

pub(crate) fn identification(root: &Table<'_>) -> Identification {
    let Some(table) = root.get("identification").and_then(|v| v.table()) else {
        return Identification::default();
    };
    let text = |key| {
        table
            .get(key)
            .and_then(|v| v.text())
            .unwrap_or_default()
            .to_owned()
    };
    let read = Identification {
        project: text("project"),
        weld: text("weld"),
        line: text("line"),
        procedure: text("procedure"),
        revision: text("revision"),
        prepared_by: text("prepared_by"),
    };
    table.finish();
    read
}
