//! What a person meets while filling the form of a weld: what is typed is understood or asked, what is wrong and what is
//! missing make one account, and nothing speaks the language of the file.

use axum::http::StatusCode;
use job::edit::{get, set};
use job::shape::{TABLES, named};
use serde_json::{Value, json};

use super::visit::{DEMO, Site, Visitor};

async fn looked(site: &Site, visitor: &Visitor, text: &str, change: Value) -> Value {
    let asked = json!({ "text": text, "change": change });
    let answer = site.send(visitor.json("/weld/W1/look", &asked)).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.body);
    answer.json()
}

fn typed(place: &str, value: &str) -> Value {
    json!({ "kind": "field", "place": place, "value": value })
}

#[tokio::test]
async fn a_number_alone_is_shown_at_once_with_the_unit_that_was_understood() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    for (units, place, number, shown) in [
        ("us", "side[1].wall", "0.688", "0.688 in"),
        ("si", "side[1].wall", "17.5", "17.5 mm"),
        ("us", "limits.procedure.hold_max", "1200", "1200 °F"),
        ("si", "surroundings.ambient", "25", "25 °C"),
    ] {
        let text = set(DEMO, "units", units).expect("set");
        let looked = looked(&site, &visitor, &text, typed(place, number)).await;
        assert_eq!(looked["values"][place], shown);
        let text = looked["text"].as_str().expect("a text");
        assert_eq!(get(text, place), shown);
        assert!(looked["refused"].is_null());
    }
}

#[tokio::test]
async fn a_number_that_may_be_two_things_stays_and_its_field_says_both() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let text = set(DEMO, "units", "us").expect("set");
    let looked = looked(&site, &visitor, &text, typed("side[1].length", "20")).await;
    assert_eq!(
        looked["values"]["side[1].length"], "20",
        "what was typed is not lost"
    );
    let faults = looked["faults"].as_array().expect("a list");
    let fault = faults
        .iter()
        .find(|fault| fault["field"] == "side[1].length");
    let words = fault.expect("a fault")["words"].as_str().expect("words");
    assert!(words.contains("\"20 ft\" or \"20 in\""), "{words}");
}

#[tokio::test]
async fn a_value_that_the_job_cannot_hold_is_refused_at_its_field_and_the_job_stays() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    for (place, value, words) in [
        (
            "side[1].group",
            "one",
            "First side: group: found \"one\"; allowed: a number",
        ),
        ("side[2].chemistry", "C", "for example C 0.10, Mn 0.45"),
    ] {
        let looked = looked(&site, &visitor, DEMO, typed(place, value)).await;
        assert_eq!(looked["refused_at"], place);
        assert_eq!(looked["text"], DEMO);
        let says = looked["refused"].as_str().expect("why");
        assert!(says.contains(words), "{says}");
        assert_eq!(words_of_the_file(says), [""; 0], "{says}");
    }
}

#[tokio::test]
async fn what_is_wrong_and_what_is_missing_are_one_account_and_the_head_of_the_page_says_the_same()
{
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let text = set(DEMO, "weld.cap_width", "900 mm").expect("set");
    let text = set(&text, "blanket.thickness", "").expect("set");
    let text = text.replace("[source]", "[sauce]");
    let looked = looked(&site, &visitor, &text, Value::Null).await;
    let refused = job::read(&text, "job.toml").expect_err("refused");
    let faults = looked["faults"].as_array().expect("a list");
    let is_missing = |fault: &&Value| fault["is_missing"] == true;
    let missing: Vec<&Value> = faults.iter().filter(is_missing).collect();
    assert_eq!(missing.len(), refused.account().missing);
    assert_eq!(faults.len() - missing.len(), refused.account().wrong);
    assert_eq!(looked["wrong"], "2 things are to be put right.");
    // The thickness of the blanket, and five values of the source.
    assert_eq!(looked["missing"], "6 values are still needed.");
    assert!(
        faults.iter().take(2).all(|fault| !is_missing(&fault)),
        "what is wrong stands first"
    );
    assert!(
        missing.iter().all(|fault| fault["field"].is_string()),
        "{missing:?}"
    );
    let told = refused.told();
    assert!(told.contains("2 things are to be put right."), "{told}");
    assert!(told.contains("6 values are still needed: "), "{told}");
    let head = looked["next"].as_str().expect("the head of the page");
    assert_eq!(
        head,
        "2 things in the job to put right, 6 values of the job, a plan, a log"
    );
    let folder = site.project.folder("W1").expect("there");
    let tag = folder.job_file().expect("read").fingerprint;
    folder.save_job(&text, &tag).expect("saved");
    assert_eq!(folder.contents().missing().join(", "), head);
}

/// Names that only a file has: keys with an underscore or a dot, tables in brackets, flags, commands.
fn words_of_the_file(says: &str) -> Vec<&str> {
    let is_of_the_file = |word: &&str| {
        let word =
            word.trim_matches(|c: char| !c.is_alphanumeric() && c != '[' && c != ']' && c != '-');
        word.starts_with("--")
            || word.starts_with("[[")
            || word.contains('_')
            || word == "soakwright"
            || word.split_once('.').is_some_and(|(table, key)| {
                let table = table.split('[').next().unwrap_or(table);
                let is_table = TABLES
                    .iter()
                    .any(|one| one.path.split('.').next() == Some(table));
                is_table && key.starts_with(|c: char| c.is_ascii_lowercase())
            })
    };
    says.split_whitespace().filter(is_of_the_file).collect()
}

