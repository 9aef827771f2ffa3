//! Whatever logs leave open, the record page has a form for it, and the form's answer settles it.

use axum::http::StatusCode;
use readings::KEYS;
use serde_json::{Value, json};

use super::visit::Site;

const CARD: &str = include_str!("../../../jobs/cards/spool-repair.toml");

/// Keys that a person may say without being asked: how a text is written shows in its bytes, and the sheet of a workbook
/// with most numbers is taken and told.
const NEVER_ASKED: [&str; 3] = ["encoding", "sheet", "delimiter"];

/// What is asked, the files that leave it open, and what the form sends.
struct Kind {
    key: &'static str,
    /// The name of the field in the form, which is the key of its answer.
    field: String,
    files: Vec<(&'static str, String)>,
    /// The key, and the answer.
    answer: (String, &'static str),
}

/// Forty minutes of rows below a head; a row is told by its minute.
fn rows(head: &str, row: impl Fn(usize) -> String) -> String {
    let rows: String = (0..40).map(|m| row(m) + "\n").collect();
    format!("{head}\n{rows}")
}

fn clocked(head: &str, from: usize, add: usize) -> String {
    rows(head, |m| {
        format!(
            "2026-03-02 08:{:02}:00,{}.0,{}.0",
            m + from,
            100 + m + from + add,
            200 + m + from + add
        )
    })
}

fn of_one(
    key: &'static str,
    field: &'static str,
    text: String,
    answer: (&'static str, &'static str),
) -> Kind {
    let of_file = |name: &str| match name {
        "column" => name.to_owned(),
        name if name.contains('.') => name.to_owned(),
        name => format!("file.a.csv.{name}"),
    };
    Kind {
        key,
        field: of_file(field),
        files: vec![("a.csv", text)],
        answer: (of_file(answer.0), answer.1),
    }
}

fn two_that_differ(answer: (&'static str, &'static str), field: &'static str) -> Kind {
    let head = "time,TC1 (C),TC2 (C)";
    let files = vec![
        ("a.csv", clocked(head, 0, 0)),
        ("b.csv", clocked(head, 15, 40)),
    ];
    Kind {
        key: "overlap",
        field: field.to_owned(),
        files,
        answer: (answer.0.to_owned(), answer.1),
    }
}

fn two_days_apart(answer: (&'static str, &'static str)) -> Kind {
    let today = clocked("time,TC1 (C),TC2 (C)", 0, 0);
    let files = vec![
        ("a.csv", today.clone()),
        ("b.csv", today.replace("2026-03-02", "2026-03-04")),
    ];
    Kind {
        key: "heat",
        field: answer.0.to_owned(),
        files,
        answer: (answer.0.to_owned(), answer.1),
    }
}

fn kinds() -> Vec<Kind> {
    let minute = |m: usize| format!("{},{}.0,{}.0", 60 * m, 100 + m, 200 + m);
    let head = "time,TC1 (C),TC2 (C)";
    let millivolts = |m: usize| format!("2026-03-02 08:{m:02}:00,{}.{m:02},9.{m:02}", 4 + m / 10);
    vec![
        of_one("unit", "unit", clocked("time,TC1,TC2", 0, 0), ("unit", "C")),
        of_one(
            "date_order",
            "date_order",
            rows(head, |m| {
                format!("03/04/2026 08:{m:02},{}.0,{}.0", 100 + m, 200 + m)
            }),
            ("date_order", "day_first"),
        ),
        of_one(
            "date_base",
            "date_base",
            rows("Date,TC1 (C),TC2 (C)", |m| {
                format!(
                    "{:.6},{}.0,{}.0",
                    46083.3 + m as f64 / 1440.0,
                    100 + m,
                    200 + m
                )
            }),
            ("date_base", "1900"),
        ),
        of_one(
            "date",
            "date",
            rows(head, |m| {
                format!("08:{m:02}:00,{}.0,{}.0", 100 + m, 200 + m)
            }),
            ("date", "2026-03-02"),
        ),
        of_one(
            "start",
            "start",
            rows("elapsed s,TC1 (C),TC2 (C)", minute),
            ("start", "2026-03-02 08:00"),
        ),
        of_one(
            "time_unit",
            "time_unit",
            rows("elapsed,TC1 (C),TC2 (C)", minute),
            ("time_unit", "s"),
        ),
        of_one(
            "column.NAME",
            "column",
            rows("what,TC1 (C),TC2 (C)", |m| {
                format!("{},{}.0,{}.0", 7 * m % 5, 100 + m, 200 + m)
            }),
            ("column.what", "elapsed"),
        ),
        of_one(
            "decimal",
            "decimal",
            rows("time;TC1 (C);TC2 (C)", |m| {
                format!(
                    "2026-03-02 08:{m:02}:00;{},000;{},000",
                    1 + m / 30,
                    1 + m / 30
                )
            }),
            ("decimal", "comma"),
        ),
        of_one(
            "scale",
            "scale",
            rows(&format!("Scale: 0.1\n{head}"), |m| {
                format!("2026-03-02 08:{m:02}:00,{}.5,{}.0", 100 + m, 200 + m)
            }),
            ("scale", "1"),
        ),
        of_one(
            "good",
            "good",
            rows("time,TC1 (C),TC1 status,TC2 (C),TC2 status", |m| {
                format!(
                    "2026-03-02 08:{m:02}:00,{}.0,{},{}.0,0",
                    100 + m,
                    m / 30,
                    200 + m
                )
            }),
            ("good", "0"),
        ),
        of_one(
            "clock_back",
            "clock_back",
            rows(head, |m| {
                format!(
                    "2026-03-02 {:02}:{:02}:00,{}.0,{}.0",
                    if m < 20 { 8 } else { 7 },
                    m,
                    100 + m,
                    200 + m
                )
            }),
            ("clock_back", "leave_out"),
        ),
        of_one(
            "thermocouple_type",
            "thermocouple_type",
            rows("time,TC1 (mV),TC2 (mV)", millivolts),
            ("thermocouple_type", "K"),
        ),
        Kind {
            key: "time_zone",
            field: "file.a.csv.time_zone".to_owned(),
            files: vec![
                ("a.csv", clocked(head, 0, 0)),
                (
                    "b.csv",
                    rows(head, |m| {
                        format!("2026-03-02T09:{m:02}:00+01:00,{}.0,{}.0", 100 + m, 200 + m)
                    }),
                ),
            ],
            answer: ("file.a.csv.time_zone".to_owned(), "Europe/Lisbon"),
        },
        two_that_differ(("file.b.csv.overlap", "later"), "file.b.csv.overlap"),
        two_that_differ(("clock.b.csv", "3600"), "clock.b.csv"),
        two_days_apart(("file.b.csv.heat", "a.csv")),
        two_days_apart(("file.b.csv.heat", "other")),
    ]
}

/// A card that says nothing of its log.
fn silent_card() -> String {
    CARD.replace("unit = \"C\"\n", "")
        .replace("time_zone = \"Europe/Lisbon\"\n", "")
}

async fn asked_of(kind: &Kind) -> (Site, Value) {
    let site = Site::on_loopback();
    let folder = site.project.create("C1", &silent_card()).expect("made");
    std::fs::create_dir(folder.logs_path()).expect("a folder");
    for (name, text) in &kind.files {
        std::fs::write(folder.logs_path().join(name), text).expect("written");
    }
    let visitor = site.visitor().await;
    let judged = site.get("/weld/C1/record/judged", &visitor).await;
    assert_eq!(
        judged.status,
        StatusCode::OK,
        "{}: {}",
        kind.key,
        judged.body
    );
    let judged = judged.json();
    (site, judged)
}

/// What is asked once the answer of a kind is given.
async fn answered(kind: &Kind, site: &Site, asked: &Value) -> Value {
    let visitor = site.visitor().await;
    let answer = json!({ "answers": [[kind.answer.0, kind.answer.1]], "tag": asked["tag"] });
    let kept = site
        .send(visitor.json("/weld/C1/record/answers", &answer))
        .await;
    let key = kind.key;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{key}: {}", kept.body);
    site.get("/weld/C1/record/judged", &visitor).await.json()
}

fn has_field(judged: &Value, field: &str) -> bool {
    let understood = judged["understood"].as_str().unwrap_or_default();
    // What was said can be changed in a form of its own.
    let understood = understood.split("id=\"given-box\"").next();
    let understood = understood.unwrap_or_default();
    understood.contains("id=\"answers\"") && understood.contains(&format!("name=\"{field}\""))
}

#[tokio::test]
async fn every_kind_of_question_has_a_form_whose_answer_settles_it() {
    for kind in kinds() {
        let key = kind.key;
        let (site, asked) = asked_of(&kind).await;
        assert_eq!(asked["open"], true, "{key}: {}", asked["findings"]);
        assert!(
            has_field(&asked, &kind.field),
            "{key}: {}",
            asked["understood"]
        );
        assert!(
            asked["findings"]
                .as_str()
                .is_some_and(|says| says.contains("answered above")),
            "{key}: {}",
            asked["findings"]
        );
        let after = answered(&kind, &site, &asked).await;
        let again = has_field(&after, &kind.field);
        assert!(!again, "{key} is asked again: {}", after["understood"]);
    }
}

#[test]
fn no_key_of_a_mapping_is_left_without_one() {
    let kinds = kinds();
    let asked = |key: &str| kinds.iter().any(|kind| kind.key == key);
    for (key, _) in KEYS {
        // Asked together with the type of the thermocouples, and once that is known, by itself.
        let is_asked = asked(key) || key == "cold_junction";
        assert_ne!(is_asked, NEVER_ASKED.contains(&key), "{key}");
    }
}

#[tokio::test]
async fn the_cold_junction_is_asked_behind_the_type_with_an_example_of_its_own() {
    let kinds = kinds();
    let kind = kinds
        .iter()
        .find(|kind| kind.key == "thermocouple_type")
        .expect("a kind");
    let (site, asked) = asked_of(kind).await;
    let next = answered(kind, &site, &asked).await;
    assert!(
        has_field(&next, "file.a.csv.cold_junction"),
        "{}",
        next["understood"]
    );
    assert!(
        next["understood"]
            .as_str()
            .is_some_and(|html| html.contains("placeholder=\"25\""))
    );
}
