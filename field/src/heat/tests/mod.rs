//! What the heat solver promises: closed forms, published targets, balances and orders of convergence.

mod closed_forms;
mod convergence;
mod laws;

use crate::heat::{
    Boundary, Conditions, Law, Loss, Model, NoSource, State, StepSettings, Transient,
};
use crate::mesh::{Mesh, OutlinePiece, Region};
use crate::section::{Body, Metal, Outer, Permeability, Point, Section, Symmetry};
use crate::space::Space;
use crate::table::Table;

/// The sides of a rectangle in the order of its polygon.
pub const LOW_V: u16 = 0;
pub const HIGH_U: u16 = 1;
pub const HIGH_V: u16 = 2;
pub const LOW_U: u16 = 3;

/// A metal of constant properties: W/(m K) and J/(m3 K).
pub fn metal(conductivity_w_mk: f64, heat_capacity_j_m3k: f64) -> Metal {
    let content = [(-273.0, 0.0), (2000.0, 2273.0 * heat_capacity_j_m3k)];
    Metal {
        resistivity_ohm_m: None,
        permeability: Permeability::Constant(1.0),
        conductivity_w_mk: Table::constant(conductivity_w_mk),
        heat_content_j_m3: Table::new(&content).expect("ascending"),
    }
}

/// A rectangle of metal cut into equal cells of two triangles each.
pub struct Slab {
    pub section: Section,
    pub mesh: Mesh,
    pub space: Space,
    pub boundaries: Vec<Boundary>,
}

impl Slab {
    pub fn new(
        symmetry: Symmetry,
        [u1, u2, v1, v2]: [f64; 4],
        [across, along]: [u32; 2],
        metal: Metal,
    ) -> Slab {
        let spread = move |i: u32, j: u32| {
            let share = |k: u32, n: u32| f64::from(k) / f64::from(n);
            [
                u1 + (u2 - u1) * share(i, across),
                v1 + (v2 - v1) * share(j, along),
            ]
        };
        Slab::with_places(symmetry, [u1, u2, v1, v2], [across, along], metal, spread)
    }

    /// The same with points where the caller wants them.
    pub fn with_places(
        symmetry: Symmetry,
        [u1, u2, v1, v2]: [f64; 4],
        [across, along]: [u32; 2],
        metal: Metal,
        place: impl Fn(u32, u32) -> Point,
    ) -> Slab {
        let number = |i: u32, j: u32| j * (across + 1) + i;
        let points = (0..=along)
            .flat_map(|j| (0..=across).map(move |i| (i, j)))
            .map(|(i, j)| place(i, j))
            .collect();
        let mut mesh = Mesh {
            points,
            ..Mesh::default()
        };
        for (i, j) in (0..along).flat_map(|j| (0..across).map(move |i| (i, j))) {
            let (a, b, c, d) = (
                number(i, j),
                number(i + 1, j),
                number(i + 1, j + 1),
                number(i, j + 1),
            );
            mesh.triangles.extend([[a, b, c], [a, c, d]]);
        }
        mesh.regions = vec![Region::Body(0); mesh.triangles.len()];
        let mut side = |edge: u16, points: Vec<u32>| {
            mesh.outlines
                .extend(points.windows(2).map(|pair| OutlinePiece {
                    body: 0,
                    edge,
                    points: [pair[0], pair[1]],
                }));
        };
        side(LOW_V, (0..=across).map(|i| number(i, 0)).collect());
        side(HIGH_U, (0..=along).map(|j| number(across, j)).collect());
        side(
            HIGH_V,
            (0..=across).rev().map(|i| number(i, along)).collect(),
        );
        side(LOW_U, (0..=along).rev().map(|j| number(0, j)).collect());
        let body = Body {
            name: "slab".into(),
            polygon: vec![[u1, v1], [u2, v1], [u2, v2], [u1, v2]],
            metal,
        };
        let section = Section {
            symmetry,
            outer: Outer::Natural,
            bodies: vec![body],
            windings: Vec::new(),
        };
        Slab {
            section,
            space: Space::new(&mesh),
            mesh,
            boundaries: Vec::new(),
        }
    }

    pub fn with(mut self, edge: u16, law: Law) -> Slab {
        let on_edge = |(_, piece): &(usize, &OutlinePiece)| piece.edge == edge;
        let pieces = self
            .mesh
            .outlines
            .iter()
            .enumerate()
            .filter(on_edge)
            .map(|(number, _)| number as u32)
            .collect();
        self.boundaries.push(Boundary { pieces, law });
        self
    }

    pub fn model(&self) -> Model {
        Model::new(
            &self.section,
            &self.mesh,
            &self.space,
            self.boundaries.clone(),
        )
        .expect("a valid slab")
    }
}

/// A law of convection alone.
pub fn convection(w_m2k: f64, ambient_c: f64) -> Law {
    Law::Loss(Loss {
        convection: Some(super::Convection { w_m2k, ambient_c }),
        ..Loss::default()
    })
}

/// A law of radiation alone.
pub fn radiation(emissivity: f64, ambient_c: f64) -> Law {
    Law::Loss(Loss {
        radiation: Some(super::Radiation {
            emissivity,
            ambient_c,
        }),
        ..Loss::default()
    })
}

/// Walks from a uniform temperature without a source.
pub fn walk(model: &Model, initial_c: f64, end_s: f64, tolerance_k: f64) -> State {
    let ambient_c = model.radiation_ambient_c();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &ambient_c,
    };
    let settings = StepSettings {
        tolerance_k,
        ..StepSettings::default()
    };
    Transient::new(settings)
        .walk(model, &model.uniform(initial_c), end_s, &conditions, |_| {})
        .expect("it converges")
}

/// The temperature at a point.
pub fn at(model: &Model, state: &State, place_m: Point) -> f64 {
    model.probe(place_m).expect("inside").temperature_c(state)
}

/// Fails with both numbers where they differ by more than allowed.
pub fn assert_near(what: &str, found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "{what}: {found}, expected {expected} within {within}"
    );
}
