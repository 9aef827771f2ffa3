//! How deep strips may go: into a share of the local thickness, changing slowly along the surface, and never so deep
//! that a side vanishes between its two corners. Equations (3) and (4) of docs/theory/mesh.md.

use super::geometry::{
    between, cross, direction, distance, dot, left_of, minus, nearest_parameter, plus, times,
};
use super::layers::{Joint, Layers};
use super::outline::Outline;
use super::settings::MeshSettings;
use crate::section::Point;

/// Where strips do not fit, they are made shallower within so many of their depths.
const NEARBY: f64 = 2.0;
/// Pieces along a surface are at most this share of the length over which depth changes by itself.
const FOLLOWS: f64 = 0.7;
/// Even places along a side where depth is kept, besides those near other corners.
const EVEN_PLACES: usize = 16;
/// Places on both sides of the one opposite a corner, in distances of that corner.
const AROUND_CORNERS: [f64; 5] = [-1.0, -0.3, 0.0, 0.3, 1.0];
/// Places closer than this share of a side are one.
const SAME_PLACE: f64 = 1e-4;
/// Steepest change of depth along a surface, and the same times the pull of the corner that draws the layers along.
const STEEPEST: f64 = 0.6;
const STEEPEST_TIMES_PULL: f64 = 0.5;
/// Most of a side that its two corners may take.
const LARGEST_SHRINK: f64 = 0.85;
/// Distances of this share of a side are rounding: the place is an end of that side.
const ROUNDING: f64 = 1e-9;
/// Rounds of limiting; each lowers depths only, and the limits hardly interact.
const ROUNDS: usize = 4;

/// Depth of the strip of each body along each of its live sides.
pub(crate) struct Depth {
    /// Samples of each step of each body's loop, in running direction; none without a strip.
    samples: Vec<Vec<Vec<Sample>>>,
}

/// Depth at one place of a side.
#[derive(Clone, Copy, Debug)]
struct Sample {
    /// Share of the side from its start.
    at: f64,
    depth_m: f64,
}

impl Depth {
    /// Finds the depths that fit.
    pub fn new(outline: &Outline, layers: &Layers, settings: &MeshSettings) -> Depth {
        let of_step = |body: usize, i: usize| {
            let sample = |at: f64| Sample {
                at,
                depth_m: room(outline, layers, settings, body, i, at),
            };
            if layers.live[body][i] {
                sample_places(outline, body, i)
                    .into_iter()
                    .map(sample)
                    .collect()
            } else {
                Vec::new()
            }
        };
        let of_body = |body: usize| {
            (0..outline.loops[body].len())
                .map(|i| of_step(body, i))
                .collect()
        };
        let mut depth = Depth {
            samples: (0..outline.loops.len()).map(of_body).collect(),
        };
        depth.limit(outline, layers);
        depth
    }

    fn limit(&mut self, outline: &Outline, layers: &Layers) {
        for _ in 0..ROUNDS {
            for body in 0..outline.loops.len() {
                self.agree_at_corners(layers, body);
                self.limit_slope(outline, layers, body);
                self.limit_shrink(outline, layers, body);
            }
            self.agree_between_bodies(outline, layers);
        }
        (0..outline.loops.len()).for_each(|body| self.agree_at_corners(layers, body));
    }

    /// Makes strips shallower by a factor round a place where they do not fit.
    pub fn shallower_near(
        &mut self,
        outline: &Outline,
        layers: &Layers,
        place: Point,
        factor: f64,
    ) {
        for (body, round) in outline.loops.iter().enumerate() {
            let near_m = NEARBY * self.deepest(body);
            for (step, samples) in round.iter().zip(&mut self.samples[body]) {
                let [a, b] = outline.run_points(*step);
                let near = samples
                    .iter_mut()
                    .filter(|sample| distance(place, between(a, b, sample.at)) < near_m);
                near.for_each(|sample| sample.depth_m *= factor);
            }
        }
        self.limit(outline, layers);
    }

    /// Longest spacing along a live side for which straight pieces still follow the changing depth.
    pub fn spacing_m(&self, outline: &Outline, body: usize, i: usize, t: f64) -> f64 {
        let samples = &self.samples[body][i];
        let [a, b] = outline.run_points(outline.loops[body][i]);
        let k = after(samples, t);
        let slope = samples[k.saturating_sub(2)..(k + 2).min(samples.len())]
            .windows(2)
            .map(|pair| (pair[1].depth_m - pair[0].depth_m).abs() / (pair[1].at - pair[0].at))
            .fold(0.0, f64::max);
        FOLLOWS * self.at(body, i, t) * distance(a, b) / slope.max(f64::MIN_POSITIVE)
    }

    /// Depth at parameter t (0..=1) of a step in running direction.
    pub fn at(&self, body: usize, i: usize, t: f64) -> f64 {
        let samples = &self.samples[body][i];
        let k = after(samples, t);
        let [from, to] = [samples[k - 1], samples[k]];
        let share = (t - from.at) / (to.at - from.at);
        (1.0 - share) * from.depth_m + share * to.depth_m
    }

