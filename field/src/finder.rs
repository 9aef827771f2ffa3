//! Finds the triangle at a place, by boxes in boxes.

use crate::element::Triangle;
use crate::mesh::Mesh;
use crate::section::Point;

/// A place outside a triangle by no more than this (in barycentric coordinates) still counts as inside; it closes the
/// gaps that rounding leaves between neighbors.
const INSIDE: f64 = -1e-9;
/// Triangles in a smallest box.
const LEAF: usize = 4;

/// Boxes round the triangles of a mesh.
#[derive(Clone, Debug)]
pub struct Finder {
    boxes: Vec<Box>,
    order: Vec<u32>,
}

#[derive(Clone, Copy, Debug)]
struct Box {
    low: Point,
    high: Point,
    /// Its triangles in `order`.
    from: usize,
    to: usize,
    /// Box that follows when this one is left out.
    skip: usize,
}

impl Finder {
    /// Sorts the triangles of a mesh.
    pub fn new(mesh: &Mesh) -> Finder {
        let mut finder = Finder {
            boxes: Vec::new(),
            order: (0..mesh.triangles.len() as u32).collect(),
        };
        let centers: Vec<Point> = mesh
            .triangles
            .iter()
            .map(|triangle| {
                [0, 1].map(|axis| {
                    triangle
                        .iter()
                        .map(|&corner| mesh.points[corner as usize][axis])
                        .sum()
                })
            })
            .collect();
        finder.add_box(mesh, &centers, 0, mesh.triangles.len());
        finder
    }

    fn add_box(&mut self, mesh: &Mesh, centers: &[Point], from: usize, to: usize) {
        let corners = self.order[from..to]
            .iter()
            .flat_map(|&triangle| mesh.triangles[triangle as usize]);
        let [low, high] = corners.fold(
            [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]],
            |[low, high], corner| {
                let p = mesh.points[corner as usize];
                [
                    [low[0].min(p[0]), low[1].min(p[1])],
                    [high[0].max(p[0]), high[1].max(p[1])],
                ]
            },
        );
        let number = self.boxes.len();
        self.boxes.push(Box {
            low,
            high,
            from,
            to,
            skip: 0,
        });
        if to - from > LEAF {
            let axis = usize::from(high[1] - low[1] > high[0] - low[0]);
            let middle = (from + to) / 2;
            self.order[from..to].select_nth_unstable_by(middle - from, |&a, &b| {
                centers[a as usize][axis]
                    .total_cmp(&centers[b as usize][axis])
                    .then(a.cmp(&b))
            });
            self.boxes[number].to = from;
            self.add_box(mesh, centers, from, middle);
            self.add_box(mesh, centers, middle, to);
        }
        self.boxes[number].skip = self.boxes.len();
    }

    /// A triangle that contains a place, with the barycentric coordinates there.
    pub fn find(&self, mesh: &Mesh, place: Point) -> Option<(usize, [f64; 3])> {
        let mut next = 0;
        while let Some(current) = self.boxes.get(next) {
            let apart = (0..2)
                .any(|axis| place[axis] < current.low[axis] || place[axis] > current.high[axis]);
            if apart {
                next = current.skip;
                continue;
            }
            for &triangle in &self.order[current.from..current.to] {
                let corners =
                    mesh.triangles[triangle as usize].map(|corner| mesh.points[corner as usize]);
                let at = Triangle::new(corners).barycentric(place);
                if at.iter().all(|&coordinate| coordinate > INSIDE) {
                    return Some((triangle as usize, at));
                }
            }
            next += 1;
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_is_found_in_its_triangle() {
        let mut mesh = Mesh::default();
        let side = 9_u32;
        for y in 0..=side {
            for x in 0..=side {
                mesh.points.push([f64::from(x), f64::from(y)]);
            }
        }
        for y in 0..side {
            for x in 0..side {
                let a = y * (side + 1) + x;
                mesh.triangles.push([a, a + 1, a + side + 2]);
                mesh.triangles.push([a, a + side + 2, a + side + 1]);
            }
        }
        let finder = Finder::new(&mesh);
        for (x, y) in [
            (0.25, 0.125),
            (8.5, 0.75),
            (4.125, 4.5),
            (9.0, 9.0),
            (0.0, 0.0),
        ] {
            let (triangle, at) = finder.find(&mesh, [x, y]).expect("inside");
            let corners = mesh.triangles[triangle].map(|corner| mesh.points[corner as usize]);
            let [u, v] = Triangle::new(corners).place(at);
            assert!((u - x).abs() < 1e-12 && (v - y).abs() < 1e-12);
        }
        assert!(finder.find(&mesh, [9.5, 1.0]).is_none());
    }
}
