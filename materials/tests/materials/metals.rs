use std::collections::BTreeSet;

use materials::{Edge, Metal, Property, metals, works};
use quantity::{Curve, Status};

const PROPERTIES: [Property; 3] = [
    Property::Conductivity,
    Property::SpecificHeat,
    Property::Resistivity,
];

fn ascends(curve: &Curve) -> bool {
    curve.points.windows(2).all(|pair| pair[0].0 < pair[1].0)
}

#[test]
fn every_curve_meets_its_check_value_from_another_source() {
    for metal in metals() {
        for check in &metal.checks {
            let curve = metal.curve(check.property);
            let value = curve
                .at_c(check.at_c)
                .expect("a check lies inside its curve");
            let off_percent = 100.0 * (value / check.value - 1.0);
            assert!(
                off_percent.abs() <= check.within_percent,
                "{}: {} at {} °C is {value}, {} gives {} ({off_percent:.1} %)",
                metal.name,
                curve.property,
                check.at_c,
                check.source.citation,
                check.value
            );
            assert!(!check.source.citation.is_empty());
        }
        let checked: BTreeSet<Property> = metal.checks.iter().map(|check| check.property).collect();
        assert_eq!(
            checked.len(),
            PROPERTIES.len(),
            "{} lacks a check",
            metal.name
        );
    }
}

#[test]
fn every_curve_ascends_is_positive_and_has_a_source() {
    for metal in metals() {
        for property in PROPERTIES {
            let curve = metal.curve(property);
            assert!(ascends(curve), "{}: {}", metal.name, curve.property);
            assert!(
                curve
                    .points
                    .iter()
                    .all(|point| point.1 > 0.0 && point.1.is_finite())
            );
            assert!(!curve.unit.is_empty());
        }
        for source in metal.sources() {
            assert!(!source.citation.is_empty());
            let explained = source.status != Status::Estimate || source.note.is_some();
            assert!(explained, "{}: an estimate without a note", metal.name);
        }
    }
}

#[test]
fn every_metal_covers_what_a_plan_needs() {
    const COLD_SITE_C: f64 = -40.0;
    const HOTTEST_TREATMENT_C: f64 = 800.0;
    for metal in metals() {
        let (first_c, last_c) = metal.range_c();
        assert!(
            first_c <= COLD_SITE_C,
            "{} begins at {first_c} °C",
            metal.name
        );
        assert!(
            last_c >= metal.covers_to_c,
            "{} ends at {last_c} °C",
            metal.name
        );
        let melts_early = metal.name.starts_with("aluminum");
        assert!(
            melts_early || metal.covers_to_c >= HOTTEST_TREATMENT_C,
            "{}",
            metal.name
        );
    }
}

#[test]
fn the_edges_enclose_the_chosen_curve() {
    for metal in metals() {
        for property in PROPERTIES {
            let (low, high) = (
                metal.at_edge(property, Edge::Low),
                metal.at_edge(property, Edge::High),
            );
            for at_c in [-40.0, 20.0, 150.0, 350.0, metal.covers_to_c] {
                let value = |metal: &Metal| metal.curve(property).at_c(at_c).expect("inside");
                let (below, chosen, above) = (value(&low), value(metal), value(&high));
                assert!(
                    below < chosen && chosen < above,
                    "{} {property:?} at {at_c} °C",
                    metal.name
                );
            }
        }
    }
}

#[test]
fn other_properties_stay_at_an_edge() {
    let metal = materials::metal("9Cr-1Mo-V").expect("known");
    let low = metal.at_edge(Property::Conductivity, Edge::Low);
    assert_eq!(low.resistivity, metal.resistivity);
    assert_ne!(low.conductivity, metal.conductivity);
}

#[test]
fn heat_content_rises_and_is_zero_at_20_c() {
    for metal in metals() {
        let heat = metal.heat_content();
        assert!(
            heat.points.windows(2).all(|pair| pair[0].1 < pair[1].1),
            "{}",
            metal.name
        );
        assert!(heat.at_c(20.0).expect("inside").abs() < 1.0);
    }
}

#[test]
fn outside_of_a_range_both_numbers_are_told() {
    let metal = materials::metal("9Cr-1Mo-V").expect("known");
    let refused = metal
        .conductivity
        .at_c(1300.0)
        .expect_err("outside")
        .to_string();
    assert!(
        refused.contains("1300 °C") && refused.contains("1000 °C"),
        "{refused}"
    );
}

#[test]
fn densities_and_emissivities_are_possible() {
    for metal in metals() {
        assert!(
            (2500.0..9000.0).contains(&metal.density_kg_m3.value),
            "{}",
            metal.name
        );
        let emissivity = &metal.emissivity;
        assert!(0.0 < emissivity.low && emissivity.low <= emissivity.value);
        assert!(emissivity.value <= emissivity.high && emissivity.high < 1.0);
    }
}

#[test]
fn every_work_in_the_bibliography_is_complete() {
    for (key, work) in works() {
        assert!(
            !work.short.is_empty() && !work.full.is_empty() && !work.used_for.is_empty(),
            "{key}"
        );
    }
}

#[test]
fn conductivity_and_resistivity_fit_each_other() {
    // Wiedemann & Franz 1853, Lorenz number of Sommerfeld 2.443e-8 W ohm/K²: k rho / T is that number in pure metals; the
    // lattice adds its part in alloys (Smith & Palmer 1935), at most about as much again.
    const LORENZ_W_OHM_K2: f64 = 2.443e-8;
    for metal in metals() {
        for at_c in [20.0, 200.0, 400.0, metal.covers_to_c] {
            let k = metal.conductivity.at_c(at_c).expect("inside");
            let rho = metal.resistivity.at_c(at_c).expect("inside");
            let ratio = k * rho / (at_c + 273.15) / LORENZ_W_OHM_K2;
            assert!(
                (0.85..2.05).contains(&ratio),
                "{} at {at_c} °C: {ratio:.2}",
                metal.name
            );
        }
    }
}
