//! From logs to a record: questions, decisions, revisions, verification.

use axum::body::Body;
use axum::http::StatusCode;
use serde_json::{Value, json};

use super::visit::{Site, Visitor};

const DEMO: &str = include_str!("../../../jobs/carbon-steel-line.toml");
const CARD: &str = include_str!("../../../jobs/cards/spool-repair.toml");
const LOG: &str = include_str!("../../../jobs/cards/spool-repair-log.csv");

/// A desk with a cycle card `C1` and a log beside it.
pub fn with_card(card: &str, log: &str) -> Site {
    let site = Site::on_loopback();
    bring(&site, card, log);
    site
}

fn bring(site: &Site, card: &str, log: &str) {
    let folder = site.project.create("C1", card).expect("made");
    std::fs::create_dir(folder.logs_path()).expect("a folder");
    std::fs::write(folder.logs_path().join("log.csv"), log).expect("written");
}

async fn judged(site: &Site, visitor: &Visitor) -> Value {
    let answer = site.get("/weld/C1/record/judged", visitor).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.body);
    answer.json()
}

fn html(judged: &Value, piece: &str) -> String {
    judged[piece]
        .as_str()
        .expect("a piece of the page")
        .to_owned()
}

fn card_text(site: &Site) -> String {
    let folder = site.project.folder("C1").expect("there");
    folder.job_file().expect("read").text
}

#[tokio::test]
async fn a_log_is_judged_in_the_language_of_the_record() {
    let site = with_card(CARD, LOG);
    let visitor = site.visitor().await;
    let judged = judged(&site, &visitor).await;
    let findings = html(&judged, "findings");
    assert!(findings.contains("Measured values met"), "{findings}");
    assert!(findings.contains("by thermocouples TC1"), "{findings}");
    assert!(
        findings.contains("hold-time/"),
        "each finding names its definition"
    );
    assert!(
        findings.contains("data-show="),
        "findings lead to their place on the chart"
    );
    let understood = html(&judged, "understood");
    assert!(
        understood.contains("set point") && understood.contains("2026-10-20 07:30"),
        "{understood}"
    );
    assert_eq!(
        judged["chart"]["channels"].as_array().map(Vec::len),
        Some(5)
    );
}

#[tokio::test]
async fn what_is_said_of_every_file_becomes_a_key_of_the_job_file() {
    let silent = CARD.replace("unit = \"C\"\n", "");
    let site = with_card(&silent, LOG);
    let visitor = site.visitor().await;
    let asked = judged(&site, &visitor).await;
    assert_eq!(
        (asked["open"].as_bool(), &asked["chart"]),
        (Some(true), &Value::Null)
    );
    assert!(html(&asked, "understood").contains("name=\"file.log.csv.unit\""));
    let answer = json!({ "answers": [["unit", "C"]], "tag": asked["tag"] });
    let kept = site
        .send(visitor.json("/weld/C1/record/answers", &answer))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    assert!(card_text(&site).contains("unit = \"C\""));
    assert!(
        card_text(&site).contains("# A cycle card of an invented heat"),
        "comments stay"
    );
    assert_eq!(judged(&site, &visitor).await["open"].as_bool(), Some(false));
    let nonsense = json!({ "answers": [["unit", "furlongs"]], "tag": asked["tag"] });
    let refused = site
        .send(visitor.json("/weld/C1/record/answers", &nonsense))
        .await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.body.contains("C, F, K, mV"), "{}", refused.body);
}

#[tokio::test]
async fn a_channel_of_another_name_is_matched_and_the_mapping_is_kept_beside_the_file() {
    let renamed = LOG.replacen("TC1", "CH 01", 1);
    let site = with_card(CARD, &renamed);
    let visitor = site.visitor().await;
    let before = judged(&site, &visitor).await;
    assert!(html(&before, "findings").contains("TC1 stands in the job and not in the log"));
    let answer = json!({ "answers": [["name.CH 01", "TC1"]], "tag": before["tag"] });
    let kept = site
        .send(visitor.json("/weld/C1/record/answers", &answer))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    let after = judged(&site, &visitor).await;
    assert!(!html(&after, "findings").contains("not in the log"));
    let mapping = site
        .project
        .folder("C1")
        .expect("there")
        .mapping()
        .expect("kept");
    assert!(mapping.contains("\"CH 01\" = \"TC1\""), "{mapping}");
    assert!(
        mapping.contains("Europe/Lisbon"),
        "what the job file says goes on: {mapping}"
    );
}

