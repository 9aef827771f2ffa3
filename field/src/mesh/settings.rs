//! How fine a mesh is made.

use crate::section::{Point, Shape};

/// How fine a mesh is made. Lengths in meters; the shares are plain numbers.
#[derive(Clone, Debug)]
pub struct MeshSettings {
    /// How each body is meshed, in the order of the section.
    pub bodies: Vec<BodySettings>,
    /// Ratio of successive layers, at most (1..=2.5).
    pub growth: f64,
    /// How far layers go in, as a share of the local thickness (0..0.45); two opposite sides must fit.
    pub wall_share: f64,
    /// Spacing along a surface over the distance to the nearest conductor.
    pub surface_spacing: f64,
    /// The same at a free corner of a body.
    pub corner_spacing: f64,
    /// Size of air triangles at a conductor over its distance to the nearest body or the axis (which counts as no
    /// less than 2.5 and no more than 5 half widths of the conductor).
    pub air_size: f64,
    /// How fast air triangles grow away from conductors: size per distance. Power asks for no less than 0.6; flux
    /// density in the air is good to a few percent with 0.25.
    pub air_gradation: f64,
    /// Radius of the far boundary over the size of the windings.
    pub far_radius: f64,
    /// Straight pieces of the far boundary (half circle, or whole circle of twice as many).
    pub arc_pieces: usize,
    /// With natural surroundings: straight pieces of outline where field or heat enters, and layers begin.
    /// Empty: on every outline except the axis.
    pub entries: Vec<[Point; 2]>,
    /// Points on outlines that must become corners of triangles, such as ends of boundary laws.
    pub breaks: Vec<Point>,
    /// Places where conductors may come to lie later; the air is meshed as finely as for conductors.
    pub places: Vec<Shape>,
}

/// How one body is meshed.
#[derive(Clone, Copy, Debug)]
pub struct BodySettings {
    /// Thickness of the layer at the surface; `None` for a body without layers (an insulator).
    pub first_layer_m: Option<f64>,
    /// Size that no triangle should exceed by much.
    pub largest_size_m: f64,
}

/// First layer over the smallest skin depth. With it power is within 0.1 % and flux within 1 % of the peak
/// (docs/theory/mesh.md, table 1).
const FIRST_LAYER_OVER_SKIN_DEPTH: f64 = 0.6;

impl MeshSettings {
    /// Settings for eddy currents: layers from the smallest skin depth that each body will see (`None`: insulator).
    pub fn for_field(smallest_skin_depths_m: &[Option<f64>], largest_size_m: f64) -> MeshSettings {
        let body = |depth: &Option<f64>| BodySettings {
            first_layer_m: depth.map(|depth| FIRST_LAYER_OVER_SKIN_DEPTH * depth),
            largest_size_m,
        };
        MeshSettings {
            bodies: smallest_skin_depths_m.iter().map(body).collect(),
            growth: 1.5,
            wall_share: 0.4,
            surface_spacing: 0.3,
            corner_spacing: 0.1,
            air_size: 0.4,
            air_gradation: 0.6,
            far_radius: 2.5,
            arc_pieces: 8,
            entries: Vec::new(),
            breaks: Vec::new(),
            places: Vec::new(),
        }
    }

    /// Settings for heat alone: layers that begin with the given thickness at the surfaces of every body.
    pub fn for_heat(bodies: usize, first_layer_m: f64, largest_size_m: f64) -> MeshSettings {
        let body = BodySettings {
            first_layer_m: Some(first_layer_m),
            largest_size_m,
        };
        MeshSettings {
            bodies: vec![body; bodies],
            ..MeshSettings::for_field(&[], largest_size_m)
        }
    }
}
