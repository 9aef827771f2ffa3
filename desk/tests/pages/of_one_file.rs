//! What was said of one log is asked again of the next, and a log of another day is of this heat only when somebody says so.

use axum::body::Body;
use axum::http::StatusCode;
use serde_json::{Value, json};

use super::visit::{Site, Visitor};

const CARD: &str = include_str!("../../../jobs/cards/spool-repair.toml");
const LOG: &str = include_str!("../../../jobs/cards/spool-repair-log.csv");

/// A weld whose card says nothing of the unit, and the logs of its heat.
struct Weld {
    site: Site,
    visitor: Visitor,
}

impl Weld {
    async fn with(logs: &[(&str, &str)]) -> Weld {
        let site = Site::on_loopback();
        let card = CARD.replace("unit = \"C\"\n", "");
        let folder = site.project.create("C1", &card).expect("made");
        std::fs::create_dir(folder.logs_path()).expect("a folder");
        let visitor = site.visitor().await;
        let weld = Weld { site, visitor };
        for (name, text) in logs {
            weld.comes(name, text);
        }
        weld
    }

    fn comes(&self, name: &str, text: &str) {
        let folder = self.site.project.folder("C1").expect("there");
        std::fs::write(folder.logs_path().join(name), text).expect("written");
    }

    async fn judged(&self) -> Value {
        let judged = self.site.get("/weld/C1/record/judged", &self.visitor).await;
        assert_eq!(judged.status, StatusCode::OK, "{}", judged.body);
        judged.json()
    }

    async fn answer(&self, answers: Value) -> Value {
        let tag = self.judged().await["tag"].clone();
        let body = json!({ "answers": answers, "tag": tag });
        let request = self.visitor.json("/weld/C1/record/answers", &body);
        let kept = self.site.send(request).await;
        assert_eq!(kept.status, StatusCode::NO_CONTENT, "{}", kept.body);
        self.judged().await
    }

    async fn goes(&self, log: &str) {
        let path = format!("/weld/C1/logs/{log}");
        let request = self.visitor.request("DELETE", &path, Body::empty());
        let gone = self.site.send(request).await;
        assert_eq!(gone.status, StatusCode::NO_CONTENT, "{}", gone.body);
    }
}

/// The form that asks.
fn asks(judged: &Value) -> String {
    let understood = judged["understood"].as_str().unwrap_or_default();
    let (form, _) = understood.split_once("</form>").unwrap_or_default();
    let asks = form.contains("id=\"answers\"");
    if asks { form.to_owned() } else { String::new() }
}

fn next_day() -> String {
    let later = LOG.replace("2026-10-20", "2026-10-21");
    assert_ne!(later, LOG, "the log names its day");
    later
}

/// The second half of the log, which begins where the first ends.
fn halves() -> (String, String) {
    let lines: Vec<&str> = LOG.lines().collect();
    let head = lines[0];
    let middle = lines.len() / 2;
    let first = lines[..middle].join("\n") + "\n";
    (first, format!("{head}\n{}\n", lines[middle..].join("\n")))
}

#[tokio::test]
async fn the_unit_of_one_log_is_asked_again_of_the_next() {
    let (first, second) = halves();
    let weld = Weld::with(&[("early.csv", &first)]).await;
    assert!(asks(&weld.judged().await).contains("name=\"file.early.csv.unit\""));
    let settled = weld.answer(json!([["file.early.csv.unit", "C"]])).await;
    assert_eq!(settled["open"], false, "{}", settled["understood"]);

    weld.comes("late.csv", &second);
    let asked = weld.judged().await;
    let form = asks(&asked);
    assert_eq!(
        (asked["open"].as_bool(), &asked["chart"]),
        (Some(true), &Value::Null)
    );
    assert!(form.contains("name=\"file.late.csv.unit\""), "{form}");
    assert!(!form.contains("name=\"file.early.csv.unit\""), "{form}");
    assert!(form.contains("°C, as said of early.csv"), "{form}");
    let both = weld.answer(json!([["file.late.csv.unit", "F"]])).await;
    assert_eq!(both["open"], false, "{}", both["understood"]);
    let understood = both["understood"].as_str().unwrap_or_default();
    for said in ["(early.csv): <strong>°C", "(late.csv): <strong>°F"] {
        assert!(understood.contains(said), "{said}: {understood}");
    }
    let changed = weld.answer(json!([["file.late.csv.unit", "C"]])).await;
    let understood = changed["understood"].as_str().unwrap_or_default();
    assert!(
        understood.contains("(late.csv): <strong>°C"),
        "{understood}"
    );
    let back = weld.answer(json!([["file.late.csv.unit", ""]])).await;
    assert!(asks(&back).contains("name=\"file.late.csv.unit\""));
}

