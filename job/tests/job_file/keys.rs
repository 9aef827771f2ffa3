//! Reader, schema and page know the same keys.

use job::shape::{self, TABLES};

use crate::demos::DEMOS;

const PAGE: &str = include_str!("../../../docs/job-file.md");
const SCHEMA: &str = include_str!("../../../docs/job.schema.json");

/// A file with every table, each with a key that nobody knows.
fn with_an_unknown_key_in_every_table() -> String {
    let mut text = String::from("unknown_key = 1\n");
    for table in &TABLES[1..] {
        let brackets = match table.times {
            shape::Times::Once | shape::Times::AtMostOnce if table.path != "side.weld_end" => {
                format!("[{}]", table.path)
            }
            _ if table.path == "side.weld_end" => "[side.weld_end]".to_owned(),
            _ => format!("[[{}]]", table.path),
        };
        text.push_str(&format!("{brackets}\nunknown_key = 1\n"));
    }
    text
}

#[test]
fn the_reader_asks_for_the_keys_of_the_table_and_no_others() {
    let refusal = job::read(&with_an_unknown_key_in_every_table(), "f").expect_err("refused");
    for table in TABLES {
        let place = table
            .path
            .replace("side", "side[1]")
            .replace("section", "section[1]");
        let place = place
            .replace("neighbor", "neighbor[1]")
            .replace("thermocouple", "thermocouple[1]")
            .replace("person", "person[1]")
            .replace("equipment", "equipment[1]")
            .replace("disposition", "disposition[1]")
            .replace("zone", "zone[1]")
            .replace("accepted", "accepted[1]")
            .replace("treatment", "treatment[1]");
        let fault = refusal
            .faults
            .iter()
            .find(|f| f.place == place && f.found.contains("unknown_key"))
            .unwrap_or_else(|| panic!("no fault at {place}: {refusal}"));
        let mut asked: Vec<&str> = fault.allowed.split(", ").collect();
        let inner = inner_tables(table.path);
        asked.retain(|key| !inner.iter().any(|i| i == key));
        let mut known: Vec<String> = table.keys.iter().flat_map(|k| k.spellings()).collect();
        asked.sort_unstable();
        known.sort();
        assert_eq!(asked, known, "keys of {place}");
    }
}

/// First steps of the paths below a path.
fn inner_tables(path: &str) -> Vec<String> {
    let below = TABLES.iter().filter_map(|t| match path {
        "" => Some(t.path),
        _ => t.path.strip_prefix(path)?.strip_prefix('.'),
    });
    below
        .map(|rest| rest.split('.').next().unwrap_or_default().to_owned())
        .filter(|s| !s.is_empty())
        .collect()
}

#[test]
fn the_page_has_every_key() {
    assert!(
        PAGE.contains(&shape::page()),
        "docs/job-file.md is not in step; its tables should read:\n{}",
        shape::page()
    );
}

#[test]
fn the_schema_beside_the_page_is_in_step() {
    let kept: serde_json::Value = serde_json::from_str(SCHEMA).expect("JSON");
    assert_eq!(
        kept,
        shape::schema(),
        "{}",
        serde_json::to_string_pretty(&shape::schema()).expect("JSON")
    );
}

#[test]
fn every_demo_holds_to_the_schema_and_a_misspelt_one_does_not() {
    let validator = jsonschema::validator_for(&shape::schema()).expect("a schema");
    for (name, text) in DEMOS {
        let value: serde_json::Value = toml::from_str(text).expect("TOML");
        let errors: Vec<String> = validator
            .iter_errors(&value)
            .map(|e| e.to_string())
            .collect();
        assert_eq!(errors, [""; 0], "{name}");
        let misspelt: serde_json::Value =
            toml::from_str(&text.replacen("bore_end", "bore_ned", 1)).expect("TOML");
        assert!(!validator.is_valid(&misspelt));
    }
}
