//! The joint as a section: contours of the two sides, tapers, cuts, and which piece of outline is what.

mod contour;
#[cfg(test)]
mod tests;

use field::section::Point;

use crate::error::CycleError;
use crate::setup::{Joint, Side};
use contour::{Contour, at, meet, own_contour};

/// Dimensions closer than this are the same: a tenth of a hair, far below any tolerance of pipe.
const SAME_M: f64 = 1e-5;

/// The smallest and largest outside diameter that the model is meant for, in mm.
const DIAMETER_RANGE_MM: [f64; 2] = [20.0, 4000.0];

/// The thinnest wall that the model is meant for, in mm.
const LEAST_WALL_MM: f64 = 1.5;

/// A bore narrower than this part of the diameter is refused: the joint would be a bar.
const LEAST_BORE_PART: f64 = 0.1;

/// What a straight piece of outline is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaceKind {
    /// Outside, under the blanket.
    Covered,
    /// Outside, beyond the blanket.
    Bare,
    /// The bore.
    Bore,
    /// Where the model ends, or the weld plane: no heat passes, or both bodies share it.
    Cut,
}

/// A straight piece of outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// The body, in the order of the section.
    pub body: usize,
    /// The pipe side, 0 or 1.
    pub side: usize,
    /// What it is.
    pub kind: FaceKind,
    /// Its ends (r, z) in m, in the direction of the polygon.
    pub ends_m: [Point; 2],
}

impl Face {
    /// Distance in m of a point from the face.
    pub fn distance_m(&self, point: Point) -> f64 {
        let [a, b] = self.ends_m;
        let along = [b[0] - a[0], b[1] - a[1]];
        let squared = along[0] * along[0] + along[1] * along[1];
        let part = ((point[0] - a[0]) * along[0] + (point[1] - a[1]) * along[1]) / squared;
        let part = part.clamp(0.0, 1.0);
        gap(point, [a[0] + part * along[0], a[1] + part * along[1]])
    }
}

/// The joint as polygons.
#[derive(Clone, Debug)]
pub struct JointSection {
    /// Outline of each body (r, z) in m, counter-clockwise: one body where both sides are of one metal, else two.
    pub polygons: Vec<Vec<Point>>,
    /// The side whose metal each body has.
    pub metal_of: Vec<usize>,
    /// Every straight piece of outline.
    pub faces: Vec<Face>,
    /// Points on the outline where something changes: weld center, ends of the blanket.
    pub breaks_m: Vec<Point>,
    /// Modeled length of each side in m.
    pub lengths_m: [f64; 2],
    /// A taper was laid where the sides are unequal and no transition says how they meet.
    pub tapered: bool,
    contours: [Contour; 2],
}

/// Builds the section of a joint whose sides are cut at the given lengths, or at their own where these are shorter.
///
/// `taper` is length over height where two sides are unequal at the weld and no transition says how they meet.
///
/// # Errors
/// Dimensions outside the range of the model, and sides that do not meet.
pub fn joint_section(
    joint: &Joint,
    longest_m: [f64; 2],
    blanket_reach_m: [f64; 2],
    taper: f64,
) -> Result<JointSection, CycleError> {
    for side in &joint.sides {
        check_side(side)?;
    }
    let own = [own_contour(&joint.sides[0]), own_contour(&joint.sides[1])];
    let outside_m = own[0].outside[0].1.min(own[1].outside[0].1);
    let bore_m = own[0].bore[0].1.max(own[1].bore[0].1);
    let least_ligament_m = LEAST_WALL_MM * 1e-3;
    if outside_m - bore_m < least_ligament_m {
        return Err(CycleError::Joint {
            detail: format!(
                "the common wall at the weld is {:.2} mm, at least {LEAST_WALL_MM} mm is needed",
                (outside_m - bore_m) * 1e3
            ),
            hint: "check the outside diameters and walls of the two sides, and their transitions"
                .into(),
        });
    }
    let tapered = own.iter().any(|contour| {
        (contour.outside[0].1 - outside_m).abs() > SAME_M
            || (contour.bore[0].1 - bore_m).abs() > SAME_M
    });
    let contours = own.map(|contour| Contour {
        outside: meet(&contour.outside, outside_m, 1.0 / taper, f64::min),
        bore: meet(&contour.bore, bore_m, -1.0 / taper, f64::max),
    });
    let lengths_m = [0, 1].map(|i| {
        let given_m = joint.sides[i].length.m();
        let shaped_m = contours[i].outside.last().map_or(0.0, |p| p.0);
        let bore_shaped_m = contours[i].bore.last().map_or(0.0, |p| p.0);
        let least_m = shaped_m.max(bore_shaped_m) + joint.sides[i].wall.m();
        given_m.min(longest_m[i].max(least_m))
    });
    let single = joint.sides[0].metal == joint.sides[1].metal;
    let section = assemble(contours, lengths_m, blanket_reach_m, single);
    Ok(JointSection { tapered, ..section })
}