    /// Depth at the joint at the start of a step; zero where there is no strip.
    pub fn at_joint(&self, body: usize, i: usize) -> f64 {
        let before = (i + self.samples[body].len() - 1) % self.samples[body].len();
        let first = self.samples[body][i].first();
        first
            .or(self.samples[body][before].last())
            .map_or(0.0, |sample| sample.depth_m)
    }

    /// The deepest of a body.
    pub fn deepest(&self, body: usize) -> f64 {
        self.samples[body]
            .iter()
            .flatten()
            .map(|sample| sample.depth_m)
            .fold(0.0, f64::max)
    }

    fn limit_joint(&mut self, body: usize, i: usize, depth_m: f64) {
        let before = (i + self.samples[body].len() - 1) % self.samples[body].len();
        if let Some(last) = self.samples[body][before].last_mut() {
            last.depth_m = last.depth_m.min(depth_m);
        }
        if let Some(first) = self.samples[body][i].first_mut() {
            first.depth_m = first.depth_m.min(depth_m);
        }
    }

    fn agree_at_corners(&mut self, layers: &Layers, body: usize) {
        let count = layers.live[body].len();
        for i in 0..count {
            let before = (i + count - 1) % count;
            let ends = [
                self.samples[body][before].last(),
                self.samples[body][i].first(),
            ];
            if let [Some(last), Some(first)] = ends {
                self.limit_joint(body, i, last.depth_m.min(first.depth_m));
            }
        }
    }

    /// Strips of two bodies that end along one side are equally deep there.
    fn agree_between_bodies(&mut self, outline: &Outline, layers: &Layers) {
        for (side, columns) in layers.columns.iter().enumerate() {
            for end in [0, 1].into_iter().filter(|&end| columns[end].is_some()) {
                let owners = outline.sides[side].owners.into_iter().flatten();
                let joints: Vec<(usize, usize)> = owners
                    .map(|body| {
                        (
                            body as usize,
                            layers.joint_along(outline, body as usize, side, end),
                        )
                    })
                    .filter(|&(body, joint)| matches!(layers.joints[body][joint], Joint::Along(_)))
                    .collect();
                let depth_m = joints
                    .iter()
                    .map(|&(body, i)| self.at_joint(body, i))
                    .fold(f64::INFINITY, f64::min);
                joints
                    .iter()
                    .for_each(|&(body, i)| self.limit_joint(body, i, depth_m));
            }
        }
    }

    /// Sweeps forwards and backwards along the sides; twice, since strips may go all the way round.
    fn limit_slope(&mut self, outline: &Outline, layers: &Layers, body: usize) {
        let round = &outline.loops[body];
        // Depth per share of the side.
        let slopes: Vec<f64> = (0..round.len())
            .map(|i| {
                let [a, b] = outline.run_points(round[i]);
                let pull = pull(outline, layers, body, i).max(pull(
                    outline,
                    layers,
                    body,
                    (i + 1) % round.len(),
                ));
                distance(a, b) * STEEPEST.min(STEEPEST_TIMES_PULL / pull.max(f64::MIN_POSITIVE))
            })
            .collect();
        for _ in 0..2 {
            sweep(
                self.samples[body]
                    .iter_mut()
                    .zip(&slopes)
                    .map(|(samples, slope)| (samples.iter_mut(), *slope)),
            );
            let backwards = self.samples[body].iter_mut().zip(&slopes).rev();
            sweep(backwards.map(|(samples, slope)| (samples.iter_mut().rev(), *slope)));
        }
    }

    fn limit_shrink(&mut self, outline: &Outline, layers: &Layers, body: usize) {
        let count = outline.loops[body].len();
        for (i, &step) in outline.loops[body].iter().enumerate() {
            let next = (i + 1) % count;
            let [a, b] = outline.run_points(step);
            let along = direction(a, b);
            let taken = |joint: Joint, along: Point| match (joint, layers.live[body][i]) {
                (Joint::Open(_), false) => 0.0,
                (joint, _) => dot(joint.inwards(), along).max(0.0),
            };
            let taken = [
                taken(layers.joints[body][i], along),
                taken(layers.joints[body][next], times(-1.0, along)),
            ];
            let depths = [self.at_joint(body, i), self.at_joint(body, next)];
            let shrink_m = taken[0] * depths[0] + taken[1] * depths[1];
            let fits_m = LARGEST_SHRINK * distance(a, b);
            if shrink_m > fits_m {
                for (joint, end) in [(i, 0), (next, 1)] {
                    if taken[end] > 0.0 {
                        self.limit_joint(body, joint, depths[end] * fits_m / shrink_m);
                    }
                }
            }
        }
    }
}

