//! The two sides of a weld of which only the needs are asked: no lengths, no bore; a plate may be flat.

use quantity::Millimeters;
use rules::joint::JointForm;
use rules::weld::{PNumber, Side};

use crate::toml_reader::{Table, Value};

use super::measure::{length, temperature};
use super::places::{SidePlaces, Silent};
use super::sides::{self, DIAMETER_MM, WALL_MM};

/// What one side says.
pub(crate) struct NeedSide<'a> {
    pub rules: Option<Side>,
    pub name: String,
    pub places: SidePlaces<'a>,
}

/// Keys that a plan reads and a need does not.
const OF_A_PLAN: [&str; 5] = ["bore_end", "next", "next_name", "name", "metal"];

pub(crate) fn read<'a>(table: Table<'a>, form: JointForm, silent: &Silent) -> NeedSide<'a> {
    for key in OF_A_PLAN {
        table.get(key);
    }
    length!("length").is_in(&table);
    temperature!("next_max").is_in(&table);
    let at_weld = table.get("weld_end").and_then(|v| v.table());
    let measures = at_weld.as_ref().unwrap_or(&table);
    let outside = outside(measures, form);
    let wall = length!("wall")
        .need(measures)
        .and_then(|r| r.within(WALL_MM.0, WALL_MM.1));
    if let Some(end) = &at_weld {
        length!("straight").is_in(end);
        length!("taper").is_in(end);
        length!("wall").is_in(&table);
        length!("outside_diameter").is_in(&table);
        end.finish();
    }
    let p_number_at = table.get("p_number");
    let metal_at = table.get("metal");
    let p_number = p_number(&table, p_number_at.as_ref(), metal_at.as_ref(), silent);
    let properties = sides::properties(&table);
    let given = table.get("name").and_then(|v| v.as_text());
    let metal = metal_at.as_ref().and_then(Value::as_text);
    let name = match (given, metal) {
        (Some(name), _) => name.to_owned(),
        (None, metal) => metal.map(metal_words).unwrap_or_default(),
    };
    table.finish();
    let rules = (|| {
        let wall = Millimeters::from_mm(wall.as_ref()?.value);
        Some(properties.of_side(outside?, wall, p_number?))
    })();
    NeedSide {
        rules,
        name,
        places: SidePlaces {
            wall: wall.map(|r| r.at),
            p_number: p_number_at.or(metal_at),
            table,
        },
    }
}

/// A metal as it is written, with what it is taken for.
fn metal_words(written: &str) -> String {
    match materials::metal(written) {
        Ok(metal) if !metal.name.eq_ignore_ascii_case(written.trim()) => {
            format!("{written} ({})", metal.name)
        }
        _ => written.to_owned(),
    }
}

/// The outside diameter; infinite for a flat plate, which a girth weld cannot have.
fn outside(table: &Table<'_>, form: JointForm) -> Option<Millimeters> {
    let key = length!("outside_diameter");
    if !form.is_girth() && !key.is_in(table) {
        return Some(Millimeters::from_mm(f64::INFINITY));
    }
    let read = key
        .need(table)
        .and_then(|r| r.within(DIAMETER_MM.0, DIAMETER_MM.1))?;
    Some(Millimeters::from_mm(read.value))
}

/// The P-number as given; else that of the metal, where the metal is known. A metal that is not kept may be named
/// beside its P-number.
fn p_number(
    table: &Table<'_>,
    given: Option<&Value<'_>>,
    metal_at: Option<&Value<'_>>,
    silent: &Silent,
) -> Option<PNumber> {
    let known = metal_at
        .and_then(|v| v.as_text())
        .and_then(|name| materials::metal(name).ok());
    if given.is_none() && known.is_none() {
        let Some(metal_at) = metal_at else {
            table.note_missing("p_number", "\"1\"", None);
            return None;
        };
        return sides::metal_of(metal_at).and(None);
    }
    sides::p_number(table, given, metal_at, silent)
}
