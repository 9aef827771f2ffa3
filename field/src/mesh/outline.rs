//! The outlines of all bodies as one planar graph: corners, and straight sides between them that at most two
//! bodies share. Where a neighbor's corner lies on an edge, the edge is split, so that meshes will conform.

use std::collections::BTreeMap;

use super::geometry::{
    bounds, distance, distance_to_segment, length, minus, nearest_parameter, sides,
};
use crate::error::FieldError;
use crate::section::{Outer, Point, Section, Symmetry};

/// Corners closer than this share of the size of the section are one; it hides rounding in the coordinates of
/// bodies that are meant to touch and is far below any real feature.
const SAME_PLACE: f64 = 1e-7;

/// Corners and sides of all bodies.
pub(crate) struct Outline {
    pub corners: Vec<Point>,
    pub sides: Vec<Side>,
    /// The sides round each body, counter-clockwise.
    pub loops: Vec<Vec<LoopSide>>,
}

/// A straight piece of outline without corners inside.
#[derive(Clone, Debug)]
pub(crate) struct Side {
    /// Corner numbers; the lexicographically smaller point first, so that every owner sees the same side.
    pub ends: [u32; 2],
    /// The body that runs it forwards, then the one that runs it backwards.
    pub owners: [Option<u16>; 2],
    pub kind: SideKind,
}

/// What a side lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum SideKind {
    /// Between a body and the open air.
    Surface,
    /// Between two bodies.
    Interface,
    /// On the axis of an axisymmetric section.
    Axis,
    /// On the edge of a domain that ends with its bodies.
    Natural,
}

/// One side as a body runs it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LoopSide {
    pub side: usize,
    pub forwards: bool,
    /// The edge of the body's polygon that it is part of.
    pub edge: u16,
}

impl Outline {
    /// Joins the outlines of all bodies and splits them at each other's corners and at `breaks`.
    ///
    /// # Errors
    /// [`FieldError::BodiesOverlap`] when two bodies run along the same side in the same direction.
    pub fn new(section: &Section, breaks: &[Point]) -> Result<Outline, FieldError> {
        let all = || section.bodies.iter().flat_map(|body| &body.polygon);
        let [low, high] = bounds(all());
        let tolerance_m = SAME_PLACE * length(minus(high, low));
        let mut corners = Vec::new();
        let numbers: Vec<Vec<u32>> = section
            .bodies
            .iter()
            .map(|body| {
                let settled = body
                    .polygon
                    .iter()
                    .map(|&p| onto_axis(p, section.symmetry, tolerance_m));
                settled
                    .map(|p| corner_number(&mut corners, p, tolerance_m))
                    .collect()
            })
            .collect();
        for &place in breaks {
            let on_outline = |body: &crate::section::Body| {
                sides(&body.polygon).any(|[a, b]| distance_to_segment(a, b, place) < tolerance_m)
            };
            if section.bodies.iter().any(on_outline) {
                corner_number(
                    &mut corners,
                    onto_axis(place, section.symmetry, tolerance_m),
                    tolerance_m,
                );
            }
        }
        let mut outline = Outline {
            corners,
            sides: Vec::new(),
            loops: Vec::new(),
        };
        let mut known = BTreeMap::new();
        for (body, polygon) in numbers.iter().enumerate() {
            let round = outline.add_loop(section, body, polygon, tolerance_m, &mut known)?;
            outline.loops.push(round);
        }
        for side in &mut outline.sides {
            let on_axis = side
                .ends
                .iter()
                .all(|&end| outline.corners[end as usize][0] == 0.0);
            side.kind = match (side.owners, section.symmetry, section.outer) {
                ([Some(_), Some(_)], _, _) => SideKind::Interface,
                (_, Symmetry::Axisymmetric, _) if on_axis => SideKind::Axis,
                (_, _, Outer::Far) => SideKind::Surface,
                (_, _, Outer::Natural) => SideKind::Natural,
            };
        }
        Ok(outline)
    }

