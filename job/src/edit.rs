//! Changing single values of a job file as a person would: everything else stays, comments too.

use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, value};

use cycle::setup::Turn;

use crate::file::shape::{Key, TABLES, Times};
use crate::typed::{shown, typed};

/// Why a value cannot be put into a file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    /// The text is no TOML, so nothing can be found in it.
    #[error("the file is no whole TOML file: {problem}; put that right in the file itself first")]
    NoToml {
        /// What is wrong.
        problem: String,
    },
    /// No key of that name.
    #[error("{place:?} is no key of a job file")]
    UnknownPlace {
        /// The place asked for.
        place: String,
    },
    /// The value cannot be what the key holds.
    #[error("{place}: found {found:?}; allowed: {allowed}")]
    BadValue {
        /// The place.
        place: String,
        /// What was found.
        found: String,
        /// What is allowed.
        allowed: &'static str,
    },
}

/// A key of a file by its place, as faults name it: `code`, `weld.cap_width`, `side[2].wall`, `coil.section[1].pitch`.
#[derive(Debug)]
struct Place {
    /// Tables on the way, each with its number from 1 where it stands several times.
    tables: Vec<(String, Option<usize>)>,
    key: &'static Key,
    /// A unit at the end of the key as it was asked for, `_mm`.
    spelling: String,
}

/// Puts a value into a file; an empty one takes the key away. A measure is a text with its unit.
///
/// # Errors
/// [`EditError`]; whether the value is right is for the reader of the file to say.
pub fn set(text: &str, place: &str, new: &str) -> Result<String, EditError> {
    let mut document = parsed(text)?;
    let place = find(place)?;
    let table = reach(
        document.as_table_mut(),
        &place.tables,
        !new.trim().is_empty(),
    );
    let Some(table) = table else {
        return Ok(text.to_owned());
    };
    let others: Vec<String> = place.key.spellings();
    if new.trim().is_empty() {
        others.iter().for_each(|key| drop(table.remove(key)));
        return Ok(document.to_string());
    }
    let spelling = place.spelling.clone();
    let is_bare = place.spelling == place.key.name;
    let new = typed(place.key, is_bare, new.trim()).map_err(|allowed| EditError::BadValue {
        place: place.key.name.to_owned(),
        found: new.trim().to_owned(),
        allowed,
    })?;
    others
        .iter()
        .filter(|key| **key != spelling)
        .for_each(|key| drop(table.remove(key)));
    match table.get_mut(&spelling).and_then(Item::as_value_mut) {
        Some(old) => {
            // The blanks and the comment behind the old value stay.
            let decor = old.decor().clone();
            *old = new;
            *old.decor_mut() = decor;
        }
        None => drop(table.insert(&spelling, value(new))),
    }
    Ok(document.to_string())
}

/// The value at a place as a person would type it; empty where the file has none.
pub fn get(text: &str, place: &str) -> String {
    let Ok(mut document) = parsed(text) else {
        return String::new();
    };
    let Ok(place) = find(place) else {
        return String::new();
    };
    let Some(table) = reach(document.as_table_mut(), &place.tables, false) else {
        return String::new();
    };
    let spelled = place.key.spellings().into_iter().find_map(|key| {
        let end = key
            .strip_prefix(place.key.name)
            .unwrap_or_default()
            .trim_start_matches('_')
            .to_owned();
        Some((end, table.get(&key)?.as_value()?.clone()))
    });
    spelled
        .map(|(end, value)| shown(&end, &value))
        .unwrap_or_default()
}

/// How many tables of a path the file has.
pub fn count(text: &str, path: &str) -> usize {
    let Ok(document) = parsed(text) else { return 0 };
    let mut item = Some(document.as_item());
    for step in path.split('.') {
        item = item.and_then(|item| item.get(step));
    }
    match item {
        Some(Item::ArrayOfTables(tables)) => tables.len(),
        Some(item) => item
            .as_array()
            .map_or(usize::from(item.is_table_like()), Array::len),
        None => 0,
    }
}

