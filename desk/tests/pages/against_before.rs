//! A plan against the one before it: what was changed, what became better and what worse, on the page of the weld.

use job::folder::NewFile;
use serde_json::{Value, json};

use super::visit::Site;

/// A plan of a weld with one turn at a standoff, whose soak band is so cold at the coldest.
fn plan(standoff_mm: f64, coldest_c: f64) -> Value {
    json!({
        "format": "soakwright-plan/1",
        "job": { "sha256": "ab", "weld": "W1" },
        "complies": true,
        "verdicts": { "findings": [], "foreseen": [] },
        "wrap": {
            "coil": { "cable": "liquid-cooled cable", "cable_diameter_mm": 19.0, "lead_length_mm": 6000.0,
                "turns": [{ "axial_mm": 0.0, "standoff_mm": standoff_mm }] },
            "blanket": { "material": "rock wool", "thickness_mm": 50.8, "reach_mm": [300.0, 300.0] },
            "source": { "power_kw": 35.0, "current_a": 350.0, "voltage_v": 700.0, "frequency_hz": 9000.0 },
            "programme": { "threshold_c": 315.6, "free_heating_rate_k_h": 333.0, "heating_rate_k_h": 222.0, "set_point_c": 621.1,
                "hold_range_c": [593.3, 648.9], "hold_time_h": 1.0, "cooling_rate_k_h": 222.0, "controlled_down_to_c": 315.6 },
        },
        "course": {
            "stages": [{ "to_h": 4.0 }], "energy": { "source_kwh": 20.0 },
            "soak_band_coldest": { "temperature_c": coldest_c }, "soak_band_hottest": { "temperature_c": 621.0 },
            "beyond_soak_band_hottest": { "temperature_c": 610.0 }, "soak_band_inside_h": 1.0,
            "surface_to_bore_heating_k": 12.0, "surface_to_bore_hold_k": 9.0,
            "neighbors": [{ "name": "valve body", "highest_c": coldest_c - 500.0 }],
            "largest_power_kw": 10.0, "largest_current_a": 100.0, "largest_voltage_v": 300.0,
        },
    })
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
            "hottest of valve body",
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
