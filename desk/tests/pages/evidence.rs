//! What a reader who has never seen the program needs on the record page: units of the job, answers that can be changed, one
//! statement of names, lists to choose from, who looked, how to go on.

use axum::body::Body;
use axum::http::StatusCode;
use serde_json::{Value, json};

use super::visit::{Site, Visitor};

const CARD: &str = include_str!("../../../jobs/cards/spool-repair.toml");
const LOG: &str = include_str!("../../../jobs/cards/spool-repair-log.csv");

async fn with_logs(card: &str, logs: &[(&str, &str)]) -> (Site, Visitor) {
    let site = Site::on_loopback();
    let folder = site.project.create("C1", card).expect("made");
    std::fs::create_dir(folder.logs_path()).expect("a folder");
    for (name, text) in logs {
        std::fs::write(folder.logs_path().join(name), text).expect("written");
    }
    let visitor = site.visitor().await;
    (site, visitor)
}

async fn judged(site: &Site, visitor: &Visitor) -> Value {
    let answer = site.get("/weld/C1/record/judged", visitor).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.body);
    answer.json()
}

fn piece(judged: &Value, name: &str) -> String {
    judged[name].as_str().expect(name).to_owned()
}

async fn answer(site: &Site, visitor: &Visitor, answers: Value) -> Value {
    let tag = judged(site, visitor).await["tag"].clone();
    let body = json!({ "answers": answers, "tag": tag });
    let kept = site
        .send(visitor.json("/weld/C1/record/answers", &body))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    judged(site, visitor).await
}

fn us_card() -> String {
    CARD.replace("units = \"si\"", "units = \"us\"")
}

#[tokio::test]
async fn first_rows_and_contradictions_stand_in_the_unit_of_the_job() {
    let (site, visitor) = with_logs(&us_card(), &[("log.csv", LOG)]).await;
    let understood = piece(&judged(&site, &visitor).await, "understood");
    assert!(
        understood.contains("The first rows as understood, in °F; read as °C, as was said"),
        "{understood}"
    );
    assert!(understood.contains(">67.8<"), "19.9 °C: {understood}");
    assert!(!understood.contains(">19.9<"), "{understood}");

    let stated = LOG.replacen("TC1,TC2,TC3", "TC1 (C),TC2 (C),TC3 (C)", 1);
    let silent = us_card().replace("unit = \"C\"\n", "");
    let (site, visitor) = with_logs(&silent, &[("log.csv", &stated)]).await;
    let understood = piece(&judged(&site, &visitor).await, "understood");
    assert!(
        understood.contains("in °F; the file is in °C"),
        "{understood}"
    );

    let warmer = LOG.replace(",19.9,", ",29.9,");
    let two = [("a.csv", LOG), ("b.csv", warmer.as_str())];
    let (site, visitor) = with_logs(&us_card(), &two).await;
    let understood = piece(&judged(&site, &visitor).await, "understood");
    assert!(
        understood.contains("67.8 °F and 85.8 °F"),
        "what the two tell: {understood}"
    );
}

#[tokio::test]
async fn an_answer_can_be_changed_and_taken_back_where_it_was_given() {
    let (site, visitor) = with_logs(CARD, &[("log.csv", LOG)]).await;
    let folder = site.project.folder("C1").expect("there");
    let given = piece(&judged(&site, &visitor).await, "understood");
    for words in [
        "Unit of the temperatures: <strong>°C</strong>",
        "Time zone of the recorder’s clock: <strong>Europe/Lisbon</strong>",
        "take back what was said",
    ] {
        assert!(given.contains(words), "{words}: {given}");
    }
    let asked = answer(&site, &visitor, json!([["unit", ""]])).await;
    assert_eq!(asked["open"], true, "the unit is asked again");
    let text = folder.job_file().expect("read").text;
    assert!(!text.contains("unit = \"C\"") && text.contains("Europe/Lisbon"));
    let again = answer(&site, &visitor, json!([["unit", "F"]])).await;
    assert_eq!(again["open"], false);
    // From the first answer that goes by a name on, all are kept beside the job file.
    answer(&site, &visitor, json!([["column.Set point", "ignore"]])).await;
    let changed = answer(&site, &visitor, json!([["unit", "C"]])).await;
    let shown = piece(&changed, "understood");
    assert!(
        shown.contains("Column Set point: <strong>not read</strong>"),
        "{shown}"
    );
    answer(
        &site,
        &visitor,
        json!([["column.Set point", ""], ["time_zone", ""]]),
    )
    .await;
    let mapping = folder.mapping().expect("beside");
    assert!(mapping.contains("unit = \"C\""), "{mapping}");
    assert!(
        !mapping.contains("Set point") && !mapping.contains("Lisbon"),
        "{mapping}"
    );
}

