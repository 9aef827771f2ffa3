//! Areas and lines of equal value on triangles: merged outlines, not thousands of triangles.

use std::collections::BTreeMap;

/// A mesh of triangles with its nodes.
#[derive(Debug, Clone, Copy)]
pub struct Triangles<'a> {
    /// Nodes `[along, up]` in mm.
    pub nodes_mm: &'a [[f64; 2]],
    /// Three nodes each, in either sense of rotation.
    pub corners: &'a [[usize; 3]],
}

/// A corner of an area: a node, or the cut of a level with the edge between two nodes (the lower number first).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Corner {
    Node(usize),
    Cut(usize, usize),
}

impl Triangles<'_> {
    /// Outlines of all the triangles together.
    pub(super) fn outlines(&self) -> Vec<Vec<[f64; 2]>> {
        let mut edges = Edges::default();
        for corners in self.usable(&[]) {
            let ring: Vec<Corner> = corners.iter().map(|node| Corner::Node(*node)).collect();
            edges.add_ring(&ring);
        }
        edges
            .loops()
            .iter()
            .map(|ring| self.points(ring, &[], 0.0))
            .collect()
    }

    /// Outlines of the area where the value is at or above a level.
    pub(super) fn area_above(&self, values: &[f64], level: f64) -> Vec<Vec<[f64; 2]>> {
        let mut edges = Edges::default();
        for corners in self.usable(values) {
            edges.add_ring(&part_above(corners, values, level));
        }
        edges
            .loops()
            .iter()
            .map(|ring| self.points(ring, values, level))
            .collect()
    }

    /// Lines along which the value is a level; closed ones end where they began.
    pub(super) fn lines_at(&self, values: &[f64], level: f64) -> Vec<Vec<[f64; 2]>> {
        let mut edges = Edges::default();
        for corners in self.usable(values) {
            let ring = part_above(corners, values, level);
            for (i, start) in ring.iter().enumerate() {
                let end = ring[(i + 1) % ring.len()];
                if let (Corner::Cut(..), Corner::Cut(..)) = (start, end) {
                    edges.add(*start, end);
                }
            }
        }
        edges
            .chains()
            .iter()
            .map(|chain| self.points(chain, values, level))
            .collect()
    }

    /// Triangles turned counterclockwise; those that point nowhere or carry no number are left out.
    fn usable(&self, values: &[f64]) -> impl Iterator<Item = [usize; 3]> {
        let known = |node: usize| {
            self.nodes_mm
                .get(node)
                .is_some_and(|point| point.iter().all(|x| x.is_finite()))
        };
        let valued = move |node: usize| {
            values.is_empty() || values.get(node).is_some_and(|value| value.is_finite())
        };
        self.corners
            .iter()
            .copied()
            .filter(move |corners| corners.iter().all(|node| known(*node) && valued(*node)))
            .map(|[a, b, c]| {
                let (p, q, r) = (self.nodes_mm[a], self.nodes_mm[b], self.nodes_mm[c]);
                let area = (q[0] - p[0]) * (r[1] - p[1]) - (r[0] - p[0]) * (q[1] - p[1]);
                if area < 0.0 { [a, c, b] } else { [a, b, c] }
            })
    }

    fn points(&self, corners: &[Corner], values: &[f64], level: f64) -> Vec<[f64; 2]> {
        corners
            .iter()
            .map(|corner| match *corner {
                Corner::Node(node) => self.nodes_mm[node],
                Corner::Cut(one, other) => {
                    let share = (level - values[one]) / (values[other] - values[one]);
                    let ([x1, y1], [x2, y2]) = (self.nodes_mm[one], self.nodes_mm[other]);
                    [x1 + (x2 - x1) * share, y1 + (y2 - y1) * share]
                }
            })
            .collect()
    }
}

/// The part of a triangle where the value is at or above a level.
fn part_above(corners: [usize; 3], values: &[f64], level: f64) -> Vec<Corner> {
    let mut ring = Vec::new();
    for (i, node) in corners.iter().enumerate() {
        let next = corners[(i + 1) % 3];
        let (is_in, next_is_in) = (values[*node] >= level, values[next] >= level);
        if is_in {
            ring.push(Corner::Node(*node));
        }
        if is_in != next_is_in {
            ring.push(Corner::Cut((*node).min(next), (*node).max(next)));
        }
    }
    ring
}

/// Directed edges; the two directions of an edge between neighbors cancel.
#[derive(Default)]
struct Edges {
    count: BTreeMap<(Corner, Corner), usize>,
}

impl Edges {
    fn add_ring(&mut self, ring: &[Corner]) {
        for (i, start) in ring.iter().enumerate() {
            self.add(*start, ring[(i + 1) % ring.len()]);
        }
    }

    fn add(&mut self, start: Corner, end: Corner) {
        if let Some(opposite) = self.count.get_mut(&(end, start)) {
            *opposite -= 1;
            if *opposite == 0 {
                self.count.remove(&(end, start));
            }
        } else if start != end {
            *self.count.entry((start, end)).or_default() += 1;
        }
    }

    fn followers(&self) -> BTreeMap<Corner, Vec<Corner>> {
        let mut followers: BTreeMap<Corner, Vec<Corner>> = BTreeMap::new();
        for ((start, end), count) in &self.count {
            for _ in 0..*count {
                followers.entry(*start).or_default().push(*end);
            }
        }
        followers
    }

