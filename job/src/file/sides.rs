//! The two pipe sides.

use std::collections::BTreeMap;

use cycle::setup::{BoreEnd, Neighbor, Side, Transition};
use materials::{MaterialError, Metal};
use quantity::{Celsius, Millimeters};
use rules::weld::PNumber;

use crate::toml_reader::{Table, Value};
use crate::wording::dimension;

use super::measure::{length, stress, temperature};
use super::places::{SidePlaces, Silent};

/// The words of `bore_end`.
pub(crate) const BORE_ENDS: &[&str] = &["open", "closed", "plugged"];

/// The words of `next`: what the length of a side leads to.
pub(crate) const NEXT: &[&str] = &[
    "pipe_end",
    "flange",
    "valve",
    "fitting",
    "branch",
    "support",
    "coating",
    "vessel",
    "equipment",
];

/// Elements that may stand under `chemistry` and `weld_metal`, in weight percent.
pub(crate) const ELEMENTS: &[&str] = &[
    "C", "Si", "Mn", "P", "S", "Cr", "Mo", "Ni", "Cu", "V", "Nb", "N", "B", "Ti", "Al", "W", "Co",
    "As", "Sn", "Sb",
];

/// Outside diameters in mm for which the model is meant.
pub(crate) const DIAMETER_MM: (f64, f64) = (20.0, 4000.0);

/// Walls in mm for which the model is meant.
pub(crate) const WALL_MM: (f64, f64) = (1.5, 400.0);

/// Lengths in mm of a side: from a stub to as far as heat can matter and beyond.
const LENGTH_MM: (f64, f64) = (20.0, 1e6);

/// What one side says.
pub(crate) struct SideRead<'a> {
    pub model: Option<Side>,
    pub rules: Option<rules::weld::Side>,
    pub neighbor: Option<Neighbor>,
    pub places: SidePlaces<'a>,
}

/// Reads `[[side]]` number `index` (0 or 1).
pub(crate) fn read<'a>(table: Table<'a>, index: usize, silent: &Silent) -> SideRead<'a> {
    let outside = length!("outside_diameter")
        .need(&table)
        .and_then(|r| r.within(DIAMETER_MM.0, DIAMETER_MM.1));
    let wall = length!("wall")
        .need(&table)
        .and_then(|r| r.within(WALL_MM.0, WALL_MM.1));
    let side_length = length!("length")
        .need(&table)
        .and_then(|r| r.within(LENGTH_MM.0, LENGTH_MM.1));
    let bore_end = table
        .need("bore_end", "\"open\"")
        .and_then(|v| v.word_of(BORE_ENDS));
    let metal_at = table.need("metal", "\"carbon steel\"");
    let metal = metal_at.as_ref().and_then(metal_of);
    if let (Some(metal), Some(written)) = (metal, metal_at.as_ref().and_then(Value::as_text)) {
        silent.understand(&table, "metal", &metal.name, written);
    }
    let p_number_at = table.get("p_number");
    let p_number = p_number(&table, p_number_at.as_ref(), metal_at.as_ref(), silent);
    let properties = properties(&table);
    let transition = match table.get("weld_end") {
        None => Some(None),
        Some(value) => value.table().and_then(|t| transition(&t)).map(Some),
    };
    let next = next(&table, index, side_length.as_ref().map(|r| r.value), silent);
    table.get("name").and_then(|v| v.text());
    if let (Some(outside), Some(wall)) = (&outside, &wall) {
        wall_in_pipe(&wall.at, outside.value, wall.value);
    }
    table.finish();

    let mm = Millimeters::from_mm;
    let model = (|| {
        Some(Side {
            outside_diameter: mm(outside.as_ref()?.value),
            wall: mm(wall.as_ref()?.value),
            transition: transition?,
            length: mm(side_length.as_ref()?.value),
            bore_end: [BoreEnd::Open, BoreEnd::Closed, BoreEnd::Plugged][bore_end?],
            metal: metal?.clone(),
        })
    })();
    let rules = model.as_ref().zip(p_number).map(|(model, p_number)| {
        let at_weld = model.transition;
        let outside = at_weld.map_or(model.outside_diameter, |t| t.outside_diameter);
        let wall = at_weld.map_or(model.wall, |t| t.wall);
        properties.of_side(outside, wall, p_number)
    });
    let places = SidePlaces {
        wall: wall.map(|r| r.at),
        p_number: p_number_at.or(metal_at),
        table,
    };
    SideRead {
        model,
        rules,
        neighbor: next,
        places,
    }
}