/// How far the corner at the start of a step draws layers along, over their depth: tan of half the turn.
fn pull(outline: &Outline, layers: &Layers, body: usize, i: usize) -> f64 {
    let round = &outline.loops[body];
    let along = |i: usize| {
        let [a, b] = outline.run_points(round[i]);
        direction(a, b)
    };
    let (before, after) = (along((i + round.len() - 1) % round.len()), along(i));
    match layers.joints[body][i] {
        Joint::None | Joint::Open(_) => 0.0,
        Joint::Mitre(_) => {
            let cosine = dot(before, after);
            ((1.0 - cosine).max(0.0) / (1.0 + cosine).max(f64::MIN_POSITIVE)).sqrt()
        }
        Joint::Along(m) => dot(m, if layers.live[body][i] { after } else { before }).abs(),
    }
}

/// Number of the first sample beyond t, never the very first sample.
fn after(samples: &[Sample], t: f64) -> usize {
    samples
        .partition_point(|sample| sample.at <= t)
        .clamp(1, samples.len() - 1)
}

/// Even places along a side, and places opposite to the body's other corners, where the thickness may change.
fn sample_places(outline: &Outline, body: usize, i: usize) -> Vec<f64> {
    let [a, b] = outline.run_points(outline.loops[body][i]);
    let even = (0..=EVEN_PLACES).map(|k| k as f64 / EVEN_PLACES as f64);
    let opposite = outline.loops[body].iter().flat_map(|&step| {
        let corner = outline.run_points(step)[0];
        let t = nearest_parameter(a, b, corner);
        let far = distance(corner, between(a, b, t)) / distance(a, b);
        AROUND_CORNERS.map(|around| t + around * far)
    });
    let mut places: Vec<f64> = even
        .chain(opposite)
        .filter(|t| (0.0..=1.0).contains(t))
        .collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, kept| *next - *kept < SAME_PLACE);
    if let Some(last) = places.last_mut() {
        *last = 1.0;
    }
    places
}

/// Lets depth rise along a row of sides by no more than each side's slope; the first sample of a side is the last one
/// of the side before.
fn sweep<'a>(sides: impl Iterator<Item = (impl Iterator<Item = &'a mut Sample>, f64)>) {
    let mut reached = f64::INFINITY;
    for (samples, slope) in sides {
        let mut last = None;
        for sample in samples {
            let step = last.map_or(0.0, |last: f64| (sample.at - last).abs());
            sample.depth_m = sample.depth_m.min(reached + slope * step);
            (reached, last) = (sample.depth_m, Some(sample.at));
        }
        // A side without a strip lets the next strip begin anew.
        reached = if last.is_some() {
            reached
        } else {
            f64::INFINITY
        };
    }
}

/// How deep the strip may go at one place of a live side, seen alone.
fn room(
    outline: &Outline,
    layers: &Layers,
    settings: &MeshSettings,
    body: usize,
    i: usize,
    t: f64,
) -> f64 {
    let round = &outline.loops[body];
    let [a, b] = outline.run_points(round[i]);
    let (place, along) = (between(a, b, t), direction(a, b));
    let normal = left_of(along);
    let size_m = settings.bodies[body].largest_size_m;
    let first_m = layers.first_m[body].unwrap_or(size_m);
    // Beyond this depth layers would be thicker than ordinary triangles.
    let ordinary_m = first_m.max((size_m - first_m) / (settings.growth - 1.0).max(1e-3));
    let mut room_m = ordinary_m;
    for (other, &step) in round.iter().enumerate() {
        let [c, d] = outline.run_points(step);
        let adjacent = (other + 1) % round.len() == i || (i + 1) % round.len() == other;
        let turn = if (i + 1) % round.len() == other {
            cross(along, direction(c, d))
        } else {
            cross(direction(c, d), along)
        };
        if other == i || (adjacent && turn >= 0.0) {
            continue;
        }
        let share = if layers.live[body][other] {
            settings.wall_share
        } else {
            2.0 * settings.wall_share
        };
        room_m = room_m.min(share * 2.0 * touching_radius(place, normal, c, d));
    }
    room_m
}

/// Radius of the circle through `place` with its center along `normal` that touches a segment.
fn touching_radius(place: Point, normal: Point, c: Point, d: Point) -> f64 {
    let through = |p: Point| {
        let gap = minus(p, place);
        let ahead = dot(normal, gap);
        if ahead > 0.0 {
            dot(gap, gap) / (2.0 * ahead)
        } else {
            f64::INFINITY
        }
    };
    let facing = left_of(direction(c, d));
    let off = dot(minus(place, c), facing);
    let closing = 1.0 - dot(normal, facing);
    let tangent = off / closing;
    if off > ROUNDING * distance(c, d) && closing > ROUNDING {
        let contact = minus(plus(place, times(tangent, normal)), times(tangent, facing));
        let share = dot(minus(contact, c), minus(d, c));
        if share >= 0.0 && share <= dot(minus(d, c), minus(d, c)) {
            return tangent;
        }
    }
    through(c).min(through(d))
}
