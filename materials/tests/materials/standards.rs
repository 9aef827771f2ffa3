use approx::assert_relative_eq;
use materials::{MaterialError, Property, metal, standard};

const CARBON: &str = "EN 1993-1-2 carbon steel";
const STAINLESS: &str = "EN 1993-1-2 stainless steel";

/// Printed values have three figures.
const THREE_FIGURES: f64 = 5e-3;

/// The points are close enough together for this.
const HEAT_CONTENT: f64 = 1e-3;

#[test]
fn carbon_steel_has_the_values_of_the_formula() {
    // EN 1993-1-2:2005, 3.4.1: evaluated by hand from its formulas.
    let conductivity = standard(CARBON, Property::Conductivity).expect("known");
    let specific_heat = standard(CARBON, Property::SpecificHeat).expect("known");
    for (at_c, w_mk, j_kgk) in [
        (20.0, 53.3, 440.0),
        (200.0, 47.3, 530.0),
        (400.0, 40.7, 606.0),
        (600.0, 34.0, 760.0),
        (700.0, 30.7, 1008.0),
        (735.0, 29.5, 5000.0),
        (800.0, 27.3, 803.0),
        (1100.0, 27.3, 650.0),
    ] {
        assert_relative_eq!(
            conductivity.at_c(at_c).expect("inside"),
            w_mk,
            max_relative = THREE_FIGURES
        );
        assert_relative_eq!(
            specific_heat.at_c(at_c).expect("inside"),
            j_kgk,
            max_relative = THREE_FIGURES
        );
    }
    assert_eq!(conductivity.range_c(), (20.0, 1200.0));
    assert!(conductivity.at_c(1201.0).is_err() && conductivity.at_c(19.0).is_err());
}

#[test]
fn stainless_steel_has_the_values_of_the_formula() {
    // EN 1993-1-2:2005, Annex C.
    let conductivity = standard(STAINLESS, Property::Conductivity).expect("known");
    let specific_heat = standard(STAINLESS, Property::SpecificHeat).expect("known");
    for (at_c, w_mk, j_kgk) in [
        (20.0, 14.9, 456.0),
        (400.0, 19.7, 524.0),
        (600.0, 22.2, 542.0),
    ] {
        assert_relative_eq!(
            conductivity.at_c(at_c).expect("inside"),
            w_mk,
            max_relative = THREE_FIGURES
        );
        assert_relative_eq!(
            specific_heat.at_c(at_c).expect("inside"),
            j_kgk,
            max_relative = THREE_FIGURES
        );
    }
}

#[test]
fn heat_content_of_carbon_steel_follows_the_integrated_formula() {
    // Antiderivatives of the pieces of EN 1993-1-2:2005, 3.4.1.2.
    let cubic = |t: f64| {
        425.0 * t + 0.773 / 2.0 * t * t - 1.69e-3 / 3.0 * t.powi(3) + 2.22e-6 / 4.0 * t.powi(4)
    };
    let before = |t: f64| 666.0 * t - 13002.0 * (738.0 - t).ln();
    let after = |t: f64| 545.0 * t + 17820.0 * (t - 731.0).ln();
    let to_600 = cubic(600.0) - cubic(20.0);
    let to_735 = to_600 + before(735.0) - before(600.0);
    let to_900 = to_735 + after(900.0) - after(735.0);
    let steel = metal("carbon steel").expect("known");
    let heat = steel.heat_content();
    for (at_c, j_kg) in [
        (300.0, cubic(300.0) - cubic(20.0)),
        (600.0, to_600),
        (700.0, to_600 + before(700.0) - before(600.0)),
        (735.0, to_735),
        (760.0, to_735 + after(760.0) - after(735.0)),
        (900.0, to_900),
        (1200.0, to_900 + 650.0 * 300.0),
    ] {
        let expected = j_kg * steel.density_kg_m3.value;
        assert_relative_eq!(
            heat.at_c(at_c).expect("inside"),
            expected,
            max_relative = HEAT_CONTENT
        );
    }
}

#[test]
fn a_standard_says_what_it_does_not_give() {
    let refused = standard(CARBON, Property::Resistivity).expect_err("not in it");
    assert!(matches!(refused, MaterialError::NotInStandard { .. }));
    assert!(refused.to_string().contains("specific heat"));
    let unknown = standard("EN 1993-1-2 carbon", Property::Conductivity).expect_err("unknown");
    assert!(unknown.to_string().contains(CARBON));
}

#[test]
fn the_heat_content_of_iron_is_that_of_the_janaf_tables() {
    // NIST-JANAF 1998, iron, H - H(298.15 K) in kJ/mol; its own formula swings by 1 % between the table points.
    const NEAR_ENOUGH: f64 = 0.015;
    const KG_PER_MOL: f64 = 0.055_845;
    let specific_heat = standard("JANAF alpha iron", Property::SpecificHeat).expect("known");
    let heat_j_kg = |to_c: f64| {
        let inside: Vec<(f64, f64)> = specific_heat
            .points
            .iter()
            .copied()
            .filter(|point| (25.0..=to_c).contains(&point.0))
            .collect();
        let pairs = inside.windows(2);
        let sum: f64 = pairs
            .map(|p| 0.5 * (p[0].1 + p[1].1) * (p[1].0 - p[0].0))
            .sum();
        sum + 1.7 * 450.0
    };
    for (at_c, kj_mol) in [
        (426.85, 11.94),
        (626.85, 19.50),
        (726.85, 24.00),
        (768.85, 26.60),
    ] {
        let heat_kj_mol = heat_j_kg(at_c) * KG_PER_MOL * 1e-3;
        assert_relative_eq!(heat_kj_mol, kj_mol, max_relative = NEAR_ENOUGH);
    }
}

#[test]
fn a_reference_table_is_given_as_it_is() {
    let iron = standard("JANAF alpha iron", Property::SpecificHeat).expect("known");
    assert_eq!(iron.at_c(526.85), Ok(677.8));
    assert!(iron.at_c(1100.0).is_err());
}