#[tokio::test]
async fn a_decision_needs_a_reason_and_a_name_and_stands_in_the_file() {
    let site = with_card(CARD, LOG);
    let visitor = site.visitor().await;
    let tag = judged(&site, &visitor).await["tag"].clone();
    let decision = |reason: &str, by: &str| json!({ "channel": "TC3", "from": "1.5", "reason": reason, "by": by, "replaced_by": "TC4", "tag": tag });
    for (bad, says) in [
        (decision(" ", "D. Moreau"), "reason"),
        (decision("plug pulled", ""), "name"),
    ] {
        let refused = site
            .send(visitor.json("/weld/C1/record/decisions", &bad))
            .await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(refused.body.contains(says), "{}", refused.body);
    }
    assert!(!card_text(&site).contains("[[disposition]]"));
    let kept = decision("plug pulled.", "D. Moreau");
    let kept = site
        .send(visitor.json("/weld/C1/record/decisions", &kept))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    let text = card_text(&site);
    for line in [
        "[[disposition]]",
        "from = \"1.5 h\"",
        "reason = \"plug pulled.\"",
        "by = \"D. Moreau\"",
    ] {
        assert!(text.contains(line), "{text}");
    }
    let now = judged(&site, &visitor).await;
    assert!(html(&now, "decided").contains("plug pulled"));
    assert!(html(&now, "findings").contains("TC3 left the set"));
    for part in ["decided", "findings"] {
        assert!(!html(&now, part).contains("pulled.."), "{part}");
        assert!(!html(&now, part).contains("pulled.,"), "{part}");
    }
    // The page that still has the file from before is told.
    let late = site
        .send(visitor.json("/weld/C1/record/decisions", &decision("again", "X")))
        .await;
    assert_eq!(late.status, StatusCode::PRECONDITION_FAILED);
    let mut back = visitor.request(
        "DELETE",
        "/weld/C1/record/decisions",
        Body::from(json!({ "list": "disposition", "number": 1, "tag": now["tag"] }).to_string()),
    );
    back.headers_mut().insert(
        "content-type",
        "application/json".parse().expect("a header"),
    );
    assert_eq!(site.send(back).await.status, StatusCode::NO_CONTENT);
    assert!(!card_text(&site).contains("plug pulled"));
}

#[tokio::test]
async fn a_decision_behind_a_record_is_told_beside_it() {
    let site = with_card(CARD, LOG);
    let visitor = site.visitor().await;
    let tag = judged(&site, &visitor).await["tag"].clone();
    let made = site
        .send(visitor.request("POST", "/weld/C1/record", Body::empty()))
        .await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.body);
    let page = || async {
        site.send(visitor.request("GET", "/weld/C1/record", Body::empty()))
            .await
            .body
    };
    assert!(!page().await.contains("no longer what this revision proves"));
    let decision = json!({ "channel": "TC3", "from": "1.5", "reason": "plug pulled", "by": "D. Moreau", "replaced_by": "TC4", "tag": tag });
    site.send(visitor.json("/weld/C1/record/decisions", &decision))
        .await;
    let now = page().await;
    assert!(
        now.contains("no longer what this revision proves: job.toml was changed"),
        "{now}"
    );
}

