//! Nodes along sides: equal steps of the integral of ds/h for one spacing function h, so that every owner of a side
//! sees the same nodes. Equation (5) of docs/theory/mesh.md.

use super::depth::Depth;
use super::geometry::{between, cross, direction, distance, distance_to_segment, sides};
use super::layers::{Joint, Layers};
use super::outline::Outline;
use super::settings::MeshSettings;
use crate::section::{Point, Section, Shape, Symmetry};

/// How fast sizes grow away from a fine place: size per distance.
pub(crate) const GRADATION: f64 = 0.6;
/// The gap that sets the size of triangles at a conductor counts as no less and no more than so many half widths:
/// its own field is spread over its width. With twice the larger number inductance is 1 % low.
const GAPS_OVER_HALF_WIDTH: [f64; 2] = [2.5, 5.0];
/// Sine of the turn from which a corner counts as a corner and not as part of a curve (20 degrees).
const CORNER_TURN: f64 = 0.34;
/// Pieces that meet at a corner differ by this factor at most when one is a whole side.
const LARGEST_STEP: f64 = 2.0;
/// Pieces over which ds/h is summed.
const SUM_PIECES: usize = 200;
/// A side is cut into one piece more only when the last piece would be longer than this share.
const SPARE_PIECE: f64 = 0.3;

/// Spacing wanted along surfaces and interfaces: a share of the distance to the nearest conductor.
pub(crate) struct SurfaceSizes<'a> {
    shapes: Vec<&'a Shape>,
    share: f64,
}

impl<'a> SurfaceSizes<'a> {
    /// The spacing along surfaces.
    pub fn new(section: &'a Section, settings: &'a MeshSettings) -> SurfaceSizes<'a> {
        SurfaceSizes {
            shapes: places(section, settings).collect(),
            share: settings.surface_spacing,
        }
    }

    /// Distance to the nearest conductor; none when there are no conductors.
    pub fn distance_m(&self, place: Point) -> Option<f64> {
        self.shapes
            .iter()
            .map(|shape| shape.distance_m(place))
            .reduce(f64::min)
    }

    /// Size at a place, at most `largest_m`.
    pub fn at(&self, place: Point, largest_m: f64) -> f64 {
        self.distance_m(place).map_or(largest_m, |distance_m| {
            largest_m.min(self.share * distance_m)
        })
    }
}

/// Every place where a conductor lies or may come to lie.
pub(crate) fn places<'a>(
    section: &'a Section,
    settings: &'a MeshSettings,
) -> impl Iterator<Item = &'a Shape> {
    let conductors = section
        .windings
        .iter()
        .flat_map(|winding| &winding.conductors);
    conductors
        .map(|conductor| &conductor.shape)
        .chain(&settings.places)
}

/// Size of triangles wanted round conductors, which are not meshed themselves.
pub(crate) struct SourceSizes<'a> {
    wishes: Vec<(&'a Shape, f64)>,
    gradation: f64,
}

impl<'a> SourceSizes<'a> {
    /// A share of the distance to the nearest body or the axis, within sizes that the conductor itself sets.
    pub fn new(section: &'a Section, settings: &'a MeshSettings) -> SourceSizes<'a> {
        let wish = |shape: &'a Shape| {
            let center = shape.center_m();
            let to_bodies = section.bodies.iter().flat_map(|body| sides(&body.polygon));
            let gap_m = to_bodies
                .map(|[a, b]| distance_to_segment(a, b, center))
                .fold(f64::INFINITY, f64::min);
            let gap_m = if section.symmetry == Symmetry::Axisymmetric {
                gap_m.min(center[0])
            } else {
                gap_m
            };
            let (half_m, [narrow, wide]) = (shape.half_width_m(), GAPS_OVER_HALF_WIDTH);
            (
                shape,
                settings.air_size * gap_m.clamp(narrow * half_m, wide * half_m),
            )
        };
        SourceSizes {
            wishes: places(section, settings).map(wish).collect(),
            gradation: settings.air_gradation,
        }
    }

    /// Size at a place, at most `largest_m`.
    pub fn at(&self, place: Point, largest_m: f64) -> f64 {
        let wish = |(shape, size_m): &(&Shape, f64)| {
            size_m + self.gradation * (shape.distance_m(place) - shape.half_width_m()).max(0.0)
        };
        self.wishes.iter().map(wish).fold(largest_m, f64::min)
    }
}

