//! Collects points and triangles; points with the same coordinates are one.

use std::collections::BTreeMap;

use super::{Mesh, Region};
use crate::section::Point;

/// A mesh in the making.
#[derive(Default)]
pub(crate) struct Builder {
    numbers: BTreeMap<[u64; 2], u32>,
    pub mesh: Mesh,
}

impl Builder {
    /// The number of a point; the same bits give the same number.
    pub fn point(&mut self, place: Point) -> u32 {
        let place = [place[0] + 0.0, place[1] + 0.0];
        *self
            .numbers
            .entry(place.map(f64::to_bits))
            .or_insert_with(|| {
                self.mesh.points.push(place);
                (self.mesh.points.len() - 1) as u32
            })
    }

    /// Where a point lies.
    pub fn place(&self, number: u32) -> Point {
        self.mesh.points[number as usize]
    }

    /// Adds a triangle, corners counter-clockwise.
    pub fn triangle(&mut self, corners: [u32; 3], region: Region) {
        self.mesh.triangles.push(corners);
        self.mesh.regions.push(region);
    }
}
