//! The permeability that stands for a magnetization curve in a calculation with sine waves.
//!
//! Where |H| follows a sine, B does not; its effective permeability is taken as Brms / (mu0 Hrms), which keeps the
//! loss of a saturating half-space within 1 % of a calculation in time (docs/theory/eddy-currents.md, equation 9).

use crate::table::Table;

/// Permeability of vacuum in H/m (CODATA 2018).
pub const VACUUM_PERMEABILITY_H_M: f64 = 1.256_637_062_12e-6;

/// Points of the quarter wave over which B is squared and summed; curves as sharp as iron's are exact to 1e-5.
const QUARTER_WAVE_POINTS: usize = 200;

/// Peak field strengths in A/m between which a table has points: below the first, iron is at its initial
/// permeability to 0.1 %; above the last nothing that a coil in air reaches.
const FIRST_PEAK_A_M: f64 = 1.0;
const LAST_PEAK_A_M: f64 = 1e7;

/// Points a decade: straight lines between them follow the curve to 0.02 %.
const POINTS_A_DECADE: usize = 100;

/// Effective relative permeability for H(t) = peak * sin(w t), from B in T over H in A/m (odd, through zero).
pub fn effective_permeability(peak_a_m: f64, flux_density_t: impl Fn(f64) -> f64) -> f64 {
    let quarter_rad = std::f64::consts::FRAC_PI_2 / QUARTER_WAVE_POINTS as f64;
    let squares = (0..QUARTER_WAVE_POINTS).map(|step| {
        let b_t = flux_density_t(peak_a_m * libm::sin((step as f64 + 0.5) * quarter_rad));
        b_t * b_t
    });
    let mean_square: f64 = squares.sum::<f64>() / QUARTER_WAVE_POINTS as f64;
    (2.0 * mean_square).sqrt() / (VACUUM_PERMEABILITY_H_M * peak_a_m)
}

/// The effective relative permeability over the peak of |H| in A/m.
pub fn effective_table(flux_density_t: impl Fn(f64) -> f64) -> Table {
    let decades = libm::log10(LAST_PEAK_A_M / FIRST_PEAK_A_M);
    let steps = (decades * POINTS_A_DECADE as f64) as usize;
    let points: Vec<(f64, f64)> = (0..=steps)
        .map(|step| FIRST_PEAK_A_M * libm::pow(10.0, step as f64 / POINTS_A_DECADE as f64))
        .map(|peak_a_m| (peak_a_m, effective_permeability(peak_a_m, &flux_density_t)))
        .collect();
    Table::new(&points).expect("peaks ascend and a magnetization curve is finite")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// B = mu0 H + Bs H / (Hc + |H|), Hc = Bs / (mu0 (mu_i - 1)) with Bs = 1.9 T, mu_i = 1000 (Fröhlich 1881).
    fn froehlich(h_a_m: f64) -> f64 {
        let knee_a_m = 1.9 / (VACUUM_PERMEABILITY_H_M * 999.0);
        VACUUM_PERMEABILITY_H_M * h_a_m + 1.9 * h_a_m / (knee_a_m + h_a_m.abs())
    }

    #[test]
    fn a_straight_curve_has_its_own_permeability() {
        let straight = |h: f64| 60.0 * VACUUM_PERMEABILITY_H_M * h;
        assert!((effective_permeability(5e3, straight) - 60.0).abs() < 1e-10);
    }

    #[test]
    fn a_rectangular_curve_tends_to_root_two_of_the_secant() {
        // Brms is the full saturation while Hrms is the peak over root two.
        let rectangular = |h: f64| 2.0 * h.signum();
        let secant = 2.0 / (VACUUM_PERMEABILITY_H_M * 1e4);
        let ratio = effective_permeability(1e4, rectangular) / secant;
        assert!((ratio - std::f64::consts::SQRT_2).abs() < 1e-12);
    }

    #[test]
    fn the_table_agrees_with_another_integration() {
        // An independent integration of this curve, itself good to about 1e-5.
        let table = effective_table(froehlich);
        for (peak_a_m, expected) in [(200.0, 899.831_966), (5e3, 278.188_976), (1e5, 21.382_698)] {
            let found = table.at(peak_a_m);
            assert!(
                (found / expected - 1.0).abs() < 2e-4,
                "{found} at {peak_a_m} A/m"
            );
            let exact = effective_permeability(peak_a_m, froehlich);
            assert!(
                (exact / expected - 1.0).abs() < 2e-5,
                "{exact} at {peak_a_m} A/m"
            );
        }
    }
}