    fn add_loop(
        &mut self,
        section: &Section,
        body: usize,
        polygon: &[u32],
        tolerance_m: f64,
        known: &mut BTreeMap<[u32; 2], usize>,
    ) -> Result<Vec<LoopSide>, FieldError> {
        let mut round = Vec::new();
        for (edge, &from) in polygon.iter().enumerate() {
            let to = polygon[(edge + 1) % polygon.len()];
            if from == to {
                let problem = format!("two corners in a row are closer than {tolerance_m:.1e} m");
                return Err(FieldError::BadPolygon {
                    body: section.bodies[body].name.clone(),
                    problem,
                });
            }
            for pair in self.corners_along(from, to, tolerance_m).windows(2) {
                let forwards = precedes(
                    self.corners[pair[0] as usize],
                    self.corners[pair[1] as usize],
                );
                let ends = if forwards {
                    [pair[0], pair[1]]
                } else {
                    [pair[1], pair[0]]
                };
                let side = *known.entry(ends).or_insert_with(|| {
                    self.sides.push(Side {
                        ends,
                        owners: [None, None],
                        kind: SideKind::Surface,
                    });
                    self.sides.len() - 1
                });
                let owners = &mut self.sides[side].owners;
                if owners[usize::from(forwards)] == Some(body as u16) {
                    let problem = "its outline runs back along itself".into();
                    return Err(FieldError::BadPolygon {
                        body: section.bodies[body].name.clone(),
                        problem,
                    });
                }
                if let Some(other) = owners[usize::from(!forwards)].replace(body as u16) {
                    return Err(FieldError::BodiesOverlap {
                        first: section.bodies[other as usize].name.clone(),
                        second: section.bodies[body].name.clone(),
                        place_m: self.corners[pair[0] as usize],
                    });
                }
                round.push(LoopSide {
                    side,
                    forwards,
                    edge: edge as u16,
                });
            }
        }
        Ok(round)
    }

    /// The corners on a straight line, both ends included, in order.
    fn corners_along(&self, from: u32, to: u32, tolerance_m: f64) -> Vec<u32> {
        let (a, b) = (self.corners[from as usize], self.corners[to as usize]);
        let mut on_line: Vec<(f64, u32)> = (0..self.corners.len() as u32)
            .filter(|&c| c != from && c != to)
            .filter(|&c| distance_to_segment(a, b, self.corners[c as usize]) < tolerance_m)
            .map(|c| (nearest_parameter(a, b, self.corners[c as usize]), c))
            .collect();
        on_line.sort_by(|x, y| x.0.total_cmp(&y.0));
        let inner = on_line.into_iter().map(|(_, corner)| corner);
        std::iter::once(from)
            .chain(inner)
            .chain(std::iter::once(to))
            .collect()
    }

    /// Start and end of a side.
    pub fn ends(&self, side: usize) -> [Point; 2] {
        self.sides[side].ends.map(|end| self.corners[end as usize])
    }

    /// Length of every side.
    pub fn lengths_m(&self) -> impl Iterator<Item = f64> + '_ {
        (0..self.sides.len())
            .map(|side| self.ends(side))
            .map(|[a, b]| distance(a, b))
    }

    /// Start and end corner of a side as a body runs it.
    pub fn run(&self, step: LoopSide) -> [u32; 2] {
        let [a, b] = self.sides[step.side].ends;
        if step.forwards { [a, b] } else { [b, a] }
    }

    /// Start and end point of a side as a body runs it.
    pub fn run_points(&self, step: LoopSide) -> [Point; 2] {
        self.run(step).map(|end| self.corners[end as usize])
    }

    /// The body on the other side of a side.
    pub fn neighbor(&self, step: LoopSide) -> Option<u16> {
        self.sides[step.side].owners[usize::from(step.forwards)]
    }

    /// The outline of a body as points.
    pub fn polygon(&self, body: usize) -> Vec<Point> {
        self.loops[body]
            .iter()
            .map(|&step| self.run_points(step)[0])
            .collect()
    }
}

fn onto_axis(place: Point, symmetry: Symmetry, tolerance_m: f64) -> Point {
    let on_axis = symmetry == Symmetry::Axisymmetric && place[0] < tolerance_m;
    if on_axis { [0.0, place[1]] } else { place }
}

fn corner_number(corners: &mut Vec<Point>, place: Point, tolerance_m: f64) -> u32 {
    let known = corners
        .iter()
        .position(|&corner| distance(corner, place) < tolerance_m);
    known.unwrap_or_else(|| {
        // Adding zero turns -0.0 into 0.0, so that equal places have equal bits.
        corners.push([place[0] + 0.0, place[1] + 0.0]);
        corners.len() - 1
    }) as u32
}

fn precedes(a: Point, b: Point) -> bool {
    a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])).is_lt()
}
