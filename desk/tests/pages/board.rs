//! What the board tells of welds, records and equipment.

use axum::body::Body;
use axum::http::StatusCode;
use serde_json::json;

use super::record::with_card;
use super::visit::DEMO;

const CARD: &str = include_str!("../../../jobs/cards/spool-repair.toml");
const LOG: &str = include_str!("../../../jobs/cards/spool-repair-log.csv");

#[tokio::test]
async fn the_board_says_what_of_an_invented_weld_comes_along() {
    let site = with_card(DEMO, LOG);
    let visitor = site.visitor().await;
    let board = site.get("/", &visitor).await.body;
    assert!(
        board.contains("(invented: without its limits of owner and procedure)"),
        "{board}"
    );
    assert!(
        board.contains("analyses and names do not come along"),
        "{board}"
    );
}

#[tokio::test]
async fn the_board_tells_what_a_record_says_against_itself_and_what_was_changed_since() {
    // Readings of the hold lie lower than the card allows.
    let site = with_card(CARD, &LOG.replace(",62", ",57").replace(",61", ",56"));
    let visitor = site.visitor().await;
    let post = |path: &'static str| site.send(visitor.request("POST", path, Body::empty()));
    assert_eq!(post("/weld/C1/record").await.status, StatusCode::OK);
    let board = site.get("/", &visitor).await.body;
    assert!(board.contains("not met"), "{board}");
    assert!(!board.contains("changed since"), "{board}");
    let name = json!({ "by": "A. Weir", "role": "welding engineer" });
    let accepted = site
        .send(visitor.json("/weld/C1/record/accepted", &name))
        .await;
    assert_eq!(accepted.status, StatusCode::NO_CONTENT, "{}", accepted.body);
    let page = site.get("/weld/C1/record", &visitor).await.body;
    assert!(page.contains("accepted (revision 1)<"), "{page}");
    let folder = site.project.folder("C1").expect("there");
    let board = site.get("/", &visitor).await.body;
    assert!(
        board.contains("not met") && !board.contains("changed since"),
        "{board}"
    );
    let late = folder.logs_path().join("late.csv");
    std::fs::write(&late, LOG).expect("written");
    let told = async |what: &str| {
        let board = site.get("/", &visitor).await.body;
        let words = format!("changed since revision 1: {what}<");
        assert!(board.contains(&words), "{board}");
        let page = site.get("/weld/C1/record", &visitor).await.body;
        assert!(
            page.contains(&format!("accepted (revision 1); changed since: {what}<")),
            "{page}"
        );
    };
    told("the log late.csv lies in the folder and is not in it").await;
    std::fs::remove_file(&late).expect("gone");
    std::fs::write(folder.path().join("mapping.toml"), "unit = \"F\"\n").expect("written");
    told("mapping.toml was changed (the answers given about the logger's files)").await;
    std::fs::remove_file(folder.path().join("mapping.toml")).expect("gone");
    std::fs::write(folder.path().join("job.toml"), format!("{CARD}\n# later\n")).expect("written");
    told("job.toml was changed").await;
}

#[tokio::test]
async fn the_board_tells_of_cards_and_of_calibrations_that_ran_out() {
    let card = CARD.replace("2027-01-31", "2020-01-31");
    let site = with_card(&card, LOG);
    let visitor = site.visitor().await;
    let board = site.get("/", &visitor).await.body;
    assert!(
        board.contains("recorder R-5512") && board.contains("ran out on 2020-01-31"),
        "{board}"
    );
    assert!(
        board.contains("SR-41-R1") && board.contains("data-names=\"Missing\">a record<"),
        "{board}"
    );
}
