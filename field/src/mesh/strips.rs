//! The strip of layers along the live sides of a body, and the loop of points that is left inside.

use super::builder::Builder;
use super::depth::Depth;
use super::geometry::{direction, distance, dot, left_of, plus, times, triangle_area};
use super::layers::{Joint, Layers};
use super::outline::Outline;
use super::spacing::layer_depths;
use crate::section::Point;

/// A strip triangle must have this share of the square of its longest side as area; less is upside down or rounding.
const SMALLEST_SHARE: f64 = 1e-9;
/// A corner draws nodes along for this many times its own shift.
const CORNER_REACH: f64 = 4.0;

/// The strip of one body.
pub(crate) struct Strip {
    /// Triangles, counter-clockwise.
    pub triangles: Vec<[u32; 3]>,
    /// What is left inside the strip: a closed loop of points, counter-clockwise.
    pub core: Vec<u32>,
}

/// One node of a live side and the points beneath it, the node itself first.
type Ladder = Vec<u32>;

/// Makes the strip of a body.
///
/// # Errors
/// The place of a triangle that is upside down: the strip is too deep there.
pub(crate) fn strip(
    builder: &mut Builder,
    outline: &Outline,
    layers: &Layers,
    depth: &Depth,
    body: usize,
    count: usize,
    nodes: &[Vec<u32>],
) -> Result<Strip, Point> {
    let round = &outline.loops[body];
    let mut made = Strip {
        triangles: Vec::new(),
        core: Vec::new(),
    };
    for (i, &step) in round.iter().enumerate() {
        let next = (i + 1) % round.len();
        let mut run = nodes[step.side].clone();
        if !step.forwards {
            run.reverse();
        }
        let ends = [layers.joints[body][i], layers.joints[body][next]];
        if !layers.live[body][i] {
            let skip = |joint: Joint| {
                if matches!(joint, Joint::Along(_)) {
                    count
                } else {
                    0
                }
            };
            let (from, to) = (skip(ends[0]), run.len() - 1 - skip(ends[1]));
            made.core.extend_from_slice(&run[from..to]);
            continue;
        }
        let neighbors =
            [round[(i + round.len() - 1) % round.len()], round[next]].map(|step| &nodes[step.side]);
        let ladders = Ladders {
            outline,
            layers,
            depth,
            body,
            i,
            count,
            run: &run,
            neighbors,
        };
        let ladders = ladders.climb(builder);
        made.add_quads(builder, &ladders)?;
        if let (Joint::Open(_), Some(first)) = (ends[0], ladders.first()) {
            made.core.extend_from_slice(&first[..count]);
        }
        made.core.extend(
            ladders[..ladders.len() - 1]
                .iter()
                .map(|ladder| ladder[count]),
        );
        if let (Joint::Open(_), Some(last)) = (ends[1], ladders.last()) {
            made.core.extend(last[1..].iter().rev());
        }
    }
    Ok(made)
}

impl Strip {
    /// The triangles between neighboring ladders, each quadrilateral cut along its shorter diagonal.
    fn add_quads(&mut self, builder: &Builder, ladders: &[Ladder]) -> Result<(), Point> {
        for pair in ladders.windows(2) {
            for k in 0..pair[0].len() - 1 {
                let [a, b, c, d] = [pair[0][k], pair[1][k], pair[1][k + 1], pair[0][k + 1]];
                let far = |a: u32, b: u32| distance(builder.place(a), builder.place(b));
                let cut = if far(a, c) <= far(b, d) {
                    [[a, b, c], [a, c, d]]
                } else {
                    [[a, b, d], [b, c, d]]
                };
                for triangle in cut {
                    let [p, q, r] = triangle.map(|corner| builder.place(corner));
                    let longest_m = distance(p, q).max(distance(q, r)).max(distance(r, p));
                    if triangle_area(p, q, r) < SMALLEST_SHARE * longest_m * longest_m {
                        return Err(p);
                    }
                    self.triangles.push(triangle);
                }
            }
        }
        Ok(())
    }
}

