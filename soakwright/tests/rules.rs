//! The command `rules`, as a person runs it.

use std::process::{Command, Output};

fn run(arguments: &[&str]) -> Output {
    let run = Command::new(env!("CARGO_BIN_EXE_soakwright"))
        .arg("rules")
        .args(arguments)
        .output();
    run.expect("the program runs")
}

fn told(arguments: &[&str]) -> String {
    let output = run(arguments);
    assert_eq!(output.status.code(), Some(0), "{arguments:?}");
    String::from_utf8(output.stdout).expect("UTF-8")
}

#[test]
fn the_whole_book_is_listed_within_80_columns() {
    let text = told(&[]);
    let wide: Vec<&str> = text
        .lines()
        .filter(|line| line.chars().count() > 80)
        .collect();
    assert!(wide.is_empty(), "{wide:#?}");
    for id in [
        "b31.3-2014/range-p1",
        "viii-1/range-min-p1",
        "layout/control-weld-center-horizontal-od-to168.3",
    ] {
        assert!(text.contains(id), "{id}");
    }
}

#[test]
fn every_row_can_be_explained_within_80_columns() {
    let rows: serde_json::Value =
        serde_json::from_str(&told(&["--status", "unsure", "--json"])).expect("JSON");
    for row in rows.as_array().expect("a list") {
        let id = row["id"].as_str().expect("an id");
        let text = told(&[id]);
        let prose = text
            .lines()
            .take_while(|line| !line.contains("[[confirmed]]"));
        assert!(
            prose.clone().all(|line| line.chars().count() <= 80),
            "{text}"
        );
        assert!(
            text.contains("unsure") && text.contains(&format!("row = \"{id}\"")),
            "{text}"
        );
    }
}

#[test]
fn code_edition_status_and_words_filter() {
    let json = told(&[
        "--code",
        "B31.3",
        "--edition",
        "2016",
        "--status",
        "verified",
        "--json",
    ]);
    let rows: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let rows = rows.as_array().expect("a list");
    assert!(!rows.is_empty());
    for row in rows {
        assert!(
            row["editions"]
                .as_array()
                .expect("editions")
                .contains(&"2016".into())
        );
        assert_eq!(row["status"], "verified");
    }
    // Table 331.1.1 was read in the 2016 edition; in that of 2022 the same row counts as from memory.
    assert!(json.contains("\"b31.3-2014/range-p1\""));
    let later = run(&[
        "--code",
        "B31.3",
        "--edition",
        "2022",
        "--status",
        "verified",
    ]);
    assert!(!String::from_utf8_lossy(&later.stdout).contains("b31.3-2014/range-p1\n"));
    let ceilings = told(&["andrews"]);
    assert!(
        ceilings.contains("metal/ac1-formula-p1-3-4-5a") && !ceilings.contains("b31.3"),
        "{ceilings}"
    );
}

#[test]
fn nothing_found_says_what_is_near() {
    let output = run(&["b31.3-2014/rang-p1"]);
    assert_eq!(output.status.code(), Some(1));
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(told.contains("did you mean b31.3-2014/range-p1"), "{told}");
}

#[test]
fn a_reader_who_has_seen_enough_stops_nothing() {
    let mut program = std::process::Command::new(env!("CARGO_BIN_EXE_soakwright"))
        .args(["rules", "--json"])
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("the program");
    drop(program.stdout.take());
    let ended = program.wait_with_output().expect("an end");
    let said = String::from_utf8_lossy(&ended.stderr);
    assert_eq!((ended.status.code(), &*said), (Some(0), ""));
}
