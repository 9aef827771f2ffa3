//! Values as a person types them into a field, and as what the key of the file holds.

use quantity::Units;
use toml_edit::{Array, InlineTable, Value};

use crate::edit;
use crate::file::dimension::NotRead;
use crate::file::shape::{Key, Kind, OfBare, key_at};

/// What a person typed under a key, with its unit where it is a number alone and only one unit can be meant: that of the
/// units in which the job is written. Everything else comes back as it is, for the reader of the file to judge.
///
/// The file itself is never read so: there a number without a unit stays a fault, for nobody sees what it is taken for.
pub fn with_unit(text: &str, place: &str, typed: &str) -> String {
    let units = match edit::get(text, "units").as_str() {
        "us" => Units::Us,
        _ => Units::Si,
    };
    let key = key_at(place).filter(|key| place.ends_with(key.name));
    let unit = key.and_then(|key| {
        let Kind::Measure(measure) = &key.kind else {
            return None;
        };
        let is_bare = measure.dimension().read(typed) == Err(NotRead::NoUnit);
        match key.of_bare(units)? {
            OfBare::Unit(unit) => is_bare.then_some(unit),
            OfBare::Either(_) => None,
        }
    });
    match unit {
        Some(unit) => format!("{} {unit}", typed.trim()),
        None => typed.to_owned(),
    }
}

/// What a person typed, as what the key holds; else what is allowed. A key that `is_bare` has no unit at its end.
pub(crate) fn typed(key: &Key, is_bare: bool, new: &str) -> Result<Value, &'static str> {
    match &key.kind {
        Kind::Truth => match new {
            "true" | "yes" => Ok(true.into()),
            "false" | "no" => Ok(false.into()),
            _ => Err("yes or no"),
        },
        Kind::Number(..) => number(new).ok_or("a number"),
        Kind::Percentages => {
            percentages(new).ok_or("weight percent by element, for example C 0.10, Mn 0.45")
        }
        Kind::Texts | Kind::Measures(_) => Ok(list(new)),
        // A key that ends in a unit holds a bare number.
        Kind::Measure(_) if !is_bare => number(new).ok_or("a number"),
        _ => Ok(new.into()),
    }
}

fn number(new: &str) -> Option<Value> {
    let plain = new.replace('\u{2212}', "-");
    if let Ok(whole) = plain.parse::<i64>() {
        return Some(whole.into());
    }
    let number: f64 = plain.parse().ok()?;
    number.is_finite().then(|| number.into())
}

/// "C 0.10, Mn 0.45", "C = 0.10; Mn = 0.45", "{ C = 0.10 }".
fn percentages(new: &str) -> Option<Value> {
    let inner = new.trim().trim_start_matches('{').trim_end_matches('}');
    let mut table = InlineTable::new();
    for piece in inner
        .split([',', ';'])
        .filter(|piece| !piece.trim().is_empty())
    {
        let piece = piece.trim().trim_end_matches('%').trim_end();
        let (element, percent) = piece.split_once([' ', '=', ':'])?;
        let percent = percent.trim_start_matches([' ', '=', ':']);
        let is_word = element.chars().all(char::is_alphabetic) && !element.is_empty();
        // As it was typed, with its last zero.
        let value: Value = percent.parse().ok()?;
        let is_number = value.is_float() || value.is_integer();
        if !is_word || !is_number {
            return None;
        }
        table.insert(element, value);
    }
    (!table.is_empty()).then(|| table.into())
}

/// "TC1, TC2", or as a file writes it.
fn list(new: &str) -> Value {
    if let Ok(Value::Array(written)) = new.parse::<Value>() {
        return written.into();
    }
    let pieces = new.split(',').map(str::trim).filter(|one| !one.is_empty());
    pieces.collect::<Array>().into()
}

