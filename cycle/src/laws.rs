//! The laws of a metal and a blanket as the tables of the solver.

use field::section::{Curie, Metal, Permeability};
use field::table::Table;
use materials::Magnetization;
use quantity::Curve;

use crate::closed_forms::VACUUM_PERMEABILITY_H_M;
use crate::error::CycleError;

/// Decades of field strength that the permeability table spans, from 10 A/m to 10 MA/m, and its points a decade:
/// enough for 0.1 % between them.
const FIRST_FIELD_A_M: f64 = 10.0;
const DECADES: usize = 6;
const POINTS_A_DECADE: usize = 16;

/// Points over a quarter period for the rms of B: the error of the midpoint rule is below 1e-4 even for a knee.
const QUARTER_POINTS: usize = 64;

/// The laws of a metal.
///
/// # Errors
/// A curve that cannot be a law (no points, or points out of order).
pub fn metal_laws(metal: &materials::Metal) -> Result<Metal, CycleError> {
    let permeability = match &metal.magnetization {
        None => Permeability::Constant(1.0),
        Some(magnetization) => Permeability::Saturating {
            effective: effective_permeability(magnetization)?,
            curie: Some(Curie {
                point_c: magnetization.curie.point_c.value,
                exponent: magnetization.curie.exponent.value,
                reference_c: magnetization.curie.reference_c,
            }),
        },
    };
    Ok(Metal {
        resistivity_ohm_m: Some(law(&metal.resistivity)?),
        permeability,
        conductivity_w_mk: law(&metal.conductivity)?,
        heat_content_j_m3: law(&metal.heat_content())?,
    })
}

/// A curve as a table of the solver.
///
/// # Errors
/// A curve that cannot be a law (no points, or points out of order).
pub fn law(curve: &Curve) -> Result<Table, CycleError> {
    table(&curve.points, &curve.property)
}

fn table(points: &[(f64, f64)], property: &str) -> Result<Table, CycleError> {
    Table::new(points).ok_or_else(|| CycleError::Property {
        doing: "making a table for the solver".into(),
        detail: format!("the points of {property} do not ascend"),
    })
}

/// Effective relative permeability over the peak field: rms of B over rms of H while H swings as a sine (circuit.md
/// eq. 11); against the loss of a field in time it is right to about one percent.
fn effective_permeability(magnetization: &Magnetization) -> Result<Table, CycleError> {
    let points: Vec<(f64, f64)> = (0..=DECADES * POINTS_A_DECADE)
        .map(|step| {
            let decades = step as f64 / POINTS_A_DECADE as f64;
            let peak_a_m = FIRST_FIELD_A_M * libm::pow(10.0, decades);
            (peak_a_m, rms_permeability(magnetization, peak_a_m))
        })
        .collect();
    table(&points, "permeability")
}

fn rms_permeability(magnetization: &Magnetization, peak_a_m: f64) -> f64 {
    let mean_square: f64 = (0..QUARTER_POINTS)
        .map(|i| {
            let angle = std::f64::consts::FRAC_PI_2 * (i as f64 + 0.5) / QUARTER_POINTS as f64;
            let b = magnetization.flux_density_t(peak_a_m * libm::sin(angle));
            b * b
        })
        .sum::<f64>()
        / QUARTER_POINTS as f64;
    mean_square.sqrt() / (VACUUM_PERMEABILITY_H_M * peak_a_m / std::f64::consts::SQRT_2)
}

#[cfg(test)]
mod tests {
    use field::section::Permeability;

    use super::{metal_laws, rms_permeability};

    #[test]
    fn permeability_is_the_initial_one_in_weak_fields_and_falls_in_strong_ones() {
        let steel = materials::metal("carbon steel").expect("known");
        let curve = steel.magnetization.as_ref().expect("magnetic");
        let weak = rms_permeability(curve, 1.0);
        assert!((weak / curve.initial_permeability.value - 1.0).abs() < 0.01);
        // Far beyond the knee B is Bs + mu0 H; with a square wave of Bs the rms is sqrt 2 Bs / (mu0 H) + ...
        let strong = rms_permeability(curve, 1e6);
        assert!((1.0..6.0).contains(&strong), "{strong}");
    }

    #[test]
    fn every_metal_gives_laws() {
        for metal in materials::metals() {
            let laws = metal_laws(metal).expect("a law");
            assert!(laws.resistivity_ohm_m.is_some());
            let magnetic = matches!(laws.permeability, Permeability::Saturating { .. });
            assert_eq!(magnetic, metal.magnetization.is_some());
        }
    }
}
