//! Making a model: laws checked, points of the outlines gathered, unknowns paired.

use super::Blanket;
use super::boundary::{Boundary, Law};
use super::element::Element;
use super::layout::{Cell, Layout, NONE, column, layout};
use super::lookup::{Beyond, Lookup};
use super::model::{Exchange, Fixed, FluxPoint, HeatElement, MetalLaws, Model, Nodes};
use super::surface::{SurfacePoint, surface_points};
use crate::FieldError;
use crate::element::PAIRS;
use crate::mesh::Mesh;
use crate::section::{Metal, Section, Symmetry};
use crate::space::Space;
use crate::sparse::{Pattern, Symbolic};

impl Model {
    /// Prepares a section; `boundaries` name pieces of the mesh's outlines.
    ///
    /// # Errors
    /// A law without a meaning (heat content that does not rise, a blanket without thickness), a boundary that is not
    /// on metal that conducts heat, or no such metal at all.
    pub fn new(
        section: &Section,
        mesh: &Mesh,
        space: &Space,
        boundaries: Vec<Boundary>,
    ) -> Result<Model, FieldError> {
        let laws = section
            .bodies
            .iter()
            .map(|body| metal_laws(&body.name, &body.metal))
            .collect::<Result<_, _>>()?;
        let layout = layout(section, mesh, space);
        if layout.triangles.is_empty() {
            return Err(FieldError::NothingConductsHeat);
        }
        let mut parts = Parts::new(&layout);
        for (number, boundary) in boundaries.iter().enumerate() {
            parts.add(number as u32, boundary, section.symmetry, (mesh, space))?;
        }
        Ok(parts.finish(section.symmetry, space, laws, boundaries))
    }
}

fn metal_laws(body: &str, metal: &Metal) -> Result<MetalLaws, FieldError> {
    let content: Vec<f64> = metal
        .heat_content_j_m3
        .points()
        .map(|(_, content)| content)
        .collect();
    let rises = content.len() >= 2 && content.windows(2).all(|pair| pair[0] < pair[1]);
    if !rises {
        return Err(FieldError::HeatContentFlat {
            body: body.to_owned(),
        });
    }
    Ok(MetalLaws {
        conductivity_w_mk: Lookup::new(&metal.conductivity_w_mk, Beyond::Hold),
        heat_content_j_m3: Lookup::new(&metal.heat_content_j_m3, Beyond::Continue),
    })
}

/// A model in the making.
struct Parts<'a> {
    layout: &'a Layout,
    unknowns: u32,
    fixed: Vec<Fixed>,
    fluxes: Vec<FluxPoint>,
    exchanges: Vec<Exchange>,
    cells: Vec<Cell>,
    blanket_conductivity: Vec<Option<Lookup>>,
}

