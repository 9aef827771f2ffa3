//! A user's promise: a card and a log become a record; what was not met is said; one changed byte is seen.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn at(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../jobs/cards")
        .join(name)
}

/// An empty folder of its own for a test.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn soakwright(arguments: &[&str]) -> Output {
    let program = env!("CARGO_BIN_EXE_soakwright");
    Command::new(program)
        .args(arguments)
        .output()
        .expect("the program runs")
}

fn record(card: &Path, log: &Path, out: &Path) -> Output {
    let path = |p: &Path| p.display().to_string();
    soakwright(&["record", &path(card), &path(log), "--out", &path(out)])
}

fn words(output: &Output) -> String {
    let text = String::from_utf8_lossy(&output.stdout).into_owned()
        + &String::from_utf8_lossy(&output.stderr);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn demo_log() -> String {
    fs::read_to_string(at("spool-repair-log.csv")).expect("the demo log")
}

fn with_log(name: &str, log: &str) -> (Output, PathBuf) {
    let folder = folder(name);
    let path = folder.join("log.csv");
    fs::write(&path, log).expect("written");
    (
        record(&at("spool-repair.toml"), &path, &folder.join("out")),
        folder,
    )
}

#[test]
fn the_demo_heat_meets_its_card_and_the_record_agrees_with_itself() {
    let folder = folder("record-demo");
    let made = record(
        &at("spool-repair.toml"),
        &at("spool-repair-log.csv"),
        &folder,
    );
    let said = words(&made);
    assert_eq!(made.status.code(), Some(0), "{said}");
    assert!(
        said.contains("Measured values met 6 of 6 limits, by TC1, TC2, TC3."),
        "{said}"
    );
    assert!(!said.contains("PASS"));
    let pdf = folder.join("record.pdf");
    let verified = soakwright(&["verify", &pdf.display().to_string()]);
    assert_eq!(verified.status.code(), Some(0), "{}", words(&verified));
}

#[test]
fn one_changed_byte_anywhere_is_seen() {
    let folder = folder("record-changed");
    record(
        &at("spool-repair.toml"),
        &at("spool-repair-log.csv"),
        &folder,
    );
    let whole = fs::read(folder.join("record.pdf")).expect("a record");
    // Prime to the length of lines and objects, so that every kind of place is met.
    for place in (0..whole.len()).step_by(whole.len() / 37 + 1) {
        let mut changed = whole.clone();
        changed[place] ^= 1;
        let path = folder.join("changed.pdf");
        fs::write(&path, &changed).expect("written");
        let verified = soakwright(&["verify", &path.display().to_string()]);
        assert!(
            matches!(verified.status.code(), Some(1 | 2)),
            "byte {place}: {}",
            words(&verified)
        );
    }
    // Whoever signs the document adds bytes behind it; that is told apart from a change, and is no agreement either.
    let path = folder.join("signed.pdf");
    fs::write(
        &path,
        [&whole[..], b"\n% a signature of somebody\n"].concat(),
    )
    .expect("written");
    let verified = soakwright(&["verify", &path.display().to_string()]);
    assert_eq!(verified.status.code(), Some(1));
    let whole_bytes = format!("the first {} bytes are the record, unchanged", whole.len());
    assert!(
        words(&verified).contains(&whole_bytes),
        "{}",
        words(&verified)
    );
}

#[test]
fn bytes_that_differ_where_all_else_agrees_are_told_with_both_ways_that_they_can_come_from() {
    let folder = folder("record-other-build");
    record(
        &at("spool-repair.toml"),
        &at("spool-repair-log.csv"),
        &folder,
    );
    let whole = fs::read(folder.join("record.pdf")).expect("a record");
    // A byte of what a reader shows beside the pages, which no attachment holds.
    let words_of_it = b"/Title(Signatures)";
    let place = whole
        .windows(words_of_it.len())
        .position(|w| w == words_of_it)
        .expect("the list of contents");
    let mut changed = whole.clone();
    changed[place + 8] ^= 1;
    let path = folder.join("changed.pdf");
    fs::write(&path, &changed).expect("written");
    let verified = soakwright(&["verify", &path.display().to_string()]);
    let said = words(&verified);
    assert_eq!(verified.status.code(), Some(1), "{said}");
    for part in [
        "DIFFERS every byte of the document: different from byte",
        "Fingerprints and findings agree",
        "Either it was changed after it was made, or a copy of the program of the same version",
        "it counts as changed",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn a_record_is_read_without_the_keys_of_its_files() {
    let folder = folder("record-words");
    let jobs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../jobs");
    let made = record(
        &jobs.join("carbon-steel-line.toml"),
        &jobs.join("carbon-steel-line-log.csv"),
        &folder,
    );
    assert_eq!(made.status.code(), Some(1), "{}", words(&made));
    let page = fs::read_to_string(folder.join("record.html")).expect("a page");
    let body = page.split("</style>").last().unwrap_or_default();
    assert!(body.contains("to be answered: "), "{body}");
    for word in ["answers.", "[[", " --", "`", "fitted =", "mapping.toml"] {
        assert!(!body.contains(word), "{word} is no word of the trade");
    }
    assert!(
        body.contains("in the log, no wire in the job: judges nothing"),
        "TC11 is told one way"
    );
}

#[test]
fn what_was_said_is_kept_and_taken_back_and_the_record_names_who_looked() {
    let folder = folder("record-looked");
    let (card, log) = (at("spool-repair.toml"), at("spool-repair-log.csv"));
    let us = fs::read_to_string(&card).expect("the card");
    let us = us.replace("units = \"si\"", "units = \"us\"");
    let card = folder.join("card.toml");
    fs::write(&card, us).expect("written");
    let path = |p: &Path| p.display().to_string();
    let (card, log, mapping) = (path(&card), path(&log), path(&folder.join("mapping.toml")));
    let shown = soakwright(&[
        "record",
        &card,
        &log,
        "--preview",
        "--keep-mapping",
        &mapping,
    ]);
    let said = words(&shown);
    assert!(said.contains("in °F; read as °C, as was said"), "{said}");
    assert!(said.contains("67.8") && !said.contains("19.9"), "{said}");
    let kept = fs::read_to_string(&mapping).expect("kept");
    assert!(kept.contains("unit = \"C\""), "{kept}");
    let back = [
        "record",
        &card,
        &log,
        "--preview",
        "--mapping",
        &mapping,
        "--as",
        "unit=",
        "--keep-mapping",
        &mapping,
    ];
    assert_eq!(soakwright(&back).status.code(), Some(0));
    let kept = fs::read_to_string(&mapping).expect("kept");
    assert!(!kept.contains("unit"), "{kept}");
    let out = path(&folder.join("out"));
    let made = soakwright(&[
        "record",
        &card,
        &log,
        "--out",
        &out,
        "--looked-at-by",
        "D. Moreau",
    ]);
    assert_eq!(made.status.code(), Some(0), "{}", words(&made));
    let data = fs::read_to_string(folder.join("out/record.json")).expect("data");
    assert!(
        data.contains("\"looked_at\": {\n    \"by\": \"D. Moreau\""),
        "{data}"
    );
    let pdf = path(&folder.join("out/record.pdf"));
    let verified = soakwright(&["verify", &pdf]);
    assert_eq!(verified.status.code(), Some(0), "{}", words(&verified));
}

#[test]
fn a_hold_cut_short_is_not_met_and_says_by_how_much() {
    let log = demo_log();
    let kept: Vec<&str> = log
        .lines()
        .filter(|line| {
            !(line.contains(" 10:3") || line.contains(" 10:4") || line.contains(" 10:5"))
        })
        .collect();
    let (made, _) = with_log("record-gap", &(kept.join("\n") + "\n"));
    let said = words(&made);
    assert_eq!(made.status.code(), Some(1), "{said}");
    assert!(said.contains("could not be judged: hold of 1 h"), "{said}");
    let shorter: Vec<String> = log
        .lines()
        .enumerate()
        .map(|(row, line)| match row {
            200..=245 => line.replace(",62", ",57").replace(",61", ",56"),
            _ => line.to_string(),
        })
        .collect();
    let (made, _) = with_log("record-dip", &(shorter.join("\n") + "\n"));
    let said = words(&made);
    assert_eq!(made.status.code(), Some(1), "{said}");
    assert!(
        said.contains("did not meet hold of 1 h") && said.contains("missed by"),
        "{said}"
    );
}

#[test]
fn what_the_file_leaves_open_is_asked_with_its_key() {
    let (made, folder) = with_log("record-open", &demo_log().replace("2026-10-20", "03/04/26"));
    let said = words(&made);
    assert_eq!(made.status.code(), Some(2), "{said}");
    assert!(
        said.contains("date_order=day_first or date_order=month_first"),
        "{said}"
    );
    assert!(!folder.join("out").exists(), "nothing is written");
}

#[test]
fn a_card_with_several_faults_names_them_all() {
    let folder = folder("record-card");
    let card = folder.join("card.toml");
    let text = fs::read_to_string(at("spool-repair.toml")).expect("the card");
    let text = text
        .replace("\"595 °C\"", "595")
        .replace("hold_time", "hold_tiem")
        .replace("\"2027-01-31\"", "\"31.1.27\"");
    fs::write(&card, text).expect("written");
    let made = record(&card, &at("spool-repair-log.csv"), &folder.join("out"));
    let said = words(&made);
    assert_eq!(made.status.code(), Some(2), "{said}");
    for fault in ["hold_min", "hold_tiem", "calibration_due"] {
        assert!(said.contains(fault), "{fault} is not named: {said}");
    }
}

#[test]
fn a_second_analysis_is_a_new_revision_and_the_first_stays() {
    let folder = folder("record-revision");
    record(
        &at("spool-repair.toml"),
        &at("spool-repair-log.csv"),
        &folder,
    );
    let first = fs::read(folder.join("record.pdf")).expect("a record");
    record(
        &at("spool-repair.toml"),
        &at("spool-repair-log.csv"),
        &folder,
    );
    assert_eq!(
        fs::read(folder.join("record.pdf")).expect("still there"),
        first
    );
    let second = soakwright(&["verify", &folder.join("record-2.pdf").display().to_string()]);
    assert_eq!(second.status.code(), Some(0), "{}", words(&second));
    assert!(!words(&second).contains("replaced it"));
    let of_first = soakwright(&["verify", &folder.join("record.pdf").display().to_string()]);
    assert_eq!(of_first.status.code(), Some(0), "it agrees with itself");
    assert!(
        words(&of_first).contains("this is revision 1; revision 2"),
        "{}",
        words(&of_first)
    );
}

#[test]
fn a_thermocouple_that_ran_out_of_calibration_keeps_the_record_open() {
    let folder = folder("record-calibration");
    let card = folder.join("card.toml");
    let text = fs::read_to_string(at("spool-repair.toml")).expect("the card");
    fs::write(&card, text.replace("2027-01-31", "2026-01-31")).expect("written");
    let made = record(&card, &at("spool-repair-log.csv"), &folder.join("out"));
    assert_eq!(made.status.code(), Some(1));
    assert!(
        words(&made).contains("the calibration of recorder R-5512 ran out on 2026-01-31"),
        "{}",
        words(&made)
    );
}

/// The same rows that judge a plan judge a record, and what cannot be read stops it.
#[test]
fn confirmed_rows_beside_the_job_go_with_the_record_or_refuse_it_with_their_line() {
    let folder = folder("record-confirmed");
    let job = folder.join("job.toml");
    fs::copy(at("../carbon-steel-line.toml"), &job).expect("copied");
    let log = at("../carbon-steel-line-log.csv");
    let confirmed = folder.join("confirmed.toml");
    let row = "[[confirmed]]\nrow = \"b31.3-2014/range-p1\"\nby = \"A. Reader\"\non = 2026-11-20\n";
    fs::write(&confirmed, row).expect("written");
    let made = record(&job, &log, &folder.join("out"));
    assert!(
        matches!(made.status.code(), Some(0 | 1)),
        "{}",
        words(&made)
    );
    let pdf = folder.join("out/record.pdf").display().to_string();
    let verified = soakwright(&["verify", &pdf]);
    assert_eq!(verified.status.code(), Some(0), "{}", words(&verified));
    assert!(words(&verified).contains("fingerprint (SHA-256) of confirmed.toml"));
    fs::write(&confirmed, row.replace("range-p1", "range-p11")).expect("written");
    let refused = record(&job, &log, &folder.join("out"));
    assert_eq!(refused.status.code(), Some(2));
    assert!(
        words(&refused).contains("confirmed.toml:2: "),
        "{}",
        words(&refused)
    );
}

/// A card that says nothing of the unit, and two logs of it by their paths: of one day, and of the next.
fn two_logs(name: &str) -> (PathBuf, [String; 3]) {
    let folder = folder(name);
    let card = fs::read_to_string(at("spool-repair.toml")).expect("the card");
    let write = |name: &str, text: &str| {
        let path = folder.join(name);
        fs::write(&path, text).expect("written");
        path.display().to_string()
    };
    let files = [
        write("card.toml", &card.replace("unit = \"C\"\n", "")),
        write("early.csv", &demo_log()),
        write("late.csv", &demo_log().replace("2026-10-20", "2026-10-21")),
    ];
    (folder, files)
}

#[test]
fn what_is_said_of_one_log_is_asked_again_of_the_next_with_the_pair_to_give() {
    let (folder, [card, early, late]) = two_logs("record-of-one-file");
    let out = folder.join("out").display().to_string();
    let with = |said: &[&str]| {
        let mut arguments = vec!["record", &card, &early, &late, "--out", &out];
        arguments.extend(said.iter().flat_map(|pair| ["--as", pair]));
        soakwright(&arguments)
    };
    let unit = with(&["file.early.csv.unit=C"]);
    assert_eq!(unit.status.code(), Some(2));
    let says = words(&unit);
    let pair = "of this one alone with file.late.csv.unit=C or file.late.csv.unit=F.";
    assert!(
        says.contains(pair) && !says.contains("early.csv, line"),
        "{says}"
    );
    let units = ["file.early.csv.unit=C", "file.late.csv.unit=C"];
    let heat = words(&with(&units));
    let pair = "Answer with file.late.csv.heat=early.csv or file.late.csv.heat=other or file.early.csv.heat=other.";
    assert!(heat.contains(pair), "{heat}");
    let made = with(&[&units[..], &["file.late.csv.heat=other"]].concat());
    let says = words(&made);
    assert_eq!(made.status.code(), Some(0), "{says}");
    assert!(
        says.contains("Left out late.csv: it is of another heat"),
        "{says}"
    );
    let pdf = folder.join("out/record.pdf").display().to_string();
    assert_eq!(soakwright(&["verify", &pdf]).status.code(), Some(0));
    let stranger = with(&["file.lat.csv.unit=C"]);
    assert_eq!(stranger.status.code(), Some(2));
    let says = words(&stranger);
    assert!(
        says.contains("lat.csv of --as is none of the files")
            && says.contains("early.csv, late.csv"),
        "{says}"
    );
}

#[test]
fn the_preview_tells_what_two_logs_leave_open_between_them_and_keeps_the_answer() {
    let (folder, [card, early, late]) = two_logs("record-heat-preview");
    let mapping = folder.join("mapping.toml").display().to_string();
    let before = [
        "record",
        &card,
        &early,
        &late,
        "--preview",
        "--keep-mapping",
        &mapping,
    ];
    let asked = words(&soakwright(&[&before[..], &["--as", "unit=C"]].concat()));
    assert!(
        asked.contains("late.csv: Is it of the same heat as early.csv?"),
        "{asked}"
    );
    let kept = [
        "--mapping",
        &mapping,
        "--as",
        "file.late.csv.heat=early.csv",
    ];
    let settled = words(&soakwright(&[&before[..], &kept].concat()));
    assert!(!settled.contains("same heat"), "{settled}");
    let text = fs::read_to_string(&mapping).expect("kept");
    assert!(
        text.contains("[file.\"late.csv\"]\nheat = \"early.csv\""),
        "{text}"
    );
}
