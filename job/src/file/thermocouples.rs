//! Thermocouples given one by one, or asked to be proposed.

use quantity::Millimeters;
use rules::thermocouple::{Face, Place, Role, Thermocouple};

use crate::toml_reader::Table;

use super::clock;
use super::measure::length;
use super::places::Silent;

/// The words of `role`.
pub(crate) const ROLES: &[&str] = &["control", "monitor", "spare"];

/// The words of `face`.
pub(crate) const FACES: &[&str] = &["outside", "bore"];

/// The words of `place`.
pub(crate) const PLACES: &[&str] = &["soak_band", "heated_band_edge", "neighbor"];

/// Reads `[[thermocouple]]`; `None` asks for a proposal. The tables come back for later faults.
pub(crate) fn read<'a>(
    root: &Table<'a>,
    silent: &Silent,
) -> (Option<Vec<Thermocouple>>, Vec<Table<'a>>) {
    let propose = root
        .get("thermocouples")
        .and_then(|v| v.word_of(&["propose"]))
        .is_some();
    let tables = root.tables("thermocouple");
    if propose && !tables.is_empty() {
        root.note(
            "thermocouples to be proposed beside a list of them".into(),
            "one of the two".into(),
            None,
        );
    }
    if tables.is_empty() {
        if !propose {
            silent.take(root, "thermocouples", "propose");
        }
        return (None, tables);
    }
    let read: Vec<Thermocouple> = tables
        .iter()
        .enumerate()
        .filter_map(|(i, t)| one(t, i))
        .collect();
    names_differ(&read, &tables);
    if read.len() == tables.len() && !read.iter().any(controls) {
        let allowed = "at least one with role = \"control\" on the outside of the soak band";
        root.note("no control thermocouple".into(), allowed.into(), None);
    }
    (Some(read), tables)
}

fn controls(thermocouple: &Thermocouple) -> bool {
    thermocouple.role == Role::Control
        && thermocouple.face == Face::Outside
        && thermocouple.place == Place::SoakBand
        && thermocouple.fitted
}

fn one(table: &Table<'_>, index: usize) -> Option<Thermocouple> {
    let name = table.get("name").map(|v| v.text().map(str::to_owned));
    let role = table
        .need("role", "\"control\"")
        .and_then(|v| v.word_of(ROLES));
    let face = table.get("face").map_or(Some(0), |v| v.word_of(FACES));
    let place = table.get("place").map_or(Some(0), |v| v.word_of(PLACES));
    let axial = length!("axial").need(table);
    let clock = table.need("clock", "12").and_then(|v| clock::read(&v));
    let fitted = table.get("fitted").map_or(Some(true), |v| v.boolean());
    let reason = table
        .get("reason")
        .and_then(|v| v.text())
        .unwrap_or("given in the job file");
    table.finish();
    Some(Thermocouple {
        name: name.unwrap_or_else(|| Some(format!("TC{}", index + 1)))?,
        role: [Role::Control, Role::Monitor, Role::Spare][role?],
        face: [Face::Outside, Face::Bore][face?],
        axial: Millimeters::from_mm(axial?.value),
        clock: clock?,
        place: [Place::SoakBand, Place::HeatedBandEdge, Place::Neighbor][place?],
        reason: reason.to_owned(),
        fitted: fitted?,
    })
}

fn names_differ(read: &[Thermocouple], tables: &[Table<'_>]) {
    for (index, thermocouple) in read.iter().enumerate() {
        if read[..index]
            .iter()
            .any(|other| other.name == thermocouple.name)
        {
            let found = format!("a second thermocouple named {}", thermocouple.name);
            tables[index].note(found, "a name of its own for each".into(), None);
        }
    }
}
