//! What acts on the edges of a problem, as the solver takes it.

use field::FieldError;
use field::heat::{self, Boundary, Loss, pieces_between};
use field::mesh::Mesh;
use field::section::Section;
use field::table::Table;

use super::laws::table;
use super::problem::{Blanket, Edge, SectionProblem};

/// Cells across a blanket: 4 leave less than half a kelvin (docs/theory/heat.md).
const BLANKET_CELLS: usize = 4;

/// The boundaries of heat, and for each edge those that are its own.
pub(super) struct Boundaries {
    pub all: Vec<Boundary>,
    pub of_edge: Vec<Vec<usize>>,
}

/// Finds the pieces of every edge and gives them their laws.
///
/// # Errors
/// [`FieldError::NoSuchEdge`] where an edge is not covered once by outlines of bodies that conduct heat.
pub(super) fn boundaries(
    problem: &SectionProblem,
    section: &Section,
    mesh: &Mesh,
) -> Result<Boundaries, FieldError> {
    let mut found = Boundaries {
        all: Vec::new(),
        of_edge: Vec::new(),
    };
    for edge in &problem.edges {
        let laws = laws_of(edge);
        let mut own = Vec::new();
        if !laws.is_empty() {
            let pieces = pieces_between(section, mesh, edge.from_m, edge.to_m)?;
            for law in laws {
                own.push(found.all.len());
                found.all.push(Boundary {
                    pieces: pieces.clone(),
                    law,
                });
            }
        }
        found.of_edge.push(own);
    }
    Ok(found)
}

/// Whether any heat passes an edge.
pub(super) fn acts_on_heat(edge: &Edge) -> bool {
    !laws_of(edge).is_empty()
}

fn laws_of(edge: &Edge) -> Vec<heat::Law> {
    let mut laws = Vec::new();
    if let Some(flux_w_m2) = edge.heat_flux_w_m2 {
        laws.push(heat::Law::Flux(Table::constant(flux_w_m2)));
    }
    if let Some(course) = &edge.temperature_c {
        laws.push(heat::Law::Temperature(
            Table::new(course).expect("a course that was read ascends"),
        ));
    }
    if edge.convection.is_some() || edge.radiation.is_some() {
        laws.push(heat::Law::Loss(loss(edge)));
    }
    laws.extend(
        edge.blanket
            .as_ref()
            .map(|blanket| heat::Law::Blanket(layer(blanket))),
    );
    laws
}

fn loss(edge: &Edge) -> Loss {
    Loss {
        convection: edge.convection.map(|stated| heat::Convection {
            w_m2k: stated.w_m2k,
            ambient_c: stated.ambient_c,
        }),
        tabulated_w_m2: None,
        radiation: edge.radiation.map(|stated| heat::Radiation {
            emissivity: stated.emissivity,
            ambient_c: stated.ambient_c,
        }),
    }
}

fn layer(blanket: &Blanket) -> heat::Blanket {
    heat::Blanket {
        thickness_m: blanket.thickness_m,
        cells: BLANKET_CELLS,
        conductivity_w_mk: table(&blanket.conductivity_w_mk),
        heat_capacity_j_m3k: blanket.density_kg_m3 * blanket.specific_heat_j_kgk,
        outside: Loss {
            convection: Some(heat::Convection {
                w_m2k: blanket.convection_w_m2k,
                ambient_c: blanket.ambient_c,
            }),
            tabulated_w_m2: None,
            radiation: Some(heat::Radiation {
                emissivity: blanket.emissivity,
                ambient_c: blanket.ambient_c,
            }),
        },
    }
}
