//! Which sides of a body carry layers, how these turn the corners, and how deep they go.
//!
//! A strip of layers lies along each *live* side: one where a field or heat may enter. Equations (1)-(4) of
//! docs/theory/mesh.md.

use super::geometry::{direction, distance, dot, left_of, plus, times};
use super::outline::{LoopSide, Outline, SideKind};
use super::settings::MeshSettings;
use crate::section::{Point, Section};

/// An interface is live from the side whose layers begin at least this much thinner than the neighbor's: there the
/// neighbor lets the field come from the side. Between like metals the current runs on across the interface.
const LIVE_INTERFACE_CONTRAST: f64 = 2.0;
/// Sine of the smallest corner at which a strip may end along the next side (30 and 150 degrees).
const ENDS_ALONG: f64 = 0.5;
/// Longest corner of a strip over its depth, at sharp points and at notches.
const LONGEST_MITRE: f64 = 4.0;
const LONGEST_NOTCH_MITRE: f64 = 1.5;

/// How the strip of a body behaves at one of its corners; the vector leads inwards to where depth 1 lies.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Joint {
    /// No strip on either side.
    None,
    /// A strip turns the corner.
    Mitre(Point),
    /// A strip ends along the side that has none; its end nodes lie on that side.
    Along(Point),
    /// A strip ends inside the body.
    Open(Point),
}

impl Joint {
    /// Where depth 1 lies, seen from the corner.
    pub fn inwards(self) -> Point {
        match self {
            Joint::None => [0.0, 0.0],
            Joint::Mitre(m) | Joint::Along(m) | Joint::Open(m) => m,
        }
    }
}

/// A row of layer nodes that strips have along a side, from one of its ends.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Column {
    /// Length along the side over depth.
    pub stretch: f64,
    /// Body whose strip ends here (all that do have the same depth here).
    pub body: usize,
}

/// The layers of every body.
pub(crate) struct Layers {
    /// Does a step of a loop carry a strip?
    pub live: Vec<Vec<bool>>,
    /// The joint at the start of each step.
    pub joints: Vec<Vec<Joint>>,
    /// Columns at both ends of each side.
    pub columns: Vec<[Option<Column>; 2]>,
    /// First layer of each body.
    pub first_m: Vec<Option<f64>>,
    /// A number that bodies share when their layers must agree.
    pub group: Vec<usize>,
}

impl Layers {
    /// Decides where strips lie.
    pub fn new(section: &Section, outline: &Outline, settings: &MeshSettings) -> Layers {
        let bodies = outline.loops.len();
        let first_m: Vec<Option<f64>> = settings
            .bodies
            .iter()
            .map(|body| body.first_layer_m)
            .collect();
        let live: Vec<Vec<bool>> = (0..bodies)
            .map(|body| {
                outline.loops[body]
                    .iter()
                    .map(|&step| is_live(outline, settings, &first_m, body, step))
                    .collect()
            })
            .collect();
        let joints = (0..bodies)
            .map(|body| joints_of(outline, body, &live[body]))
            .collect();
        let mut layers = Layers {
            live,
            joints,
            columns: vec![[None, None]; outline.sides.len()],
            first_m,
            group: (0..section.bodies.len()).collect(),
        };
        layers.join_columns(outline);
        layers
    }

    /// Where strips of two bodies end along one side, both get the same column, and the same layers.
    fn join_columns(&mut self, outline: &Outline) {
        let all_ends: Vec<(usize, usize, usize)> = self.ends_along(outline).collect();
        for &(body, side, end) in &all_ends {
            let joint = self.joint_along(outline, body, side, end);
            let stretch = self.joints[body][joint].inwards();
            let stretch = dot(stretch, stretch).sqrt();
            let column = &mut self.columns[side][end];
            let shared = column.map_or(stretch, |known: Column| known.stretch.min(stretch));
            if let Some(known) = column.replace(Column {
                stretch: shared,
                body,
            }) {
                let (old, new) = (self.group[known.body], self.group[body]);
                self.group
                    .iter_mut()
                    .filter(|group| **group == old)
                    .for_each(|group| *group = new);
            }
        }
        for (body, side, end) in all_ends {
            let joint = self.joint_along(outline, body, side, end);
            let m = self.joints[body][joint].inwards();
            let stretch = self.columns[side][end].map_or(1.0, |column| column.stretch);
            self.joints[body][joint] = Joint::Along(times(stretch / dot(m, m).sqrt(), m));
        }
        for body in 0..self.group.len() {
            let alike =
                (0..self.group.len()).filter(|&other| self.group[other] == self.group[body]);
            self.first_m[body] = alike
                .filter_map(|other| self.first_m[other])
                .reduce(f64::min);
        }
    }