/// Puts a whole coil into a file, as few sections of one pitch as say the same; a wish for a proposal goes.
///
/// # Errors
/// [`EditError::NoToml`].
pub fn set_turns(text: &str, turns: &[Turn]) -> Result<String, EditError> {
    let mut document = parsed(text)?;
    let in_inches = document.get("units").and_then(Item::as_str) == Some("us");
    let length = |mm: f64| length(mm, in_inches);
    let mut sections = ArrayOfTables::new();
    for run in runs(turns) {
        let mut section = Table::new();
        section.insert("turns", value(run.len() as i64));
        section.insert("first", value(length(run[0].axial.mm())));
        if run.len() > 1 {
            section.insert(
                "pitch",
                value(length(run[1].axial.mm() - run[0].axial.mm())),
            );
        }
        section.insert("standoff", value(length(run[0].standoff.mm())));
        sections.push(section);
    }
    let coil = document.entry("coil").or_insert(Item::Table(Table::new()));
    if let Some(coil) = coil.as_table_like_mut() {
        coil.remove("turns");
        coil.remove("section");
        coil.insert("section", Item::ArrayOfTables(sections));
    }
    Ok(document.to_string())
}

/// Takes the turns away and asks for a proposal.
///
/// # Errors
/// [`EditError::NoToml`].
pub fn propose_turns(text: &str) -> Result<String, EditError> {
    let mut document = parsed(text)?;
    let coil = document.entry("coil").or_insert(Item::Table(Table::new()));
    if let Some(coil) = coil.as_table_like_mut() {
        coil.remove("section");
        coil.insert("turns", value("propose"));
    }
    Ok(document.to_string())
}

/// Adds one more table to a list (`thermocouple`, `coil.section`), empty.
///
/// # Errors
/// [`EditError`].
pub fn add_table(text: &str, path: &str) -> Result<String, EditError> {
    let is_list = TABLES
        .iter()
        .any(|table| table.path == path && table.times == Times::Many);
    if !is_list {
        return Err(EditError::UnknownPlace {
            place: path.to_owned(),
        });
    }
    let mut document = parsed(text)?;
    let number = count(text, path) + 1;
    let mut way: Vec<(String, Option<usize>)> = path
        .split('.')
        .map(|step| (step.to_owned(), None))
        .collect();
    if let Some(last) = way.last_mut() {
        last.1 = Some(number);
    }
    reach(document.as_table_mut(), &way, true);
    Ok(document.to_string())
}

/// Takes one table of a list away (`thermocouple[3]`).
///
/// # Errors
/// [`EditError`].
pub fn drop_table(text: &str, place: &str) -> Result<String, EditError> {
    let unknown = || EditError::UnknownPlace {
        place: place.to_owned(),
    };
    let mut document = parsed(text)?;
    let way: Option<Vec<_>> = place.split('.').map(step).collect();
    let way = way.ok_or_else(unknown)?;
    let ((name, number), outer) = way.split_last().ok_or_else(unknown)?;
    let number = number.ok_or_else(unknown)?;
    let table = reach(document.as_table_mut(), outer, false).ok_or_else(unknown)?;
    match table.get_mut(name) {
        Some(Item::ArrayOfTables(tables)) if number <= tables.len() => {
            drop(tables.remove(number - 1))
        }
        Some(item) => match item.as_array_mut() {
            Some(list) if number <= list.len() => drop(list.remove(number - 1)),
            _ => return Err(unknown()),
        },
        None => return Err(unknown()),
    }
    Ok(document.to_string())
}

/// Neighbors of one pitch and one standoff, to a tenth of a millimeter.
fn runs(turns: &[Turn]) -> Vec<Vec<Turn>> {
    let mut sorted = turns.to_vec();
    sorted.sort_by(|a, b| a.axial.mm().total_cmp(&b.axial.mm()));
    let tenths = |mm: f64| (10.0 * mm).round() as i64;
    let mut runs: Vec<Vec<Turn>> = Vec::new();
    for turn in sorted {
        let fits = runs.last().is_some_and(|run| {
            let last = run[run.len() - 1];
            let same_standoff = tenths(last.standoff.mm()) == tenths(turn.standoff.mm());
            let pitch = tenths(turn.axial.mm() - last.axial.mm());
            let same_pitch =
                run.len() < 2 || tenths(run[1].axial.mm() - run[0].axial.mm()) == pitch;
            same_standoff && same_pitch
        });
        match runs.last_mut() {
            Some(run) if fits => run.push(turn),
            _ => runs.push(vec![turn]),
        }
    }
    runs
}

