//! A new weld in inches shows inches in its fields, and its limits as soon as they can be said.

use axum::http::StatusCode;
use serde_json::{Value, json};

use crate::visit::{Site, Visitor};

async fn looked(site: &Site, visitor: &Visitor, text: &str) -> Value {
    let asked = json!({ "text": text, "change": null });
    let answer = site.send(visitor.json("/weld/N-1/look", &asked)).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.body);
    answer.json()
}

#[tokio::test]
async fn limits_stand_before_coil_and_source_are_said() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let asked = json!({ "weld": "N-1", "pattern": "empty:us" });
    let made = site.send(visitor.json("/welds", &asked)).await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.body);
    let folder = site.project.folder("N-1").expect("made");
    let mut text = folder.job_file().expect("read").text;
    let empty = looked(&site, &visitor, &text).await;
    let form = empty["form"].as_str().expect("a form");
    assert!(
        form.contains("e.g. 0.688 in") && !form.contains("17.5 mm"),
        "{form}"
    );
    assert!(empty["needs"].is_null());
    for (place, value) in [
        ("purpose", "stress_relief"),
        ("code", "B31.3"),
        ("edition", "2022"),
        ("weld.cap_width", "0.9 in"),
        ("weld.orientation", "horizontal"),
        ("side[1].outside_diameter", "12.75 in"),
        ("side[1].wall", "1 in"),
        ("side[1].metal", "A106 Gr B"),
        ("side[2].outside_diameter", "12.75 in"),
        ("side[2].wall", "1 in"),
        ("side[2].metal", "A106 Gr B"),
    ] {
        text = job::edit::set(&text, place, value).expect("set");
    }
    let so_far = looked(&site, &visitor, &text).await;
    let needs = so_far["needs"].as_str().expect("what it needs");
    assert!(needs.contains("1100\u{a0}°F"), "{needs}");
    for lacking in [
        "A plan still needs",
        "source (power, current",
        "coil (cable)",
        "blanket (",
    ] {
        assert!(needs.contains(lacking), "{lacking}: {needs}");
    }
    let faults = so_far["faults"].as_array().expect("a list");
    assert!(
        faults.iter().all(|fault| fault["is_missing"] == true),
        "{faults:?}"
    );
    let metric = |fault: &&Value| {
        fault["words"]
            .as_str()
            .is_some_and(|words| words.contains(" mm"))
    };
    assert_eq!(faults.iter().find(metric), None);
    folder
        .save_job(&text, &folder.job_file().expect("read").fingerprint)
        .expect("saved");
    let board = site.get("/", &visitor).await.body;
    assert!(board.contains("ASME B31.3 2022"), "{board}");
}
