//! A user's promise: what is said of one file is said of that file alone, and files far apart are one heat only when
//! somebody says so.

use readings::{Log, Mapping, Question, other_heats, read};

fn with(pairs: &[&str]) -> Mapping {
    let mut mapping = Mapping::default();
    for pair in pairs {
        mapping.choose(pair).expect("a mapping");
    }
    mapping
}

/// Half an hour from an hour of a day on; the file does not tell its unit.
fn text(day: usize, hour: usize) -> String {
    let row = |m: usize| format!("2026-03-{day:02} {hour:02}:{m:02}:00,{}.0\n", 500 + m);
    let rows: String = (0..30).map(row).collect();
    format!("time,TC1\n{rows}")
}

fn log(name: &str, day: usize, hour: usize) -> Log {
    let mapping = with(&["unit=C"]);
    read(name, text(day, hour).as_bytes(), &mapping)
        .log
        .expect("a log")
}

fn asked(logs: &[Log], pairs: &[&str]) -> Vec<Question> {
    other_heats(&logs.iter().collect::<Vec<_>>(), &with(pairs))
}

#[test]
fn the_unit_of_one_file_is_not_that_of_the_next() {
    let mapping = with(&["file.first.csv.unit=C"]);
    let first = read("first.csv", text(2, 8).as_bytes(), &mapping);
    assert!(first.log.is_some(), "it is not asked again");
    let next = read("late.csv", text(2, 9).as_bytes(), &mapping);
    assert!(next.log.is_none());
    let told = next.questions[0].to_string();
    for pair in [
        "unit=C or unit=F",
        "file.late.csv.unit=C or file.late.csv.unit=F",
    ] {
        assert!(told.contains(pair), "{told}");
    }
}

#[test]
fn what_is_said_of_a_file_stands_before_what_is_said_of_every_file() {
    let mapping = with(&["unit=C", "file.late.csv.unit=F"]);
    let hottest = |name: &str| {
        let log = read(name, text(2, 8).as_bytes(), &mapping)
            .log
            .expect("a log");
        log.scans[0].readings[0].expect("a reading").c()
    };
    assert!((hottest("first.csv") - 500.0).abs() < 1e-9);
    assert!((hottest("late.csv") - 260.0).abs() < 1e-9);
}

#[test]
fn an_answer_for_a_file_is_kept_and_taken_back() {
    let mut mapping = with(&[
        "time_zone=Europe/Lisbon",
        "file.no 7=b.csv.date_order=day_first",
        "file.late.csv.unit=F",
    ]);
    assert_eq!(Mapping::from_toml(&mapping.to_toml()), Ok(mapping.clone()));
    assert_eq!(
        mapping.said_of("no 7=b.csv", "date_order"),
        Some("day_first")
    );
    mapping.choose("file.late.csv.unit=").expect("taken back");
    assert_eq!(mapping.of("late.csv").unit, None);
    let plain = with(&["unit=C"]).to_toml();
    assert_eq!(
        plain, "unit = \"C\"\n",
        "a mapping without answers for one file is as it was"
    );
}

#[test]
fn a_wrong_answer_for_a_file_is_refused_with_its_place() {
    let refused = |text: &str| Mapping::from_toml(text).expect_err("refused").to_string();
    let word = refused("[file.\"late.csv\"]\nunit = \"X\"\n");
    assert!(
        word.contains("file.\"late.csv\".unit = \"X\" is not one of C, F, K, mV"),
        "{word}"
    );
    let key = refused("[file.\"late.csv\"]\nunits = \"C\"\n");
    assert!(
        key.contains("no key file.\"late.csv\".units") && key.contains("unit, scale"),
        "{key}"
    );
    let mut mapping = with(&["file.late.csv.unit=C"]);
    let before = mapping.clone();
    for pair in [
        "file.late.csv.unit=X",
        "file.late.csv.column=C",
        "file.late.csv.units=",
    ] {
        assert!(mapping.choose(pair).is_err(), "{pair}");
    }
    assert_eq!(mapping, before, "what is refused changes nothing");
}

#[test]
fn files_of_two_days_are_asked_whether_they_are_one_heat() {
    let logs = [
        log("late.csv", 3, 8),
        log("early.csv", 2, 8),
        log("next.csv", 2, 9),
    ];
    let asked_first = asked(&logs, &[]);
    assert_eq!(
        asked_first.len(),
        1,
        "half an hour between files is not asked"
    );
    let told = asked_first[0].to_string();
    for part in [
        "late.csv: Is it of the same heat as next.csv?",
        "22 h 31 min",
        "file.late.csv.heat=next.csv or file.late.csv.heat=other.",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
    assert!(asked(&logs, &["file.late.csv.heat=next.csv"]).is_empty());
    assert!(asked(&logs, &["file.late.csv.heat=early.csv"]).is_empty());
    assert_eq!(
        asked(&logs, &["file.late.csv.heat=gone.csv"]).len(),
        1,
        "that file is not here"
    );
}

#[test]
fn of_two_files_either_may_be_the_one_of_another_heat() {
    let logs = [log("early.csv", 2, 8), log("late.csv", 3, 8)];
    let question = asked(&logs, &[]).remove(0);
    assert!(
        question
            .to_string()
            .ends_with("or file.early.csv.heat=other."),
        "{question}"
    );
    let twins = [log("log.csv", 2, 8), log("log.csv", 3, 8)];
    let question = asked(&twins, &[]).remove(0).to_string();
    assert!(question.contains("Both have one name"), "{question}");
    assert!(asked(&twins, &["file.log.csv.heat=log.csv"]).is_empty());
    let three = [log("a.csv", 2, 8), log("b.csv", 3, 8), log("c.csv", 4, 8)];
    assert_eq!(asked(&three, &[]).len(), 2, "each silence is asked about");
    let said = asked(&three, &["file.c.csv.heat=a.csv"]);
    assert_eq!(said.len(), 1, "{said:?}");
    assert_eq!(said[0].file, "b.csv");
}