/// A length to a tenth of a millimeter, or to a thousandth of an inch.
fn length(mm: f64, in_inches: bool) -> String {
    let (value, parts, unit) = if in_inches {
        (mm / 25.4, 1000.0, "in")
    } else {
        (mm, 10.0, "mm")
    };
    let rounded = (parts * value).round() / parts;
    // No "-0".
    format!("{} {unit}", if rounded == 0.0 { 0.0 } else { rounded })
}

fn parsed(text: &str) -> Result<DocumentMut, EditError> {
    text.parse()
        .map_err(|error: toml_edit::TomlError| EditError::NoToml {
            problem: error.message().to_owned(),
        })
}

fn find(place: &str) -> Result<Place, EditError> {
    let unknown = || EditError::UnknownPlace {
        place: place.to_owned(),
    };
    let mut steps: Vec<&str> = place.split('.').collect();
    let asked = steps.pop().ok_or_else(unknown)?;
    let tables: Option<Vec<_>> = steps.into_iter().map(step).collect();
    let tables = tables.ok_or_else(unknown)?;
    let path: Vec<&str> = tables.iter().map(|(name, _)| name.as_str()).collect();
    let shape = TABLES
        .iter()
        .find(|table| table.path == path.join("."))
        .ok_or_else(unknown)?;
    let key = shape
        .keys
        .iter()
        .find(|key| key.spellings().iter().any(|s| s == asked))
        .ok_or_else(unknown)?;
    let numbered = tables.iter().enumerate().all(|(depth, (_, number))| {
        let path = path[..=depth].join(".");
        let many = TABLES
            .iter()
            .find(|t| t.path == path)
            .is_some_and(|t| matches!(t.times, Times::Twice | Times::Many));
        many == number.is_some()
    });
    match numbered {
        true => Ok(Place {
            tables,
            key,
            spelling: asked.to_owned(),
        }),
        false => Err(unknown()),
    }
}

fn step(step: &str) -> Option<(String, Option<usize>)> {
    match step.split_once('[') {
        None => Some((step.to_owned(), None)),
        Some((name, rest)) => {
            let number: usize = rest.strip_suffix(']')?.parse().ok()?;
            (1..=1000)
                .contains(&number)
                .then(|| (name.to_owned(), Some(number)))
        }
    }
}

/// The table at the end of a way; missing ones are made where that is wanted.
fn reach<'d>(
    table: &'d mut dyn TableLike,
    way: &[(String, Option<usize>)],
    make: bool,
) -> Option<&'d mut dyn TableLike> {
    let Some(((name, number), rest)) = way.split_first() else {
        return Some(table);
    };
    if table.get(name).is_none() {
        if !make {
            return None;
        }
        let new = match number {
            Some(_) => Item::ArrayOfTables(ArrayOfTables::new()),
            None => {
                let mut new = Table::new();
                new.set_implicit(!rest.is_empty());
                Item::Table(new)
            }
        };
        table.insert(name, new);
    }
    let item = table.get_mut(name)?;
    let next: &mut dyn TableLike = match (number, item) {
        (None, item) => item.as_table_like_mut()?,
        (Some(number), Item::ArrayOfTables(tables)) => {
            while make && tables.len() < *number {
                tables.push(Table::new());
            }
            tables.get_mut(number - 1)?
        }
        (Some(number), item) => {
            let list = item.as_array_mut()?;
            while make && list.len() < *number {
                list.push(InlineTable::new());
            }
            list.get_mut(number - 1)?.as_inline_table_mut()?
        }
    };
    reach(next, rest, make)
}

#[cfg(test)]
mod tests {
    use quantity::Millimeters;

    use super::*;

