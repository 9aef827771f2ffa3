//! From the text of a section file to a problem, or to every fault in it.

mod bodies;
mod coils;
mod edges;
mod law;
mod materials;
mod needs;
mod rows;
mod shape;
#[cfg(test)]
mod tests;

use field::section::{Outer, Symmetry};

use super::problem::{Heat, SectionProblem};
use crate::toml_reader::{Fault, Faults, Table, Value, nearest};

/// Temperature in °C at which the properties of a problem without heat are taken when its file names none, and from
/// which a steady state is sought.
const ROOM_TEMPERATURE_C: f64 = 20.0;

/// Absolute zero in °C: no temperature lies below it.
const ABSOLUTE_ZERO_C: f64 = -273.15;

/// Reads a section file.
///
/// # Errors
/// All faults of the file in the order of their lines.
pub fn read(file: &str, text: &str) -> Result<SectionProblem, Vec<Fault>> {
    let faults = Faults::new(file, text);
    let parsed = faults.parse(text);
    let problem = problem(file, &Table::root(&parsed, &faults), &faults);
    shape::check(&problem, &faults);
    match faults.is_empty() {
        true => Ok(problem),
        false => Err(faults.into_list()),
    }
}

/// The problem as far as it can be read: what is faulty is noted and stands in it as an empty or default value, so
/// that what refers to it can still be read.
fn problem(file: &str, root: &Table<'_>, faults: &Faults) -> SectionProblem {
    let text = |value: Option<Value<'_>>| value.and_then(|value| value.text().map(str::to_owned));
    let title = text(root.need("title", "a text"));
    let source = text(root.need("source", "a text: author, year, where"));
    let known_wrong = text(root.get("known_wrong"));
    let symmetry = root
        .need("symmetry", "\"axisymmetric\" or \"planar\"")
        .and_then(|value| value.word_of(&["axisymmetric", "planar"]))
        .map(|number| [Symmetry::Axisymmetric, Symmetry::Planar][number]);
    let frequency = root.get("frequency_hz");
    let outer = outer(root, frequency.is_some());
    let temperature_c = root
        .get("temperature_c")
        .and_then(|value| temperature(&value));
    let heat = root
        .get("heat")
        .and_then(|value| Some(heat(&value.table()?)));

    let materials = materials::read(root);
    let bodies = bodies::read(root, &materials);
    let coils = coils::read(root);
    let edges = edges::read(root, heat);
    let mut problem = SectionProblem {
        file: file.to_owned(),
        title: title.unwrap_or_default(),
        source: source.unwrap_or_default(),
        known_wrong,
        symmetry: symmetry.unwrap_or(Symmetry::Planar),
        outer,
        // A frequency that cannot be read still makes this a problem of a field.
        frequency_hz: frequency.map(|value| value.number_above(0.0).unwrap_or(f64::NAN)),
        temperature_c: temperature_c.unwrap_or(ROOM_TEMPERATURE_C),
        materials,
        bodies,
        coils,
        edges,
        heat,
        rows: Vec::new(),
    };
    problem.rows = rows::read(root, &problem);
    needs::check(root, &problem, faults);
    root.finish();
    problem
}

/// What lies beyond the bodies: needed for a field, of no consequence for heat alone.
fn outer(root: &Table<'_>, with_field: bool) -> Outer {
    let value = match with_field {
        true => root.need("outer", "\"far\" or \"natural\""),
        false => root.get("outer"),
    };
    let number = value.and_then(|value| value.word_of(&["far", "natural"]));
    number.map_or(Outer::Natural, |number| {
        [Outer::Far, Outer::Natural][number]
    })
}

fn heat(table: &Table<'_>) -> Heat {
    let end = table.get("end_s");
    let initial = match end {
        Some(_) => table.need("initial_c", "the temperature at the start in °C"),
        None => table.get("initial_c"),
    };
    let heat = Heat {
        initial_c: initial
            .and_then(|value| temperature(&value))
            .unwrap_or(ROOM_TEMPERATURE_C),
        end_s: end.map(|value| value.number_above(0.0).unwrap_or(f64::INFINITY)),
    };
    table.finish();
    heat
}

/// A temperature in °C.
fn temperature(value: &Value<'_>) -> Option<f64> {
    value.number_within(ABSOLUTE_ZERO_C, f64::INFINITY)
}

/// The number of a name among those of the file.
fn named<'n>(
    value: &Value<'_>,
    kind: &str,
    names: impl Iterator<Item = &'n str> + Clone,
) -> Option<usize> {
    let text = value.text()?;
    let number = names.clone().position(|name| name == text);
    if number.is_none() {
        let known = names
            .clone()
            .map(|name| format!("{name:?}"))
            .collect::<Vec<_>>();
        let allowed = match known.as_slice() {
            [] => format!("the name of a {kind}, and the file has none with a name"),
            _ => format!("the name of a {kind}: {}", known.join(", ")),
        };
        let hint = nearest(text, names).map(|name| format!("did you mean {name:?}?"));
        value.fault(format!("{text:?}"), allowed, hint);
    }
    number
}

/// The name of a table, which no other of its kind may bear; empty where it cannot be read.
fn own_name<'n>(table: &Table<'_>, kind: &str, taken: impl IntoIterator<Item = &'n str>) -> String {
    let Some(value) = table.need("name", "a text") else {
        return String::new();
    };
    let name = value.text().unwrap_or_default();
    if !name.is_empty() && taken.into_iter().any(|other| other == name) {
        value.fault(
            format!("a second {kind} {name:?}"),
            "a name of its own",
            None,
        );
    }
    name.to_owned()
}
