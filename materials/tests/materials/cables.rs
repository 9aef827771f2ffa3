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
