//! A user's promise: what the board and the form of the desk do, the commands do as well, and refuse in plain words.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const DEMO: &str = include_str!("../../jobs/carbon-steel-line.toml");
const CARD: &str = include_str!("../../jobs/cards/spool-repair.toml");

fn project(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn soakwright(folder: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_soakwright"));
    let output = command.args(arguments).current_dir(folder).output();
    output.expect("the program runs")
}

fn words(output: &Output) -> String {
    [&output.stdout, &output.stderr]
        .map(|said| String::from_utf8_lossy(said))
        .concat()
}

/// Runs it and returns what it says; it must end with this code.
fn says(folder: &Path, code: i32, arguments: &[&str]) -> String {
    let output = soakwright(folder, arguments);
    let said = words(&output);
    assert_eq!(output.status.code(), Some(code), "{arguments:?}: {said}");
    said
}

#[test]
fn a_weld_is_made_like_another_and_stands_on_the_board() {
    let project = project("new-weld");
    let like = "demo:carbon-steel-line";
    let new = |weld: &str, like: &str, code: i32| {
        says(
            &project,
            code,
            &["new", ".", "--weld", weld, "--like", like],
        )
    };
    new("W/1", like, 0);
    new("W-2", "W-1", 0);
    let taken = new("W-2", like, 2);
    assert!(taken.contains("is there already"), "{taken}");
    let nowhere = new("W-3", "W-9", 2);
    assert!(
        nowhere.contains("W-9") && nowhere.contains("demo:thick-9cr-header"),
        "{nowhere}"
    );
    let text = fs::read_to_string(project.join("W-2/job.toml")).expect("made");
    assert!(
        text.contains("\"W-2\"") && !text.contains("\"W/1\""),
        "{text}"
    );
    says(
        &project,
        0,
        &["new", ".", "--weld", "D", "--like", like, "--demo-log"],
    );
    assert!(project.join("D/logs/demo-log.csv").is_file());
    let board = says(&project, 0, &["board"]);
    let board = board.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(board.contains("3 welds"), "{board}");
    assert!(
        board.contains("W/1") && board.contains("missing: a plan, a log"),
        "{board}"
    );
    let found = says(&project, 0, &["board", ".", "--state", "run"]);
    assert!(
        found.contains("1 of 3 welds") && !found.contains("W-2"),
        "{found}"
    );
    let unknown = says(&project, 2, &["board", ".", "--state", "done"]);
    assert!(unknown.contains("drafted, planned, run"), "{unknown}");
    says(&project, 2, &["board", "nowhere"]);
}

#[test]
fn a_new_weld_begins_empty_or_with_what_may_be_taken_over_as_on_the_board() {
    let project = project("new-empty");
    let made = |weld: &str| fs::read_to_string(project.join(weld).join("job.toml")).expect("made");
    says(&project, 0, &["new", ".", "--weld", "E-1"]);
    says(
        &project,
        0,
        &["new", ".", "--weld", "E-2", "--like", "empty:us"],
    );
    assert!(made("E-1").contains("units = \"si\"") && made("E-1").contains("\"E-1\""));
    assert!(made("E-2").contains("units = \"us\""));
    assert!(!made("E-1").contains("wall"), "{}", made("E-1"));
    let real = DEMO.replace("demo     = true", "").replace(
        "[weld]",
        "[[person]]\nname = \"N. N.\"\nrole = \"engineer\"\n\n[weld]",
    );
    fs::write(project.join("real.toml"), real).expect("written");
    says(
        &project,
        0,
        &["new", ".", "--weld", "R-1", "--like", "real.toml"],
    );
    assert!(
        !made("R-1").contains("N. N."),
        "people stay where they were: {}",
        made("R-1")
    );
    assert!(made("R-1").contains("[[side]]"), "dimensions come along");
}

#[test]
fn a_weld_list_is_looked_at_and_made_whole_or_not_at_all() {
    let project = project("new-list");
    let list = |rows: &str| {
        fs::write(project.join("list.csv"), format!("weld,side.wall\n{rows}")).expect("written");
    };
    let new = |code: i32, more: &[&str]| {
        let like = [
            "new",
            "P",
            "--list",
            "list.csv",
            "--like",
            "demo:carbon-steel-line",
        ];
        says(&project, code, &[&like, more].concat())
    };
    list("L-1,17.5 mm\nL-2,17.5\n");
    let wrong = new(2, &[]);
    assert!(wrong.contains("line 3, weld L-2: "), "{wrong}");
    assert!(wrong.contains("nothing was made"), "{wrong}");
    assert!(!project.join("P/L-1").exists());
    list("L-1,17.5 mm\nL-2,18 mm\n");
    assert!(new(0, &["--check"]).contains("2 rows"));
    assert!(!project.join("P/L-1").exists(), "it was only looked at");
    new(0, &[]);
    let text = fs::read_to_string(project.join("P/L-2/job.toml")).expect("made");
    assert!(text.contains("18 mm"), "{text}");
}

#[test]
fn a_calibration_that_ran_out_stands_on_the_board() {
    let project = project("board-calibration");
    fs::create_dir(project.join("C1")).expect("a folder");
    let card = CARD.replace("2027-01-31", "2020-01-31");
    fs::write(project.join("C1/job.toml"), card).expect("written");
    let board = says(&project, 0, &["board"]);
    let board = board.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        board.contains("recorder R-5512 ran out on 2020-01-31, used for SR-41-R1"),
        "{board}"
    );
}

