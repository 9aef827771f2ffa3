//! What a record needs beside the limits: how the log is to be read, people, equipment, and what was decided.

use checks::{Disposition, Zone};
use quantity::Hours;
use readings::Mapping;

use crate::model::{Accepted, Equipment, Paper, Person};
use crate::toml_reader::Table;

use super::measure::time;

/// Reads `[log]`, `[[person]]`, `[[equipment]]`, `[[zone]]`, `[[disposition]]` and `[[accepted]]`.
pub(crate) fn read(root: &Table<'_>) -> Paper {
    Paper {
        mapping: mapping(root),
        people: root.tables("person").iter().filter_map(person).collect(),
        equipment: root
            .tables("equipment")
            .iter()
            .filter_map(equipment)
            .collect(),
        zones: root.tables("zone").iter().filter_map(zone).collect(),
        dispositions: root
            .tables("disposition")
            .iter()
            .filter_map(disposition)
            .collect(),
        accepted: root
            .tables("accepted")
            .iter()
            .filter_map(accepted)
            .collect(),
    }
}

/// The keys of `[log]` are those of a mapping.
fn mapping(root: &Table<'_>) -> Mapping {
    let mut mapping = Mapping::default();
    let Some(table) = root.get("log").and_then(|v| v.table()) else {
        return mapping;
    };
    for (key, _) in readings::KEYS {
        let Some(value) = table.get(key) else {
            continue;
        };
        let Some(text) = value.text() else {
            continue;
        };
        if let Err(error) = mapping.choose(&format!("{key}={text}")) {
            value.fault(format!("{key} = \"{text}\""), error.to_string(), None);
        }
    }
    table.finish();
    mapping
}

fn text(table: &Table<'_>, key: &'static str) -> String {
    table
        .get(key)
        .and_then(|v| v.text())
        .unwrap_or_default()
        .to_owned()
}

/// What a person wrote, to be quoted inside a sentence that ends with a period of its own.
fn quoted(words: &str) -> String {
    words.trim().trim_end_matches(['.', ' ']).to_owned()
}

fn person(table: &Table<'_>) -> Option<Person> {
    let name = table
        .need("name", "\"A. Person\"")
        .and_then(|v| v.text().map(str::to_owned));
    let person = Person {
        name: String::new(),
        role: text(table, "role"),
        qualification: text(table, "qualification"),
    };
    table.finish();
    Some(Person {
        name: name?,
        ..person
    })
}

fn equipment(table: &Table<'_>) -> Option<Equipment> {
    let what = table
        .need("what", "\"recorder\"")
        .and_then(|v| v.text().map(str::to_owned));
    let due = table.get("calibration_due").and_then(|value| {
        let text = value.text()?;
        let date = text.parse().ok();
        if date.is_none() {
            value.fault(
                format!("calibration_due = \"{text}\""),
                "a date such as \"2027-01-31\"",
                None,
            );
        }
        date
    });
    let equipment = Equipment {
        what: String::new(),
        serial: text(table, "serial"),
        certificate: text(table, "certificate"),
        calibration_due: due,
    };
    table.finish();
    Some(Equipment {
        what: what?,
        ..equipment
    })
}

fn zone(table: &Table<'_>) -> Option<Zone> {
    let power = table.need("power", "\"zone A power\"");
    let power = power.and_then(|v| v.text().map(str::to_owned));
    let thermocouples = table.need("thermocouples", "[\"TC1\", \"TC2\"]");
    let thermocouples = thermocouples.and_then(|v| v.list());
    table.finish();
    Some(Zone {
        power: power?,
        thermocouples: thermocouples?
            .iter()
            .filter_map(|name| name.text().map(str::to_owned))
            .collect(),
    })
}

/// Fewer letters than this may mean any deviation.
const FEWEST_LETTERS: usize = 10;

fn accepted(table: &Table<'_>) -> Option<Accepted> {
    let need = |key, example| {
        let value = table.need(key, example);
        value.and_then(|v| v.text().map(str::to_owned))
    };
    let deviation = table
        .need("deviation", "\"TC4 stands in the job and not in the log\"")
        .and_then(|value| {
            let words = value.text()?;
            let enough = words.trim().chars().count() >= FEWEST_LETTERS;
            if !enough {
                let allowed = format!("its first words, {FEWEST_LETTERS} letters or more");
                value.fault(format!("{words:?}"), allowed, None);
            }
            enough.then(|| words.to_owned())
        });
    let reason = need("reason", "\"never wired, see sketch\"");
    let by = need("by", "\"A. Person\"");
    table.finish();
    Some(Accepted {
        deviation: quoted(&deviation?),
        reason: quoted(&reason?),
        by: by?,
    })
}

fn disposition(table: &Table<'_>) -> Option<Disposition> {
    let need = |key, example| {
        table
            .need(key, example)
            .and_then(|v| v.text().map(str::to_owned))
    };
    let channel = need("channel", "\"TC3\"");
    let from = time!("from").need(table);
    let reason = need(
        "reason",
        "\"wire broken at the plug, seen by the operator\"",
    );
    let by = need("by", "\"A. Person\"");
    let replaced_by = table
        .get("replaced_by")
        .and_then(|v| v.text().map(str::to_owned));
    table.finish();
    Some(Disposition {
        channel: channel?,
        from: Hours::from_h(from?.value),
        reason: quoted(&reason?),
        by: by?,
        replaced_by,
    })
}