#[tokio::test]
async fn what_cannot_be_decided_is_refused_with_what_can() {
    let site = with_card(CARD, LOG);
    let visitor = site.visitor().await;
    let tag = judged(&site, &visitor).await["tag"].clone();
    let decision = |channel: &str, from: &str, spare: &str, tag: &Value| json!({ "channel": channel, "from": from, "reason": "plug pulled", "by": "D. Moreau", "replaced_by": spare, "tag": tag });
    for (bad, says) in [
        (decision("TC99", "1.5", "", &tag), "TC1, TC2, TC3, TC4"),
        (decision("TC3", "1.5", "TC44", &tag), "spares: TC4"),
        (decision("TC3", "1.5", "TC1", &tag), "spares: TC4"),
        (decision("TC3", "soon", "TC4", &tag), "from"),
    ] {
        let refused = site
            .send(visitor.json("/weld/C1/record/decisions", &bad))
            .await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{bad}");
        assert!(refused.body.contains(says), "{}", refused.body);
    }
    // As the page itself writes times.
    let kept = decision("TC3", "1 h 30 min", "TC4", &tag);
    let kept = site
        .send(visitor.json("/weld/C1/record/decisions", &kept))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    assert!(card_text(&site).contains("from = \"1.5 h\""));
    let tag = judged(&site, &visitor).await["tag"].clone();
    let twice = decision("TC3", "2", "", &tag);
    let refused = site
        .send(visitor.json("/weld/C1/record/decisions", &twice))
        .await;
    assert!(
        refused.body.contains("take that back first"),
        "{}",
        refused.body
    );
    let nothing_like_it =
        json!({ "deviation": "hold too short", "reason": "fine", "by": "D. Moreau", "tag": tag });
    let refused = site
        .send(visitor.json("/weld/C1/record/answers-for", &nothing_like_it))
        .await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.body.contains("No deviation"), "{}", refused.body);
}

#[tokio::test]
async fn a_deviation_is_answered_for_with_a_reason_and_a_name() {
    let renamed = LOG.replacen("TC4", "CH 04", 1);
    let site = with_card(CARD, &renamed);
    let visitor = site.visitor().await;
    let before = judged(&site, &visitor).await;
    let says = "TC4 stands in the job and not in the log";
    assert!(html(&before, "findings").contains(&format!("data-deviation=\"{says}\"")));
    let answer = |by: &str| json!({ "deviation": says, "reason": "never wired", "by": by, "tag": before["tag"] });
    let refused = site
        .send(visitor.json("/weld/C1/record/answers-for", &answer("")))
        .await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let kept = site
        .send(visitor.json("/weld/C1/record/answers-for", &answer("D. Moreau")))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    assert!(card_text(&site).contains("[[accepted]]"));
    let after = judged(&site, &visitor).await;
    assert!(!html(&after, "findings").contains("Waits for an answer"));
    assert!(html(&after, "decided").contains("D. Moreau answers for"));
}

/// The log with a TC3 that heats by a tenth less than the others.
fn with_a_bad_third() -> String {
    let rows = LOG.lines().map(|line| {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        if let Ok(c) = cells[3].parse::<f64>() {
            cells[3] = format!("{:.1}", 20.0 + 0.9 * (c - 20.0));
        }
        cells.join(",") + "\n"
    });
    rows.collect()
}

#[tokio::test]
async fn deviations_of_one_cause_take_one_answer_and_stand_each_in_the_file() {
    let site = with_card(CARD, &with_a_bad_third());
    let visitor = site.visitor().await;
    let tag = judged(&site, &visitor).await["tag"].clone();
    let decision = json!({ "channel": "TC3", "from": "0.1", "reason": "came off", "by": "D. Moreau", "tag": tag });
    let kept = site
        .send(visitor.json("/weld/C1/record/decisions", &decision))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    let before = judged(&site, &visitor).await;
    let findings = html(&before, "findings");
    let cause = "TC3 is out of the set";
    assert!(
        findings.contains(&format!("data-answers-all=\"{cause}\"")),
        "{findings}"
    );
    let waiting: Vec<String> = findings
        .split("data-deviation=\"")
        .skip(1)
        .filter_map(|rest| rest.split_once('"'))
        .filter(|(_, rest)| rest.starts_with(&format!(" data-cause=\"{cause}\"")))
        .map(|(says, _)| says.to_owned())
        .collect();
    assert!(waiting.len() > 1, "{findings}");
    let before_it = html(&before, "stays_open");
    let words = format!("{} deviations wait for an answer", waiting.len());
    assert!(before_it.contains(&words), "{before_it}");
    let answer = |also: &[String]| json!({ "deviation": waiting[0], "also": also, "reason": "its wire was seen to hang", "by": "D. Moreau", "tag": before["tag"] });
    let strange = site
        .send(visitor.json(
            "/weld/C1/record/answers-for",
            &answer(&["something else".into()]),
        ))
        .await;
    assert_eq!(strange.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        !card_text(&site).contains("[[accepted]]"),
        "all of them or none"
    );
    let kept = site
        .send(visitor.json("/weld/C1/record/answers-for", &answer(&waiting[1..])))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    let text = card_text(&site);
    assert_eq!(
        text.matches("[[accepted]]").count(),
        waiting.len(),
        "{text}"
    );
    let after = judged(&site, &visitor).await;
    assert!(!html(&after, "findings").contains("Waits for an answer"));
    assert!(!html(&after, "stays_open").contains("wait for an answer"));
}

