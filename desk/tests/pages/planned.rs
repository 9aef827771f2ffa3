//! A weld with a plan: the plan's own turns are drawn, and what it misses is said first, wherever one looks.

use axum::body::Body;
use axum::http::StatusCode;
use job::folder::{Fingerprint, NewFile};
use serde_json::{Value, json};

use super::visit::{DEMO, Site};

/// A plan of a text: seven turns at 7.3 kHz, one of its two limits missed.
fn plan_of(text: &str) -> Vec<NewFile> {
    let turns: Vec<Value> = (-3..=3)
        .map(|i| json!({ "axial_mm": 40.0 * f64::from(i), "standoff_mm": 50.8 }))
        .collect();
    let clause = json!({ "document": "Procedure", "clause": "4.1" });
    let limit = |kind: &str, number: f64, unit: &str| json!({ "kind": kind, "level": "procedure", "value": { "number": number, "unit": unit }, "clause": clause });
    let plan = json!({
        "format": "soakwright-plan/1",
        "job": { "sha256": Fingerprint::of(text.as_bytes()).0 },
        "complies": false,
        "verdicts": {
            "findings": [
                { "limit": limit("hold_time", 1.0, "h"), "verdict": "met", "predicted": { "number": 1.0, "unit": "h" }, "by_how_much": null, "when_h": null, "channel": null, "reason": "" },
                { "limit": limit("hold_spread", 20.0, "K"), "verdict": "not_met", "predicted": { "number": 26.0, "unit": "K" }, "by_how_much": { "number": 6.0, "unit": "K" }, "when_h": 9.5, "channel": "TC 12", "reason": "" },
            ],
            "foreseen": [{ "about": "source", "verdict": "met", "says": "enough", "remedy": null }],
        },
        "wrap": { "coil": { "turns": turns }, "source": { "frequency_hz": 7300.0 } },
    });
    let html = "<main><h1>Plan</h1><h2>What the prediction says</h2><p>predicted</p></main>";
    [
        ("plan.json", plan.to_string()),
        ("plan.html", html.to_owned()),
    ]
    .map(|(name, text)| NewFile {
        name: name.to_owned(),
        bytes: text.into_bytes(),
    })
    .into()
}

fn planned() -> Site {
    let site = Site::on_loopback();
    let folder = site.project.folder("W1").expect("there");
    folder.save_plan(&plan_of(DEMO)).expect("saved");
    site
}

#[tokio::test]
async fn what_a_plan_misses_stands_first_on_its_page_and_on_the_board() {
    let site = planned();
    let visitor = site.visitor().await;
    let page = site.get("/weld/W1", &visitor).await.body;
    let at = |words: &str| page.find(words).unwrap_or_else(|| panic!("{words}"));
    let verdict = at("1 of 2 limits is not met");
    let needs = at("id=\"needs-heading\"");
    assert!(verdict < needs && at("Do not heat on this plan") < needs);
    for words in ["Procedure 4.1", "missed by", "TC 12", "What could help"] {
        assert!(at(words) < needs, "{words}");
    }
    assert_eq!(
        page.matches("1 of 2 limits is not met").count(),
        2,
        "there and where the course is told"
    );
    let board = site.get("/", &visitor).await.body;
    assert!(board.contains("planned") && board.contains("1 limit not met"));
}

#[tokio::test]
async fn a_plan_that_nothing_stands_against_names_its_cautions_in_the_same_sentence() {
    let mut files = plan_of(DEMO);
    let mut plan: Value = serde_json::from_slice(&files[0].bytes).expect("a plan");
    plan["complies"] = json!(true);
    plan["verdicts"]["findings"][1]["verdict"] = json!("met");
    plan["verdicts"]["cautions"] = json!(["its last place comes late"]);
    files[0].bytes = plan.to_string().into_bytes();
    let site = Site::on_loopback();
    let folder = site.project.folder("W1").expect("there");
    folder.save_plan(&files).expect("saved");
    let page = site.get("/weld/W1", &site.visitor().await).await.body;
    let words =
        "nothing foreseen stands in the way; 1 caution stands under “What the prediction says”.";
    assert!(page.contains(words), "{page}");
}

