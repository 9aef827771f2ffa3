use approx::assert_relative_eq;
use materials::air;

#[test]
fn air_meets_values_of_another_source() {
    // Çengel, table A-15, and a public web table, as the data file cites them.
    for check in &air().checks {
        let within = check.within_percent / 100.0;
        let at = |curve: &quantity::Curve| curve.at_c(check.at_c).expect("inside");
        assert_relative_eq!(
            at(&air().conductivity),
            check.conductivity_w_mk,
            max_relative = within
        );
        assert_relative_eq!(
            at(&air().kinematic_viscosity),
            check.kinematic_viscosity_m2_s,
            max_relative = within
        );
        assert_relative_eq!(at(&air().prandtl), check.prandtl, max_relative = within);
    }
    assert!(air().checks.len() >= 3);
}

#[test]
fn air_at_the_standard_atmosphere() {
    // U.S. Standard Atmosphere 1976, sea level (15 °C): 1.2250 kg/m³, 1.4607e-5 m²/s, 0.025326 W/(m K).
    assert_relative_eq!(
        air().density.at_c(15.0).expect("inside"),
        1.2250,
        max_relative = 1e-4
    );
    assert_relative_eq!(
        air().kinematic_viscosity.at_c(15.0).expect("inside"),
        1.4607e-5,
        max_relative = 1e-3
    );
    assert_relative_eq!(
        air().conductivity.at_c(15.0).expect("inside"),
        0.025326,
        max_relative = 1e-3
    );
    assert_relative_eq!(
        air().expansion.at_c(15.0).expect("inside"),
        1.0 / 288.15,
        max_relative = 1e-4
    );
}

#[test]
fn air_is_refused_outside_its_range() {
    assert!(air().conductivity.at_c(900.0).is_err());
}
