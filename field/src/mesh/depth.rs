//! How deep strips may go: into a share of the local thickness, changing slowly along the surface, and never so deep
//! that a side vanishes between its two corners. Equations (3) and (4) of docs/theory/mesh.md.

use super::geometry::{between, cross, direction, distance, dot, left_of, minus, plus, times};
use super::layers::{Joint, Layers};
use super::outline::Outline;
use super::settings::MeshSettings;
use crate::section::Point;

/// Where strips do not fit, they are made shallower within so many of their depths.
const NEARBY: f64 = 2.0;
/// Pieces along a surface are at most this share of the length over which depth changes by itself.
const FOLLOWS: f64 = 0.7;
/// Places along a side where depth is kept.
const SAMPLES: usize = 24;
/// Steepest change of depth along a surface.
const STEEPEST: f64 = 0.6;
/// Most of a side that its two corners may take.
const LARGEST_SHRINK: f64 = 0.85;
/// Distances of this share of a side are rounding: the place is an end of that side.
const ROUNDING: f64 = 1e-9;
/// Rounds of limiting; each lowers depths only, and the limits hardly interact.
const ROUNDS: usize = 4;

/// Depth of the strip of each body along each of its live sides.
pub(crate) struct Depth {
    samples_m: Vec<Vec<Vec<f64>>>,
}

impl Depth {
    /// Finds the depths that fit.
    pub fn new(outline: &Outline, layers: &Layers, settings: &MeshSettings) -> Depth {
        let of_step = |body: usize, i: usize| {
            let sample = |k: usize| {
                room(
                    outline,
                    layers,
                    settings,
                    body,
                    i,
                    k as f64 / SAMPLES as f64,
                )
            };
            if layers.live[body][i] {
                (0..=SAMPLES).map(sample).collect()
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
            samples_m: (0..outline.loops.len()).map(of_body).collect(),
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
            for (step, samples) in round.iter().zip(&mut self.samples_m[body]) {
                let [a, b] = outline.run_points(*step);
                for (k, depth_m) in samples.iter_mut().enumerate() {
                    if distance(place, between(a, b, k as f64 / SAMPLES as f64)) < near_m {
                        *depth_m *= factor;
                    }
                }
            }
        }
        self.limit(outline, layers);
    }

    /// Longest spacing along a live side for which straight pieces still follow the changing depth.
    pub fn spacing_m(&self, outline: &Outline, body: usize, i: usize, t: f64) -> f64 {
        let samples = &self.samples_m[body][i];
        let [a, b] = outline.run_points(outline.loops[body][i]);
        let step_m = distance(a, b) / SAMPLES as f64;
        let k = ((t * SAMPLES as f64) as usize).min(SAMPLES - 1);
        let change = samples[k.saturating_sub(1)..(k + 3).min(SAMPLES + 1)]
            .windows(2)
            .map(|pair| (pair[1] - pair[0]).abs())
            .fold(0.0, f64::max);
        FOLLOWS * self.at(body, i, t) * step_m / change.max(1e-12 * step_m)
    }

    /// Depth at parameter t (0..=1) of a step in running direction.
    pub fn at(&self, body: usize, i: usize, t: f64) -> f64 {
        let samples = &self.samples_m[body][i];
        let place = t * SAMPLES as f64;
        let k = (place as usize).min(SAMPLES - 1);
        let share = place - k as f64;
        (1.0 - share) * samples[k] + share * samples[k + 1]
    }

    /// Depth at the joint at the start of a step; zero where there is no strip.
    pub fn at_joint(&self, body: usize, i: usize) -> f64 {
        let before = (i + self.samples_m[body].len() - 1) % self.samples_m[body].len();
        let first = self.samples_m[body][i].first();
        first
            .or(self.samples_m[body][before].last())
            .copied()
            .unwrap_or(0.0)
    }

    /// The deepest of a body.
    pub fn deepest(&self, body: usize) -> f64 {
        self.samples_m[body]
            .iter()
            .flatten()
            .copied()
            .fold(0.0, f64::max)
    }

    fn limit_joint(&mut self, body: usize, i: usize, depth_m: f64) {
        let before = (i + self.samples_m[body].len() - 1) % self.samples_m[body].len();
        if let Some(last) = self.samples_m[body][before].last_mut() {
            *last = last.min(depth_m);
        }
        if let Some(first) = self.samples_m[body][i].first_mut() {
            *first = first.min(depth_m);
        }
    }

    fn agree_at_corners(&mut self, layers: &Layers, body: usize) {
        let count = layers.live[body].len();
        for i in 0..count {
            let before = (i + count - 1) % count;
            if layers.live[body][before] && layers.live[body][i] {
                let ends = [
                    self.samples_m[body][before][SAMPLES],
                    self.samples_m[body][i][0],
                ];
                self.limit_joint(body, i, ends[0].min(ends[1]));
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
        let steps: Vec<f64> = outline.loops[body]
            .iter()
            .map(|&step| {
                let [a, b] = outline.run_points(step);
                STEEPEST * distance(a, b) / SAMPLES as f64
            })
            .collect();
        let live = &layers.live[body];
        for _ in 0..2 {
            let forwards = self.samples_m[body].iter_mut().zip(live).zip(&steps);
            sweep(forwards.map(|((samples, live), step)| (samples.iter_mut(), *live, *step)));
            let backwards = self.samples_m[body].iter_mut().zip(live).zip(&steps).rev();
            sweep(
                backwards.map(|((samples, live), step)| (samples.iter_mut().rev(), *live, *step)),
            );
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

/// Lets depth rise by no more than the given step from one sample of a side to the next.
fn sweep<'a>(sides: impl Iterator<Item = (impl Iterator<Item = &'a mut f64>, bool, f64)>) {
    let mut reached = f64::INFINITY;
    for (samples, live, step) in sides {
        reached = if live { reached } else { f64::INFINITY };
        for (k, depth_m) in samples.enumerate() {
            // The first sample of a side is the last one of the side before.
            *depth_m = depth_m.min(reached + if k > 0 { step } else { 0.0 });
            reached = *depth_m;
        }
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
