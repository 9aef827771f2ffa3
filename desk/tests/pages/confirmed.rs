//! Rows of the rules that somebody confirmed beside the job file are read by every page as by the commands.

use std::fs;
use std::time::Duration;

use axum::body::Body;
use axum::http::StatusCode;
use serde_json::{Value, json};

use super::visit::{DEMO, Site, Visitor};

const CONFIRMED: &str =
    "[[confirmed]]\nrow = \"b31.3-2014/range-p1\"\nby = \"A. Reader\"\non = 2026-11-20\n";

/// There is no such row.
const REFUSED: &str =
    "[[confirmed]]\nrow = \"b31.3-2014/range-p11\"\nby = \"A. Reader\"\non = 2026-11-20\n";

fn with_confirmed(text: &str) -> Site {
    let site = Site::on_loopback();
    fs::write(site.folder.path().join("W1/confirmed.toml"), text).expect("written");
    site
}

async fn look(site: &Site, visitor: &Visitor) -> Value {
    let asked = json!({ "text": DEMO, "change": null });
    site.send(visitor.json("/weld/W1/look", &asked))
        .await
        .json()
}

/// Computes the cycle, which takes as long as it takes, and returns how it ended.
async fn cycle(site: &Site, visitor: &Visitor) -> Value {
    let begun = site
        .send(visitor.request("POST", "/weld/W1/cycle", Body::empty()))
        .await;
    assert_eq!(begun.status, StatusCode::ACCEPTED);
    loop {
        let standing = site.first_event("/weld/W1/cycle/events", visitor).await;
        if standing["is"] != "waiting" && standing["is"] != "running" {
            return standing;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

#[tokio::test]
async fn the_needs_and_the_plan_name_who_confirmed_a_row() {
    let site = with_confirmed(CONFIRMED);
    let visitor = site.visitor().await;
    let needs = look(&site, &visitor).await["needs"].clone();
    let needs = needs.as_str().expect("the needs").to_owned();
    assert!(needs.contains("b31.3-2014/range-p1"), "{needs}");
    assert!(needs.contains("A. Reader on 2026-11-20"), "{needs}");
    let ended = cycle(&site, &visitor).await;
    assert_eq!(ended["is"], "done", "{ended}");
    let plan = site.get("/weld/W1/plan/plan.json", &visitor).await.json();
    assert_eq!(plan["needs"]["confirmed"][0]["by"], "A. Reader");
    let page = site.get("/weld/W1/plan/plan.html", &visitor).await.body;
    assert!(page.contains("A. Reader on 2026-11-20"));
}

#[tokio::test]
async fn confirmed_rows_that_cannot_be_used_stop_the_page_with_their_line() {
    let site = with_confirmed(REFUSED);
    let visitor = site.visitor().await;
    let looked = look(&site, &visitor).await;
    let stopped = looked["stopped"].as_str().expect("words");
    assert!(
        stopped.contains("confirmed.toml:2: ") && stopped.contains("did you mean"),
        "{stopped}"
    );
    assert!(looked["needs"].is_null(), "nothing is told without the row");
    let rest = site.get("/weld/W1/rest", &visitor).await;
    assert_eq!(rest.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(rest.body.contains("confirmed.toml:2: "), "{}", rest.body);
    let ended = cycle(&site, &visitor).await;
    assert_eq!(ended["is"], "failed", "{ended}");
    let says = ended["says"].as_str().expect("words");
    assert!(says.contains("confirmed.toml:2: "), "{says}");
    let none = site.get("/weld/W1/plan/plan.pdf", &visitor).await;
    assert_eq!(none.status, StatusCode::NOT_FOUND);
}

const LOG: &str = include_str!("../../../jobs/carbon-steel-line-log.csv");

fn with_log(confirmed: &str) -> Site {
    let site = with_confirmed(confirmed);
    let logs = site.folder.path().join("W1/logs");
    fs::create_dir_all(&logs).expect("a folder");
    fs::write(logs.join("log.csv"), LOG).expect("written");
    site
}

#[tokio::test]
async fn the_record_is_judged_with_the_row_and_is_not_accepted_after_it_changed() {
    let site = with_log(CONFIRMED);
    let visitor = site.visitor().await;
    let judged = site.get("/weld/W1/record/judged", &visitor).await;
    assert_eq!(judged.status, StatusCode::OK, "{}", judged.body);
    assert!(
        judged.body.contains("b31.3-2014/range-p1"),
        "{}",
        judged.body
    );
    assert!(judged.body.contains("read by A. Reader on 2026-11-20"));
    let kept = site
        .send(visitor.request("POST", "/weld/W1/record", Body::empty()))
        .await;
    assert_eq!(kept.status, StatusCode::OK, "{}", kept.body);
    let data = site
        .get("/weld/W1/record/record.json", &visitor)
        .await
        .json();
    assert_eq!(data["confirmed"]["rows"][0]["by"], "A. Reader");
    let other = CONFIRMED.replace("A. Reader", "B. Reader");
    fs::write(site.folder.path().join("W1/confirmed.toml"), other).expect("written");
    let again = site.get("/weld/W1/record/judged", &visitor).await;
    assert!(again.body.contains("read by B. Reader"), "{}", again.body);
    let name = json!({ "by": "A. Weir", "role": "engineer" });
    let accepted = site
        .send(visitor.json("/weld/W1/record/accepted", &name))
        .await;
    assert_eq!(accepted.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        accepted.body.contains("confirmed.toml was changed"),
        "{}",
        accepted.body
    );
}

#[tokio::test]
async fn rows_that_cannot_be_used_stop_the_record_with_their_line() {
    let site = with_log(REFUSED);
    let visitor = site.visitor().await;
    let judged = site.get("/weld/W1/record/judged", &visitor).await;
    assert_eq!(judged.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        judged.body.contains("confirmed.toml:2: "),
        "{}",
        judged.body
    );
}
