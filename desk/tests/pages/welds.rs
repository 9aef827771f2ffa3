//! What the pages say of a weld.

use axum::http::StatusCode;
use serde_json::json;

use super::visit::{DEMO, Site};

#[tokio::test]
async fn a_field_that_is_changed_changes_one_line_of_the_file() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let change = json!({ "kind": "field", "place": "weld.cap_width", "value": "21 mm" });
    let looked = site
        .send(visitor.json("/weld/W1/look", &json!({ "text": DEMO, "change": change })))
        .await
        .json();
    let text = looked["text"].as_str().expect("a text");
    let changed = DEMO
        .lines()
        .zip(text.lines())
        .filter(|(old, new)| old != new)
        .count();
    assert_eq!((changed, DEMO.lines().count()), (1, text.lines().count()));
    assert_eq!(looked["values"]["weld.cap_width"], "21 mm");
    assert!(looked["faults"].as_array().expect("a list").is_empty());
    assert!(
        looked["drawing"]["outside"]
            .as_array()
            .expect("a line")
            .len()
            > 1
    );
    assert!(looked["needs"].as_str().expect("a table").contains("ASME"));
    let kept = site.get("/weld/W1/job.toml", &visitor).await;
    assert_eq!(kept.body, DEMO, "looking saves nothing");
}

#[tokio::test]
async fn a_refusal_stands_beside_its_field_with_what_is_allowed() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let change = json!({ "kind": "field", "place": "side[2].wall", "value": "9" });
    let looked = site
        .send(visitor.json("/weld/W1/look", &json!({ "text": DEMO, "change": change })))
        .await
        .json();
    let fault = &looked["faults"][0];
    assert_eq!(fault["field"], "side[2].wall", "{looked}");
    assert!(fault["words"].as_str().expect("words").contains("allowed"));
    assert!(looked["drawing"].is_null());
}

#[tokio::test]
async fn every_key_of_the_job_file_has_a_field_that_explains_itself() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let add = json!({ "kind": "add", "path": "thermocouple" });
    let text = site
        .send(visitor.json("/weld/W1/look", &json!({ "text": DEMO, "change": add })))
        .await
        .json();
    let looked = site
        .send(visitor.json(
            "/weld/W1/look",
            &json!({ "text": text["text"], "change": null }),
        ))
        .await
        .json();
    let form = looked["form"].as_str().expect("a form");
    for table in job::shape::TABLES {
        let is_optional_list = [
            "neighbor",
            "coil.section",
            "person",
            "equipment",
            "disposition",
            "accepted",
            "zone",
            "treatment",
        ]
        .contains(&table.path);
        for key in table.keys.iter().filter(|_| !is_optional_list) {
            assert!(
                form.contains(&format!("{}\"", key.name)),
                "{}.{}",
                table.path,
                key.name
            );
        }
    }
}

#[tokio::test]
async fn a_weld_list_is_looked_at_by_row_and_made_whole() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let list = |text: &str| json!({ "list": text, "pattern": "W1" });
    let bad = site
        .send(visitor.json("/welds/check", &list("weld,side.wall\nA,9 kg\nW1,9 mm\n")))
        .await
        .json();
    assert_eq!(bad["good"], false);
    let html = bad["html"].as_str().expect("rows");
    assert!(html.contains("9 kg") && html.contains("already"), "{html}");
    let refused = site
        .send(visitor.json("/welds/make", &list("weld,side.wall\nA,9 kg\n")))
        .await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(site.project.folder("A").is_none());
    let made = site
        .send(visitor.json("/welds/make", &list("weld,line\nA,steam\nB,water\n")))
        .await;
    assert_eq!(made.status, StatusCode::CREATED, "{}", made.body);
    let board = site.get("/?search=water", &visitor).await.body;
    assert!(board.contains("/weld/B") && !board.contains("/weld/A\""));
}