/// What the rules ask of a metal beside its P-number.
pub(crate) struct Properties {
    chemistry: BTreeMap<String, f64>,
    tensile_strength_mpa: Option<f64>,
    tempered_at: Option<Celsius>,
    cladding: Option<Millimeters>,
}

pub(crate) fn properties(table: &Table<'_>) -> Properties {
    let tensile = stress!("tensile_strength")
        .get(table)
        .and_then(|r| r.within(200.0, 2000.0));
    let tempered_at = temperature!("tempered_at")
        .get(table)
        .and_then(|r| r.within(400.0, 1000.0));
    let cladding = length!("cladding")
        .get(table)
        .and_then(|r| r.within(0.5, 50.0));
    Properties {
        chemistry: contents(table, "chemistry"),
        tensile_strength_mpa: tensile.map(|r| r.value),
        tempered_at: tempered_at.map(|r| Celsius::from_c(r.value)),
        cladding: cladding.map(|r| Millimeters::from_mm(r.value)),
    }
}

impl Properties {
    /// The side with its measures at the weld.
    pub(crate) fn of_side(
        self,
        outside_diameter: Millimeters,
        wall: Millimeters,
        p_number: PNumber,
    ) -> rules::weld::Side {
        rules::weld::Side {
            outside_diameter,
            wall,
            p_number,
            chemistry: self.chemistry,
            tensile_strength_mpa: self.tensile_strength_mpa,
            tempered_at: self.tempered_at,
            cladding: self.cladding,
        }
    }
}

fn wall_in_pipe(at: &Value<'_>, outside_mm: f64, wall_mm: f64) {
    let radius_mm = 0.5 * outside_mm;
    if wall_mm >= radius_mm {
        let words = |mm: f64| dimension(Millimeters::from_mm(mm), at.units());
        let allowed = format!("less than the radius, {}", words(radius_mm));
        let hint = Some("check the unit of the wall and of the outside diameter".into());
        at.fault(format!("a wall of {}", words(wall_mm)), allowed, hint);
    }
}

pub(crate) fn metal_of(value: &Value<'_>) -> Option<&'static Metal> {
    let name = value.text()?;
    let refused = match materials::metal(name) {
        Ok(metal) => return Some(metal),
        Err(refused) => refused,
    };
    if let MaterialError::UnknownGrade {
        standard, grades, ..
    } = &refused
    {
        let known = format!("a known grade of {standard}: {}", grades.join(", "));
        value.fault(format!("{name:?}"), known, None);
        return None;
    }
    let known: Vec<&str> = materials::metals()
        .iter()
        .map(|m| m.name.as_str())
        .collect();
    value.fault(
        format!("{name:?}"),
        format!("a known metal: {}", known.join(", ")),
        hint_of(&refused),
    );
    None
}

/// What a material's refusal advises.
pub(crate) fn hint_of(refused: &MaterialError) -> Option<String> {
    match refused {
        MaterialError::Unknown { suggestions, .. } => {
            let near: Vec<String> = suggestions
                .iter()
                .take(3)
                .map(|s| format!("{s:?}"))
                .collect();
            (!near.is_empty()).then(|| format!("did you mean {}?", near.join(" or ")))
        }
        other => Some(other.to_string()),
    }
}

/// The P-number as given, or the one that the metal has.
pub(crate) fn p_number(
    table: &Table<'_>,
    given: Option<&Value<'_>>,
    metal_at: Option<&Value<'_>>,
    silent: &Silent,
) -> Option<PNumber> {
    let group_at = table.get("group");
    let group = group_at
        .as_ref()
        .and_then(|v| v.number_within(1.0, 9.0))
        .map(|g| g as u8);
    let called = metal_at.and_then(Value::as_text).unwrap_or_default();
    let metal = materials::metal(called).ok();
    let of_metal = metal.map_or(&[][..], |metal| metal.p_numbers_of(called));
    let Some(value) = given else {
        return match of_metal {
            [only] => {
                silent.take(table, "p_number", format!("{only}, from the metal"));
                let number = bare_number(only);
                Some(PNumber { number, group })
            }
            _ => {
                let metal = metal?;
                let other = !metal.p_numbers.is_empty();
                let hint = format!("{called:?} has not the P-number of {}", metal.name);
                table.note_missing("p_number", "\"1\"", other.then_some(hint));
                None
            }
        };
    };
    let written = value.text()?;
    let (number, beside) = number_and_group(written);
    let known = match beside {
        Some(group) => format!("{number}, group {group}"),
        None => number.clone(),
    };
    silent.understand(table, "p_number", &known, written);
    if beside.is_some() && group.is_some() && beside != group {
        let found = format!("{value} beside group = {}", group.unwrap_or_default());
        value.fault(found, "one group", None);
        return None;
    }
    if !of_metal.is_empty() && !of_metal.iter().any(|p| bare_number(p) == number) {
        let metal = metal.map(|m| m.name.as_str()).unwrap_or_default();
        let hint = Some("metal and P-number must be of one side".into());
        value.fault(
            format!("P-No. {number} for {metal}"),
            of_metal.join(" or "),
            hint,
        );
        return None;
    }
    let group = group.or(beside);
    Some(PNumber { number, group })
}

/// "P-No. 1 Gr. 2" is number 1 of group 2.
fn number_and_group(text: &str) -> (String, Option<u8>) {
    let upper = text.to_uppercase();
    let Some((number, group)) = upper.split_once("GR") else {
        return (bare_number(text), None);
    };
    let digits = group.trim_start_matches(|c: char| !c.is_ascii_digit());
    match digits.trim().parse::<u8>() {
        Ok(group @ 1..=9) => {
            let number = number.trim_end_matches([' ', ',', '-']);
            (bare_number(number), Some(group))
        }
        _ => (bare_number(text), None),
    }
}

/// "P-15E", "P-No. 15E", "P15E" and "15e" are all 15E.
fn bare_number(text: &str) -> String {
    let upper = text.trim().to_uppercase();
    let rest = upper
        .strip_prefix('P')
        .unwrap_or(&upper)
        .trim_start_matches(['-', ' ']);
    rest.strip_prefix("NO")
        .unwrap_or(rest)
        .trim_start_matches(['.', '-', ' '])
        .to_owned()
}

/// Weight percent by element under a key; empty where it is left out.
pub(crate) fn contents(table: &Table<'_>, key: &'static str) -> BTreeMap<String, f64> {
    let at = table.get(key);
    let Some(elements) = at.as_ref().and_then(|v| v.table()) else {
        return BTreeMap::new();
    };
    let percent = |element: &&'static str| {
        let value = elements.get(element)?.number_within(0.0, 100.0)?;
        Some(((*element).to_owned(), value))
    };
    let read: BTreeMap<String, f64> = ELEMENTS.iter().filter_map(percent).collect();
    elements.finish();
    let sum: f64 = read.values().sum();
    if let Some(at) = at.filter(|_| sum > 100.0) {
        let hint = "contents are weight percent, and iron is the rest".to_owned();
        at.fault(format!("{sum:.1} % in all"), "at most 100 %", Some(hint));
    }
    read
}

