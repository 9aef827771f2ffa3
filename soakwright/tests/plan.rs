//! The command `plan`, as a person runs it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A folder of its own for each test, empty at the start.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder for the test");
    folder
}

fn plan(folder: &Path, arguments: &[&str]) -> Output {
    let run = Command::new(env!("CARGO_BIN_EXE_soakwright"))
        .arg("plan")
        .args(arguments)
        .current_dir(folder)
        .output();
    run.expect("the program runs")
}

fn demo(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../jobs")
        .join(name);
    path.display().to_string()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    names
}

fn stdout(output: &Output) -> String {
    let text = String::from_utf8(output.stdout.clone()).expect("UTF-8");
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "wider than 80 columns:\n{text}"
    );
    text
}

#[test]
fn without_a_job_the_demo_weld_is_planned_and_meets_its_limits() {
    let folder = folder("demo");
    let output = plan(&folder, &[]);
    let text = stdout(&output);
    for row in [
        "Preheat   at least",
        "Hydrogen  by diffusion this cycle leaves",
        "Keep away workers",
    ] {
        assert!(text.contains(row), "{row}\n{text}");
    }
    assert_eq!(
        output.status.code(),
        Some(0),
        "{text}{}",
        String::from_utf8_lossy(&output.stderr)
    );
    assert!(
        text.contains("invented") && text.contains("Predicted values meet all"),
        "{text}"
    );
    let out = folder.join("carbon-steel-line-plan");
    assert_eq!(names(&out), ["plan.html", "plan.json", "plan.pdf"]);
    let pdf = std::fs::read(out.join("plan.pdf")).expect("a PDF");
    assert!(pdf.starts_with(b"%PDF-1.7"));
    for attached in ["job.toml", "plan.json"] {
        assert!(
            pdf.windows(attached.len())
                .any(|w| w == attached.as_bytes()),
            "{attached} is attached"
        );
    }
    let json: serde_json::Value =
        serde_json::from_slice(&std::fs::read(out.join("plan.json")).expect("JSON")).expect("JSON");
    assert_eq!(json["complies"], true);
    assert!(
        json["course"]["scans"]
            .as_array()
            .is_some_and(|scans| scans.len() > 100)
    );
}

#[test]
fn a_plan_speaks_the_words_of_the_trade_and_says_of_an_estimate_that_it_is_one() {
    let folder = folder("words");
    let job = std::fs::read_to_string(demo("carbon-steel-line.toml")).expect("a demo");
    let html = |text: &str| {
        std::fs::write(folder.join("job.toml"), text).expect("written");
        plan(&folder, &["job.toml", "--out", "plan"]);
        std::fs::read_to_string(folder.join("plan/plan.html")).expect("a plan")
    };
    let page = html(&job);
    for strange in [
        "Off center",
        "Opening",
        "What became of it",
        "in hand",
        ">silent<",
        ": silent",
        "negative distances",
        "free heating",
        "each judged at the steady hold",
        "The coil is given",
    ] {
        assert!(!page.contains(strange), "{strange}");
    }
    for words in [
        "By an estimate on a coarse mesh, made before the cycle was computed",
        "The turns were proposed",
        "to spare",
        "Middle from weld",
        "says nothing",
    ] {
        assert!(page.contains(words), "{words}");
    }
    let keys = [
        ("turns", ""),
        ("section[1].turns", "11"),
        ("section[1].first", "-8 in"),
        ("section[1].pitch", "1.6 in"),
        ("section[1].standoff", "2 in"),
    ];
    let given = keys.iter().fold(job, |text, (key, value)| {
        job::edit::set(&text, &format!("coil.{key}"), value).expect("set")
    });
    let given = html(&given);
    assert!(given.contains("The turns are those of the job; the frequency was chosen"));
    assert!(!given.contains("proposed:") && !given.contains("was proposed"));
}

