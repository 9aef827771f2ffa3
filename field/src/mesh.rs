//! A mesh: points and triangles, as data.

use crate::section::Point;

/// Triangles of straight sides that fill the section.
#[derive(Clone, Debug, Default)]
pub struct Mesh {
    /// Corner points in metres.
    pub points: Vec<Point>,
    /// Corner numbers of each triangle, counter-clockwise.
    pub triangles: Vec<[u32; 3]>,
    /// What each triangle belongs to.
    pub regions: Vec<Region>,
    /// Every piece of a body's outline, in the order of its polygon, each with its two corner points.
    pub outlines: Vec<OutlinePiece>,
}

/// What a triangle belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Region {
    /// A body of the section, by number.
    Body(u16),
    /// The air round the bodies.
    Air,
}

/// A side of a triangle that lies on the outline of a body.
#[derive(Clone, Copy, Debug)]
pub struct OutlinePiece {
    /// The body.
    pub body: u16,
    /// The edge of its polygon (edge i runs from corner i to corner i + 1).
    pub edge: u16,
    /// The two points, in the direction of the polygon.
    pub points: [u32; 2],
}