#[test]
fn one_value_is_set_and_every_other_line_stays() {
    let folder = project("set-value");
    fs::write(folder.join("job.toml"), DEMO).expect("written");
    says(&folder, 0, &["set", "job.toml", "weld.cap_width=21 mm"]);
    let text = fs::read_to_string(folder.join("job.toml")).expect("there");
    let changed: Vec<(&str, &str)> = DEMO
        .lines()
        .zip(text.lines())
        .filter(|(old, new)| old != new)
        .collect();
    assert_eq!(changed.len(), 1, "{changed:?}");
    assert!(changed[0].1.contains("21 mm"), "{changed:?}");
    for (wrong, because) in [
        ("weld.cap_widht=21 mm", "is no key of a job file"),
        ("weld.cap_width", "has no \"=\""),
        ("side[1].wall=-3 mm", "nothing was changed"),
    ] {
        let said = says(&folder, 2, &["set", "job.toml", wrong]);
        assert!(said.contains(because), "{said}");
        let now = fs::read_to_string(folder.join("job.toml")).expect("there");
        assert_eq!(now, text, "{wrong}");
    }
    let nothing = says(&folder, 2, &["set", "job.toml"]);
    assert!(nothing.contains("nothing to set"), "{nothing}");
}

#[test]
fn a_decision_is_kept_in_the_card_and_taken_back() {
    let folder = project("set-decision");
    fs::write(folder.join("job.toml"), CARD).expect("written");
    let decided = [
        "set",
        "job.toml",
        "disposition[1].channel=TC3",
        "disposition[1].from=2.5 h",
        "disposition[1].reason=plug pulled",
        "disposition[1].by=D. Moreau",
    ];
    let half = says(&folder, 2, &decided[..4]);
    assert!(half.contains("nothing was changed"), "{half}");
    says(&folder, 0, &decided);
    let text = fs::read_to_string(folder.join("job.toml")).expect("there");
    assert!(
        text.contains("[[disposition]]") && text.contains("plug pulled"),
        "{text}"
    );
    says(&folder, 0, &["set", "job.toml", "--drop", "disposition[1]"]);
    let text = fs::read_to_string(folder.join("job.toml")).expect("there");
    assert!(!text.contains("plug pulled"), "{text}");
    says(&folder, 0, &["set", "job.toml", "log.unit=C"]);
}

#[test]
fn logs_are_brought_as_they_are_and_set_aside() {
    let project = project("bring");
    fs::create_dir(project.join("W1")).expect("a folder");
    fs::write(project.join("W1/job.toml"), CARD).expect("written");
    for (name, text) in [("a.csv", "1\n"), ("b.csv", "2\n"), ("c.csv", "")] {
        fs::write(project.join(name), text).expect("written");
    }
    let logs = project.join("W1/logs");
    let all = || fs::read_dir(&logs).map_or(0, Iterator::count);
    for (files, because) in [
        (["a.csv", "c.csv"], "empty"),
        (["a.csv", "nowhere.csv"], "nowhere.csv"),
        (["a.csv", "W1"], "no file"),
        (["a.csv", "a.csv"], "two of the files"),
    ] {
        let said = says(&project, 2, &["bring", "W1", files[0], files[1]]);
        assert!(said.contains(because), "{said}");
        assert_eq!(all(), 0, "{said}");
    }
    says(&project, 0, &["bring", "W1", "a.csv", "b.csv"]);
    let again = says(&project, 0, &["bring", "W1/job.toml", "a.csv"]);
    assert!(again.contains("the same to the byte"), "{again}");
    fs::write(project.join("a.csv"), "another\n").expect("written");
    let other = says(&project, 2, &["bring", "W1", "a.csv"]);
    assert!(
        other.contains("never changed") && other.contains("another name"),
        "{other}"
    );
    assert_eq!(
        fs::read_to_string(logs.join("a.csv")).expect("there"),
        "1\n"
    );
    let unknown = says(&project, 2, &["set-aside", "W1", "a.csv", "x.csv"]);
    assert!(unknown.contains("here are: a.csv, b.csv"), "{unknown}");
    assert_eq!(all(), 2, "none was moved");
    says(&project, 0, &["set-aside", "W1", "a.csv", "W1/logs/b.csv"]);
    let aside = fs::read_to_string(project.join("W1/set-aside/a.csv"));
    assert_eq!((aside.expect("there").as_str(), all()), ("1\n", 0));
    let no_weld = says(&project, 2, &["bring", ".", "a.csv"]);
    assert!(no_weld.contains("no folder of a weld"), "{no_weld}");
}