/// A value as a person would type it; a bare number gets the unit from the `end` of its key.
pub(crate) fn shown(end: &str, value: &Value) -> String {
    let plain = |value: &Value| {
        let mut plain = value.clone();
        plain.decor_mut().clear();
        plain.to_string()
    };
    match value {
        Value::String(text) => text.value().clone(),
        Value::Array(items) if items.iter().all(Value::is_str) => {
            let items: Vec<&str> = items.iter().filter_map(Value::as_str).collect();
            items.join(", ")
        }
        Value::InlineTable(table)
            if table
                .iter()
                .all(|(_, one)| one.is_float() || one.is_integer()) =>
        {
            let pieces = table
                .iter()
                .map(|(name, one)| format!("{name} {}", plain(one)));
            pieces.collect::<Vec<_>>().join(", ")
        }
        other if end.is_empty() => plain(other),
        other => format!("{} {}", plain(other), crate::file::unit_words(end)),
    }
}

#[cfg(test)]
mod tests {
    use super::with_unit;
    use crate::edit::{get, set};

    const SI: &str = "units = \"si\"\n";
    const US: &str = "units = \"us\"\n";

    #[test]
    fn a_number_alone_is_taken_in_the_unit_of_the_job() {
        for (place, number, si, us) in [
            ("side[1].wall", "17.5", "17.5 mm", "17.5 in"),
            (
                "side[2].outside_diameter",
                "12 3/4",
                "12 3/4 mm",
                "12 3/4 in",
            ),
            ("limits.procedure.hold_min", "600", "600 °C", "600 °F"),
            ("limits.owner.cooling_rate", "55", "55 K/h", "55 °F/h"),
            ("limits.owner.spread", "40", "40 K", "40 °F"),
            ("surroundings.ambient", "-5", "-5 °C", "-5 °F"),
            ("source.power", "35", "35 kW", "35 kW"),
            ("side[1].tensile_strength", "60", "60 MPa", "60 ksi"),
            ("coil.section[1].first", "-90", "-90 mm", "-90 in"),
        ] {
            assert_eq!(with_unit(SI, place, number), si, "{place}");
            assert_eq!(with_unit(US, place, number), us, "{place}");
            // Without a word of its units, a job is written in mm and °C.
            assert_eq!(with_unit("", place, number), si, "{place}");
        }
    }

    #[test]
    fn where_two_units_are_usual_nothing_is_guessed() {
        for (place, number) in [
            ("side[1].length", "3"),
            ("coil.lead_length", "16"),
            ("neighbor[1].axial", "-2"),
            ("limits.owner.hold_time", "90"),
            ("cycle.recording_interval", "5"),
            ("source.frequency_min", "10"),
        ] {
            assert_eq!(with_unit(SI, place, number), number, "{place}");
            assert_eq!(with_unit(US, place, number), number, "{place}");
        }
        assert_eq!(with_unit(SI, "welding.heat_input", "25"), "25");
        assert_eq!(with_unit(US, "welding.heat_input", "38"), "38 kJ/in");
    }

    #[test]
    fn what_is_no_number_alone_stays_as_it_was_typed() {
        for typed in ["17,5", "thick", "17.5 mm", "0.688 in", ""] {
            assert_eq!(with_unit(SI, "side[1].wall", typed), typed);
        }
        assert_eq!(with_unit(SI, "side[1].wall_mm", "17.5"), "17.5");
        assert_eq!(with_unit(SI, "identification.line", "600"), "600");
        assert_eq!(with_unit(SI, "nowhere", "600"), "600");
    }

    #[test]
    fn contents_and_lists_are_typed_without_the_marks_of_a_file() {
        for typed in [
            "C 0.10, Mn 0.45",
            "C = 0.10; Mn=0.45 %",
            "{ C = 0.10, Mn = 0.45 }",
        ] {
            let text = set("", "side[1].chemistry", typed).expect(typed);
            assert!(text.contains("{ C = 0.10, Mn = 0.45 }"), "{text}");
            assert_eq!(get(&text, "side[1].chemistry"), "C 0.10, Mn 0.45");
        }
        let text = set("", "zone[1].thermocouples", "TC1, TC2").expect("set");
        assert!(text.contains("[\"TC1\", \"TC2\"]"), "{text}");
        assert_eq!(get(&text, "zone[1].thermocouples"), "TC1, TC2");
    }
}