#[tokio::test]
async fn one_statement_tells_which_thermocouples_the_log_has_and_which_it_lacks() {
    let renamed = LOG.replacen("TC1", "CH 01", 1).replacen("TC4", "CH 04", 1);
    let (site, visitor) = with_logs(CARD, &[("log.csv", &renamed)]).await;
    let before = piece(&judged(&site, &visitor).await, "understood");
    for words in [
        "TC1, TC4 are not in the log",
        "Of the 5 thermocouples that the job fits, the log has 3: TC2 (control)",
        "It lacks TC1 (control), TC4 (spare). ",
        "Could not be judged: hold",
        "by their names: CH 01, CH 04",
    ] {
        assert!(before.contains(words), "{words}: {before}");
    }
    let none = "CH 04, of no thermocouple";
    let said = json!([["name.CH 01", "TC1"], ["name.CH 04", none]]);
    let after = answer(&site, &visitor, said).await;
    let after = piece(&after, "understood");
    assert!(
        after.contains("TC4 is not in the log"),
        "still true: {after}"
    );
    assert!(
        after.contains("Of no thermocouple of this job, as was said: CH 04."),
        "{after}"
    );
    let (site, visitor) = with_logs(CARD, &[("log.csv", LOG)]).await;
    let whole = piece(&judged(&site, &visitor).await, "understood");
    assert!(whole.contains("the log has all of the job"), "{whole}");
    assert!(!whole.contains("▲"), "nothing to look at: {whole}");
}

#[tokio::test]
async fn a_column_that_is_no_status_can_be_said_to_be_none() {
    let rows: String = (0..40)
        .map(|m| {
            format!(
                "2026-03-02 08:{m:02}:00,{}.0,{},{}.0\n",
                100 + m,
                m / 30,
                200 + m
            )
        })
        .collect();
    let log = format!("time,TC1 (C),TC1 status,TC2 (C)\n{rows}");
    let (site, visitor) = with_logs(CARD, &[("log.csv", &log)]).await;
    let asked = judged(&site, &visitor).await;
    let form = piece(&asked, "understood");
    assert!(asked["open"] == true && form.contains("name=\"good\""));
    assert!(
        form.contains("name=\"column.TC1 status\" value=\"ignore\""),
        "{form}"
    );
    assert!(form.contains("TC1 status is no status, and is not read"));
    assert!(!form.contains("column.NAME"), "{form}");
    let after = answer(&site, &visitor, json!([["column.TC1 status", "ignore"]])).await;
    assert_eq!(after["open"], false, "{}", piece(&after, "understood"));
}

#[tokio::test]
async fn deviations_and_thermocouples_are_chosen_from_lists() {
    let renamed = LOG.replacen("TC4", "CH 04", 1);
    let (site, visitor) = with_logs(CARD, &[("log.csv", &renamed)]).await;
    let page = site.get("/weld/C1/record", &visitor).await.body;
    assert_eq!(
        page.matches("<textarea").count(),
        3,
        "two reasons, the card"
    );
    for list in [
        "<select name=\"deviation\"",
        "<select name=\"channel\"",
        "<select name=\"replaced_by\"",
    ] {
        assert!(page.contains(list), "{list}");
    }
    let shown = judged(&site, &visitor).await;
    let of = |list: &str| shown["choices"][list].as_str().expect(list).to_owned();
    let deviations = of("deviation");
    let place = |words: &str| deviations.find(words).expect(words);
    assert!(place("They wait for an answer") < place("TC4 stands in the job and not in the log"));
    assert!(place("TC4 stands in the job") < place("Told, and need none"));
    assert!(of("channel").contains("<option value=\"TC3\">TC3, monitor</option>"));
    assert!(of("replaced_by").contains("<option value=\"TC4\">TC4, spare</option>"));
    let account = json!({ "deviation": "TC4 stands in the job and not in the log", "reason": "never wired,\n  the spare was not needed",
        "by": "D. Moreau", "tag": shown["tag"] });
    let kept = site
        .send(visitor.json("/weld/C1/record/answers-for", &account))
        .await;
    assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
    let after = judged(&site, &visitor).await;
    assert!(
        piece(&after, "decided").contains("never wired, the spare was not needed"),
        "one paragraph on the record"
    );
    let left = after["choices"]["deviation"].as_str().expect("options");
    assert!(!left.contains("TC4 stands in the job"), "answered: {left}");
}