#[tokio::test]
async fn the_turns_of_the_plan_are_drawn_and_an_older_plan_says_so() {
    let site = planned();
    let visitor = site.visitor().await;
    let look = async |text: &str| {
        let body = json!({ "text": text, "change": null });
        site.send(visitor.json("/weld/W1/look", &body)).await.json()
    };
    let looked = look(DEMO).await;
    assert_eq!(looked["plan"], "of_this_text");
    assert_eq!(
        looked["drawing"]["turns"].as_array().expect("turns").len(),
        7
    );
    assert_eq!(looked["drawing"]["of_plan"], true);
    assert_eq!(
        look(&format!("{DEMO}\n# changed\n")).await["plan"],
        "of_another_text"
    );
    let saved = site.project.folder("W1").expect("there");
    let file = saved.job_file().expect("read");
    saved
        .save_job(&format!("{DEMO}\n# changed\n"), &file.fingerprint)
        .expect("saved");
    // Saved, it still is no text of that plan, and what the plan says stands under a flag until one is made.
    let flag = "<p class=\"look plan-before\" role=\"status\">";
    let page = site.get("/weld/W1", &visitor).await.body;
    assert_eq!(page.matches(flag).count(), 2, "there and at the course");
    assert!(page.contains("was changed after this plan was made"));
    saved
        .save_plan(&plan_of(&format!("{DEMO}\n# changed\n")))
        .expect("saved");
    let page = site.get("/weld/W1", &visitor).await.body;
    assert_eq!(page.matches(flag).count(), 0);
}

#[tokio::test]
async fn the_quick_answer_is_that_of_the_plans_coil_and_says_why_another_differs() {
    let site = planned();
    let visitor = site.visitor().await;
    let rest = async |text: &str, before: Value| {
        let body = json!({ "text": text, "before": before });
        let answer = site.send(visitor.json("/weld/W1/rest", &body)).await;
        assert_eq!(answer.status, StatusCode::OK, "{}", answer.body);
        answer.json()
    };
    let planned = rest(DEMO, Value::Null).await;
    let with = planned["with"].as_str().expect("words");
    assert!(
        with.contains("7.3 kHz") && with.contains("the 7 turns of the plan"),
        "{with}"
    );
    assert_eq!(planned["against"], json!([]));
    let turns: Vec<_> = (-2..=2)
        .map(|i| cycle::setup::Turn {
            axial: quantity::Millimeters::from_mm(40.0 * f64::from(i)),
            standoff: quantity::Millimeters::from_mm(5.0),
        })
        .collect();
    let buried = job::edit::set_turns(DEMO, &turns).expect("set");
    assert_eq!(planned["change"], Value::Null);
    let answer = rest(&buried, planned["kept"].clone()).await;
    let against = answer["against"][0].as_str().expect("words");
    for words in ["within the blanket", "°F", "bears"] {
        assert!(against.contains(words), "{against}");
    }
    let done = answer["change"]["done"].to_string();
    for words in ["5 turns against 7", "shorter", "nearer to the metal"] {
        assert!(done.contains(words), "{done}");
    }
    let moved = answer["change"]["numbers"].as_array().expect("numbers");
    assert!(
        moved.iter().all(|one| one["by"].is_null()
            || one["is_slight"] == true
            || !one["because"].is_null()),
        "{moved:?}"
    );
    let numbers = answer["numbers"].as_array().expect("numbers");
    assert!(
        numbers
            .iter()
            .all(|n| n["unit"].is_string() && !n["name"].is_null())
    );
}

#[tokio::test]
async fn a_weld_gets_another_number_and_leaves_without_losing_anything() {
    let site = planned();
    let visitor = site.visitor().await;
    let body = json!({ "weld": "W 2/a" });
    let renamed = site.send(visitor.json("/weld/W1/number", &body)).await;
    assert_eq!(renamed.json()["address"], "/weld/W-2-a");
    let folder = site.project.folder("W-2-a").expect("under its new name");
    let text = folder.job_file().expect("read").text;
    assert_eq!(job::edit::get(&text, "identification.weld"), "W 2/a");
    assert!(folder.plan_file("plan.json").is_some());
    let removed = site
        .send(visitor.request("DELETE", "/weld/W-2-a", Body::empty()))
        .await;
    assert_eq!(removed.status, StatusCode::NO_CONTENT);
    assert!(!site.get("/", &visitor).await.body.contains("/weld/W-2-a"));
    let kept = std::fs::read_dir(site.project.path().join(job::folder::REMOVED)).expect("kept");
    let kept = kept.flatten().next().expect("one").path();
    assert!(kept.join("job.toml").is_file() && kept.join("plan/plan.json").is_file());
}
