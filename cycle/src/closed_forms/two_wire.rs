//! Inductance of the two leads between source and coil.

use super::VACUUM_PERMEABILITY_H_M;

/// Inductance in H of a go-and-return pair of round conductors with uniform current (Rosa 1908; Grover 1946, ch. 5;
/// circuit.md eq. 7).
///
/// Litz keeps the current uniform, so the inner part of the field counts whole.
pub fn pair_inductance_h(length_m: f64, spacing_m: f64, conductor_radius_m: f64) -> f64 {
    let bracket = libm::log(spacing_m / conductor_radius_m) + 0.25 - spacing_m / length_m;
    VACUUM_PERMEABILITY_H_M / std::f64::consts::PI * length_m * bracket.max(0.25)
}

#[cfg(test)]
mod tests {
    use super::pair_inductance_h;

    // Grover 1946, ch. 5, for long pairs: 0.4 uH/m times (ln(d/r) + 1/4).
    #[test]
    fn a_long_pair_has_its_inductance_a_meter() {
        let found_h = pair_inductance_h(1000.0, 0.03, 0.0065);
        let expected_h = 4e-7 * 1000.0 * ((0.03_f64 / 0.0065).ln() + 0.25);
        assert!((found_h / expected_h - 1.0).abs() < 1e-4);
    }

    #[test]
    fn wider_apart_means_more_inductance() {
        assert!(pair_inductance_h(5.0, 0.1, 0.0065) > pair_inductance_h(5.0, 0.03, 0.0065));
    }
}