#[tokio::test]
async fn the_record_says_who_looked_at_how_the_files_were_understood() {
    let (site, visitor) = with_logs(CARD, &[("log.csv", LOG)]).await;
    let page = site.get("/weld/C1/record", &visitor).await.body;
    assert!(page.contains("name=\"looked_at_by\" required"));
    let body = json!({ "looked_at_by": "D. Moreau" });
    let made = site.send(visitor.json("/weld/C1/record", &body)).await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.body);
    let file = async |name: &str| site.get(&format!("/weld/C1/record/{name}"), &visitor).await;
    let data = file("record.json").await.json();
    assert_eq!(data["looked_at"]["by"], "D. Moreau");
    assert_eq!(data["looked_at"]["at"], data["made"]);
    let page = file("record.html").await.body;
    assert!(
        page.contains("D. Moreau looked at how the files were understood, "),
        "{page}"
    );
    assert!(page.contains("Unit of the temperatures: °C"), "{page}");
    let folder = site.project.folder("C1").expect("there");
    let pdf = std::fs::read(folder.record_path().join("record.pdf")).expect("a record");
    let verified = job::record::verify(&pdf, env!("CARGO_PKG_VERSION")).expect("made again");
    assert!(verified.agrees(), "{:?}", verified.compared);
    let nobody = visitor.request("POST", "/weld/C1/record", Body::empty());
    assert_eq!(site.send(nobody).await.status, StatusCode::OK);
    let second = file("record-2.html").await.body;
    assert!(second.contains("Nobody put a name to having looked"));
}

#[tokio::test]
async fn a_record_of_which_only_bytes_differ_is_told_apart_from_one_whose_findings_do() {
    let (site, visitor) = with_logs(CARD, &[("log.csv", LOG)]).await;
    let made = visitor.request("POST", "/weld/C1/record", Body::empty());
    assert_eq!(site.send(made).await.status, StatusCode::OK);
    let folder = site.project.folder("C1").expect("there");
    let mut pdf = std::fs::read(folder.record_path().join("record.pdf")).expect("a record");
    let shown = b"/Title(Signatures)";
    let place = pdf.windows(shown.len()).position(|w| w == shown);
    pdf[place.expect("the list of contents") + 8] ^= 1;
    let verify = visitor.request("POST", "/verify?name=sent.pdf", Body::from(pdf));
    let verdict = site.send(verify).await.json();
    assert_eq!(verdict["agrees"], false, "a changed byte is never passed");
    assert_eq!(verdict["only_bytes_differ"], true, "{verdict}");
}

#[tokio::test]
async fn a_revision_opens_to_be_read_and_runs_nothing() {
    let (site, visitor) = with_logs(CARD, &[("log.csv", LOG)]).await;
    let made = visitor.request("POST", "/weld/C1/record", Body::empty());
    assert_eq!(site.send(made).await.status, StatusCode::OK);
    for (file, kind) in [
        ("record.pdf", "application/pdf"),
        ("record.html", "text/html; charset=utf-8"),
        ("record.json", "application/json"),
    ] {
        let answer = site.get(&format!("/weld/C1/record/{file}"), &visitor).await;
        let header = |name: &str| answer.header(name).to_owned();
        assert_eq!(header("content-type"), kind);
        assert!(
            header("content-disposition").starts_with("inline"),
            "{file}"
        );
        let policy = header("content-security-policy");
        assert!(
            policy.contains("default-src 'none'") && !policy.contains("script-src 'unsafe"),
            "{policy}"
        );
        assert_eq!(policy.contains("sandbox"), kind.contains("html"), "{file}");
    }
    let page = site.get("/weld/C1/record", &visitor).await.body;
    for file in ["record.html", "record.json"] {
        let link = format!("/weld/C1/record/{file}\" target=\"_blank\"");
        assert!(page.contains(&link), "{link}");
    }
}

