use approx::assert_relative_eq;
use materials::{Cooling, cable, cables};

#[test]
fn resistance_to_direct_current_is_that_of_the_copper() {
    // IEC 60028: 1/58 ohm mm²/m at 20 °C.
    let cable = cable("air-cooled cable").expect("known");
    let expected = 1.0 / 58.0 / cable.copper_area_mm2.value;
    assert_relative_eq!(
        cable.direct_resistance_ohm_m(20.0).expect("inside"),
        expected,
        max_relative = 2e-3
    );
}

#[test]
fn resistance_grows_with_frequency_and_with_the_field_of_the_neighbors() {
    for cable in cables() {
        let factor = |frequency_hz, field| {
            cable
                .alternating_factor(frequency_hz, field, 60.0)
                .expect("inside")
        };
        assert_relative_eq!(factor(0.0, 0.0), cable.workmanship.value);
        assert!(factor(1e4, 0.0) > factor(1e3, 0.0));
        assert!(factor(1e4, 20.0) > factor(1e4, 0.0));
        assert!(
            factor(1e4, 0.0) < 2.0,
            "{}: litz at 10 kHz costs {}",
            cable.name,
            factor(1e4, 0.0)
        );
    }
}

#[test]
fn a_cable_is_possible() {
    for cable in cables() {
        let bundle_mm2 = std::f64::consts::FRAC_PI_4 * cable.bundle_diameter_mm.value.powi(2);
        assert!(
            cable.copper_area_mm2.value < 0.8 * bundle_mm2,
            "{}",
            cable.name
        );
        assert!(cable.bundle_diameter_mm.value < cable.outside_diameter_mm.value);
        assert!(
            cable
                .outside_diameters_mm
                .contains(&cable.outside_diameter_mm.value)
        );
        assert!(cable.min_bend_radius_mm.value > cable.outside_diameter_mm.value);
    }
}

#[test]
fn a_liquid_cooled_cable_stays_colder_and_goes_hotter() {
    let of = |cooling| {
        cables()
            .iter()
            .find(move |cable| cable.cooling == cooling)
            .expect("both kinds")
    };
    let (air, liquid) = (of(Cooling::Air), of(Cooling::Liquid));
    assert!(liquid.max_cable_temperature_c.value < air.max_cable_temperature_c.value);
    assert!(liquid.max_work_temperature_c.value > air.max_work_temperature_c.value);
}

#[test]
fn litz_alone_has_the_resistance_of_the_handbook() {
    // Terman, Radio Engineers' Handbook, 1943: R / R0 = 1 + 2 (n d / D)² (d sqrt(f) / 10.44)^4 for many strands, d and D
    // in inches, copper at 20 °C.
    const HANDBOOK: f64 = 0.01;
    for cable in cables() {
        let strand_in = cable.strand_diameter_mm.value / 25.4;
        let bundle_in = cable.bundle_diameter_mm.value / 25.4;
        let strand_mm2 = std::f64::consts::FRAC_PI_4 * cable.strand_diameter_mm.value.powi(2);
        let strands = cable.copper_area_mm2.value / strand_mm2;
        for frequency_hz in [5e3, 2e4_f64] {
            let eddy = (strand_in * frequency_hz.sqrt() / 10.44).powi(4);
            let expected = 1.0 + 2.0 * (strands * strand_in / bundle_in).powi(2) * eddy;
            let factor = cable
                .alternating_factor(frequency_hz, 0.0, 20.0)
                .expect("inside");
            assert_relative_eq!(
                factor / cable.workmanship.value,
                expected,
                max_relative = HANDBOOK
            );
        }
    }
}
