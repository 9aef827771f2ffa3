//! Inductance of coaxial rings.

use super::VACUUM_PERMEABILITY_H_M;
use super::elliptic::complete;

/// A ring about the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// Radius of its center line in m.
    pub radius_m: f64,
    /// Its place along the axis in m.
    pub axial_m: f64,
}

/// Mutual inductance in H of two coaxial filaments (Maxwell 1873, art. 701; circuit.md eq. 3).
pub fn mutual_inductance_h(one: Ring, other: Ring) -> f64 {
    let (a, b, d) = (one.radius_m, other.radius_m, one.axial_m - other.axial_m);
    let farthest_squared = (a + b) * (a + b) + d * d;
    let nearest_squared = (a - b) * (a - b) + d * d;
    let modulus = (4.0 * a * b / farthest_squared).sqrt();
    let (k_integral, e_integral) = complete(modulus, (nearest_squared / farthest_squared).sqrt());
    let bracket = (2.0 / modulus - modulus) * k_integral - 2.0 / modulus * e_integral;
    VACUUM_PERMEABILITY_H_M * (a * b).sqrt() * bracket
}

/// Inductance in H of one ring of round wire with uniform current (Rayleigh & Niven 1881; Rosa & Grover 1912, eq. 63;
/// circuit.md eq. 2).
pub fn self_inductance_h(ring_radius_m: f64, wire_radius_m: f64) -> f64 {
    let part = wire_radius_m / ring_radius_m;
    let logarithm = libm::log(8.0 / part);
    let bracket = (1.0 + part * part / 8.0) * logarithm + part * part / 24.0 - 1.75;
    VACUUM_PERMEABILITY_H_M * ring_radius_m * bracket
}

/// Inductance in H of rings in series in air (circuit.md eq. 4).
pub fn series_inductance_h(rings: &[Ring], wire_radius_m: f64) -> f64 {
    let mut total_h = 0.0;
    for (index, ring) in rings.iter().enumerate() {
        total_h += self_inductance_h(ring.radius_m, wire_radius_m);
        total_h += rings[index + 1..]
            .iter()
            .map(|other| 2.0 * mutual_inductance_h(*ring, *other))
            .sum::<f64>();
    }
    total_h
}

#[cfg(test)]
mod tests {
    use super::{Ring, mutual_inductance_h, self_inductance_h, series_inductance_h};

    fn ring(radius_m: f64, axial_m: f64) -> Ring {
        Ring { radius_m, axial_m }
    }

    // Reference cases A4-09, A4-11, A4-13: Maxwell's formula, confirmed by the Neumann integral to 1e-9.
    #[test]
    fn mutual_inductance_of_coaxial_rings() {
        let cases = [
            (0.25, 0.2, 0.1, 2.487_873_590_4e-7),
            (0.1, 0.1, 0.01, 3.002_876_303_7e-7),
            (0.1939, 0.1939, 0.02, 5.748_133_469_2e-7),
        ];
        for (a, b, d, expected_h) in cases {
            let found_h = mutual_inductance_h(ring(a, 0.0), ring(b, d));
            assert!((found_h / expected_h - 1.0).abs() < 1e-8);
        }
    }

    // Reference case A4-22 (Rayleigh & Niven 1881) and A4-23 (eight such rings, sum with Maxwell's mutuals).
    #[test]
    fn inductance_of_one_ring_and_of_eight() {
        assert!((self_inductance_h(0.1939, 0.006) / 9.273_113_588_5e-7 - 1.0).abs() < 1e-8);
        let rings: Vec<Ring> = (0..8)
            .map(|turn| ring(0.19295, 0.02 * f64::from(turn)))
            .collect();
        let found_h = series_inductance_h(&rings, 0.006);
        assert!((found_h / 2.765_474_465e-5 - 1.0).abs() < 1e-6);
    }
}
