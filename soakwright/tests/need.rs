//! The command `need`, as a person runs it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder for the test");
    folder
}

fn need(folder: &Path, arguments: &[&str]) -> Output {
    let run = Command::new(env!("CARGO_BIN_EXE_soakwright"))
        .arg("need")
        .args(arguments)
        .current_dir(folder)
        .output();
    run.expect("the program runs")
}

fn job(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../jobs")
        .join(name);
    std::fs::read_to_string(path).expect("a job")
}

#[test]
fn a_job_of_a_plan_is_answered_too_and_written_as_pdf_and_json() {
    let folder = folder("need-plan-job");
    std::fs::write(folder.join("job.toml"), job("thick-9cr-header.toml")).expect("written");
    let output = need(&folder, &["job.toml", "--out", "answer"]);
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(
        text.contains("Stress relief: required"),
        "{text}{}",
        String::from_utf8_lossy(&output.stderr)
    );
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    let pdf = std::fs::read(folder.join("answer/need.pdf")).expect("a document");
    assert!(pdf.starts_with(b"%PDF"));
    let json = std::fs::read(folder.join("answer/need.json")).expect("data");
    let json: serde_json::Value = serde_json::from_slice(&json).expect("JSON");
    assert_eq!(json["stress_relief"]["standing"]["verdict"], "required");
}

#[test]
fn what_is_confirmed_beside_the_job_is_used_and_named() {
    let folder = folder("need-confirmed");
    let vessel = job("needs/vessel-seam.toml")
        .replace("ASME VIII-1", "EN 13445-4")
        .replace("edition = \"2019\"", "edition = \"2021\"")
        .replace("\"5A\"", "\"5.2\"");
    std::fs::write(folder.join("job.toml"), vessel).expect("written");
    let open = need(&folder, &["job.toml"]);
    let text = String::from_utf8_lossy(&open.stdout).into_owned();
    assert_eq!(open.status.code(), Some(1));
    assert!(text.contains("No answer on stress relief"), "{text}");
    let confirmed = "[[confirmed]]\nrow = \"en13445-4/range-p5.2\"\nby = \"A. Reader\"\non = 2026-11-20\n\
                     [[confirmed]]\nrow = \"en13445-4/hold-group5-over60\"\nby = \"A. Reader\"\non = 2026-11-20\n";
    std::fs::write(folder.join("confirmed.toml"), confirmed).expect("written");
    let text = String::from_utf8_lossy(&need(&folder, &["job.toml"]).stdout).into_owned();
    assert!(
        text.contains("en13445-4/range-p5.2: A. Reader on 2026-11-20"),
        "{text}"
    );
    assert!(!text.contains("No answer on stress relief"), "{text}");
    std::fs::write(
        folder.join("confirmed.toml"),
        "[[confirmed]]\nrow = \"x\"\n",
    )
    .expect("written");
    let refused = need(&folder, &["job.toml"]);
    assert_eq!(refused.status.code(), Some(2));
    let told = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(
        told.contains("confirmed.toml:2: ") && told.contains("no key by"),
        "{told}"
    );
}
