//! A user's promise: a record is accepted by the command line as in the desk, and never where it should not be.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const CARD: &str = include_str!("../../jobs/cards/spool-repair.toml");
const LOG: &str = include_str!("../../jobs/cards/spool-repair-log.csv");

fn soakwright(arguments: &[&str]) -> Output {
    let program = env!("CARGO_BIN_EXE_soakwright");
    let output = Command::new(program).args(arguments).output();
    output.expect("the program runs")
}

fn words(output: &Output) -> String {
    let both = [&output.stdout, &output.stderr].map(|said| String::from_utf8_lossy(said));
    both.concat()
}

/// A job folder of a card, with its log and a record.
fn folder(name: &str, card: &str, log: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(folder.join("logs")).expect("a folder");
    fs::write(folder.join("job.toml"), card).expect("written");
    fs::write(folder.join("logs/log.csv"), log).expect("written");
    make(&folder);
    folder
}

fn make(folder: &Path) {
    let path = |name: &str| folder.join(name).display().to_string();
    let made = soakwright(&[
        "record",
        &path("job.toml"),
        &path("logs/log.csv"),
        "--out",
        &path("record"),
    ]);
    assert!(
        matches!(made.status.code(), Some(0 | 1)),
        "{}",
        words(&made)
    );
}

fn accept(path: &Path) -> Output {
    let path = path.display().to_string();
    soakwright(&["accept", &path, "--by", "A. Weir", "--role", "engineer"])
}

fn refused(path: &Path, says: &str) {
    let answer = accept(path);
    assert_eq!(answer.status.code(), Some(2), "{}", words(&answer));
    assert!(words(&answer).contains(says), "{}", words(&answer));
}

fn kept(folder: &Path, file: &str) -> serde_json::Value {
    let bytes = fs::read(folder.join("record").join(file)).expect("kept");
    serde_json::from_slice(&bytes).expect("JSON")
}

#[test]
fn a_name_stands_under_the_revision_with_the_hash_of_its_document() {
    let folder = folder("accept-good", CARD, LOG);
    let path = folder.display().to_string();
    let remark = "chart looked at on paper, too";
    let (by, role) = ("A. Weir", "inspector of the owner");
    let answer = soakwright(&[
        "accept", &path, "--by", by, "--role", role, "--remark", remark,
    ]);
    assert_eq!(answer.status.code(), Some(0), "{}", words(&answer));
    let verified = soakwright(&["verify", &format!("{path}/record/record.pdf")]);
    assert_eq!(verified.status.code(), Some(0), "nothing of it was touched");
    let kept = kept(&folder, "accepted.json");
    assert_eq!(
        (
            kept["by"].as_str(),
            kept["role"].as_str(),
            kept["remark"].as_str()
        ),
        (Some(by), Some(role), Some(remark))
    );
    let sha256 = kept["sha256"].as_str().expect("a hash");
    assert!(words(&answer).contains(sha256), "{}", words(&answer));
    let under = job::folder::JobFolder::at(&folder).records().accepted();
    assert_eq!(
        under.expect("the desk sees it").by,
        by,
        "the same file as the desk's"
    );
}

#[test]
fn a_name_is_not_replaced_and_the_next_revision_needs_its_own() {
    let folder = folder("accept-twice", CARD, LOG);
    assert_eq!(accept(&folder).status.code(), Some(0));
    refused(
        &folder,
        "revision 1 was accepted already, by A. Weir (engineer)",
    );
    make(&folder);
    refused(
        &folder.join("record/record.pdf"),
        "revision 2 was made since",
    );
    let second = accept(&folder.join("record/record-2.pdf"));
    assert_eq!(second.status.code(), Some(0), "{}", words(&second));
    let revisions = ["accepted.json", "accepted-2.json"].map(|file| kept(&folder, file));
    assert_eq!(
        revisions.map(|one| one["revision"].as_u64()),
        [Some(1), Some(2)]
    );
}

#[test]
fn a_record_that_is_not_what_it_carries_is_not_accepted() {
    let folder = folder("accept-forged", CARD, LOG);
    let pdf = folder.join("record/record.pdf");
    let mut bytes = fs::read(&pdf).expect("a record");
    let place = bytes.len() / 3;
    bytes[place] ^= 1;
    fs::write(&pdf, bytes).expect("written");
    let answer = accept(&pdf);
    assert_eq!(answer.status.code(), Some(2), "{}", words(&answer));
    assert!(
        words(&answer).contains("made again from what it carries"),
        "{}",
        words(&answer)
    );
    assert!(!folder.join("record/accepted.json").exists());
}

