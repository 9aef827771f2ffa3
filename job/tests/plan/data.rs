//! `plan.json` keeps what its page and its schema promise.

use job::plan_json::{self, plan_file};

use crate::invented::plan_with;

const PAGE: &str = include_str!("../../../docs/plan-json.md");
const SCHEMA: &str = include_str!("../../../docs/plan.schema.json");

#[test]
fn a_plan_holds_to_the_schema() {
    let file = serde_json::to_value(plan_file(&plan_with(|_, _, _| {}))).expect("JSON");
    let validator = jsonschema::validator_for(&plan_json::schema()).expect("a schema");
    let errors: Vec<String> = validator
        .iter_errors(&file)
        .map(|e| e.to_string())
        .collect();
    assert_eq!(errors, [""; 0]);
    assert_eq!(file["complies"], true);
    assert_eq!(file["format"], "soakwright-plan/1");
}

#[test]
fn schema_and_page_are_in_step_with_the_types() {
    let kept: serde_json::Value = serde_json::from_str(SCHEMA).expect("JSON");
    assert_eq!(
        kept,
        plan_json::schema(),
        "cargo run -p job --example plan_json_keys -- schema"
    );
    assert!(
        PAGE.contains(&plan_json::page()),
        "cargo run -p job --example plan_json_keys -- page"
    );
}

#[test]
fn every_number_of_the_file_carries_its_unit() {
    const UNITS: &[&str] = &[
        "_mm",
        "_c",
        "_k",
        "_h",
        "_s",
        "_a",
        "_v",
        "_hz",
        "_w",
        "_kw",
        "_kwh",
        "_ohm",
        "_k_h",
        "_clock",
        "clock",
        "_percent",
        "_m",
        "_microtesla",
    ];
    // A number beside its `unit`, counts, row numbers and ratios have none.
    const BARE: &[&str] = &[
        "number",
        "value",
        "merit",
        "digits",
        "row",
        "turns",
        "governing_method",
        "heating_index",
    ];
    let schema = plan_json::schema();
    for (name, object) in schema["$defs"].as_object().expect("definitions") {
        for (key, property) in object["properties"].as_object().into_iter().flatten() {
            let kinds = property["type"].to_string();
            let is_number = kinds.contains("number") || kinds.contains("integer");
            let told = UNITS.iter().any(|unit| key.ends_with(unit)) || BARE.contains(&key.as_str());
            assert!(!is_number || told, "{name}.{key} has no unit");
        }
    }
}