#[tokio::test]
async fn an_accepted_weld_says_how_to_go_on_and_a_late_log_can_come() {
    let (site, visitor) = with_logs(CARD, &[("log.csv", LOG)]).await;
    let make = || site.send(visitor.request("POST", "/weld/C1/record", Body::empty()));
    make().await;
    let name = json!({ "by": "A. Weir", "role": "welding engineer" });
    let accepted = site
        .send(visitor.json("/weld/C1/record/accepted", &name))
        .await;
    assert_eq!(accepted.status, StatusCode::NO_CONTENT, "{}", accepted.body);
    let page = site.get("/weld/C1/record", &visitor).await.body;
    for words in [
        "This revision stands with the name under it",
        "make revision 2",
        "id=\"drop\"",
        "data-aside=\"log.csv\"",
    ] {
        assert!(page.contains(words), "{words}");
    }
    make().await;
    let page = site.get("/weld/C1/record", &visitor).await.body;
    assert!(
        page.contains("Accepted by <strong>A. Weir</strong>"),
        "it stays with the first"
    );
    let folder = site.project.folder("C1").expect("there");
    assert_eq!(folder.contents().state(), job::folder::State::Recorded);
}

#[tokio::test]
async fn the_page_speaks_the_trade_and_one_notation_of_time() {
    let renamed = LOG.replacen("TC4", "CH 04", 1);
    let (site, visitor) = with_logs(CARD, &[("log.csv", &renamed)]).await;
    let tag = judged(&site, &visitor).await["tag"].clone();
    let decision = json!({ "channel": "TC3", "from": "1.76", "reason": "plug pulled", "by": "D. Moreau", "tag": tag });
    site.send(visitor.json("/weld/C1/record/decisions", &decision))
        .await;
    let shown = judged(&site, &visitor).await;
    let page = site.get("/weld/C1/record", &visitor).await.body;
    let page = page
        .split("id=\"card-heading\"")
        .next()
        .unwrap_or_default()
        .to_owned();
    let pieces = ["understood", "findings", "decided", "stays_open"];
    let all = pieces.map(|name| piece(&shown, name)).join(" ") + &page;
    assert!(all.contains("1 h 46 min"), "{all}");
    for word in ["--", "mapping.toml", "[[", "cells parted", "[log]"] {
        assert!(!all.contains(word), "{word} is no word of the trade");
    }
    let letters: Vec<char> = all.chars().collect();
    let decimal_hours = letters.windows(6).any(|w| {
        w[0].is_ascii_digit()
            && w[1] == '.'
            && w[2].is_ascii_digit()
            && w[3].is_ascii_digit()
            && w[4..] == [' ', 'h']
    });
    assert!(!decimal_hours, "times stand in hours and minutes");
    assert!(all.contains("is issue 3 of the hold time"));
    for place in ["logs", "findings", "decided", "proven"] {
        assert!(
            page.contains(&format!("<a href=\"#{place}-heading\"")),
            "{place}"
        );
    }
}

#[tokio::test]
async fn a_unit_that_was_said_of_every_file_is_told_where_several_do_not_tell_theirs() {
    let look = "do not tell their unit; what was said of every file is taken for all: °C";
    let (site, visitor) = with_logs(CARD, &[("log.csv", LOG)]).await;
    let alone = judged(&site, &visitor).await;
    assert!(!piece(&alone, "understood").contains(look));
    let later = LOG.replace("2026-10-20", "2026-10-21");
    assert_ne!(later, LOG, "the log names its day");
    let (site, visitor) = with_logs(CARD, &[("a.csv", LOG), ("b.csv", &later)]).await;
    let one_heat = json!([["file.b.csv.heat", "a.csv"]]);
    let both = answer(&site, &visitor, one_heat).await;
    for part in ["understood", "stays_open"] {
        let says = piece(&both, part);
        assert!(
            says.contains("a.csv, b.csv") && says.contains(look),
            "{part}: {says}"
        );
    }
    let own = answer(&site, &visitor, json!([["file.b.csv.unit", "F"]])).await;
    assert!(
        !piece(&own, "understood").contains(look),
        "b.csv has its own"
    );
    assert!(piece(&own, "understood").contains("Unit of the temperatures (b.csv): <strong>°F"));
}
