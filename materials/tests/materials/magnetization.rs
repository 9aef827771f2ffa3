use approx::assert_relative_eq;
use materials::{Magnetization, metals};

const VACUUM_PERMEABILITY_H_M: f64 = 1.256_637_062_12e-6;

fn magnetic() -> impl Iterator<Item = (&'static str, &'static Magnetization)> {
    let with_curve = |metal: &'static materials::Metal| {
        Some((metal.name.as_str(), metal.magnetization.as_ref()?))
    };
    metals().iter().filter_map(with_curve)
}

#[test]
fn polarization_tends_to_saturation() {
    // Both forms reach saturation like one over the field: 1 MA/m leaves less than 1 % for steels.
    const STRONG_A_M: f64 = 1e6;
    for (name, curve) in magnetic() {
        let part = curve.polarization_t(STRONG_A_M) / curve.saturation_t.value;
        assert!(part > 0.97 && part < 1.0, "{name}: {part}");
    }
}

#[test]
fn the_curve_begins_with_the_initial_permeability() {
    const WEAK_A_M: f64 = 0.01;
    for (name, curve) in magnetic() {
        let permeability = curve.flux_density_t(WEAK_A_M) / (VACUUM_PERMEABILITY_H_M * WEAK_A_M);
        let expected = curve.initial_permeability.value;
        assert!(
            (permeability / expected - 1.0).abs() < 1e-3,
            "{name}: {permeability}"
        );
    }
}

#[test]
fn flux_density_rises_and_is_odd() {
    for (name, curve) in magnetic() {
        let mut last_t = -1.0;
        for h_a_m in [0.0, 100.0, 1e3, 5e3, 2e4, 1e5] {
            let b_t = curve.flux_density_t(h_a_m);
            assert!(b_t > last_t, "{name}");
            assert_relative_eq!(curve.flux_density_t(-h_a_m), -b_t);
            last_t = b_t;
        }
    }
}

#[test]
fn above_the_curie_point_only_vacuum_is_left() {
    for (name, curve) in magnetic() {
        let above_c = curve.curie.point_c.value + 1.0;
        assert_relative_eq!(
            curve.flux_density_at_t(2e4, above_c),
            VACUUM_PERMEABILITY_H_M * 2e4
        );
        assert_eq!(curve.loss_angle_rad(2e4, above_c), 0.0, "{name}");
        assert_eq!(curve.curie.part_left(-40.0), 1.0);
    }
}

#[test]
fn saturation_falls_with_temperature_as_that_of_iron() {
    // Kuz'min 2005, eq. 3 with s = 0.35, p = 4 for iron (Tc 1044 K): part of the saturation at 20 °C that is left, over
    // the part of the way to the Curie point.
    const NEAR_ENOUGH: f64 = 0.10;
    let iron = |kelvins: f64| {
        let part = kelvins / 1044.0;
        (1.0 - 0.35 * part.powf(1.5) - 0.65 * part.powi(4)).cbrt()
    };
    let steels = magnetic().filter(|(_, curve)| curve.curie.point_c.value > 700.0);
    for (name, curve) in steels {
        for share in [0.1, 0.3, 0.5, 0.7, 0.8, 0.85] {
            let of_iron = iron(293.15 + share * (1044.0 - 293.15)) / iron(293.15);
            let left = curve
                .curie
                .part_left(20.0 + share * (curve.curie.point_c.value - 20.0));
            assert!(
                (left / of_iron - 1.0).abs() < NEAR_ENOUGH,
                "{name} at {share}: {left} against {of_iron}"
            );
        }
    }
}

#[test]
fn hysteresis_is_small_in_the_fields_of_a_coil_and_vanishes_in_weak_ones() {
    for (name, curve) in magnetic() {
        let working = curve.loss_angle_rad(2e4, 20.0);
        assert!(
            working > 0.0 && working < 0.15,
            "{name}: {working} rad at 20 kA/m"
        );
        assert!(curve.loss_angle_rad(1.0, 20.0) < 0.05, "{name}");
        assert_eq!(curve.loss_angle_rad(0.0, 20.0), 0.0);
    }
}

#[test]
fn every_number_lies_in_its_range() {
    for (name, curve) in magnetic() {
        for number in curve.numbers() {
            assert!(
                number.low <= number.value && number.value <= number.high,
                "{name}: {number:?}"
            );
        }
    }
}

#[test]
fn carbon_steel_follows_the_curve_of_low_carbon_steel_at_working_fields() {
    // AISI 1010 steel as tabulated in a public finite-element material library (A/m, T).
    const NEAR_ENOUGH: f64 = 0.025;
    let steel = materials::metal("carbon steel").expect("known");
    let curve = steel.magnetization.as_ref().expect("magnetic");
    for (h_a_m, b_t) in [
        (7957.7, 1.73),
        (15915.5, 1.87),
        (47746.5, 2.04),
        (79577.5, 2.095),
        (318_310.0, 2.4),
    ] {
        assert_relative_eq!(curve.flux_density_t(h_a_m), b_t, max_relative = NEAR_ENOUGH);
    }
}
