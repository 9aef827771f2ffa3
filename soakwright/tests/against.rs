//! A user's promise: where a plan exists, the record shows prediction and measurement together and says which assumption of
//! the plan would explain the difference.
//!
//! The log is one that the program itself predicts for a weld that differs from the plan in one thing, so that the answer is
//! known; it proves that differences are told apart, not that predictions are right.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

const PAGE: &str = include_str!("../../docs/record-json.md");

/// The planned weld: the carbon-steel demo with its coil fixed, so that nothing but the change is other.
fn planned() -> String {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../jobs/carbon-steel-line.toml");
    let text = fs::read_to_string(demo).expect("the demo");
    let coil = "[[coil.section]]\nturns = 11\nfirst = \"-8 in\"\npitch = \"1.6 in\"\nstandoff = \"2 in\"\n\n[source]";
    let fixed = text.replace("turns          = \"propose\"\n", "");
    fixed.replace("[source]", coil)
}

fn soakwright(folder: &Path, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_soakwright"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .expect("the program runs");
    let text = String::from_utf8_lossy(&output.stdout).into_owned()
        + &String::from_utf8_lossy(&output.stderr);
    assert_ne!(output.status.code(), Some(2), "{text}");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn json(path: &Path) -> Value {
    serde_json::from_slice(&fs::read(path).expect("a file")).expect("JSON")
}

/// What a logger would have written of a plan: the time, every thermocouple, the power.
fn log_of(plan: &Value) -> String {
    let course = &plan["course"];
    let channels: Vec<&str> = list(&course["channels"])
        .iter()
        .filter_map(Value::as_str)
        .collect();
    let mut log = format!(
        "time,{},source power (kW)\n",
        channels.join(" (C),") + " (C)"
    );
    let powers = list(&course["powers"]);
    for scan in list(&course["scans"]) {
        let at_s = scan["time_s"].as_f64().expect("a time");
        let power = powers
            .iter()
            .find(|p| p["time_s"].as_f64() >= Some(at_s))
            .or(powers.last());
        let readings: Vec<String> = list(&scan["readings_c"])
            .iter()
            .map(|r| format!("{:.1}", r.as_f64().expect("a reading")))
            .collect();
        let minutes = (at_s / 60.0).round() as u32 + 8 * 60;
        log.push_str(&format!(
            "2026-03-04 {:02}:{:02}:00,{},{:.2}\n",
            minutes / 60,
            minutes % 60,
            readings.join(","),
            power.map_or(0.0, |p| p["source_kw"].as_f64().unwrap_or(0.0))
        ));
    }
    log
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

/// The record of a weld that is as `changed` says, laid beside the plan of the weld as planned.
fn against(name: &str, changed: &str) -> (PathBuf, String, Value) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join("weld.toml"), planned()).expect("written");
    fs::write(folder.join("real.toml"), changed).expect("written");
    soakwright(&folder, &["plan", "weld.toml"]);
    soakwright(&folder, &["plan", "real.toml"]);
    let log = log_of(&json(&folder.join("real-plan/plan.json")));
    fs::write(folder.join("log.csv"), log).expect("written");
    let said = soakwright(&folder, &["record", "weld.toml", "log.csv"]);
    let against = json(&folder.join("weld-record/record.json"))["against_plan"].clone();
    (folder, said, against)
}

fn best(against: &Value) -> (&str, f64, f64) {
    let best = &against["explanation"]["differs"]["suppositions"][0];
    let number = |key: &str| best[key].as_f64().unwrap_or(f64::NAN);
    (
        best["supposition"].as_str().unwrap_or("none"),
        number("factor"),
        number("part"),
    )
}

/// Every key of a record stands on the page that describes it.
fn every_key_is_described(record: &Value) {
    match record {
        Value::Object(entries) => {
            for (key, value) in entries {
                assert!(PAGE.contains(&format!("`{key}`")), "{key} is not described");
                every_key_is_described(value);
            }
        }
        Value::Array(values) => values.iter().for_each(every_key_is_described),
        _ => {}
    }
}

#[test]
fn a_heat_as_planned_moves_no_assumption_and_the_record_can_be_made_again() {
    let (folder, said, against) = against("against-same", &planned());
    every_key_is_described(&json(&folder.join("weld-record/record.json")));
    let more = against["explanation"]["as_predicted"]["more"].as_f64();
    assert!(more.is_some_and(|m| m.abs() < 0.02), "{against:#}");
    assert!(said.contains("no assumption about loss"), "{said}");
    for channel in list(&against["channels"]) {
        for gap in list(&channel["gaps"]) {
            // Readings were written to a tenth of a kelvin.
            assert!(
                gap["largest"].as_f64().is_some_and(|k| k.abs() < 1.0),
                "{channel:#}"
            );
        }
    }
    let verified = soakwright(&folder, &["verify", "weld-record/record.pdf"]);
    assert!(
        verified.contains("fingerprint (SHA-256) of plan"),
        "{verified}"
    );
}

#[test]
fn a_thin_blanket_is_more_loss() {
    let thin = planned().replace("thickness = \"2 in\"", "thickness = \"0.4 in\"");
    let (_, said, against) = against("against-loss", &thin);
    let (supposition, factor, part) = best(&against);
    assert_eq!(supposition, "loss", "{against:#}");
    assert!(factor > 1.15 && part > 0.75, "{factor} {part}");
    assert!(said.contains("Heat given off"), "{said}");
}

#[test]
fn turns_far_from_the_metal_are_less_coupling() {
    let far = planned().replace("standoff = \"2 in\"", "standoff = \"5 in\"");
    let (_, _, against) = against("against-coupling", &far);
    let (supposition, factor, _) = best(&against);
    assert_eq!(supposition, "coupling", "{against:#}");
    assert!(factor < 0.97, "{factor}");
}

#[test]
fn a_thicker_wall_is_more_metal() {
    let thick = planned().replace(
        "wall             = \"0.688 in\"",
        "wall             = \"0.9 in\"",
    );
    let (_, _, against) = against("against-wall", &thick);
    let (supposition, factor, _) = best(&against);
    assert_eq!(supposition, "wall", "{against:#}");
    assert!(factor > 1.05, "{factor}");
}
