//! What a file says of the welding reaches the rules, and what cannot be is told at its key.

use rules::welding::{JointKind, Restraint, StructuralCategory};

use crate::demos::DEMOS;

fn with(welding: &str) -> String {
    DEMOS[0]
        .1
        .replacen("[weld]", &format!("[welding]\n{welding}\n\n[weld]"), 1)
}

#[test]
fn every_key_reaches_the_weld() {
    let text = with(
        "joint = \"butt\"\nheat_input = \"38.1 kJ/in\"\nhydrogen = \"5 ml/100 g\"\nrestraint = \"medium\"\n\
         combined_thickness_mm = 40\nweld_metal = { C = 0.06, Mn = 1.2 }\nyield_strength = \"52 ksi\"\n\
         chart_preheat = \"75 °C\"\nstructural_category = \"B\"",
    );
    let welding = job::read(&text, "weld.toml")
        .unwrap_or_else(|r| panic!("{r}"))
        .weld
        .welding;
    assert_eq!(welding.joint, Some(JointKind::Butt));
    assert!((welding.heat_input_kj_mm.expect("given") - 1.5).abs() < 1e-12);
    assert_eq!(welding.hydrogen_ml_100g, Some(5.0));
    assert_eq!(welding.restraint, Some(Restraint::Medium));
    assert_eq!(welding.combined_thickness.expect("given").mm(), 40.0);
    assert_eq!(welding.weld_metal["Mn"], 1.2);
    assert!((welding.yield_strength_mpa.expect("given") - 358.5).abs() < 0.1);
    assert_eq!(welding.chart_preheat.expect("given").c(), 75.0);
    assert_eq!(welding.structural_category, Some(StructuralCategory::B));
}

#[test]
fn a_file_without_it_leaves_all_open() {
    let job = job::read(DEMOS[0].1, "weld.toml").expect("a demo");
    assert_eq!(job.weld.welding, rules::welding::Welding::default());
}

#[test]
fn what_cannot_be_is_told_at_its_key_all_at_once() {
    let text = with(
        "heat_input = 1.5\nhydrogen_ml_100g = -5\nrestraint = \"hihg\"\nweld_metal = { C = 170 }\nhydrogn = 3",
    );
    let faults = job::read(&text, "weld.toml").expect_err("refused").faults;
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(faults.len(), 5, "{told:#?}");
    for place in [
        "welding.heat_input",
        "welding.hydrogen_ml_100g",
        "welding.restraint",
        "welding.weld_metal.C",
    ] {
        assert!(
            faults.iter().any(|fault| fault.place == place),
            "{place}: {told:#?}"
        );
    }
    assert!(
        told.iter()
            .any(|line| line.contains("did you mean \"high\"?")),
        "{told:#?}"
    );
}