#[tokio::test]
async fn a_log_that_is_replaced_is_asked_again_even_under_its_name() {
    let weld = Weld::with(&[("a.csv", LOG)]).await;
    weld.answer(json!([["file.a.csv.unit", "C"]])).await;
    weld.goes("a.csv").await;
    for name in ["b.csv", "a.csv"] {
        weld.comes(name, LOG);
        let field = format!("name=\"file.{name}.unit\"");
        let form = asks(&weld.judged().await);
        assert!(form.contains(&field), "{name}: {form}");
    }
}

#[tokio::test]
async fn logs_that_come_together_may_be_given_one_answer() {
    let (first, second) = halves();
    let weld = Weld::with(&[("a.csv", &first), ("b.csv", &second)]).await;
    let form = asks(&weld.judged().await);
    assert!(
        form.contains("The same for all 2 files: a.csv, b.csv"),
        "{form}"
    );
    assert!(
        form.contains("data-alike=\"[&quot;a.csv&quot;,&quot;b.csv&quot;]\""),
        "{form}"
    );
    let both = json!([["file.a.csv.unit", "C"], ["file.b.csv.unit", "C"]]);
    assert_eq!(weld.answer(both).await["open"], false);
}

#[tokio::test]
async fn a_log_of_another_day_waits_for_an_answer_and_may_be_left_out() {
    let weld = Weld::with(&[("early.csv", LOG), ("late.csv", &next_day())]).await;
    let units = json!([["file.early.csv.unit", "C"], ["file.late.csv.unit", "C"]]);
    let asked = weld.answer(units).await;
    let form = asks(&asked);
    assert_eq!(asked["open"], true);
    for words in [
        "late.csv: Is it of the same heat as early.csv?",
        "name=\"file.late.csv.heat\"",
        "yes, one heat: all scans count",
        "no: leave late.csv out of this record",
        "data-key=\"file.early.csv.heat\"",
    ] {
        assert!(form.contains(words), "{words}: {form}");
    }
    let refused = weld
        .site
        .send(weld.visitor.json("/weld/C1/record", &json!({})))
        .await;
    assert_eq!(
        refused.status,
        StatusCode::UNPROCESSABLE_ENTITY,
        "no record before it is said"
    );

    let one = weld
        .answer(json!([["file.late.csv.heat", "early.csv"]]))
        .await;
    assert_eq!(one["open"], false);
    let hours = |judged: &Value| judged["chart"]["end_h"].as_f64().unwrap_or_default();
    let both = hours(&one);
    let alone = weld.answer(json!([["file.late.csv.heat", "other"]])).await;
    assert_eq!(alone["open"], false);
    assert!(
        both > 24.0 && hours(&alone) < 24.0,
        "{both} {}",
        alone["chart"]
    );
    for part in ["understood", "stays_open"] {
        let says = alone[part].as_str().unwrap_or_default();
        assert!(
            says.contains("late.csv is left out of this record:"),
            "{part}: {says}"
        );
    }
    let made = weld
        .site
        .send(
            weld.visitor
                .json("/weld/C1/record", &json!({ "looked_at_by": "D. Moreau" })),
        )
        .await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.body);
    let data = weld
        .site
        .get("/weld/C1/record/record.json", &weld.visitor)
        .await
        .body;
    assert!(
        data.contains("\"early.csv\"") && !data.contains("\"late.csv\""),
        "{data}"
    );
    let page = weld
        .site
        .get("/weld/C1/record/record.html", &weld.visitor)
        .await
        .body;
    assert!(
        page.contains("(late.csv): another heat; it is left out of this record"),
        "it stands on the record"
    );
    let page = weld.site.get("/weld/C1/record", &weld.visitor).await.body;
    assert!(
        !page.contains("changed since"),
        "a log that was said to be of another heat is no change"
    );
}