fn check_side(side: &Side) -> Result<(), CycleError> {
    let mut sizes = vec![(side.outside_diameter, side.wall)];
    sizes.extend(side.transition.map(|t| (t.outside_diameter, t.wall)));
    for (outside, wall) in sizes {
        in_range("outside diameter", outside.mm(), DIAMETER_RANGE_MM)?;
        let thickest = 0.5 * outside.mm() * (1.0 - LEAST_BORE_PART);
        in_range("wall", wall.mm(), [LEAST_WALL_MM, thickest])?;
    }
    let shaped = side
        .transition
        .map_or(0.0, |t| (t.straight.m() + t.length.m()) * 1e3);
    let least = shaped + 2.0 * side.wall.mm();
    in_range("length of a side", side.length.mm(), [least, 1e6])
}

fn in_range(what: &str, given: f64, [least, most]: [f64; 2]) -> Result<(), CycleError> {
    if (least..=most).contains(&given) {
        return Ok(());
    }
    Err(CycleError::OutOfRange {
        what: what.into(),
        given,
        least,
        most,
        unit: "mm",
        hint: "check the dimensions of the two sides and their transitions".into(),
    })
}

/// Puts contours together to polygons, faces and breaks.
fn assemble(
    contours: [Contour; 2],
    lengths_m: [f64; 2],
    blanket_reach_m: [f64; 2],
    single: bool,
) -> JointSection {
    let mut section = JointSection {
        polygons: Vec::new(),
        metal_of: if single { vec![0] } else { vec![0, 1] },
        faces: Vec::new(),
        breaks_m: Vec::new(),
        lengths_m,
        tapered: false,
        contours,
    };
    let [below, above] = [0, 1].map(|side| section.lines(side));
    let chain = |parts: [&[Point]; 4]| joined(&parts);
    let reversed = |line: &[Point]| line.iter().rev().copied().collect::<Vec<_>>();
    // `lines` run from the weld outwards; a polygon runs up along the outside and down along the bore.
    if single {
        let polygon = chain([
            &reversed(&below[0]),
            &above[0],
            &reversed(&above[1]),
            &below[1],
        ]);
        section.polygons = vec![polygon];
    } else {
        let lower = chain([&reversed(&below[0]), &[], &[], &below[1]]);
        let upper = chain([&[], &above[0], &reversed(&above[1]), &[]]);
        section.polygons = vec![lower, upper];
    }
    for side in [0, 1] {
        section.add_faces(side, blanket_reach_m[side]);
    }
    section.add_cuts();
    section
}

/// Joins lines into one polygon, without repeated points and without points on a straight line.
fn joined(parts: &[&[Point]]) -> Vec<Point> {
    let mut points: Vec<Point> = Vec::new();
    for point in parts.iter().flat_map(|part| part.iter().copied()) {
        if points.last().is_none_or(|last| gap(*last, point) > SAME_M) {
            points.push(point);
        }
    }
    let count = points.len();
    let bends = |i: usize| {
        let (a, b, c) = (
            points[(i + count - 1) % count],
            points[i],
            points[(i + 1) % count],
        );
        let cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
        cross.abs() > SAME_M * SAME_M
    };
    (0..count)
        .filter(|&i| bends(i))
        .map(|i| points[i])
        .collect()
}