#[test]
fn a_weld_gets_another_number_until_there_is_a_record_and_leaves_without_loss() {
    let project = project("rename");
    let like = ["new", ".", "--like", "demo:carbon-steel-line", "--weld"];
    for weld in ["W-1", "W-2"] {
        says(&project, 0, &[&like[..], &[weld]].concat());
    }
    let taken = says(&project, 2, &["rename", "W-1", "W/2"]);
    assert!(taken.contains("is there already"), "{taken}");
    let text = fs::read_to_string(project.join("W-1/job.toml")).expect("there");
    assert!(text.contains("\"W-1\""), "{text}");
    says(&project.join("W-1"), 0, &["rename", ".", "W/3"]);
    let text = fs::read_to_string(project.join("W-3/job.toml")).expect("renamed");
    assert!(
        text.contains("\"W/3\"") && !project.join("W-1").exists(),
        "{text}"
    );
    fs::create_dir(project.join("W-3/record")).expect("a folder");
    fs::write(project.join("W-3/record/record.json"), "{}").expect("written");
    let stays = says(&project, 2, &["rename", "W-3", "W-4"]);
    assert!(stays.contains("the number stays"), "{stays}");
    let removed = says(&project, 0, &["remove", "W-3"]);
    assert!(removed.contains("removed welds"), "{removed}");
    let board = says(&project, 0, &["board"]);
    assert!(
        board.starts_with("1 weld\n") && board.contains("W-2"),
        "{board}"
    );
    let kept = fs::read_dir(project.join("removed welds")).expect("there");
    let kept: Vec<PathBuf> = kept.flatten().map(|entry| entry.path()).collect();
    assert!(kept[0].join("record/record.json").is_file(), "{kept:?}");
}

#[test]
fn the_quick_answer_is_the_numbers_of_the_desk() {
    let folder = project("rest");
    fs::write(folder.join("job.toml"), DEMO).expect("written");
    let output = soakwright(&folder, &["rest", "job.toml"]);
    let said = words(&output);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{said}");
    let looks = said.contains("LOOK: ");
    assert_eq!(output.status.code(), Some(i32::from(looks)), "{said}");
    for name in [
        "Coldest of the soak band",
        "Power out of the source",
        "% in reserve",
    ] {
        assert!(said.contains(name), "{said}");
    }
    let json = soakwright(&folder, &["rest", "job.toml", "--json"]);
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).expect("JSON");
    assert_eq!(json.as_array().map(Vec::len), Some(11), "{json}");
    fs::write(folder.join("card.toml"), CARD).expect("written");
    let card = says(&folder, 2, &["rest", "card.toml"]);
    assert!(card.contains("a cycle card"), "{card}");
}

#[test]
fn a_number_alone_is_set_with_its_unit_and_told_or_asked() {
    let folder = project("set-number");
    fs::write(folder.join("job.toml"), DEMO).expect("written");
    let said = says(&folder, 0, &["set", "job.toml", "side[1].wall=0.7"]);
    assert_eq!(said.trim(), "side[1].wall: 0.7 is taken as 0.7 in");
    let text = fs::read_to_string(folder.join("job.toml")).expect("there");
    assert!(text.contains("\"0.7 in\""), "{text}");
    let asked = says(&folder, 2, &["set", "job.toml", "side[1].length=20"]);
    assert!(asked.contains("\"20 ft\" or \"20 in\""), "{asked}");
    assert_eq!(
        fs::read_to_string(folder.join("job.toml")).expect("there"),
        text
    );
    let same = says(&folder, 0, &["set", "job.toml", "--same-pipe"]);
    assert!(
        same.contains("Taken over from the first side: outside diameter, wall"),
        "{same}"
    );
    let text = fs::read_to_string(folder.join("job.toml")).expect("there");
    assert_eq!(text.matches("\"0.7 in\"").count(), 2, "{text}");
}

#[test]
fn a_job_that_is_not_whole_is_told_with_one_account() {
    let folder = project("account");
    let text = DEMO.replace("[source]", "[sauce]");
    fs::write(folder.join("job.toml"), &text).expect("written");
    for deed in ["plan", "rest"] {
        let said = says(&folder, 2, &[deed, "job.toml"]);
        assert!(said.contains("One thing is to be put right."), "{said}");
        assert!(
            said.contains("5 values are still needed: source.power, "),
            "{said}"
        );
    }
    fs::create_dir_all(folder.join("P/W1")).expect("a folder");
    fs::write(folder.join("P/W1/job.toml"), &text).expect("written");
    let board = says(&folder, 0, &["board", "P"]);
    let board = board.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        board.contains("one thing in the job to put right, 5 values of the job"),
        "{board}"
    );
}
