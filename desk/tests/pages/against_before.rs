//! A plan against the one before it: what was changed, what became better and what worse, on the page of the weld.

use job::folder::NewFile;
use serde_json::{Value, json};

use super::visit::Site;

/// A plan of a weld with its first turn at a standoff, whose soak band is so cold at the coldest.
fn plan(standoff_mm: f64, coldest_c: f64) -> Value {
    const PLAN: &str = include_str!("../../../job/src/plan_before/miniature_plan.json");
    let mut plan: Value = serde_json::from_str(PLAN).expect("data");
    plan["wrap"]["coil"]["turns"][0]["standoff_mm"] = json!(standoff_mm);
    plan["wrap"]["coil"]["turns"][1]["standoff_mm"] = json!(standoff_mm);
    // What the page reads first is who asks for a limit.
    for finding in plan["verdicts"]["findings"]
        .as_array_mut()
        .expect("findings")
    {
        finding["limit"]["clause"] = json!({ "document": "Procedure", "clause": "4.1" });
    }
    plan["course"]["soak_band_coldest"]["temperature_c"] = json!(coldest_c);
    plan["course"]["neighbors"][0]["highest_c"] = json!(coldest_c - 500.0);
    plan
}

fn save(site: &Site, plan: &Value) {
    let files = [
        ("plan.json", plan.to_string()),
        (
            "plan.html",
            "<main><h1>Plan</h1><h2>What the prediction says</h2><p>predicted</p></main>"
                .to_owned(),
        ),
    ];
    let files = files.map(|(name, text)| NewFile {
        name: name.to_owned(),
        bytes: text.into_bytes(),
    });
    let folder = site.project.folder("W1").expect("there");
    folder.save_plan(&files).expect("saved");
}

#[tokio::test]
async fn a_plan_made_again_says_on_its_page_what_became_better_and_what_worse() {
    const SAYS: &str = "Against the plan before";
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    save(&site, &plan(50.8, 590.0));
    assert!(
        !site.get("/weld/W1", &visitor).await.body.contains(SAYS),
        "there was none"
    );
    save(&site, &plan(76.2, 600.0));
    // It stands in the folder: a page that is loaded again says it again.
    for _ in 0..2 {
        let page = site.get("/weld/W1", &visitor).await.body;
        let course = page.find("id=\"course-heading\"").expect("the section");
        let at = page.find(SAYS).expect("the comparison");
        let plan = page.find("id=\"walk\"").expect("the plan itself");
        assert!(course < at && at < plan);
        let told = &page[at..plan];
        for words in [
            "Changed: standoff 3 in, was 2 in.",
            "coldest in the hold",
            "1094 °F",
            "1112 °F",
            "hottest of valve",
            "9.0 °F over the 1103 °F asked for",
            "in the bore, at 2 h, at the beginning of the hold, before the wall has evened out",
            "◇ </span>better",
            "◆ </span>worse",
        ] {
            assert!(told.contains(words), "{words}: {told}");
        }
    }
    save(&site, &plan(76.2, 600.0));
    assert!(
        !site.get("/weld/W1", &visitor).await.body.contains(SAYS),
        "nothing changed"
    );
}