    /// Closed rings; every edge belongs to one.
    fn loops(&self) -> Vec<Vec<Corner>> {
        let mut followers = self.followers();
        let mut loops = Vec::new();
        while let Some(start) = followers.keys().next().copied() {
            loops.push(walk(&mut followers, start));
        }
        loops
    }

    /// Open chains first from where nothing arrives, then closed rings with their start repeated.
    fn chains(&self) -> Vec<Vec<Corner>> {
        let mut followers = self.followers();
        let ends: Vec<Corner> = followers.values().flatten().copied().collect();
        let mut starts: Vec<Corner> = followers
            .keys()
            .copied()
            .filter(|start| !ends.contains(start))
            .collect();
        starts.reverse();
        let mut chains = Vec::new();
        while let Some(start) = starts.pop().or_else(|| followers.keys().next().copied()) {
            let mut chain = walk(&mut followers, start);
            let last = chain.last().copied();
            let closes = last.is_some_and(|last| self.count.contains_key(&(last, start)));
            if closes && chain.len() > 2 {
                chain.push(start);
            }
            chains.push(chain);
        }
        chains
    }
}

/// Follows edges from a corner until it comes back or ends, and takes them away.
fn walk(followers: &mut BTreeMap<Corner, Vec<Corner>>, start: Corner) -> Vec<Corner> {
    let mut ring = vec![start];
    let mut at = start;
    loop {
        let next = followers.get_mut(&at).and_then(Vec::pop);
        if followers.get(&at).is_some_and(Vec::is_empty) {
            followers.remove(&at);
        }
        match next {
            Some(next) if next != start => {
                ring.push(next);
                at = next;
            }
            _ => return ring,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area_of(rings: &[Vec<[f64; 2]>]) -> f64 {
        let ring_area = |ring: &Vec<[f64; 2]>| {
            (0..ring.len())
                .map(|i| {
                    let ([x1, y1], [x2, y2]) = (ring[i], ring[(i + 1) % ring.len()]);
                    (x1 * y2 - x2 * y1) / 2.0
                })
                .sum::<f64>()
        };
        rings.iter().map(ring_area).sum()
    }

    /// A square of 4 × 4 cells of two triangles; the value is the distance along.
    fn square() -> (Vec<[f64; 2]>, Vec<[usize; 3]>, Vec<f64>) {
        let nodes: Vec<[f64; 2]> = (0..25)
            .map(|i| [f64::from(i % 5), f64::from(i / 5)])
            .collect();
        let mut corners = Vec::new();
        for row in 0..4 {
            for column in 0..4 {
                let a = row * 5 + column;
                // One of each pair is turned the other way on purpose.
                corners.push([a, a + 1, a + 6]);
                corners.push([a, a + 5, a + 6]);
            }
        }
        let values = nodes.iter().map(|node| node[0]).collect();
        (nodes, corners, values)
    }

    #[test]
    fn merged_areas_have_the_area_of_what_they_merge() {
        let (nodes, corners, values) = square();
        let mesh = Triangles {
            nodes_mm: &nodes,
            corners: &corners,
        };
        assert!((area_of(&mesh.outlines()) - 16.0).abs() < 1e-12);
        for level in [-1.0, 0.0, 0.7, 2.0, 3.999, 5.0] {
            let expected = 4.0 * f64::clamp(4.0 - level, 0.0, 4.0);
            let rings = mesh.area_above(&values, level);
            assert!((area_of(&rings) - expected).abs() < 1e-9, "level {level}");
            assert!(
                rings.len() <= 1,
                "a simple area has one outline, not one a triangle"
            );
        }
    }

    #[test]
    fn lines_of_equal_value_are_whole_and_lie_at_their_level() {
        let (nodes, corners, values) = square();
        let mesh = Triangles {
            nodes_mm: &nodes,
            corners: &corners,
        };
        let lines = mesh.lines_at(&values, 1.25);
        assert_eq!(lines.len(), 1);
        assert!(lines[0].iter().all(|point| (point[0] - 1.25).abs() < 1e-12));
        let (low, high) = (lines[0][0][1], lines[0][lines[0].len() - 1][1]);
        assert!((high - low).abs() > 3.999);
    }

    #[test]
    fn a_closed_line_returns_to_its_start() {
        let (nodes, corners, _) = square();
        let values: Vec<f64> = nodes
            .iter()
            .map(|[x, y]| (x - 2.0).hypot(y - 2.0))
            .collect();
        let lines = Triangles {
            nodes_mm: &nodes,
            corners: &corners,
        }
        .lines_at(&values, 1.2);
        assert_eq!(lines.len(), 1);
        assert_eq!(lines[0].first(), lines[0].last());
    }

    #[test]
    fn nodes_that_do_not_exist_and_values_that_are_no_numbers_are_left_out() {
        let mesh = Triangles {
            nodes_mm: &[[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]],
            corners: &[[0, 1, 2], [0, 1, 9]],
        };
        assert_eq!(mesh.outlines().len(), 1);
        assert!(mesh.area_above(&[1.0, f64::NAN, 2.0], 0.5).is_empty());
    }
}
