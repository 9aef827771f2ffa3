//! The laws of a metal and a blanket as the tables of the solver.

use field::permeability::effective_table;
use field::section::{Curie, Metal, Permeability};
use field::table::Table;
use quantity::Curve;

use crate::error::CycleError;

/// The laws of a metal.
///
/// # Errors
/// A curve that cannot be a law (no points, or points out of order).
pub fn metal_laws(metal: &materials::Metal) -> Result<Metal, CycleError> {
    let permeability = match &metal.magnetization {
        None => Permeability::Constant(1.0),
        Some(magnetization) => Permeability::Saturating {
            // Effective permeability over the peak field (circuit.md eq. 11).
            effective: effective_table(|h_a_m| magnetization.flux_density_t(h_a_m)),
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

#[cfg(test)]
mod tests {
    use field::section::Permeability;

    use super::metal_laws;

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
