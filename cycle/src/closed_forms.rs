//! Inductance of rings, coils and leads by published formulas (docs/theory/circuit.md).
//!
//! They give the circuit what the section does not show (leads), the row "coil alone" of the circuit table, and the
//! tests an outside to be compared with. All in SI units, currents uniform over their conductors.

pub mod elliptic;
pub mod ring;
pub mod solenoid;
pub mod two_wire;

/// Permeability of vacuum in H/m (CODATA 2018).
pub const VACUUM_PERMEABILITY_H_M: f64 = 1.256_637_062_12e-6;

/// Skin depth in meters: sqrt(rho / (pi f mu)) (Stoll 1974, ch. 2; circuit.md eq. 1).
pub fn skin_depth_m(resistivity_ohm_m: f64, relative_permeability: f64, frequency_hz: f64) -> f64 {
    let permeability_h_m = VACUUM_PERMEABILITY_H_M * relative_permeability;
    (resistivity_ohm_m / (std::f64::consts::PI * frequency_hz * permeability_h_m)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::skin_depth_m;

    // Lammeraner & Stafl 1966, ch. 2: half space; values of reference cases A2-01 and A2-04, analytic.
    #[test]
    fn skin_depth_of_cold_and_hot_steel() {
        let cold = skin_depth_m(2.5e-7, 100.0, 1000.0);
        let above_curie = skin_depth_m(1.1e-6, 1.0, 10_000.0);
        assert!((cold / 0.000_795_774_715 - 1.0).abs() < 1e-8);
        assert!((above_curie / 0.005_278_572_298 - 1.0).abs() < 1e-8);
    }
}