#[tokio::test]
async fn words_of_a_job_file_never_become_markup() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let evil = "<script>alert(1)</script>";
    let text = DEMO.replacen("line ", &format!("line = '{evil}' #"), 1);
    let text = if text == DEMO {
        format!("{DEMO}\n")
    } else {
        text
    };
    site.project.create("evil", &text).expect("made");
    let answer = site.get("/", &visitor).await;
    assert!(!answer.body.contains(evil));
    assert!(!site.get("/weld/evil", &visitor).await.body.contains(evil));
    let answer = site
        .get("/?search=%3Cscript%3Ealert(1)%3C/script%3E", &visitor)
        .await;
    assert!(!answer.body.contains("<script>alert"));
}

#[tokio::test]
async fn an_unknown_wish_of_a_page_is_refused_and_nothing_breaks() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    for body in [
        json!({}),
        json!({ "text": 1 }),
        json!({ "text": "", "change": { "kind": "explode" } }),
    ] {
        let answer = site.send(visitor.json("/weld/W1/look", &body)).await;
        assert!(answer.status.is_client_error(), "{body}");
    }
    for text in ["", "a = ", "\u{0}", "[[side]]\n[side]\n", &"[".repeat(5000)] {
        let answer = site
            .send(visitor.json("/weld/W1/look", &json!({ "text": text, "change": null })))
            .await;
        assert_eq!(answer.status, StatusCode::OK);
        assert!(
            !answer.json()["faults"]
                .as_array()
                .expect("a list")
                .is_empty(),
            "{text:.20}"
        );
    }
}

#[tokio::test]
async fn an_empty_weld_asks_for_what_is_needed_field_by_field() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let asked = json!({ "weld": "N-1", "pattern": "empty:us" });
    let made = site.send(visitor.json("/welds", &asked)).await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.body);
    let text = site.project.folder("N-1").expect("made").job_file();
    let text = text.expect("read").text;
    let looked = site
        .send(visitor.json("/weld/N-1/look", &json!({ "text": text, "change": null })))
        .await
        .json();
    let faults = looked["faults"].as_array().expect("a list");
    let fields: Vec<&str> = faults.iter().filter_map(|f| f["field"].as_str()).collect();
    for needed in [
        "code",
        "edition",
        "side[1].wall",
        "side[2].metal",
        "source.power",
    ] {
        assert!(fields.contains(&needed), "{needed}: {fields:?}");
    }
    assert!(faults.iter().all(|f| f["is_missing"] == true), "{faults:?}");
    assert!(
        looked["form"]
            .as_str()
            .expect("a form")
            .contains("data-same")
    );
}

#[tokio::test]
async fn a_weld_like_another_takes_nothing_invented_and_the_tour_takes_all() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    for (weld, pattern, is_tour) in [
        ("A", "demo:thick-9cr-header", false),
        ("B", "W1", false),
        ("C", "demo:carbon-steel-line", true),
    ] {
        let asked = json!({ "weld": weld, "pattern": pattern, "is_tour": is_tour });
        let made = site.send(visitor.json("/welds", &asked)).await;
        assert_eq!(made.status, StatusCode::OK, "{}", made.body);
        let text = site.project.folder(weld).expect("made").job_file();
        let text = text.expect("read").text;
        assert_eq!(text.contains("invented"), is_tour, "{text}");
        assert_eq!(job::edit::get(&text, "identification.weld"), weld);
    }
}

#[tokio::test]
async fn a_diameter_that_is_a_nominal_size_is_asked_about() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let look = async |value: &str| {
        let change =
            json!({ "kind": "field", "place": "side[1].outside_diameter", "value": value });
        let body = json!({ "text": DEMO, "change": change });
        site.send(visitor.json("/weld/W1/look", &body)).await.json()
    };
    let looked = look("10 in").await;
    let remark = looked["remarks"]["side[1].outside_diameter"].to_string();
    assert!(remark.contains("10.75 in"), "{remark}");
    let refused = look("NPS 10").await;
    let words = refused["faults"][0]["words"].to_string();
    assert!(words.contains("273.0 mm"), "{words}");
}
