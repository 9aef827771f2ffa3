//! What goes wrong on site: nothing is lost, and it is said plainly.

use axum::body::{Body, Bytes};
use axum::http::StatusCode;
use futures_util::{StreamExt, stream};

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

const PIECE: usize = 1 << 20;

#[tokio::test]
async fn a_large_log_is_on_the_disk_as_it_comes_and_not_in_memory() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let part = site.folder.path().join("W1/logs/.large.csv.part");
    // Each piece is made when it is asked for; by then those before it are on the disk, but for the few on their way.
    let pieces = stream::iter((0..48_usize).map(move |number| {
        let on_disk = std::fs::metadata(&part).map_or(0, |meta| meta.len() as usize);
        assert!(
            on_disk + 4 * PIECE >= number * PIECE,
            "{on_disk} bytes on the disk before piece {number}"
        );
        Ok::<_, std::io::Error>(Bytes::from(vec![b'1'; PIECE]))
    }));
    let body = Body::from_stream(pieces);
    let answer = site
        .send(visitor.request("PUT", "/weld/W1/logs/large.csv", body))
        .await;
    assert_eq!(answer.status, StatusCode::CREATED, "{}", answer.body);
    let kept = std::fs::metadata(site.folder.path().join("W1/logs/large.csv"));
    assert_eq!(kept.expect("kept").len() as usize, 48 * PIECE);
}

#[tokio::test]
async fn a_log_that_is_too_large_to_be_read_is_kept_and_the_reason_is_told_with_both_numbers() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let logs = site.project.folder("W1").expect("there").logs_path();
    std::fs::create_dir(&logs).expect("made");
    let large = std::fs::File::create(logs.join("large.csv")).expect("made");
    // Two gigabytes that take no room: nothing of them is read.
    large.set_len(2 << 30).expect("as long");
    let judged = site.get("/weld/W1/record/judged", &visitor).await;
    assert_eq!(judged.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in [
        "large.csv has 2048 MB, and 256 MB can be read here",
        "whole into memory",
        "Everything is kept",
        "where some 32 GB of memory are free",
        "soakwright record W1/job.toml W1/logs/* --out W1/record",
        "This page then has the revision",
    ] {
        assert!(judged.body.contains(words), "{}", judged.body);
    }
    std::fs::write(logs.join("small.csv"), "time,TC1\n").expect("written");
    let both = site.get("/weld/W1/record/judged", &visitor).await;
    assert!(
        both.body
            .contains("large.csv (2048 MB), small.csv (1 MB) have together 2049 MB"),
        "{}",
        both.body
    );
    let page = site.get("/weld/W1/record", &visitor).await.body;
    assert!(page.contains("value=\"small.csv\""), "it can be chosen");
    let small = site
        .get("/weld/W1/record/judged?logs=small.csv", &visitor)
        .await;
    assert_eq!(small.status, StatusCode::OK, "{}", small.body);
}

#[tokio::test]
async fn a_log_that_is_on_its_way_is_not_brought_twice() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let logs = site.project.folder("W1").expect("there").logs_path();
    let part = job::folder::Part::begin(&logs, "a.csv").expect("somebody brings it");
    let put = || visitor.request("PUT", "/weld/W1/logs/a.csv", Body::from("time,1\n"));
    let second = site.send(put()).await;
    assert_eq!(second.status, StatusCode::CONFLICT);
    assert!(second.body.contains("on its way"), "{}", second.body);
    drop(part);
    assert_eq!(site.send(put()).await.status, StatusCode::CREATED);
}

#[tokio::test]
async fn a_visitor_who_goes_while_a_log_comes_leaves_nothing() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let first = stream::iter([Ok::<_, std::io::Error>(Bytes::from_static(b"time,1\n"))]);
    let body = Body::from_stream(first.chain(stream::pending()));
    let logs = site.folder.path().join("W1/logs");
    let part = logs.join(".a.csv.part");
    let coming = site.send(visitor.request("PUT", "/weld/W1/logs/a.csv", body));
    let begun = async {
        while !part.exists() {
            tokio::task::yield_now().await;
        }
    };
    tokio::select! {
        _ = coming => panic!("it never ends"),
        () = begun => {}
    }
    assert_eq!(std::fs::read_dir(&logs).expect("a folder").count(), 0);
}

#[tokio::test]
async fn a_record_too_large_to_be_verified_is_refused_with_the_number() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let piece = Bytes::from(vec![b'1'; PIECE]);
    let pieces = stream::iter((0..130).map(move |_| Ok::<_, std::io::Error>(piece.clone())));
    let body = Body::from_stream(pieces);
    let answer = site
        .send(visitor.request("POST", "/verify?name=x.pdf", body))
        .await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(
        answer.body.contains("larger than 128 MB"),
        "{}",
        answer.body
    );
    assert!(answer.body.contains("soakwright verify"), "{}", answer.body);
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
