//! Inductance of a single-layer coil as a current sheet.

use std::f64::consts::PI;

use super::VACUUM_PERMEABILITY_H_M;
use super::elliptic::complete;

/// Nagaoka's coefficient for a ratio of diameter to length above zero (Nagaoka 1909; circuit.md eq. 5).
pub fn nagaoka(diameter_over_length: f64) -> f64 {
    let slant = (1.0 + diameter_over_length * diameter_over_length).sqrt();
    let (modulus, complement) = (diameter_over_length / slant, 1.0 / slant);
    let (k_integral, e_integral) = complete(modulus, complement);
    let ratio = complement * complement / (modulus * modulus);
    let bracket = ratio * (k_integral - e_integral) + e_integral - modulus;
    4.0 / (3.0 * PI * complement) * bracket
}

/// Inductance in H of a current sheet of N turns (Rosa & Grover 1912, eq. 75; circuit.md eq. 6).
pub fn current_sheet_h(turns: f64, radius_m: f64, length_m: f64) -> f64 {
    let area_m2 = PI * radius_m * radius_m;
    VACUUM_PERMEABILITY_H_M * turns * turns * area_m2 / length_m
        * nagaoka(2.0 * radius_m / length_m)
}

#[cfg(test)]
mod tests {
    use super::super::ring::{Ring, series_inductance_h};
    use super::{current_sheet_h, nagaoka};

    // Rosa & Grover 1912, table XX (public copies), as recomputed in reference cases A4-03 to A4-05 and A4-08.
    #[test]
    fn the_table_of_nagaoka() {
        for (ratio, expected) in [(0.5, 0.818_136), (1.0, 0.688_423), (2.0, 0.525_510)] {
            assert!((nagaoka(ratio) - expected).abs() < 1e-6);
        }
        assert!((current_sheet_h(50.0, 0.05, 0.2) / 1.009_334_527e-4 - 1.0).abs() < 1e-8);
    }

    // Rosa 1906 (Rosa & Grover 1912, tables VII and VIII, from memory): a coil of round wire has
    // mu0 a N (A + B) less than its current sheet, A = 0.5568 + ln(d / pitch), B(50) = 0.3186.
    #[test]
    fn many_rings_come_near_a_current_sheet() {
        let pitch_m = 0.004;
        let rings: Vec<Ring> = (0..50)
            .map(|turn| Ring {
                radius_m: 0.05,
                axial_m: pitch_m * f64::from(turn),
            })
            .collect();
        let by_rings_h = series_inductance_h(&rings, 0.45 * pitch_m);
        let less_h =
            super::VACUUM_PERMEABILITY_H_M * 0.05 * 50.0 * (0.5568 + 0.9_f64.ln() + 0.3186);
        let expected_h = current_sheet_h(50.0, 0.05, 0.2) - less_h;
        assert!((by_rings_h / expected_h - 1.0).abs() < 1e-3);
    }
}
