//! Places given by their coordinates: on which outlines, in which body.

use super::Mesh;
use super::geometry::{distance, distance_to_segment, dot, inside, minus, sides};
use crate::error::FieldError;
use crate::section::{Body, Point, Section};

/// A place counts as on a line within this share of the line's length: coordinates are given rounded.
const ON_LINE: f64 = 1e-6;

/// The pieces of outline on a straight edge that belong to bodies of which `counts` is true.
///
/// # Errors
/// [`FieldError::NoSuchEdge`] unless the pieces cover the edge, each part of it once.
pub fn pieces_on(
    mesh: &Mesh,
    from_m: Point,
    to_m: Point,
    counts: &dyn Fn(u16) -> bool,
) -> Result<Vec<u32>, FieldError> {
    let near_m = ON_LINE * distance(from_m, to_m);
    let on_edge =
        |corner: &u32| distance_to_segment(from_m, to_m, mesh.points[*corner as usize]) <= near_m;
    let pieces: Vec<u32> = (0..mesh.outlines.len() as u32)
        .filter(|&piece| {
            let piece = &mesh.outlines[piece as usize];
            counts(piece.body) && piece.points.iter().all(on_edge)
        })
        .collect();
    let length = |&piece: &u32| {
        let [a, b] = mesh.outlines[piece as usize].points;
        distance(mesh.points[a as usize], mesh.points[b as usize])
    };
    let covered_m: f64 = pieces.iter().map(length).sum();
    let fits = near_m > 0.0 && (covered_m - distance(from_m, to_m)).abs() <= 10.0 * near_m;
    fits.then_some(pieces)
        .ok_or(FieldError::NoSuchEdge { from_m, to_m })
}

/// Whether outlines of the section cover a straight edge.
pub fn covers(section: &Section, from_m: Point, to_m: Point) -> bool {
    let length_m = distance(from_m, to_m);
    let along = |place: Point| dot(minus(place, from_m), minus(to_m, from_m)) / length_m;
    let on_line = |place: Point| {
        let reach = along(place);
        let foot = dot(minus(place, from_m), minus(place, from_m)) - reach * reach;
        foot.max(0.0).sqrt() <= ON_LINE * length_m
    };
    let mut spans: Vec<[f64; 2]> = section
        .bodies
        .iter()
        .flat_map(|body| sides(&body.polygon))
        .filter(|[a, b]| on_line(*a) && on_line(*b))
        .map(|[a, b]| [along(a).min(along(b)), along(a).max(along(b))])
        .collect();
    spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut reached_m = 0.0;
    for [begin, end] in spans {
        if begin <= reached_m + ON_LINE * length_m {
            reached_m = f64::max(reached_m, end);
        }
    }
    length_m > 0.0 && reached_m >= (1.0 - ON_LINE) * length_m
}

/// Whether a place lies in a body or on its outline.
pub fn lies_in(body: &Body, place_m: Point) -> bool {
    let on_side =
        |[a, b]: [Point; 2]| distance_to_segment(a, b, place_m) <= ON_LINE * distance(a, b);
    sides(&body.polygon).any(on_side) || inside(sides(&body.polygon), place_m)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::section::{Metal, Outer, Permeability, Symmetry};
    use crate::table::Table;

    fn square(left_m: f64) -> Body {
        let right_m = left_m + 1.0;
        Body {
            name: "square".into(),
            polygon: vec![[left_m, 0.0], [right_m, 0.0], [right_m, 1.0], [left_m, 1.0]],
            metal: Metal {
                resistivity_ohm_m: None,
                permeability: Permeability::Constant(1.0),
                conductivity_w_mk: Table::constant(1.0),
                heat_content_j_m3: Table::constant(1.0),
            },
        }
    }

    #[test]
    fn an_edge_may_run_along_several_bodies_but_not_past_them() {
        let section = Section {
            symmetry: Symmetry::Planar,
            outer: Outer::Natural,
            bodies: vec![square(1.0), square(0.0), square(2.5)],
            windings: Vec::new(),
        };
        assert!(covers(&section, [0.25, 1.0], [2.0, 1.0]));
        assert!(covers(&section, [2.0, 1.0], [0.25, 1.0]));
        assert!(!covers(&section, [0.25, 1.0], [2.25, 1.0]));
        assert!(!covers(&section, [1.5, 1.0], [3.0, 1.0]), "a gap");
        assert!(!covers(&section, [0.0, 0.5], [1.0, 0.5]));
    }

    #[test]
    fn a_place_on_the_outline_lies_in_the_body() {
        assert!(lies_in(&square(0.0), [1.0, 0.5]));
        assert!(lies_in(&square(0.0), [0.5, 0.5]));
        assert!(!lies_in(&square(0.0), [1.001, 0.5]));
    }
}