#[test]
fn what_was_changed_since_is_named() {
    let folder = folder("accept-changed", CARD, LOG);
    fs::write(folder.join("logs/log.csv"), format!("{LOG}\n")).expect("written");
    refused(&folder, "the log log.csv was changed");
    fs::remove_file(folder.join("logs/log.csv")).expect("gone");
    refused(&folder.join("record"), "the log log.csv is no longer there");
    fs::write(folder.join("logs/log.csv"), LOG).expect("written");
    fs::write(folder.join("job.toml"), format!("{CARD}\n# later\n")).expect("written");
    refused(&folder, "job.toml was changed; make the next revision");
    fs::write(folder.join("job.toml"), CARD).expect("written");
    fs::write(folder.join("mapping.toml"), "unit = \"F\"\n").expect("written");
    refused(&folder, "mapping.toml was changed");
    fs::remove_file(folder.join("mapping.toml")).expect("gone");
    assert_eq!(accept(&folder).status.code(), Some(0));
}

#[test]
fn a_deviation_is_answered_for_before_the_record_is_accepted() {
    let folder = folder("accept-waiting", CARD, &LOG.replacen("TC4", "CH 04", 1));
    refused(&folder, "one deviation waits for an answer");
    refused(&folder, "TC4 stands in the job and not in the log");
    let answered = format!(
        "{CARD}\n[[accepted]]\ndeviation = \"TC4 stands in the job\"\nreason = \"never wired\"\nby = \"D. Moreau\"\n"
    );
    fs::write(folder.join("job.toml"), answered).expect("written");
    make(&folder);
    let answer = accept(&folder);
    assert_eq!(answer.status.code(), Some(0), "{}", words(&answer));
}

#[test]
fn a_limit_that_was_not_met_stays_not_met_under_a_name() {
    let log = LOG.replace(",62", ",57").replace(",61", ",56");
    let folder = folder("accept-not-met", CARD, &log);
    let answer = accept(&folder);
    assert_eq!(answer.status.code(), Some(1), "{}", words(&answer));
    assert!(
        words(&answer).contains("some limit was not met or not judged"),
        "{}",
        words(&answer)
    );
    let project = folder.parent().expect("a project").display().to_string();
    let row = || {
        let board = words(&soakwright(&["board", &project]));
        let is_its_first = |line: &&str| !line.starts_with("accept-not-met ");
        let its = board.lines().skip_while(is_its_first);
        let lines: Vec<&str> = its
            .enumerate()
            .take_while(|(index, line)| *index == 0 || line.starts_with(' '))
            .map(|(_, line)| line)
            .collect();
        assert!(!lines.is_empty(), "no row of it: {board}");
        assert!(
            lines.iter().all(|line| line.chars().count() <= 80),
            "wider than the terminal: {lines:#?}"
        );
        lines
            .join(" ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert!(
        row().contains("not met") && !row().contains("changed"),
        "{}",
        row()
    );
    fs::write(folder.join("job.toml"), format!("{CARD}\n# later\n")).expect("written");
    assert!(
        row().contains("changed since revision 1: job.toml was changed"),
        "{}",
        row()
    );
    let verified = soakwright(&[
        "verify",
        &folder.join("record/record.pdf").display().to_string(),
    ]);
    assert_eq!(verified.status.code(), Some(0), "{}", words(&verified));
    let verified = words(&verified);
    let path = |line: &str| !line.trim().contains(' ');
    assert!(
        verified
            .lines()
            .all(|line| path(line) || line.chars().count() <= 80),
        "wider than the terminal: {verified}"
    );
    let first = verified.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        first.starts_with("Weld SR-41-R1, revision 1, made ") && first.contains("; did not meet "),
        "{first}"
    );
}

#[test]
fn without_a_record_a_name_or_a_role_nothing_is_accepted() {
    let folder = folder("accept-nobody", CARD, LOG);
    let path = folder.display().to_string();
    for (by, role, says) in [
        (" ", "engineer", "a name is needed"),
        ("A. Weir", "", "as what does A. Weir accept the record"),
    ] {
        let answer = soakwright(&["accept", &path, "--by", by, "--role", role]);
        assert_eq!(answer.status.code(), Some(2));
        assert!(words(&answer).contains(says), "{}", words(&answer));
    }
    fs::remove_dir_all(folder.join("record")).expect("gone");
    refused(&folder, "there is no record yet");
    refused(&folder.join("nowhere"), "there is no record yet");
}