fn gap(a: Point, b: Point) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

impl JointSection {
    /// Outside radius in m at a distance along the pipe from the weld center in m, negative on the first side.
    pub fn outside_radius_m(&self, axial_m: f64) -> f64 {
        at(
            &self.contours[usize::from(axial_m > 0.0)].outside,
            axial_m.abs(),
        )
    }

    /// Bore radius in m at a distance along the pipe from the weld center in m, negative on the first side.
    pub fn bore_radius_m(&self, axial_m: f64) -> f64 {
        at(
            &self.contours[usize::from(axial_m > 0.0)].bore,
            axial_m.abs(),
        )
    }

    /// Area of metal in m2 per radian (integral of r dr dz), to check a mesh against.
    pub fn turned_area_m3_rad(&self) -> f64 {
        let moment = |polygon: &Vec<Point>| -> f64 {
            let next = polygon.iter().cycle().skip(1);
            polygon
                .iter()
                .zip(next)
                .map(|(a, b)| (a[0] * a[0] + a[0] * b[0] + b[0] * b[0]) * (b[1] - a[1]) / 6.0)
                .sum()
        };
        self.polygons.iter().map(moment).sum()
    }

    /// Outside and bore of a side as points (r, z) from the weld outwards to the cut.
    fn lines(&self, side: usize) -> [Vec<Point>; 2] {
        let sign = [-1.0, 1.0][side];
        let length_m = self.lengths_m[side];
        let line = |contour: &[(f64, f64)]| -> Vec<Point> {
            let inner = contour.iter().filter(|p| p.0 < length_m - SAME_M);
            inner
                .map(|&(z, r)| [r, sign * z])
                .chain([[at(contour, length_m), sign * length_m]])
                .collect()
        };
        let contour = &self.contours[side];
        [line(&contour.outside), line(&contour.bore)]
    }

    fn add_faces(&mut self, side: usize, reach_m: f64) {
        let body = if self.polygons.len() == 1 { 0 } else { side };
        let [outside, bore] = self.lines(side);
        let mut covered = Vec::new();
        for pair in outside.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let (za, zb) = (a[1].abs(), b[1].abs());
            if za < reach_m - SAME_M && reach_m < zb - SAME_M {
                let part = (reach_m - za) / (zb - za);
                let end = [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])];
                self.breaks_m.push(end);
                covered.extend([(a, end), (end, b)]);
            } else {
                covered.push((a, b));
            }
        }
        for (a, b) in covered {
            let middle_m = 0.5 * (a[1] + b[1]).abs();
            let kind = if middle_m < reach_m {
                FaceKind::Covered
            } else {
                FaceKind::Bare
            };
            // Up along the outside: the first side runs towards the weld.
            let ends_m = if side == 0 { [b, a] } else { [a, b] };
            self.faces.push(Face {
                body,
                side,
                kind,
                ends_m,
            });
        }
        for pair in bore.windows(2) {
            let ends_m = if side == 0 {
                [pair[0], pair[1]]
            } else {
                [pair[1], pair[0]]
            };
            self.faces.push(Face {
                body,
                side,
                kind: FaceKind::Bore,
                ends_m,
            });
        }
        if side == 0 {
            self.breaks_m.extend([outside[0], bore[0]]);
        }
    }

    fn add_cuts(&mut self) {
        for side in [0, 1] {
            let body = if self.polygons.len() == 1 { 0 } else { side };
            let z = [-1.0, 1.0][side] * self.lengths_m[side];
            let (bore, outside) = ([self.bore_radius_m(z), z], [self.outside_radius_m(z), z]);
            let ends_m = if side == 0 {
                [bore, outside]
            } else {
                [outside, bore]
            };
            self.faces.push(Face {
                body,
                side,
                kind: FaceKind::Cut,
                ends_m,
            });
        }
    }
}