/// The words of a page, without its marks.
fn words(html: &str) -> String {
    let pieces = html
        .split('<')
        .map(|piece| piece.split_once('>').map_or(piece, |(_, words)| words));
    pieces.collect::<Vec<_>>().join(" ").replace("&quot;", "\"")
}

#[tokio::test]
async fn nothing_that_a_field_says_is_written_in_the_language_of_the_file() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let empty = looked(&site, &visitor, "", Value::Null).await;
    let form = words(empty["form"].as_str().expect("a form"));
    assert_eq!(words_of_the_file(&form), [""; 0]);
    for fault in empty["faults"].as_array().expect("a list") {
        let says = format!("{} {}", fault["place"], fault["words"]);
        assert_eq!(words_of_the_file(&says), [""; 0], "{says}");
    }
    // Every kind of mistake that a field can have.
    for (place, value) in [
        ("weld.cap_width", "wide"),
        ("weld.cap_width", "17,5 mm"),
        ("weld.cap_width", "900 mm"),
        ("side[1].length", "3"),
        ("side[2].metal", "A106"),
        ("side[2].p_number", "5B"),
        ("code", "ASME VIII"),
        ("edition", "1066"),
        ("blanket.material", "straw"),
        ("coil.cable", "rope"),
        ("source.frequency_max", "60 Hz"),
        ("cycle.set_point", "900 °C"),
        ("weld.ended", "yesterday"),
        ("joint.form", "fillet"),
        ("joint.branch", "set_on_pad"),
        ("thermocouple[1].clock", "top"),
        ("thermocouple[1].role", "spare"),
        ("coil.section[1].turns", "1.5"),
        ("limits.owner.hold_min", "300 °C"),
        ("log.decimal", "stop"),
        ("demo", "true"),
    ] {
        let text = set(DEMO, "scenario", "").expect("set");
        let looked = looked(&site, &visitor, &text, typed(place, value)).await;
        let faults = looked["faults"].as_array().expect("a list");
        assert!(
            !faults.is_empty() || !looked["stopped"].is_null(),
            "{place} = {value}"
        );
        for fault in faults {
            let says = format!("{} {}", fault["place"], fault["words"]);
            assert_eq!(
                words_of_the_file(&says),
                [""; 0],
                "{place} = {value}: {says}"
            );
        }
    }
}

#[tokio::test]
async fn the_needs_call_a_question_by_its_field() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    for (code, metal, p_number) in [
        ("ASME B31.1", "9Cr-1Mo-V", "15E"),
        ("ASME B31.3", "carbon steel", "1"),
    ] {
        let mut text = set(DEMO, "code", code).expect("set");
        for side in ["side[1]", "side[2]"] {
            text = set(&text, &format!("{side}.metal"), metal).expect("set");
            text = set(&text, &format!("{side}.p_number"), p_number).expect("set");
        }
        let looked = looked(&site, &visitor, &text, Value::Null).await;
        let Some(needs) = looked["needs"].as_str() else {
            continue;
        };
        assert_eq!(words_of_the_file(&words(needs)), [""; 0], "{code}, {metal}");
    }
    let asked = job::shape::spoken("Is it so? (answers.multilayer)");
    assert!(asked.contains(&named("answers.multilayer")), "{asked}");
}

#[tokio::test]
async fn the_same_pipe_says_what_was_taken_over() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let mut text = DEMO.to_owned();
    for key in ["outside_diameter", "wall", "metal", "length", "bore_end"] {
        text = set(&text, &format!("side[2].{key}"), "").expect("set");
    }
    let looked = looked(&site, &visitor, &text, json!({ "kind": "same_pipe" })).await;
    let said = looked["said"].as_str().expect("what was done");
    assert!(
        said.starts_with("Taken over from the first side: outside diameter, wall, metal, "),
        "{said}"
    );
    assert!(
        said.contains("length") && said.contains("bore end"),
        "{said}"
    );
    for key in ["outside_diameter", "wall", "metal", "length", "bore_end"] {
        let of = |side: usize| looked["values"][format!("side[{side}].{key}")].clone();
        assert_eq!(of(1), of(2), "{key}");
    }
    assert_eq!(looked["faults"].as_array().map(Vec::len), Some(0));
}

#[tokio::test]
async fn a_name_that_is_understood_loosely_is_told_while_the_weld_is_half_filled() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    let text = set(DEMO, "weld.cap_width", "").expect("set");
    let looked = looked(
        &site,
        &visitor,
        &text,
        typed("blanket.material", "ceramic fiber"),
    )
    .await;
    assert_eq!(
        looked["taken"]["blanket.material"],
        "ceramic fiber blanket 128 kg/m3, as \"ceramic fiber\" is understood"
    );
}