    const FILE: &str = "# A weld.\npurpose = \"stress_relief\" # why\n\n[weld]\ncap_width_mm = 20 # wide\n\n[[side]]\nwall = \"10 mm\"\n\n[[side]] # the second\nwall   = \"12 mm\" # from the certificate\n";

    #[test]
    fn one_value_changes_and_the_comments_stay() {
        let text = set(FILE, "side[2].wall", "0.5 in").expect("set");
        assert_eq!(text, FILE.replace("\"12 mm\"", "\"0.5 in\""));
    }

    #[test]
    fn turns_are_written_in_the_units_of_the_job() {
        let turns = [-25.4, 25.4].map(|mm| Turn {
            axial: Millimeters::from_mm(mm),
            standoff: Millimeters::from_mm(50.8),
        });
        let text = set_turns("units = \"us\"\n", &turns).expect("set");
        for part in [
            "first = \"-1 in\"",
            "pitch = \"2 in\"",
            "standoff = \"2 in\"",
        ] {
            assert!(text.contains(part), "{text}");
        }
        assert!(set_turns("", &turns).expect("set").contains("50.8 mm"));
    }

    #[test]
    fn another_spelling_of_the_same_key_goes() {
        let text = set(FILE, "weld.cap_width", "21 mm").expect("set");
        assert!(
            !text.contains("cap_width_mm") && text.contains("cap_width = \"21 mm\""),
            "{text}"
        );
        assert_eq!(get(FILE, "weld.cap_width"), "20 mm");
        assert_eq!(get(&text, "weld.cap_width"), "21 mm");
    }

    #[test]
    fn missing_tables_are_made_and_an_empty_value_takes_the_key_away() {
        let text = set(FILE, "limits.procedure.hold_min", "600 °C").expect("set");
        assert!(
            text.contains("[limits.procedure]\nhold_min = \"600 °C\""),
            "{text}"
        );
        let text = set(&text, "limits.procedure.hold_min", "").expect("taken away");
        assert!(!text.contains("hold_min"));
        let text = set(FILE, "coil.section[1].turns", "7").expect("set");
        assert!(text.contains("[[coil.section]]\nturns = 7"), "{text}");
        assert_eq!(count(&text, "coil.section"), 1);
        assert_eq!(set(FILE, "cycle.start", " "), Ok(FILE.to_owned()));
    }

    #[test]
    fn places_that_no_job_file_has_are_refused() {
        for place in [
            "",
            "x",
            "side.wall",
            "side[0].wall",
            "weld[1].cap_width",
            "side[1].wall_kg",
            "side[9999].wall",
        ] {
            assert!(
                matches!(set(FILE, place, "1"), Err(EditError::UnknownPlace { .. })),
                "{place}"
            );
        }
        assert!(matches!(
            set("a = ", "code", "x"),
            Err(EditError::NoToml { .. })
        ));
        assert!(matches!(
            set(FILE, "side[1].group", "x"),
            Err(EditError::BadValue { .. })
        ));
        assert!(matches!(
            set(FILE, "side[1].chemistry", "C"),
            Err(EditError::BadValue { .. })
        ));
    }

    #[test]
    fn turns_become_as_few_sections_as_say_the_same() {
        let turn = |mm: f64, standoff: f64| Turn {
            axial: Millimeters::from_mm(mm),
            standoff: Millimeters::from_mm(standoff),
        };
        let turns = [
            turn(-60.0, 25.0),
            turn(-30.0, 25.0),
            turn(0.0, 25.0),
            turn(50.0, 25.0),
            turn(80.0, 30.0),
        ];
        let text =
            set_turns("[coil]\nturns = \"propose\" # yet\ncable = \"x\"\n", &turns).expect("set");
        assert!(!text.contains("propose"));
        assert_eq!(count(&text, "coil.section"), 3);
        assert_eq!(get(&text, "coil.section[1].turns"), "3");
        assert_eq!(get(&text, "coil.section[1].pitch"), "30 mm");
        assert_eq!(get(&text, "coil.section[2].first"), "50 mm");
        assert_eq!(get(&text, "coil.section[3].standoff"), "30 mm");
    }
}
