//! What goes wrong on site: nothing is lost, and it is said plainly.

use axum::body::{Body, Bytes};
use axum::http::StatusCode;
use futures_util::stream;

use super::visit::{DEMO, Site, Visitor};

fn put_job(visitor: &Visitor, tag: &str, text: String) -> axum::http::Request<Body> {
    let mut request = visitor.request("PUT", "/weld/W1/job.toml", Body::from(text));
    request
        .headers_mut()
        .insert("if-match", tag.parse().expect("a header"));
    request
}

#[tokio::test]
async fn the_later_of_two_editors_is_told_and_nothing_is_lost() {
    let site = Site::on_loopback();
    let (one, other) = (site.visitor().await, site.visitor().await);
    let tag = site
        .get("/weld/W1/job.toml", &one)
        .await
        .header("etag")
        .to_owned();
    let first = format!("{DEMO}# by one\n");
    assert_eq!(
        site.send(put_job(&one, &tag, first.clone())).await.status,
        StatusCode::NO_CONTENT
    );
    let later = site
        .send(put_job(&other, &tag, format!("{DEMO}# by the other\n")))
        .await;
    assert_eq!(later.status, StatusCode::PRECONDITION_FAILED);
    assert!(later.body.contains("changed meanwhile"), "{}", later.body);
    let kept = site.get("/weld/W1/job.toml", &other).await;
    assert_eq!(kept.body, first);
    let again = site
        .send(put_job(
            &other,
            kept.header("etag"),
            format!("{first}# and the other\n"),
        ))
        .await;
    assert_eq!(again.status, StatusCode::NO_CONTENT);
}

#[tokio::test]
async fn a_save_that_does_not_say_what_it_had_read_is_refused() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let request = visitor.request("PUT", "/weld/W1/job.toml", Body::from("x"));
    assert_eq!(
        site.send(request).await.status,
        StatusCode::PRECONDITION_REQUIRED
    );
    assert_eq!(
        site.project
            .folder("W1")
            .expect("there")
            .job_file()
            .expect("read")
            .text,
        DEMO
    );
}

#[tokio::test]
async fn a_log_of_two_gigabytes_is_refused_before_it_is_sent() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let mut request = visitor.request("PUT", "/weld/W1/logs/huge.csv", Body::empty());
    request.headers_mut().insert(
        "content-length",
        (2_u64 << 30).to_string().parse().expect("a header"),
    );
    let answer = site.send(request).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(
        answer.body.contains("larger than 256 MB"),
        "{}",
        answer.body
    );
    assert!(site.project.folder("W1").expect("there").logs().is_empty());
}

#[tokio::test]
async fn a_log_that_never_ends_is_stopped_and_leaves_nothing() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let piece = Bytes::from(vec![b'1'; 1 << 20]);
    let endless = stream::iter((0..300).map(move |_| Ok::<_, std::io::Error>(piece.clone())));
    let answer = site
        .send(visitor.request(
            "PUT",
            "/weld/W1/logs/endless.csv",
            Body::from_stream(endless),
        ))
        .await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert_eq!(
        std::fs::read_dir(site.folder.path().join("W1/logs"))
            .expect("a folder")
            .count(),
        0
    );
}

#[tokio::test]
async fn a_log_that_breaks_off_leaves_nothing() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let broken = stream::iter([
        Ok(Bytes::from_static(b"time,1\n")),
        Err(std::io::Error::other("gone")),
    ]);
    let answer = site
        .send(visitor.request("PUT", "/weld/W1/logs/a.csv", Body::from_stream(broken)))
        .await;
    assert_eq!(answer.status, StatusCode::BAD_REQUEST);
    assert_eq!(
        std::fs::read_dir(site.folder.path().join("W1/logs"))
            .expect("a folder")
            .count(),
        0
    );
}

#[tokio::test]
async fn a_log_is_never_changed_and_stays_inside_its_folder() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let put = |name: &str, text: &'static str| {
        visitor.request("PUT", &format!("/weld/W1/logs/{name}"), Body::from(text))
    };
    assert_eq!(
        site.send(put("a.csv", "first")).await.status,
        StatusCode::CREATED
    );
    let again = site.send(put("a.csv", "second")).await;
    assert_eq!(again.status, StatusCode::CONFLICT);
    assert_eq!(
        std::fs::read_to_string(site.folder.path().join("W1/logs/a.csv")).expect("read"),
        "first"
    );
    for name in [
        "..%2Fjob.toml",
        "%2Fetc%2Fpasswd",
        ".hidden",
        "a%00b",
        "..%5Cx",
    ] {
        assert_eq!(
            site.send(put(name, "x")).await.status,
            StatusCode::UNPROCESSABLE_ENTITY,
            "{name}"
        );
    }
    assert_eq!(
        site.send(put("empty.csv", "")).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert!(
        site.get("/", &visitor).await.body.contains("●●●"),
        "the weld counts as run"
    );
}

#[tokio::test]
async fn welds_that_are_not_there_and_names_that_lead_outside_are_refused() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    for name in ["W9", "..", "..%2F..", ".desk", "%00"] {
        let answer = site.get(&format!("/weld/{name}/job.toml"), &visitor).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{name}");
    }
}