/// Depths of `count` layers that begin with `first_m`, grow evenly and end at `total_m` (docs/theory/mesh.md,
/// equation 1).
pub(crate) fn layer_depths(first_m: f64, total_m: f64, count: usize) -> Vec<f64> {
    let even = total_m <= first_m * count as f64;
    let ratio = if even {
        1.0
    } else {
        ratio_of_layers(total_m / first_m, count)
    };
    let thickness_m = if even {
        total_m / count as f64
    } else {
        first_m
    };
    let mut depths_m: Vec<f64> = (0..count as i32)
        .scan(0.0, |depth_m, k| {
            *depth_m += thickness_m * libm::pow(ratio, f64::from(k));
            Some(*depth_m)
        })
        .collect();
    if let Some(last) = depths_m.last_mut() {
        *last = total_m;
    }
    depths_m
}

/// The ratio q with 1 + q + ... + q^(count-1) = sum.
fn ratio_of_layers(sum: f64, count: usize) -> f64 {
    let total = |q: f64| (0..count).fold(0.0, |sum, _| sum * q + 1.0);
    let (mut low, mut high) = (1.0, sum.max(2.0));
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if total(middle) < sum {
            low = middle
        } else {
            high = middle
        }
    }
    0.5 * (low + high)
}

/// Fewest layers that reach from `first_m` to `total_m` without growing by more than `growth`.
pub(crate) fn layer_count(first_m: f64, total_m: f64, growth: f64) -> usize {
    let (mut count, mut thickness_m, mut depth_m) = (1, first_m, first_m);
    while depth_m < (1.0 - 1e-9) * total_m && count < 200 {
        thickness_m *= growth;
        depth_m += thickness_m;
        count += 1;
    }
    count
}

/// Parameters (0..=1, both included) of nodes between two places for a size function.
pub(crate) fn spread(a: Point, b: Point, size: impl Fn(Point) -> f64) -> Vec<f64> {
    let step_m = distance(a, b) / SUM_PIECES as f64;
    let middle = |k: usize| between(a, b, (k as f64 + 0.5) / SUM_PIECES as f64);
    let mut sizes_m: Vec<f64> = (0..SUM_PIECES).map(|k| size(middle(k))).collect();
    limit_growth(sizes_m.iter_mut(), GRADATION * step_m);
    limit_growth(sizes_m.iter_mut().rev(), GRADATION * step_m);
    let mut sums = vec![0.0];
    sums.extend(sizes_m.iter().scan(0.0, |sum, size_m| {
        *sum += step_m / size_m;
        Some(*sum)
    }));
    let total = sums[SUM_PIECES];
    let pieces = (total - SPARE_PIECE).ceil().max(1.0) as usize;
    let parameter = |piece: usize| {
        let wanted = total * piece as f64 / pieces as f64;
        let k = sums
            .partition_point(|&sum| sum < wanted)
            .clamp(1, SUM_PIECES);
        let share = (wanted - sums[k - 1]) / (sums[k] - sums[k - 1]);
        (k as f64 - 1.0 + share) / SUM_PIECES as f64
    };
    (0..=pieces)
        .map(|piece| {
            if piece == pieces {
                1.0
            } else if piece == 0 {
                0.0
            } else {
                parameter(piece)
            }
        })
        .collect()
}

/// Lets a row of numbers rise by no more than `step` from one to the next.
fn limit_growth<'a>(row: impl Iterator<Item = &'a mut f64>, step: f64) {
    let mut reached = f64::INFINITY;
    for value in row {
        *value = value.min(reached + step);
        reached = *value;
    }
}