    /// (body, step of its loop) of every strip that lies on a side.
    pub fn strips_on<'a>(
        &'a self,
        outline: &'a Outline,
        side: usize,
    ) -> impl Iterator<Item = (usize, usize)> + 'a {
        outline.sides[side]
            .owners
            .into_iter()
            .flatten()
            .filter_map(move |body| {
                let i = outline.loops[body as usize]
                    .iter()
                    .position(|step| step.side == side)?;
                self.live[body as usize][i].then_some((body as usize, i))
            })
    }

    /// (body, side, end of side) of every strip that ends along a side.
    fn ends_along<'a>(
        &'a self,
        outline: &'a Outline,
    ) -> impl Iterator<Item = (usize, usize, usize)> + 'a {
        (0..outline.loops.len()).flat_map(move |body| {
            let round = &outline.loops[body];
            (0..round.len()).flat_map(move |i| {
                let (start, end) = (
                    self.joints[body][i],
                    self.joints[body][(i + 1) % round.len()],
                );
                let step = round[i];
                let at = |joint: Joint, end: usize| {
                    (!self.live[body][i] && matches!(joint, Joint::Along(_)))
                        .then_some((body, step.side, end))
                };
                let (first, last) = if step.forwards { (0, 1) } else { (1, 0) };
                [at(start, first), at(end, last)].into_iter().flatten()
            })
        })
    }

    /// The number of the joint of a body at an end of one of its sides.
    pub fn joint_along(&self, outline: &Outline, body: usize, side: usize, end: usize) -> usize {
        let round = &outline.loops[body];
        let i = round.iter().position(|step| step.side == side).unwrap_or(0);
        let at_start = round[i].forwards == (end == 0);
        if at_start { i } else { (i + 1) % round.len() }
    }
}

fn is_live(
    outline: &Outline,
    settings: &MeshSettings,
    first_m: &[Option<f64>],
    body: usize,
    step: LoopSide,
) -> bool {
    let Some(own_m) = first_m[body] else {
        return false;
    };
    match outline.sides[step.side].kind {
        SideKind::Axis => false,
        SideKind::Surface => true,
        SideKind::Natural => {
            settings.entries.is_empty() || is_entry(outline, &settings.entries, step.side)
        }
        SideKind::Interface => outline
            .neighbor(step)
            .and_then(|other| first_m[other as usize])
            .is_none_or(|other_m| other_m >= LIVE_INTERFACE_CONTRAST * own_m),
    }
}

/// Does a side lie on one of the pieces of boundary where something enters?
fn is_entry(outline: &Outline, entries: &[[Point; 2]], side: usize) -> bool {
    let [a, b] = outline.ends(side);
    let middle = times(0.5, plus(a, b));
    let near_m = 1e-6 * distance(a, b);
    entries.iter().any(|&[from, to]| {
        [a, b, middle]
            .iter()
            .all(|&p| super::geometry::distance_to_segment(from, to, p) < near_m)
    })
}

fn joints_of(outline: &Outline, body: usize, live: &[bool]) -> Vec<Joint> {
    let round = &outline.loops[body];
    (0..round.len())
        .map(|i| {
            let before = (i + round.len() - 1) % round.len();
            let along = |i: usize| {
                let [a, b] = outline.run_points(round[i]);
                direction(a, b)
            };
            match (live[before], live[i]) {
                (false, false) => Joint::None,
                (true, true) => Joint::Mitre(mitre(along(before), along(i))),
                (true, false) => {
                    strip_end(times(-1.0, along(before)), left_of(along(before)), along(i))
                }
                (false, true) => strip_end(along(i), left_of(along(i)), times(-1.0, along(before))),
            }
        })
        .collect()
}

/// Equation (2) of docs/theory/mesh.md: the corner of the offset polygon at depth 1, shortened at sharp corners.
fn mitre(before: Point, after: Point) -> Point {
    let (n, next) = (left_of(before), left_of(after));
    let bisector = plus(n, next);
    let squared = dot(bisector, bisector);
    if squared < 1e-6 {
        return times(LONGEST_NOTCH_MITRE, after);
    }
    let notch = super::geometry::cross(before, after) < 0.0;
    let longest = if notch {
        LONGEST_NOTCH_MITRE
    } else {
        LONGEST_MITRE
    };
    // |bisector| / (1 + n next) = 2 / |bisector|
    let reach = (2.0 / squared.sqrt()).min(longest);
    times(reach / squared.sqrt(), bisector)
}

/// How a strip that leads away from a corner ends there, given its inner normal and the next side, also leading away.
fn strip_end(strip: Point, normal: Point, side: Point) -> Joint {
    let (sine, cosine) = (dot(normal, side), dot(strip, side));
    let acute = sine > 0.0 && cosine > 0.0;
    if sine >= ENDS_ALONG || acute {
        return Joint::Along(times(1.0 / sine.max(ENDS_ALONG), side));
    }
    Joint::Open(normal)
}