/// What the ladders of one live side are made from.
struct Ladders<'a> {
    outline: &'a Outline,
    layers: &'a Layers,
    depth: &'a Depth,
    body: usize,
    i: usize,
    count: usize,
    /// Nodes of the side in running direction.
    run: &'a [u32],
    /// Nodes of the sides before and after it, in the direction of those sides.
    neighbors: [&'a Vec<u32>; 2],
}

impl Ladders<'_> {
    fn climb(&self, builder: &mut Builder) -> Vec<Ladder> {
        let [a, b] = self
            .outline
            .run_points(self.outline.loops[self.body][self.i]);
        let long_m = distance(a, b);
        let last = self.run.len() - 1;
        (0..=last)
            .map(|n| match n {
                0 => self.at_corner(builder, 0),
                n if n == last => self.at_corner(builder, 1),
                n => {
                    let place = builder.place(self.run[n]);
                    self.inside(builder, self.run[n], distance(a, place) / long_m)
                }
            })
            .collect()
    }

    fn depths(&self, total_m: f64) -> Vec<f64> {
        layer_depths(
            self.layers.first_m[self.body].unwrap_or(total_m),
            total_m,
            self.count,
        )
    }

    fn joint(&self, end: usize) -> usize {
        (self.i + end) % self.outline.loops[self.body].len()
    }

    fn at_corner(&self, builder: &mut Builder, end: usize) -> Ladder {
        let corner = self.run[end * (self.run.len() - 1)];
        let joint = self.layers.joints[self.body][self.joint(end)];
        if let Joint::Along(_) = joint {
            // The nodes of the neighboring side itself, so that its other owner sees the same ones.
            let neighbor = self.neighbors[end];
            let from_start = neighbor[0] == corner;
            let node = |k: usize| {
                if from_start {
                    neighbor[k]
                } else {
                    neighbor[neighbor.len() - 1 - k]
                }
            };
            return (0..=self.count).map(node).collect();
        }
        let place = builder.place(corner);
        let depths_m = self.depths(self.depth.at_joint(self.body, self.joint(end)));
        let beneath = depths_m
            .iter()
            .map(|&depth_m| builder.point(plus(place, times(depth_m, joint.inwards()))));
        std::iter::once(corner)
            .chain(beneath.collect::<Vec<u32>>())
            .collect()
    }

    /// Equation (2) of docs/theory/mesh.md: straight in, drawn along by the corners at both ends.
    fn inside(&self, builder: &mut Builder, node: u32, t: f64) -> Ladder {
        let [a, b] = self
            .outline
            .run_points(self.outline.loops[self.body][self.i]);
        let (along, long_m, place) = (direction(a, b), distance(a, b), builder.place(node));
        let normal = left_of(along);
        let corners = [0, 1].map(|end| {
            let inwards = self.layers.joints[self.body][self.joint(end)].inwards();
            let total_m = self.depth.at_joint(self.body, self.joint(end));
            (
                dot(inwards, normal),
                dot(inwards, along),
                self.depths(total_m),
                total_m,
            )
        });
        let wide = |end: usize| CORNER_REACH * corners[end].1.abs() * corners[end].3;
        let linear = wide(0) > long_m || wide(1) > long_m;
        let weight = |end: usize| {
            let far_m = if end == 0 {
                t * long_m
            } else {
                (1.0 - t) * long_m
            };
            let reach_m = if linear {
                long_m
            } else {
                wide(end).max(1e-9 * long_m)
            };
            (1.0 - far_m / reach_m).max(0.0)
        };
        let weights = [weight(0), weight(1)];
        let total_m = self.depth.at(self.body, self.i, t);
        let steepness =
            weights[0] * corners[0].0 + weights[1] * corners[1].0 + 1.0 - weights[0] - weights[1];
        let mut ladder = vec![node];
        for (k, depth_m) in self.depths(total_m).into_iter().enumerate() {
            let shift_m = weights[0] * corners[0].1 * corners[0].2[k]
                + weights[1] * corners[1].1 * corners[1].2[k];
            let offset = plus(times(depth_m * steepness, normal), times(shift_m, along));
            ladder.push(builder.point(plus(place, offset)));
        }
        ladder
    }
}
