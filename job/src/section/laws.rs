//! The bodies, coils and materials of a problem as the solver takes them.

use field::permeability::{VACUUM_PERMEABILITY_H_M, effective_table};
use field::section::{Body, Metal, Permeability, Section, Winding};
use field::table::Table;
use quantity::{Curve, Source, Status};

use super::problem::{Law, Magnetization, Material, SectionProblem};

/// Temperatures in °C between which the heat content of a metal is given: a run that leaves them has left every table
/// before.
const COLDEST_C: f64 = -273.15;
const HOTTEST_C: f64 = 3000.0;

/// The section of a problem.
pub(super) fn section(problem: &SectionProblem) -> Section {
    let body = |body: &super::problem::SectionBody| Body {
        name: body.name.clone(),
        polygon: body.polygon.clone(),
        metal: metal(&problem.materials[body.material]),
    };
    let winding = |coil: &super::problem::Coil| Winding {
        name: coil.name.clone(),
        conductors: coil.conductors.clone(),
    };
    Section {
        symmetry: problem.symmetry,
        outer: problem.outer,
        bodies: problem.bodies.iter().map(body).collect(),
        windings: problem.coils.iter().map(winding).collect(),
    }
}

/// A law as a table of the solver.
pub(super) fn table(law: &Law) -> Table {
    Table::new(&law.points).expect("a law that was read ascends")
}

fn metal(material: &Material) -> Metal {
    // Zero conductivity is how the solver is told that a body takes no part in heat.
    let conductivity = material.conductivity_w_mk.as_ref();
    Metal {
        resistivity_ohm_m: material.resistivity_ohm_m.as_ref().map(table),
        permeability: permeability(material),
        conductivity_w_mk: conductivity.map_or(Table::constant(0.0), table),
        heat_content_j_m3: heat_content(material),
    }
}

fn permeability(material: &Material) -> Permeability {
    let effective = match &material.magnetization {
        Magnetization::Constant(value) => Table::constant(*value),
        Magnetization::Table(points) => Table::new(points).expect("a table that was read ascends"),
        Magnetization::Froehlich {
            saturation_t,
            initial_permeability,
        } => {
            let knee_a_m = knee_a_m(*saturation_t, *initial_permeability);
            effective_table(|h| {
                VACUUM_PERMEABILITY_H_M * h + saturation_t * h / (knee_a_m + h.abs())
            })
        }
        Magnetization::Arctan {
            saturation_t,
            initial_permeability,
        } => {
            let share =
                std::f64::consts::FRAC_PI_2 / knee_a_m(*saturation_t, *initial_permeability);
            let scale_t = saturation_t / std::f64::consts::FRAC_PI_2;
            effective_table(|h| VACUUM_PERMEABILITY_H_M * h + scale_t * libm::atan(share * h))
        }
    };
    match (&material.magnetization, material.curie) {
        (Magnetization::Constant(value), None) => Permeability::Constant(*value),
        (_, curie) => Permeability::Saturating { effective, curie },
    }
}

/// Hc = Bs / (mu0 (mu_i - 1)): where the straight rise from zero would meet saturation.
fn knee_a_m(saturation_t: f64, initial_permeability: f64) -> f64 {
    saturation_t / (VACUUM_PERMEABILITY_H_M * (initial_permeability - 1.0))
}

/// Heat content over temperature; beyond its law it continues straight, so that a run that leaves the law can be told
/// so. A steady state does not need it.
fn heat_content(material: &Material) -> Table {
    let (Some(specific_heat), Some(density)) =
        (&material.specific_heat_j_kgk, material.density_kg_m3)
    else {
        return Table::new(&[(COLDEST_C, 0.0), (HOTTEST_C, 1.0)]).expect("two points");
    };
    let mut points = specific_heat.points.clone();
    let (first, last) = (points[0], points[points.len() - 1]);
    if first.0 > COLDEST_C {
        points.insert(0, (COLDEST_C, first.1));
    }
    points.push((HOTTEST_C, last.1));
    let curve = Curve {
        property: "specific heat".into(),
        unit: "J/(kg K)".into(),
        points,
        source: Source {
            citation: "the file".into(),
            status: Status::Computed,
            note: None,
        },
    };
    let content = materials::heat_content(&curve, density);
    Table::new(&content.points).expect("heat content ascends")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::section::Law;

    fn material() -> Material {
        Material {
            name: "metal".into(),
            resistivity_ohm_m: None,
            magnetization: Magnetization::Constant(1.0),
            curie: None,
            conductivity_w_mk: None,
            specific_heat_j_kgk: Some(Law {
                points: vec![(20.0, 400.0), (120.0, 600.0)],
                line: 1,
            }),
            density_kg_m3: Some(1000.0),
            line: 1,
        }
    }

    #[test]
    fn heat_content_is_the_integral_and_continues_beyond_its_law() {
        let content = heat_content(&material());
        let gained = |from_c: f64, to_c: f64| content.at(to_c) - content.at(from_c);
        assert!((gained(20.0, 120.0) / (1000.0 * 500.0 * 100.0) - 1.0).abs() < 1e-12);
        assert!((gained(120.0, 220.0) / (1000.0 * 600.0 * 100.0) - 1.0).abs() < 1e-9);
        assert!((gained(-80.0, 20.0) / (1000.0 * 400.0 * 100.0) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn curves_begin_at_their_initial_permeability() {
        for magnetization in [
            Magnetization::Froehlich {
                saturation_t: 1.9,
                initial_permeability: 300.0,
            },
            Magnetization::Arctan {
                saturation_t: 1.9,
                initial_permeability: 300.0,
            },
        ] {
            let Permeability::Saturating { effective, .. } = permeability(&Material {
                magnetization,
                ..material()
            }) else {
                panic!("a curve saturates");
            };
            assert!((effective.at(1.0) / 300.0 - 1.0).abs() < 1e-3);
            let strong = (effective.at(1e6) - 1.0) * VACUUM_PERMEABILITY_H_M * 1e6;
            assert!(
                (1.9..2.9).contains(&strong),
                "sqrt 2 of saturation at most: {strong}"
            );
        }
    }
}
