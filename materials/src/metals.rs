//! All metals, and finding one by the names that people use.

use std::sync::LazyLock;

use crate::MaterialError;
use crate::find::{iso_group, nearest, p_number, plain};
use crate::metal::Metal;
use crate::metal_file::read;
use crate::spelling::{parts, standard_and_grade};

static METALS: LazyLock<Vec<Metal>> = LazyLock::new(|| {
    [
        include_str!("../data/metals/carbon-steel.toml"),
        include_str!("../data/metals/0.5mo.toml"),
        include_str!("../data/metals/1.25cr-0.5mo.toml"),
        include_str!("../data/metals/2.25cr-1mo.toml"),
        include_str!("../data/metals/5cr-0.5mo.toml"),
        include_str!("../data/metals/9cr-1mo-v.toml"),
        include_str!("../data/metals/12cr.toml"),
        include_str!("../data/metals/austenitic.toml"),
        include_str!("../data/metals/duplex-2205.toml"),
        include_str!("../data/metals/alloy-625.toml"),
        include_str!("../data/metals/aluminum-6061.toml"),
        include_str!("../data/metals/aluminum-5083.toml"),
        include_str!("../data/metals/copper.toml"),
    ]
    .iter()
    .map(|text| read(text))
    .collect()
});

/// All metals, in the order of the data files.
pub fn metals() -> &'static [Metal] {
    &METALS
}

/// The metal of a name, alias, grade ("SA-335 P91"), P-number ("P-15E", "P-No. 5A") or group ("ISO 15608 group 6.4").
///
/// # Errors
/// [`MaterialError::Unknown`] with the nearest names; [`MaterialError::Ambiguous`] where a text such as "P1" can be a
/// P-number of one metal and a grade of another; [`MaterialError::UnknownGrade`] where only the grade is not known.
pub fn metal(name: &str) -> Result<&'static Metal, MaterialError> {
    if let Some(number) = p_number(name) {
        let number = format!("P-{number}");
        let found = metals()
            .iter()
            .find(|metal| metal.p_numbers.contains(&number));
        return found.ok_or_else(|| unknown_p_number(name));
    }
    if let Some(group) = iso_group(name) {
        let found = metals()
            .iter()
            .find(|metal| metal.iso_groups.contains(&group));
        return found.ok_or_else(|| unknown(name));
    }
    let named = named(name);
    let numbered = metals()
        .iter()
        .find(|metal| metal.has_p_number_without_hyphen(name));
    match (&named[..], numbered) {
        ([named], Some(numbered)) if named.name != numbered.name => {
            Err(ambiguous(name, named, numbered))
        }
        ([found], _) => Ok(found),
        ([], Some(found)) => Ok(found),
        ([], None) => several(name).ok_or_else(|| unknown(name)),
        (many, _) => Err(MaterialError::Ambiguous {
            asked: name.into(),
            meanings: many.iter().map(|metal| metal.name.clone()).collect(),
        }),
    }
}

/// Metals that are called so, letter by letter, or else as people write grades.
fn named(name: &str) -> Vec<&'static Metal> {
    let of = |fits: fn(&Metal, &str) -> bool| -> Vec<&'static Metal> {
        metals().iter().filter(|metal| fits(metal, name)).collect()
    };
    match of(Metal::is_called) {
        none if none.is_empty() => of(Metal::is_graded),
        found => found,
    }
}

/// The metal that every part of a text names: "304/304L", "1.4903 (P91)".
fn several(name: &str) -> Option<&'static Metal> {
    let parts = parts(name);
    let (first, others) = parts.split_first()?;
    if others.is_empty() {
        return None;
    }
    let first = metal(first).ok()?;
    let is_same = |part: &&str| metal(part).is_ok_and(|other| other.name == first.name);
    others.iter().all(is_same).then_some(first)
}

fn unknown(name: &str) -> MaterialError {
    if let Some(refused) = unknown_grade(name) {
        return refused;
    }
    let names: Vec<&str> = metals().iter().flat_map(Metal::names).collect();
    let mut suggestions = nearest(name, &names);
    if suggestions.len() == names.len() {
        suggestions = metals().iter().map(|metal| metal.name.clone()).collect();
    }
    MaterialError::Unknown {
        kind: "metal".into(),
        asked: name.into(),
        suggestions,
    }
}

/// Where the product standard is known, its grades; `None` where it is not.
fn unknown_grade(name: &str) -> Option<MaterialError> {
    let (standard, _) = standard_and_grade(name)?;
    let names = metals().iter().flat_map(Metal::names);
    let of_standard = names.filter_map(standard_and_grade);
    let mut grades: Vec<String> = of_standard
        .filter(|(of, grade)| *of == standard && !grade.is_empty())
        .map(|(_, grade)| grade)
        .collect();
    grades.sort();
    grades.dedup();
    (!grades.is_empty()).then(|| MaterialError::UnknownGrade {
        asked: name.into(),
        standard,
        grades,
    })
}

/// The pipe grade that reads like it stands first.
fn unknown_p_number(name: &str) -> MaterialError {
    let called = metals().iter().flat_map(Metal::names);
    let grades = called.filter(|known| plain(known) == plain(name));
    let p_numbers = metals().iter().flat_map(|metal| &metal.p_numbers);
    MaterialError::Unknown {
        kind: "metal".into(),
        asked: name.into(),
        suggestions: grades
            .map(str::to_owned)
            .chain(p_numbers.cloned())
            .collect(),
    }
}

fn ambiguous(asked: &str, named: &Metal, numbered: &Metal) -> MaterialError {
    let bare = plain(asked).to_uppercase();
    MaterialError::Ambiguous {
        asked: asked.into(),
        meanings: vec![
            format!("grade {bare} ({})", named.name),
            format!("P-No. {} ({})", &bare[1..], numbered.name),
        ],
    }
}