#[test]
fn a_thick_wall_whose_bore_lags_is_planned_and_says_so_first() {
    let folder = folder("thick");
    let output = plan(
        &folder,
        &[
            &demo("thick-9cr-header.toml"),
            "--out",
            "plan",
            "--units",
            "us",
        ],
    );
    let text = stdout(&output);
    assert_eq!(
        output.status.code(),
        Some(1),
        "{text}{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let first = text.find("do not meet everything").expect("said first");
    assert!(first < text.find("Turns").expect("the wrap"), "{text}");
    assert!(text.contains("soak band, bore included"), "{text}");
    assert!(text.contains("°F"), "{text}");
    assert_eq!(
        names(&folder.join("plan")),
        ["plan.html", "plan.json", "plan.pdf"]
    );
}

#[test]
fn an_unequal_joint_names_the_neighbor_that_grows_too_hot() {
    let folder = folder("unequal");
    let output = plan(&folder, &[&demo("unequal-heavy-fitting.toml")]);
    let text = stdout(&output);
    assert_eq!(
        output.status.code(),
        Some(1),
        "{text}{}",
        String::from_utf8_lossy(&output.stderr)
    );
    assert!(text.contains("valve with soft seats"), "{text}");
}

#[test]
fn a_job_that_cannot_be_is_refused_with_its_lines_and_nothing_is_written() {
    let folder = folder("refused");
    let text = std::fs::read_to_string(demo("carbon-steel-line.toml")).expect("the demo");
    let text = text.replacen("\"0.688 in\"", "0.688", 1).replacen(
        "\"carbon steel\"",
        "\"carbn steel\"",
        1,
    );
    std::fs::write(folder.join("bad.toml"), text).expect("written");
    let output = plan(&folder, &["bad.toml"]);
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(
        told.contains("bad.toml:24: side[1].wall")
            && told.contains("did you mean \"carbon steel\""),
        "{told}"
    );
    assert_eq!(names(&folder), ["bad.toml"]);
}

#[test]
fn a_missing_file_bytes_that_are_no_text_and_a_folder_that_is_a_file_are_plain_messages() {
    let folder = folder("broken");
    std::fs::write(folder.join("bytes.toml"), b"purpose = \"\xff\xfe\"\n").expect("written");
    for (file, word) in [("absent.toml", "absent.toml"), ("bytes.toml", "UTF-8")] {
        let output = plan(&folder, &[file]);
        assert_eq!(output.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&output.stderr).contains(word));
    }
    let output = plan(&folder, &["--out", "bytes.toml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("nothing was changed"));
    assert_eq!(names(&folder), ["bytes.toml"]);
}

#[test]
fn rows_that_are_confirmed_beside_the_job_are_read_by_the_plan_too() {
    let folder = folder("confirmed");
    let job = std::fs::read_to_string(demo("carbon-steel-line.toml")).expect("a demo");
    std::fs::write(folder.join("job.toml"), job).expect("written");
    std::fs::write(
        folder.join("confirmed.toml"),
        "[[confirmed]]\nrow = \"b31.3-2014/range-p11\"\nby = \"A. Reader\"\non = 2026-11-20\n",
    )
    .expect("written");
    let output = plan(&folder, &["job.toml"]);
    assert_eq!(output.status.code(), Some(2));
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        told.contains("confirmed.toml:2: ") && told.contains("did you mean"),
        "{told}"
    );
    assert_eq!(names(&folder), ["confirmed.toml", "job.toml"]);
}

#[test]
fn a_plan_made_again_says_what_became_better_and_what_worse() {
    let folder = folder("again");
    let job = std::fs::read_to_string(demo("carbon-steel-line.toml")).expect("a demo");
    let planned = |text: &str| {
        std::fs::write(folder.join("job.toml"), text).expect("written");
        stdout(&plan(&folder, &["job.toml", "--out", "plan"]))
    };
    let first = planned(&job);
    assert!(!first.contains("plan before"), "{first}");
    let same = planned(&job);
    assert!(same.contains("The plan before said the same."), "{same}");
    let longer = planned(&job.replace("hold_time = \"1 h\"", "hold_time = \"1.5 h\""));
    let line = |what: &str| {
        let found = longer
            .lines()
            .find(|line| line.starts_with(&format!("- {what}")));
        found.unwrap_or_else(|| panic!("{what}: {longer}"))
    };
    assert!(line("whole cycle").ends_with("worse"), "{longer}");
    assert!(line("all inside for").ends_with("better"), "{longer}");
    assert!(
        line("changed: hold time 1 h 30 min").ends_with("was 1 h"),
        "{longer}"
    );
    // The page of the weld says the same, from what lies in the folder.
    let kept =
        job::plan_before::in_folder(&folder.join("plan"), quantity::Units::Us).expect("kept");
    for one in &kept.changed {
        assert!(line(&one.what).contains(&one.was), "{longer}");
    }
    assert!(longer.contains("than the 1 h 30 min asked for"), "{longer}");
    let told = longer.split("plan before:").nth(1).expect("told");
    let mut told = told.split("\n\n").next().expect("a part").lines();
    assert!(told.all(|line| line.chars().count() <= 80), "{longer}");
    let file = folder.join("plan/plan.json");
    let older = std::fs::read_to_string(&file).expect("data");
    std::fs::write(
        &file,
        older.replace("soakwright-plan/1", "soakwright-plan/0"),
    )
    .expect("written");
    let other_format = planned(&job);
    assert!(!other_format.contains("plan before"), "{other_format}");
}