#[tokio::test]
async fn questions_of_the_rules_that_nobody_answered_are_told_beside_the_button() {
    let log = include_str!("../../../jobs/carbon-steel-line-log.csv");
    let site = with_card(DEMO, log);
    let visitor = site.visitor().await;
    let open = html(&judged(&site, &visitor).await, "stays_open");
    let folder = site.project.folder("C1").expect("there");
    let count = folder.basis(DEMO).expect("read").unanswered().len();
    assert!(count > 1, "{count}");
    let words = format!("{count} questions of the rules are not answered</span>, and they stand");
    assert!(open.contains(&words), "{open}");
    assert!(open.contains("href=\"/weld/C1#f-answers-"), "{open}");
    assert!(!open.contains("Nothing stays open"), "{open}");
    let made = site
        .send(visitor.request("POST", "/weld/C1/record", Body::empty()))
        .await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.body);
    let board = site.get("/", &visitor).await.body;
    let words = format!("{count} questions of the rules not answered");
    assert!(board.contains(&words), "{board}");
}

#[tokio::test]
async fn what_a_record_leaves_open_is_told_before_it_is_made() {
    let site = with_card(CARD, &with_a_bad_third());
    let visitor = site.visitor().await;
    let page = site.get("/weld/C1/record", &visitor).await.body;
    assert!(
        page.contains("aria-describedby=\"stays-open\""),
        "it belongs to the button"
    );
    let open = html(&judged(&site, &visitor).await, "stays_open");
    for part in [
        "Not met: ",
        "hold at 595 °C or above",
        "cycle card OT-CC-41",
    ] {
        assert!(open.contains(part), "{part}: {open}");
    }
    let made = site
        .send(visitor.request("POST", "/weld/C1/record", Body::empty()))
        .await;
    assert_eq!(made.status, StatusCode::OK, "it may be made all the same");
}

#[tokio::test]
async fn a_record_that_a_later_revision_replaced_says_so_where_it_is_verified() {
    let site = with_card(CARD, LOG);
    let visitor = site.visitor().await;
    let make = || site.send(visitor.request("POST", "/weld/C1/record", Body::empty()));
    let verify = |file: &str| {
        let folder = site.project.folder("C1").expect("there");
        let bytes = std::fs::read(folder.record_path().join(file)).expect("a record");
        site.send(visitor.request("POST", "/verify?name=sent.pdf", Body::from(bytes)))
    };
    make().await;
    assert_eq!(verify("record.pdf").await.json()["replaced"], Value::Null);
    make().await;
    let first = verify("record.pdf").await.json();
    let says = first["replaced"].as_str().expect("words");
    assert!(
        says.contains("In the folder of C1, this is revision 1; revision 2, made "),
        "{says}"
    );
    assert_eq!(first["agrees"], true, "it is still what it was");
    assert_eq!(verify("record-2.pdf").await.json()["replaced"], Value::Null);
}

