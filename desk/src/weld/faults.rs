//! What is wrong with a job file, told beside the fields that it belongs to. What is only missing is told of each field
//! that needs it, also where the file lacks a whole table.

use job::nominal_pipe;
use job::shape::{Key, TABLES, Times};
use job::toml_reader::Fault;
use serde::Serialize;

use super::form::{Values, field_of, heading};

/// Something wrong, with the field it belongs to.
#[derive(Debug, Serialize)]
pub struct FaultShown {
    field: Option<String>,
    line: usize,
    place: String,
    words: String,
    /// Whether it is only missing.
    is_missing: bool,
}

/// Faults as a page shows them.
pub fn shown(faults: &[Fault], values: &Values) -> Vec<FaultShown> {
    let shown = faults.iter().flat_map(|fault| match missing_key(fault) {
        Some(place) => missing(fault, &place, values),
        None => vec![wrong(fault, values)],
    });
    shown.collect()
}

/// The place of a key that the file lacks.
fn missing_key(fault: &Fault) -> Option<String> {
    // Fewer than two sides are told as a count.
    let key = match fault.found.strip_prefix("no key ") {
        Some(key) => key,
        None if matches!(fault.found.as_str(), "0 sides" | "1 sides") => "side",
        None => return None,
    };
    Some(match fault.place.as_str() {
        "" => key.to_owned(),
        table => format!("{table}.{key}"),
    })
}

fn wrong(fault: &Fault, values: &Values) -> FaultShown {
    let hint = hint(fault);
    let size =
        nominal_pipe::of_size(&fault.found).map_or(String::new(), |words| format!(" {words}"));
    FaultShown {
        field: field_of(&fault.place, values),
        line: fault.line,
        place: fault.place.clone(),
        words: format!(
            "Found {}; allowed: {}{hint}.{size}",
            fault.found, fault.allowed
        ),
        is_missing: false,
    }
}

/// A missing value, or every value that a missing table needs.
fn missing(fault: &Fault, place: &str, values: &Values) -> Vec<FaultShown> {
    let told = |place: String, words: String| FaultShown {
        field: field_of(&place, values),
        line: fault.line,
        place,
        words,
        is_missing: true,
    };
    if field_of(place, values).is_some() {
        let allowed = fault
            .allowed
            .split_once(" = ")
            .map_or("", |(_, allowed)| allowed);
        return vec![told(
            place.to_owned(),
            format!(
                "Still needed, for example {}{}.",
                allowed.trim_matches('"'),
                hint(fault)
            ),
        )];
    }
    let table = TABLES.iter().find(|table| table.path == place);
    let Some(table) = table else {
        return vec![wrong(fault, values)];
    };
    let stands = match table.times {
        Times::Twice => vec![format!("{place}[1]"), format!("{place}[2]")],
        _ => vec![place.to_owned()],
    };
    let needed: Vec<&Key> = table.keys.iter().filter(|key| key.must).collect();
    let fields = stands.iter().flat_map(|stand| {
        let told = &told;
        needed.iter().map(move |key| {
            told(
                format!("{stand}.{}", key.name),
                format!("Still needed: {}.", key.says.replace('`', "")),
            )
        })
    });
    let is_open = |told: &FaultShown| values.get(&told.place).is_none_or(String::is_empty);
    fields.filter(is_open).collect()
}

/// What is only missing, by the part of the form in which it stands: "blanket (material, thickness) and coil (cable)".
pub fn still_needed(faults: &[FaultShown]) -> String {
    let mut parts: Vec<(&str, Vec<String>)> = Vec::new();
    for fault in faults.iter().filter(|fault| fault.is_missing) {
        let (table, key) = fault.place.rsplit_once('.').unwrap_or(("", &fault.place));
        match parts.iter_mut().find(|(known, _)| *known == table) {
            Some((_, keys)) => keys.push(key.replace('_', " ")),
            None => parts.push((table, vec![key.replace('_', " ")])),
        }
    }
    let words: Vec<String> = parts
        .into_iter()
        .map(|(table, keys)| match table {
            "" => keys.join(", "),
            table => {
                let heading = heading(table).to_lowercase();
                // What stands behind a comma tells the sides apart on a drawing.
                let heading = heading.split(',').next().unwrap_or_default();
                format!("{heading} ({})", keys.join(", "))
            }
        })
        .collect();
    match words.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}

fn hint(fault: &Fault) -> String {
    let hint = fault.hint.as_ref();
    hint.map(|hint| format!(" ({hint})")).unwrap_or_default()
}
