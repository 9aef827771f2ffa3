//! Who may enter, and what they may do.

use axum::body::Body;
use axum::http::StatusCode;
use serde_json::json;

use super::visit::{HOST, Site, Visitor};

fn new_weld() -> serde_json::Value {
    json!({ "weld": "W2", "pattern": "demo:carbon-steel-line" })
}

#[tokio::test]
async fn on_loopback_nobody_is_asked_and_everybody_may_act() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let made = site.send(visitor.json("/welds", &new_weld())).await;
    assert_eq!(
        (made.status, made.json()["address"].as_str()),
        (StatusCode::OK, Some("/weld/W2"))
    );
    assert!(site.get("/", &visitor).await.body.contains("/weld/W2"));
}

#[tokio::test]
async fn a_page_of_another_site_can_do_nothing() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    // Its name was made to lead here.
    let mut request = visitor.request("GET", "/", Body::empty());
    request
        .headers_mut()
        .insert("host", "evil.example:7010".parse().expect("a header"));
    assert_eq!(site.send(request).await.status, StatusCode::FORBIDDEN);
    // The browser says whose page it is.
    let mut request = visitor.json("/welds", &new_weld());
    request
        .headers_mut()
        .insert("origin", "https://evil.example".parse().expect("a header"));
    assert_eq!(site.send(request).await.status, StatusCode::FORBIDDEN);
    // It does not know the token.
    let stranger = Visitor {
        token: "0".repeat(64),
        ..visitor.clone()
    };
    assert_eq!(
        site.send(stranger.json("/welds", &new_weld())).await.status,
        StatusCode::FORBIDDEN
    );
    assert!(site.project.folder("W2").is_none());
    // The desk's own page may.
    let mut request = visitor.json("/welds", &new_weld());
    request.headers_mut().insert(
        "origin",
        format!("http://{HOST}").parse().expect("a header"),
    );
    assert_eq!(site.send(request).await.status, StatusCode::OK);
}

#[tokio::test]
async fn on_site_nothing_is_shown_before_the_door() {
    let site = Site::on_site();
    let nobody = Visitor::default();
    let answer = site.get("/", &nobody).await;
    assert_eq!(
        (answer.status, answer.header("location")),
        (StatusCode::SEE_OTHER, "/enter")
    );
    for path in [
        "/weld/W1",
        "/weld/W1/job.toml",
        "/weld/W1/plan/plan.pdf",
        "/weld/W1/cycle/events",
    ] {
        let answer = site.get(path, &nobody).await;
        assert!(!answer.body.contains("purpose"), "{path}");
        assert_ne!(answer.status, StatusCode::OK, "{path}");
    }
    assert_eq!(
        site.send(nobody.json("/welds", &new_weld())).await.status,
        StatusCode::UNAUTHORIZED
    );
}

#[tokio::test]
async fn looking_and_acting_are_two_rights() {
    let site = Site::on_site();
    let looks = site.entered("look").await;
    let page = site.get("/weld/W1", &looks).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.body.contains("looking only") && !page.body.contains("id=\"save\""));
    for request in [
        looks.json("/welds", &new_weld()),
        looks.request("PUT", "/weld/W1/job.toml", Body::from("x")),
        looks.request("PUT", "/weld/W1/logs/a.csv", Body::from("x")),
        looks.request("POST", "/weld/W1/cycle", Body::empty()),
    ] {
        assert_eq!(site.send(request).await.status, StatusCode::FORBIDDEN);
    }
    let acts = site.entered("act").await;
    assert_eq!(
        site.send(acts.json("/welds", &new_weld())).await.status,
        StatusCode::OK
    );
}

#[tokio::test]
async fn wrong_passphrases_must_wait_and_the_cookie_is_kept_from_scripts() {
    let site = Site::on_site();
    let entered = site.knock("act").await;
    let cookie = entered.header("set-cookie");
    for part in ["HttpOnly", "SameSite=Strict", "Secure"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    for _ in 0..4 {
        let answer = site.knock("wrong").await;
        assert_eq!(answer.status, StatusCode::UNAUTHORIZED);
        assert!(answer.body.contains("No such passphrase"));
    }
    let answer = site.knock("act").await;
    assert_eq!(
        answer.status,
        StatusCode::TOO_MANY_REQUESTS,
        "the right one must wait, too"
    );
    assert!(answer.header("retry-after").parse::<u64>().is_ok());
}

#[tokio::test]
async fn who_leaves_is_out() {
    let site = Site::on_site();
    let visitor = site.entered("look").await;
    // Leaving is no act upon the welds.
    assert_eq!(
        site.send(visitor.request("POST", "/leave", Body::empty()))
            .await
            .status,
        StatusCode::NO_CONTENT
    );
    assert_eq!(site.get("/", &visitor).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn every_answer_forbids_what_is_not_the_desks_own() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    for path in ["/", "/weld/W1", "/nowhere", "/weld/W1/job.toml"] {
        let answer = site.get(path, &visitor).await;
        let policy = answer.header("content-security-policy");
        assert!(
            policy.contains("default-src 'none'") && policy.contains("frame-ancestors 'none'"),
            "{path}: {policy}"
        );
        assert!(
            !policy.contains("unsafe-eval") && !policy.contains("http:"),
            "{policy}"
        );
        assert_eq!(answer.header("x-content-type-options"), "nosniff");
        assert!(
            !answer.body.contains("http://") || path == "/weld/W1/job.toml",
            "{path} loads from elsewhere"
        );
        assert!(
            !answer.body.contains("<script>") && !answer.body.contains("onclick="),
            "{path}"
        );
    }
}