fn transition(table: &Table<'_>) -> Option<Transition> {
    let outside = length!("outside_diameter")
        .need(table)
        .and_then(|r| r.within(DIAMETER_MM.0, DIAMETER_MM.1));
    let wall = length!("wall")
        .need(table)
        .and_then(|r| r.within(WALL_MM.0, WALL_MM.1));
    let straight = length!("straight")
        .need(table)
        .and_then(|r| r.within(0.0, 1000.0));
    let taper = length!("taper")
        .need(table)
        .and_then(|r| r.within(0.0, 1000.0));
    if let (Some(outside), Some(wall)) = (&outside, &wall) {
        wall_in_pipe(&wall.at, outside.value, wall.value);
    }
    table.finish();
    Some(Transition {
        outside_diameter: Millimeters::from_mm(outside?.value),
        wall: Millimeters::from_mm(wall?.value),
        straight: Millimeters::from_mm(straight?.value),
        length: Millimeters::from_mm(taper?.value),
    })
}

/// What the side leads to; nothing where it is a plain end.
fn next(
    table: &Table<'_>,
    index: usize,
    length_mm: Option<f64>,
    silent: &Silent,
) -> Option<Neighbor> {
    let word = match table.get("next") {
        Some(value) => value.word_of(NEXT),
        None => {
            silent.take(table, "next", NEXT[0]);
            Some(0)
        }
    };
    let name = table
        .get("next_name")
        .and_then(|v| v.text())
        .map(str::to_owned);
    let most = temperature!("next_max")
        .get(table)
        .and_then(|r| r.within(0.0, 1000.0));
    let kind = NEXT[word?];
    if word == Some(0) && name.is_none() && most.is_none() {
        return None;
    }
    let sign = if index == 0 { -1.0 } else { 1.0 };
    Some(Neighbor {
        name: name.unwrap_or_else(|| kind.replace('_', " ")),
        axial: Millimeters::from_mm(sign * length_mm?),
        limit: most.map(|r| Celsius::from_c(r.value)),
    })
}
