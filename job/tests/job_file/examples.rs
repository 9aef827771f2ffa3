//! What a field offers as an example may be typed there; what a person types short of its unit is understood or asked.

use job::edit::{add_table, get, set};
use job::same_pipe::same_pipe;
use job::shape::{Kind, TABLES, TableShape, Times};
use job::typed::with_unit;
use quantity::Units;

use crate::demos::DEMOS;

/// The demo in both units: what it says carries its units, so that it may be read in either.
fn base(units: Units) -> String {
    let word = match units {
        Units::Si => "si",
        Units::Us => "us",
    };
    set(DEMOS[0].1, "units", word).expect("set")
}

/// The demo with one more of a list, and the place of the table.
fn with_table(text: &str, table: &TableShape) -> (String, String) {
    match (table.times, table.path) {
        (Times::Many, path) => {
            let text = add_table(text, path).expect(path);
            let last = job::edit::count(&text, path);
            (text, format!("{path}[{last}]"))
        }
        (Times::Twice, path) => (text.to_owned(), format!("{path}[1]")),
        (_, "side.weld_end") => (text.to_owned(), "side[1].weld_end".to_owned()),
        (_, path) => (text.to_owned(), path.to_owned()),
    }
}

#[test]
fn every_example_may_stand_in_its_field() {
    for units in [Units::Si, Units::Us] {
        for table in TABLES {
            for key in table.keys {
                let example = key.example(units);
                if example.is_empty() {
                    continue;
                }
                let (text, place) = with_table(&base(units), table);
                let place = match place.as_str() {
                    "" => key.name.to_owned(),
                    table => format!("{table}.{}", key.name),
                };
                let text = set(&text, &place, example).expect(&place);
                assert_eq!(get(&text, &place), example, "{place} shows what was typed");
                let Err(refusal) = job::read(&text, "weld.toml") else {
                    continue;
                };
                let own = refusal.faults.iter().find(|fault| fault.place == place);
                // What the other values of the demo forbid is another matter than what the key holds.
                let is_of_the_key = |found: &str| {
                    ["the text", "\"", "edition", "a second"]
                        .iter()
                        .any(|start| found.starts_with(start))
                };
                let own = own.filter(|fault| is_of_the_key(&fault.found));
                assert!(own.is_none(), "{place} = {example}: {own:?}");
            }
        }
    }
}

#[test]
fn an_example_is_of_what_the_field_asks() {
    let example = |place: &str, units| job::shape::key_at(place).expect(place).example(units);
    for (place, si, us) in [
        ("surroundings.ambient", "20 °C", "70 °F"),
        ("side[1].length", "3 m", "10 ft"),
        ("blanket.thickness", "50 mm", "2 in"),
        ("side[1].outside_diameter", "323.9 mm", "12.75 in"),
        ("coil.lead_length", "5 m", "16 ft"),
        ("answers.preheat_applied", "95 °C", "200 °F"),
    ] {
        assert_eq!(example(place, Units::Si), si);
        assert_eq!(example(place, Units::Us), us);
    }
    // A missing value is asked with the example of its own field.
    let text = set(&base(Units::Si), "side[1].length", "").expect("set");
    let refused = job::read(&text, "weld.toml")
        .expect_err("missing")
        .to_string();
    assert!(refused.contains("length = \"3 m\""), "{refused}");
}

#[test]
fn a_measure_without_its_unit_is_completed_or_asked_with_both_ways() {
    for table in TABLES {
        for key in table.keys {
            let Kind::Measure(_) = key.kind else { continue };
            let (text, place) = with_table(&base(Units::Us), table);
            let place = format!("{place}.{}", key.name);
            let example = key.example(Units::Us);
            let (number, unit) = example.split_once(' ').expect("a unit");
            let whole = with_unit(&text, &place, number);
            if whole != number {
                assert_eq!(whole, example, "{place}");
                continue;
            }
            let text = set(&text, &place, number).expect(&place);
            let refused = job::read(&text, "weld.toml").expect_err(&place);
            let fault = refused.faults.iter().find(|fault| fault.place == place);
            let hint = fault.and_then(|fault| fault.hint.clone()).expect(&place);
            let other = hint.split(" or ").nth(1).unwrap_or_default();
            assert!(
                hint.contains(&format!("\"{number} {unit}\""))
                    && other.starts_with(&format!("\"{number} ")),
                "{place}: {hint}"
            );
        }
    }
}

#[test]
fn the_file_itself_is_never_completed() {
    let text = set(&base(Units::Si), "side[1].wall", "17.5").expect("set as it is written");
    let refused = job::read(&text, "weld.toml").expect_err("no unit");
    assert!(
        refused.to_string().contains("write the unit: \"17.5 mm\""),
        "{refused}"
    );
}

#[test]
fn wrong_and_missing_are_counted_apart_and_value_by_value() {
    let mut text = "units = \"si\"\ncode = \"ASME B31.3\"\nedition = \"2022\"\n[weld]\ncap_width = \"900 mm\"\n[[side]]\nwall = \"thick\"\n".to_owned();
    let refused = job::read(&text, "weld.toml").expect_err("much is missing");
    let account = refused.account();
    assert_eq!(account.wrong, 2, "{refused}");
    let must = |table: &&TableShape| matches!(table.times, Times::Once | Times::Twice);
    let all: usize = TABLES
        .iter()
        .filter(must)
        .map(|table| {
            let needed = table.keys.iter().filter(|key| key.must).count();
            needed * if table.times == Times::Twice { 2 } else { 1 }
        })
        .sum();
    // Four of them stand there.
    assert_eq!(account.missing, all - 4, "{:?}", refused.missing);
    let told = refused.told();
    assert!(told.contains("2 things are to be put right."), "{told}");
    assert!(
        told.contains(&format!("{} values are still needed: purpose, ", all - 4)),
        "{told}"
    );
    // Each value that is given takes one off.
    for place in refused.missing {
        let before = job::read(&text, "weld.toml")
            .expect_err("missing")
            .account()
            .missing;
        let key = job::shape::key_at(&place).expect(&place);
        let word = match key.kind {
            Kind::Word(words) => words[0],
            _ => key.example(Units::Si),
        };
        text = set(&text, &place, word).expect(&place);
        let after =
            job::read(&text, "weld.toml").map_or_else(|refused| refused.account().missing, |_| 0);
        assert_eq!(after + 1, before, "{place}");
    }
}

#[test]
fn the_same_pipe_reads_as_two_equal_sides() {
    let mut text = DEMOS[0].1.to_owned();
    for key in ["outside_diameter", "wall", "metal", "length", "bore_end"] {
        text = set(&text, &format!("side[2].{key}"), "").expect("set");
    }
    let same = same_pipe(&text).expect("the same");
    let read = job::read(&same.text, "weld.toml").expect("a job");
    let [first, second] = &read.joint.sides;
    assert_eq!(first.outside_diameter, second.outside_diameter);
    assert_eq!(first.length, second.length);
    assert!(
        same.words().contains("outside diameter, wall, metal"),
        "{}",
        same.words()
    );
}