/// Parameters of the nodes of every side, from its first end to its second.
pub(crate) fn side_nodes(
    section: &Section,
    outline: &Outline,
    settings: &MeshSettings,
    layers: &Layers,
    depth: &Depth,
    counts: &[usize],
) -> Vec<Vec<f64>> {
    let field = SurfaceSizes::new(section, settings);
    let corners = corner_sizes(outline, layers, &field, settings);
    (0..outline.sides.len())
        .map(|side| {
            let [a, b] = outline.ends(side);
            let long_m = distance(a, b);
            let owners = outline.sides[side].owners.into_iter().flatten();
            let largest_m = owners
                .map(|body| settings.bodies[body as usize].largest_size_m)
                .fold(f64::INFINITY, f64::min);
            let column = |end: usize| {
                layers.columns[side][end].map_or(Vec::new(), |column| {
                    let joint = layers.joint_along(outline, column.body, side, end);
                    let total_m = depth.at_joint(column.body, joint);
                    let first_m = layers.first_m[column.body].unwrap_or(total_m);
                    let depths = layer_depths(first_m, total_m, counts[column.body]);
                    depths
                        .into_iter()
                        .map(|depth_m| depth_m * column.stretch / long_m)
                        .collect()
                })
            };
            let columns = [column(0), column(1)];
            let starts = columns
                .each_ref()
                .map(|column| column.last().copied().unwrap_or(0.0));
            let end_size = |end: usize| match columns[end].as_slice() {
                [.., before, last] => (last - before) * long_m,
                [only] => only * long_m,
                [] => corners[outline.sides[side].ends[end] as usize],
            };
            let end_sizes = [end_size(0), end_size(1)];
            let live: Vec<(usize, usize)> = layers.strips_on(outline, side).collect();
            let follows_depth = |place: Point| {
                let t = distance(a, place) / long_m;
                let along = |&(body, i): &(usize, usize)| {
                    let t = if outline.loops[body][i].forwards {
                        t
                    } else {
                        1.0 - t
                    };
                    depth.spacing_m(outline, body, i, t)
                };
                live.iter().map(along).fold(f64::INFINITY, f64::min)
            };
            let (from, to) = (between(a, b, starts[0]), between(a, b, 1.0 - starts[1]));
            let size = |place: Point| {
                let graded =
                    |end: usize| end_sizes[end] + GRADATION * distance([from, to][end], place);
                field
                    .at(place, largest_m)
                    .min(graded(0))
                    .min(graded(1))
                    .min(follows_depth(place))
            };
            let middle = spread(from, to, size);
            let stretch = |t: f64| starts[0] + t * (1.0 - starts[1] - starts[0]);
            let mut nodes = vec![];
            if !columns[0].is_empty() {
                nodes.push(0.0);
                nodes.extend_from_slice(&columns[0][..columns[0].len() - 1]);
            }
            nodes.extend(middle.into_iter().map(stretch));
            if !columns[1].is_empty() {
                nodes.extend(columns[1].iter().rev().skip(1).map(|t| 1.0 - t));
                nodes.push(1.0);
            }
            nodes
        })
        .collect()
}

/// Size that the sides at a corner begin with: small at free corners near a conductor and where a strip ends inside.
fn corner_sizes(
    outline: &Outline,
    layers: &Layers,
    field: &SurfaceSizes,
    settings: &MeshSettings,
) -> Vec<f64> {
    let mut sizes_m = vec![f64::INFINITY; outline.corners.len()];
    for (side, long_m) in outline.sides.iter().zip(outline.lengths_m()) {
        for end in side.ends {
            sizes_m[end as usize] = sizes_m[end as usize].min(LARGEST_STEP * long_m);
        }
    }
    for (body, round) in outline.loops.iter().enumerate() {
        for (i, &step) in round.iter().enumerate() {
            let corner = outline.run(step)[0] as usize;
            let before = round[(i + round.len() - 1) % round.len()];
            let along = |points: [Point; 2]| direction(points[0], points[1]);
            let turn = cross(
                along(outline.run_points(before)),
                along(outline.run_points(step)),
            )
            .abs();
            let first_m = layers.first_m[body].unwrap_or(f64::INFINITY);
            let size_m = match (
                layers.joints[body][i],
                field.distance_m(outline.corners[corner]),
            ) {
                (Joint::Mitre(_), Some(distance_m)) if turn > CORNER_TURN => {
                    (2.0 * first_m).max(settings.corner_spacing * distance_m)
                }
                (Joint::Open(_), _) => first_m,
                _ => f64::INFINITY,
            };
            sizes_m[corner] = sizes_m[corner].min(size_m);
        }
    }
    sizes_m
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn layers_begin_as_asked_and_end_at_the_total() {
        let count = layer_count(0.3, 7.0, 1.5);
        let depths = layer_depths(0.3, 7.0, count);
        assert_eq!(depths.len(), count);
        assert!((depths[0] - 0.3).abs() < 1e-12 && depths[count - 1] == 7.0);
        let growth = (depths[2] - depths[1]) / (depths[1] - depths[0]);
        assert!(growth <= 1.5 + 1e-9 && growth > 1.0, "growth {growth}");
    }

    #[test]
    fn a_thin_place_gets_even_layers() {
        assert_eq!(layer_depths(1.0, 2.0, 4), vec![0.5, 1.0, 1.5, 2.0]);
    }

    #[test]
    fn nodes_follow_the_size() {
        let nodes = spread([0.0, 0.0], [1.0, 0.0], |[x, _]| 0.05 + 0.2 * x);
        assert!(nodes.windows(2).all(|pair| pair[1] > pair[0]));
        assert!(nodes[1] < 0.08 && 1.0 - nodes[nodes.len() - 2] > 0.12);
    }
}
