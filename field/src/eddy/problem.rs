//! What depends on the section alone: mesh, unknowns, pattern, and the part of the matrix that never changes.

use super::active::{Active, FIXED, Shapes, curl_rows, is_active};
use super::boundary::add_far_circle;
use super::source::{self, Source};
use crate::element::{POINTS, Triangle};
use crate::error::FieldError;
use crate::finder::Finder;
use crate::mesh::{self, Mesh, MeshSettings, Region};
use crate::permeability::VACUUM_PERMEABILITY_H_M;
use crate::section::{Permeability, Point, Section, Symmetry, Winding};
use crate::space::Space;
use crate::sparse::{Pattern, Symbolic};

/// A section ready to be solved at any frequency, current and temperature.
pub struct Problem {
    pub(crate) section: Section,
    pub(crate) mesh: Mesh,
    pub(crate) space: Space,
    /// Unknown of each node.
    pub(crate) unknowns: Vec<u32>,
    pub(crate) pattern: Pattern,
    pub(crate) symbolic: Symbolic,
    /// The matrix of air, insulators and far boundary, by entry.
    pub(crate) base: Vec<f64>,
    pub(crate) active: Vec<Active>,
    pub(crate) shapes: Shapes,
    pub(crate) finder: Finder,
    pub(crate) sources: Vec<Source>,
}

impl Problem {
    /// Meshes a section and prepares its equations.
    ///
    /// # Errors
    /// Those of [`mesh::build`].
    pub fn new(section: &Section, settings: &MeshSettings) -> Result<Problem, FieldError> {
        Problem::on_mesh(section, mesh::build(section, settings)?)
    }

    /// Prepares the equations on a mesh of the section.
    ///
    /// # Errors
    /// Where a conductor lies outside the mesh or in metal.
    pub fn on_mesh(section: &Section, mesh: Mesh) -> Result<Problem, FieldError> {
        let space = Space::new(&mesh);
        let unknowns = number_unknowns(section.symmetry, &space);
        let count = unknowns.iter().filter(|&&unknown| unknown != FIXED).count();
        let elements: Vec<Vec<u32>> = space
            .elements
            .iter()
            .map(|nodes| {
                nodes
                    .map(|node| unknowns[node as usize])
                    .into_iter()
                    .filter(|&u| u != FIXED)
                    .collect()
            })
            .collect();
        let pattern = Pattern::new(count, elements.iter().map(Vec::as_slice));
        let symbolic = Symbolic::new(&pattern);
        let mut problem = Problem {
            section: Section {
                windings: Vec::new(),
                ..section.clone()
            },
            finder: Finder::new(&mesh),
            base: vec![0.0; pattern.len()],
            active: Vec::new(),
            shapes: Shapes::new(),
            sources: Vec::new(),
            mesh,
            space,
            unknowns,
            pattern,
            symbolic,
        };
        problem.assemble_base();
        problem.replace_windings(section.windings.clone())?;
        Ok(problem)
    }

    fn assemble_base(&mut self) {
        let mut base = std::mem::take(&mut self.base);
        for triangle in 0..self.mesh.triangles.len() {
            let element = Active::new(
                &self.section,
                &self.mesh,
                &self.space,
                &self.pattern,
                &self.unknowns,
                triangle,
            );
            let body = match self.mesh.regions[triangle] {
                Region::Body(body) => Some(&self.section.bodies[body as usize]),
                Region::Air => None,
            };
            if body.is_some_and(is_active) {
                self.active.push(element);
                continue;
            }
            let relative = match body.map(|body| &body.metal.permeability) {
                Some(Permeability::Constant(value)) => *value,
                _ => 1.0,
            };
            let reluctivity_m_h = 1.0 / (VACUUM_PERMEABILITY_H_M * relative);
            element.add_stiffness([reluctivity_m_h; POINTS], |entry, value| {
                base[entry] += value
            });
        }
        let symmetry = self.section.symmetry;
        add_far_circle(
            symmetry,
            &self.mesh,
            &self.space,
            &self.pattern,
            &self.unknowns,
            &mut base,
        );
        self.base = base;
    }

    /// Puts other windings into the air, on the same mesh. They should lie where the mesh is fine: round the windings
    /// it was made for, or at [`MeshSettings::places`].
    ///
    /// # Errors
    /// Where a conductor lies outside the mesh or in metal.
    pub fn replace_windings(&mut self, windings: Vec<Winding>) -> Result<(), FieldError> {
        self.sources = windings
            .iter()
            .map(|winding| self.source(winding))
            .collect::<Result<_, _>>()?;
        self.section.windings = windings;
        Ok(())
    }

    /// A winding as a source on this mesh.
    ///
    /// # Errors
    /// Where a conductor lies outside the mesh or in metal.
    pub fn source(&self, winding: &Winding) -> Result<Source, FieldError> {
        source::source(
            &self.section,
            &self.mesh,
            &self.space,
            &self.finder,
            winding,
        )
    }

    /// The section, with its present windings.
    pub fn section(&self) -> &Section {
        &self.section
    }

    /// The mesh.
    pub fn mesh(&self) -> &Mesh {
        &self.mesh
    }

    /// The nodes, also those for temperature.
    pub fn space(&self) -> &Space {
        &self.space
    }

    /// How many unknowns the equations have.
    pub fn unknowns(&self) -> usize {
        self.pattern.unknowns()
    }

    /// Finds triangles by place.
    pub fn finder(&self) -> &Finder {
        &self.finder
    }

    /// Flux density for each node's potential at a place of a triangle.
    pub(crate) fn curl_at(&self, triangle: usize, at: [f64; 3]) -> [[f64; 6]; 2] {
        let corners: [Point; 3] =
            self.mesh.triangles[triangle].map(|corner| self.mesh.points[corner as usize]);
        curl_rows(self.section.symmetry, &Triangle::new(corners), at)
    }
}

/// On the axis the potential is zero; every other node has an unknown.
fn number_unknowns(symmetry: Symmetry, space: &Space) -> Vec<u32> {
    let mut next = 0;
    let number = |place: &Point| {
        if symmetry == Symmetry::Axisymmetric && place[0] == 0.0 {
            return FIXED;
        }
        next += 1;
        next - 1
    };
    space.nodes.iter().map(number).collect()
}
