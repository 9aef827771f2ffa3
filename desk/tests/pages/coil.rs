//! A coil that cannot do its work is told so in the words of the trade.

use axum::http::StatusCode;
use serde_json::json;

use super::visit::{DEMO, Site};

/// The demo weld with one section of turns: first, pitch, how many, standoff.
fn wound(first: &str, pitch: &str, turns: &str, standoff: &str) -> String {
    let text = job::edit::propose_turns(DEMO).expect("a sound file");
    let text = job::edit::set(&text, "coil.turns", "").expect("taken away");
    let values = [
        ("turns", turns),
        ("first", first),
        ("pitch", pitch),
        ("standoff", standoff),
    ];
    values.iter().fold(text, |text, (key, value)| {
        job::edit::set(&text, &format!("coil.section[1].{key}"), value).expect("set")
    })
}

async fn rested(text: &str) -> super::visit::Answer {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let body = json!({ "text": text, "before": null });
    site.send(visitor.json("/weld/W1/rest", &body)).await
}

#[tokio::test]
async fn a_coil_that_never_holds_the_set_point_says_what_it_needs_and_what_to_change() {
    let far = [
        "nearest lies 15 3/4 in",
        "over the heated band",
        "let the plan propose",
    ];
    let beside = ["both sides of the weld", "nearest 7 7/8 in"];
    for (text, parts) in [
        (wound("400 mm", "25 mm", "1", "50 mm"), &far[..]),
        (wound("200 mm", "25 mm", "1", "50 mm"), &beside[..]),
    ] {
        let answer = rested(&text).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        for part in parts
            .iter()
            .chain(&["No current was found that holds 1150 °F at TC1"])
        {
            assert!(answer.body.contains(part), "{part}: {}", answer.body);
        }
        for of_solvers in ["convergence", "solver", "layout"] {
            assert!(!answer.body.contains(of_solvers), "{}", answer.body);
        }
    }
}

#[tokio::test]
async fn a_coil_that_asks_too_much_says_how_much_and_what_takes_less() {
    let answer = rested(&wound("150 mm", "25 mm", "3", "50 mm")).await.json();
    let against = answer["against"].to_string();
    for part in [
        "takes 62",
        " A, and ",
        "allows ",
        "less current",
        "at most 1200 °F is allowed",
    ] {
        assert!(against.contains(part), "{part}: {against}");
    }
    let sound = rested(DEMO).await.json();
    assert_eq!(sound["against"], json!([]));
}

#[tokio::test]
async fn a_coil_that_overheats_the_pipe_beyond_the_soak_band_says_where_and_how_far() {
    // All turns on one side: what lies under them gets hotter than the weld that the control thermocouple holds.
    let text = wound("40 mm", "25 mm", "8", "50 mm");
    let answer = rested(&text).await.json();
    let against = answer["against"].to_string();
    for part in [
        "beyond the soak band gets too hot",
        " in from the weld",
        "at most 1200 °F is allowed",
        "Open the turns there",
    ] {
        assert!(against.contains(part), "{part}: {against}");
    }
    let numbers = answer["numbers"].as_array().expect("numbers");
    let beyond = numbers
        .iter()
        .find(|one| one["of"] == "beyond_hottest")
        .expect("told");
    assert_eq!(beyond["look"], "too hot");
    assert!(beyond["merit"].as_f64().expect("a margin") < 0.0);
}

#[tokio::test]
async fn a_job_that_cannot_be_read_is_refused_by_the_names_of_the_form() {
    let text = job::edit::set(DEMO, "coil.cable", "oil cooled").expect("set");
    let answer = rested(&text).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    for part in ["Coil: cable", "oil cooled"] {
        assert!(answer.body.contains(part), "{part}: {}", answer.body);
    }
    for of_files in ["job.toml", "coil.cable"] {
        assert!(!answer.body.contains(of_files), "{}", answer.body);
    }
}

#[tokio::test]
async fn a_frequency_that_neither_file_nor_plan_says_is_told_as_what_it_is() {
    let answer = rested(DEMO).await.json();
    let with = answer["with"].as_str().expect("words");
    assert!(
        with.contains("one of the 4 frequencies that a plan tries within the"),
        "{with}"
    );
    assert!(!with.contains("the middle of"), "{with}");
}