impl<'a> Parts<'a> {
    fn new(layout: &'a Layout) -> Parts<'a> {
        Parts {
            layout,
            unknowns: layout.node_of_unknown.len() as u32,
            fixed: Vec::new(),
            fluxes: Vec::new(),
            exchanges: Vec::new(),
            cells: Vec::new(),
            blanket_conductivity: Vec::new(),
        }
    }

    fn add(
        &mut self,
        number: u32,
        boundary: &Boundary,
        symmetry: Symmetry,
        (mesh, space): (&Mesh, &Space),
    ) -> Result<(), FieldError> {
        self.blanket_conductivity.push(None);
        for point in surface_points(mesh, space, symmetry, &boundary.pieces) {
            let unknown = self.layout.unknown_of_node[point.node as usize];
            if unknown == NONE {
                return Err(FieldError::OutsideMetal {
                    place_m: point.place_m,
                });
            }
            self.add_point(number, &boundary.law, symmetry, &point, unknown)?;
        }
        Ok(())
    }

    fn add_point(
        &mut self,
        boundary: u32,
        law: &Law,
        symmetry: Symmetry,
        point: &SurfacePoint,
        unknown: u32,
    ) -> Result<(), FieldError> {
        let (area_m2, place_m) = (point.area_m2, point.place_m);
        match law {
            Law::Insulated => {}
            Law::Temperature(_) => {
                self.fixed.retain(|known| known.unknown != unknown);
                self.fixed.push(Fixed { unknown, boundary });
            }
            Law::Flux(_) => self.fluxes.push(FluxPoint {
                unknown,
                area_m2,
                boundary,
            }),
            Law::Loss(_) => self.exchanges.push(Exchange {
                unknown,
                area_m2,
                place_m,
                boundary,
            }),
            Law::Blanket(blanket) => {
                check_blanket(blanket, boundary)?;
                let (cells, area_m2) =
                    column(blanket, point, symmetry, (unknown, self.unknowns, boundary))?;
                self.unknowns += cells.len() as u32;
                self.exchanges.push(Exchange {
                    unknown: self.unknowns - 1,
                    area_m2,
                    place_m,
                    boundary,
                });
                self.cells.extend(cells);
                self.blanket_conductivity[boundary as usize] =
                    Some(Lookup::new(&blanket.conductivity_w_mk, Beyond::Hold));
            }
        }
        Ok(())
    }

    fn finish(
        self,
        symmetry: Symmetry,
        space: &Space,
        laws: Vec<MetalLaws>,
        boundaries: Vec<Boundary>,
    ) -> Model {
        let unknown = |node: u32| self.layout.unknown_of_node[node as usize];
        let triangles: Vec<[u32; 6]> = self
            .layout
            .triangles
            .iter()
            .map(|&(number, _)| space.elements[number as usize].map(unknown))
            .collect();
        let ends: Vec<[u32; 2]> = self
            .cells
            .iter()
            .map(|cell| [cell.inner, cell.outer])
            .collect();
        let groups = triangles
            .iter()
            .map(|t| t.as_slice())
            .chain(ends.iter().map(|e| e.as_slice()));
        let pattern = Pattern::new(self.unknowns as usize, groups);
        let corner =
            |unknown: u32| space.nodes[self.layout.node_of_unknown[unknown as usize] as usize];
        let elements = triangles
            .iter()
            .zip(&self.layout.triangles)
            .map(|(&unknowns, &(_, body))| HeatElement {
                unknowns,
                pairs: pairs_of(&pattern, &unknowns),
                body,
                element: Element::new([0, 1, 2].map(|i| corner(unknowns[i])), symmetry),
            })
            .collect();
        let id = |i: u32, j: u32| pattern.id(i as usize, j as usize) as u32;
        Model {
            elements,
            laws,
            boundaries,
            cell_ids: ends.iter().map(|&[i, j]| id(i, j)).collect(),
            fixed_pairs: fixed_pairs(&pattern, &self.fixed),
            symbolic: Symbolic::new(&pattern),
            pattern,
            fixed: self.fixed,
            fluxes: self.fluxes,
            exchanges: self.exchanges,
            cells: self.cells,
            blanket_conductivity: self.blanket_conductivity,
            places_m: self
                .layout
                .node_of_unknown
                .iter()
                .map(|&node| space.nodes[node as usize])
                .collect(),
            nodes: Nodes {
                unknown_of_node: self.layout.unknown_of_node.clone(),
                node_of_unknown: self.layout.node_of_unknown.clone(),
            },
        }
    }
}

fn check_blanket(blanket: &Blanket, boundary: u32) -> Result<(), FieldError> {
    if blanket.cells == 0 {
        return Err(FieldError::WrongCount {
            what: format!("cells of the blanket of boundary {boundary}"),
            got: 0,
            need: 1,
        });
    }
    let positive = |what: &str, value: f64, unit: &'static str| {
        if value > 0.0 {
            return Ok(());
        }
        let what = format!("{what} of the blanket of boundary {boundary}");
        Err(FieldError::OutOfRange {
            what,
            value,
            lowest: 0.0,
            highest: f64::INFINITY,
            unit,
        })
    };
    positive("thickness", blanket.thickness_m, "m")?;
    positive("heat capacity", blanket.heat_capacity_j_m3k, "J/(m3 K)")?;
    blanket
        .conductivity_w_mk
        .points()
        .try_for_each(|(_, value)| positive("conductivity", value, "W/(m K)"))
}

/// The ids of all pairs (i, j <= i) of an element.
fn pairs_of(pattern: &Pattern, unknowns: &[u32; 6]) -> [u32; PAIRS] {
    let mut ids = [0; PAIRS];
    let pairs = (0..6).flat_map(|i| (0..=i).map(move |j| (i, j)));
    for (id, (i, j)) in ids.iter_mut().zip(pairs) {
        *id = pattern.id(unknowns[i] as usize, unknowns[j] as usize) as u32;
    }
    ids
}

fn fixed_pairs(pattern: &Pattern, fixed: &[Fixed]) -> Vec<u32> {
    let mut is_fixed = vec![false; pattern.unknowns()];
    fixed
        .iter()
        .for_each(|known| is_fixed[known.unknown as usize] = true);
    (0..pattern.unknowns())
        .flat_map(|column| {
            pattern
                .column(column)
                .map(move |(id, row)| (id, row, column))
        })
        .filter(|&(_, row, column)| is_fixed[row] || is_fixed[column])
        .map(|(id, _, _)| id as u32)
        .collect()
}