#[tokio::test]
async fn a_revision_never_touches_the_one_before_and_verifies() {
    let site = with_card(CARD, LOG);
    let visitor = site.visitor().await;
    let make = || site.send(visitor.request("POST", "/weld/C1/record", Body::empty()));
    assert_eq!(make().await.json()["revision"], 1);
    let folder = site.project.folder("C1").expect("there");
    let first = std::fs::read(folder.record_path().join("record.pdf")).expect("a record");
    let tag = judged(&site, &visitor).await["tag"].clone();
    let decision = json!({ "channel": "TC3", "from": "1.5", "reason": "plug pulled", "by": "D. Moreau", "tag": tag });
    site.send(visitor.json("/weld/C1/record/decisions", &decision))
        .await;
    assert_eq!(make().await.json()["revision"], 2);
    assert!(std::fs::read(folder.record_path().join("record.pdf")).expect("still there") == first);
    let page = site.get("/weld/C1/record", &visitor).await.body;
    for file in [
        "/record/record.pdf",
        "/record/record-2.pdf",
        "/record/record-2.json",
    ] {
        assert!(page.contains(file), "{file}");
        assert_eq!(
            site.get(&format!("/weld/C1{file}"), &visitor).await.status,
            StatusCode::OK
        );
    }
    for file in [
        "record-3.pdf",
        "accepted.json",
        "record.exe",
        "..%2Fjob.toml",
    ] {
        let answer = site.get(&format!("/weld/C1/record/{file}"), &visitor).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{file}");
    }
    let verify = |bytes: Vec<u8>| {
        site.send(visitor.request("POST", "/verify?name=record.pdf", Body::from(bytes)))
    };
    let verdict = verify(first.clone()).await.json();
    assert_eq!(verdict["agrees"], true, "{verdict}");
    let stands = verdict["stands"].as_str().unwrap_or_default();
    assert!(
        stands.starts_with("Weld SR-41-R1, revision 1, made ")
            && stands.contains("it says: Measured values met "),
        "{stands}"
    );
    let printed = job::record::verify(&first, env!("CARGO_PKG_VERSION"))
        .expect("made again")
        .lines("record.pdf");
    assert_eq!(verdict["lines"], json!(printed), "the words of the command");
    assert_eq!(
        verify(LOG.into()).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
}

#[tokio::test]
async fn a_name_stands_under_one_revision_and_not_under_the_next() {
    let site = with_card(CARD, LOG);
    let visitor = site.visitor().await;
    let name = |by: &str| {
        let body = json!({ "by": by, "role": "welding engineer" });
        visitor.json("/weld/C1/record/accepted", &body)
    };
    assert_eq!(
        site.send(name("A. Weir")).await.status,
        StatusCode::UNPROCESSABLE_ENTITY,
        "no record yet"
    );
    site.send(visitor.request("POST", "/weld/C1/record", Body::empty()))
        .await;
    assert_eq!(
        site.send(name(" ")).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert_eq!(
        site.send(name("A. Weir")).await.status,
        StatusCode::NO_CONTENT
    );
    let folder = site.project.folder("C1").expect("there");
    assert_eq!(folder.contents().state(), job::folder::State::Accepted);
    let again = site.send(name("B. Other")).await;
    assert_eq!(again.status, StatusCode::CONFLICT, "{}", again.body);
    assert!(
        again
            .body
            .contains("accepted already, by A. Weir (welding engineer)"),
        "{}",
        again.body
    );
    site.send(visitor.request("POST", "/weld/C1/record", Body::empty()))
        .await;
    assert_eq!(folder.contents().state(), job::folder::State::Recorded);
}

#[tokio::test]
async fn who_only_looks_may_verify_and_see_and_change_nothing() {
    let site = Site::on_site();
    bring(&site, CARD, LOG);
    let looks = site.entered("look").await;
    judged(&site, &looks).await;
    let answer = site
        .send(looks.request("POST", "/verify?name=x", Body::from("x")))
        .await;
    assert_eq!(
        answer.status,
        StatusCode::UNPROCESSABLE_ENTITY,
        "it is looked at, and is no record"
    );
    for path in ["/weld/C1/record", "/weld/C1/demo-log"] {
        let answer = site.send(looks.request("POST", path, Body::empty())).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{path}");
    }
    let stranger = Visitor {
        token: "0".repeat(64),
        ..looks
    };
    let answer = site
        .send(stranger.request("POST", "/verify?name=x", Body::from("x")))
        .await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
}
