//! The magnetic field of coil and leads in free air, by the law of Biot and Savart: for the distances that persons keep.
//!
//! The workpiece is left out here; [`crate::stray_with_work`] has the field that was solved with it.

use std::f64::consts::PI;

use crate::setup::{Coil, Joint, Leads, Turn};

/// A point or a vector in m.
pub type Vector = [f64; 3];

/// A straight line on which a person walks away: where it starts, and a unit vector.
pub type Line = (Vector, Vector);

/// The lines along which distances are told.
#[derive(Clone, Debug, PartialEq)]
pub struct Lines {
    /// Beside the coil: from the cable outward in the middle of its length, away from the leads.
    pub beside: Line,
    /// Along the pipe at the height of the cable, from the outermost turns, both ways.
    pub along: [Line; 2],
    /// Beside the leads: from the middle of their length; none where they touch.
    pub leads: Option<Line>,
}

impl Lines {
    /// All of them.
    pub fn all(&self) -> impl Iterator<Item = Line> + '_ {
        let leads = self.leads.iter().copied();
        std::iter::once(self.beside).chain(self.along).chain(leads)
    }
}

/// The lines of a coil and its leads, of which the first paths are turns.
pub fn lines(paths: &[Path], turns: usize) -> Lines {
    let of_turns = || paths[..turns].iter().flat_map(|path| &path.corners_m);
    let most = |part: usize| of_turns().map(|at| at[part]).fold(f64::MIN, f64::max);
    let (reach_m, top_m) = (most(0), most(2));
    let bottom_m = of_turns().map(|at| at[2]).fold(f64::MAX, f64::min);
    let leads = paths.get(turns).map(|lead| {
        let [near, far] = [lead.corners_m[0], lead.corners_m[1]];
        ([0.5 * (near[0] + far[0]), 0.0, 0.0], [0.0, 1.0, 0.0])
    });
    // The leads leave towards +x, so beside the coil and along the pipe are measured on the other side.
    Lines {
        beside: ([-reach_m, 0.0, 0.5 * (top_m + bottom_m)], [-1.0, 0.0, 0.0]),
        along: [
            ([-reach_m, 0.0, top_m], [0.0, 0.0, 1.0]),
            ([-reach_m, 0.0, bottom_m], [0.0, 0.0, -1.0]),
        ],
        leads,
    }
}

/// Straight pieces by which a turn is drawn; the field of the polygon is exact, and at twice the radius a polygon of 72
/// sides differs from the circle by less than a thousandth in its moment: 1 − sin(2π/n)/(2π/n).
const PIECES: usize = 72;

/// Magnetic constant in H/m (CODATA 2018).
const MU_0: f64 = 1.256_637_062_12e-6;

/// A closed or open path of a current.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Its corners in m, in the sense of the current.
    pub corners_m: Vec<Vector>,
}

/// Flux density in T of a current in A along a straight piece, at a point: µ0·I/(4π·d)·(cos α1 − cos α2), across both.
fn of_piece(from: Vector, to: Vector, at: Vector, current_a: f64) -> Vector {
    let along = minus(to, from);
    let (a, b) = (minus(at, from), minus(at, to));
    let length_m = size(along);
    if length_m == 0.0 {
        return [0.0; 3];
    }
    let across = cross(along, a);
    let across_size = size(across);
    // On the line of the piece itself there is no field of it.
    if across_size <= f64::EPSILON * length_m * length_m {
        return [0.0; 3];
    }
    let distance_m = across_size / length_m;
    let cosines = dot(along, a) / (length_m * size(a)) - dot(along, b) / (length_m * size(b));
    let tesla = MU_0 * current_a / (4.0 * PI * distance_m) * cosines;
    across.map(|part| part / across_size * tesla)
}

impl Path {
    /// A turn round the axis z: a polygon of the same area as the circle.
    pub fn turn(radius_m: f64, z_m: f64) -> Path {
        let part = 2.0 * PI / PIECES as f64;
        let corner_m = radius_m * libm::sqrt(part / libm::sin(part));
        let corner = |index: usize| {
            let angle = part * index as f64;
            [
                corner_m * libm::cos(angle),
                corner_m * libm::sin(angle),
                z_m,
            ]
        };
        Path {
            corners_m: (0..=PIECES).map(corner).collect(),
        }
    }

    /// Flux density in T at a point, for a current in A.
    pub fn field_t(&self, at: Vector, current_a: f64) -> Vector {
        let pieces = self.corners_m.windows(2);
        let fields = pieces.map(|piece| of_piece(piece[0], piece[1], at, current_a));
        fields.fold([0.0; 3], plus)
    }
}

/// The paths of a coil round a pipe and of its two leads, which leave it at right angles to the axis.
pub fn paths(joint: &Joint, coil: &Coil, cable_diameter_m: f64, leads: &Leads) -> Vec<Path> {
    let radius_m = |turn: &Turn| {
        let side = &joint.sides[usize::from(turn.axial.mm() > 0.0)];
        0.5e-3 * side.outside_diameter.mm() + 1e-3 * turn.standoff.mm() + 0.5 * cable_diameter_m
    };
    let mut paths: Vec<Path> = coil
        .turns
        .iter()
        .map(|turn| Path::turn(radius_m(turn), 1e-3 * turn.axial.mm()))
        .collect();
    let reach_m = coil.turns.iter().map(radius_m).fold(0.0, f64::max);
    let half_m = 0.5e-3 * leads.spacing.mm();
    let end_m = reach_m + 1e-3 * leads.length.mm();
    let lead = |z_m: f64, starts_m: f64, ends_m: f64| Path {
        corners_m: vec![[starts_m, 0.0, z_m], [ends_m, 0.0, z_m]],
    };
    if half_m > 0.0 {
        paths.extend([lead(half_m, reach_m, end_m), lead(-half_m, end_m, reach_m)]);
    }
    paths
}

/// Flux density in T of all paths together at a distance along a line.
pub fn tesla_on(paths: &[Path], (from, along): Line, current_a: f64, distance_m: f64) -> f64 {
    let at = plus(from, along.map(|part| part * distance_m));
    let field = paths.iter().map(|path| path.field_t(at, current_a));
    size(field.fold([0.0; 3], plus))
}

/// The distances in m along a line beyond which the flux density of the paths stays below each level in T; the levels
/// ascend.
pub fn distances_m(paths: &[Path], line: Line, current_a: f64, levels_t: &[f64]) -> Vec<f64> {
    let tesla = |distance_m: f64| tesla_on(paths, line, current_a, distance_m);
    distances_at_m(tesla, levels_t)
}

/// The places at which a field is looked at, in m, the farthest first.
pub fn places_m() -> impl Iterator<Item = f64> {
    let step = |before: &f64| Some(before * STEP);
    std::iter::successors(Some(FARTHEST_M), step).take_while(|m| *m > NEAREST_M * STEP)
}

/// The distances in m beyond which a field in T over the distance stays below each level in T; the levels ascend.
pub fn distances_at_m(tesla: impl Fn(f64) -> f64, levels_t: &[f64]) -> Vec<f64> {
    // One walk from far off towards the coil: a higher level is passed no earlier than a lower one.
    let mut far_m = FARTHEST_M;
    let mut there_t = tesla(far_m);
    let mut first_passed = |level_t: f64| {
        while far_m > NEAREST_M && there_t < level_t {
            far_m *= STEP;
            there_t = tesla(far_m);
        }
        far_m
    };
    levels_t
        .iter()
        .map(|level_t| {
            let inside_m = first_passed(*level_t);
            between(inside_m, inside_m / STEP, |m| tesla(m) < *level_t)
        })
        .collect()
}

/// The end of an interval at which the answer turns to yes, from a no at its near end.
fn between(mut near: f64, mut far: f64, is_beyond: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (near + far);
        if is_beyond(middle) {
            far = middle;
        } else {
            near = middle;
        }
    }
    far
}

/// A step of five percent halved so often is known to a millionth.
const HALVINGS: usize = 16;
/// Nobody asks beyond this.
const FARTHEST_M: f64 = 100.0;
/// Nearer than this to a cable the answer is: not here.
const NEAREST_M: f64 = 0.01;
/// From one distance to the next nearer one.
const STEP: f64 = 0.95;

fn plus(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

fn minus(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn size(a: Vector) -> f64 {
    libm::sqrt(dot(a, a))
}

#[cfg(test)]
mod tests {
    use super::{MU_0, Path, distances_m};
    use std::f64::consts::PI;

    #[test]
    fn a_turn_has_the_field_of_a_circle_on_its_axis() {
        // Jackson, Classical Electrodynamics, 5.5: B = µ0·I·a²/(2·(a² + z²)^1.5).
        let turn = Path::turn(0.3, 0.0);
        for z_m in [0.0, 0.2, 1.0, 3.0] {
            let wanted = MU_0 * 200.0 * 0.09 / (2.0 * (0.09f64 + z_m * z_m).powf(1.5));
            let found = turn.field_t([0.0, 0.0, z_m], 200.0)[2];
            // A polygon of 72 sides lies within two parts in a thousand of the circle.
            assert!(
                (found / wanted - 1.0).abs() < 2e-3,
                "{z_m}: {found} {wanted}"
            );
        }
    }

    #[test]
    fn far_off_in_its_plane_a_turn_is_a_dipole() {
        let turn = Path::turn(0.3, 0.0);
        let wanted = MU_0 * 200.0 * 0.09 * PI / (4.0 * PI * 27.0);
        let found = turn.field_t([3.0, 0.0, 0.0], 200.0)[2];
        // The next term of the series is 9/8·(a/r)², one percent.
        assert!((-found / wanted - 1.0).abs() < 0.02, "{found} {wanted}");
    }

    #[test]
    fn two_leads_have_the_field_of_a_line() {
        // µ0·I·s/(2π·d²) for a distance d much more than the spacing s.
        let there = Path {
            corners_m: vec![[-50.0, 0.0, 0.01], [50.0, 0.0, 0.01]],
        };
        let back = Path {
            corners_m: vec![[50.0, 0.0, -0.01], [-50.0, 0.0, -0.01]],
        };
        let at = [0.0, 1.0, 0.0];
        let found: f64 = [there, back]
            .iter()
            .map(|path| path.field_t(at, 300.0)[1])
            .sum();
        let wanted = MU_0 * 300.0 * 0.02 / (2.0 * PI);
        assert!(
            (found.abs() / wanted - 1.0).abs() < 1e-3,
            "{found} {wanted}"
        );
    }

    #[test]
    fn the_distance_is_where_the_level_is_passed_and_grows_with_the_current() {
        let turns = [Path::turn(0.3, -0.05), Path::turn(0.3, 0.05)];
        let axis = ([0.0, 0.0, 0.0], [0.0, 0.0, 1.0]);
        let at = |current_a: f64| distances_m(&turns, axis, current_a, &[27e-6, 100e-6])[1];
        let found_m = at(200.0);
        let field: f64 = turns
            .iter()
            .map(|turn| turn.field_t([0.0, 0.0, found_m], 200.0)[2])
            .sum();
        // The field falls with the third power at most, and the distance is known to a millionth.
        assert!((field / 100e-6 - 1.0).abs() < 1e-5, "{field}");
        assert!(at(400.0) > found_m);
        let [public_m, workers_m] = distances_m(&turns, axis, 200.0, &[27e-6, 100e-6])[..] else {
            panic!("two levels, two distances");
        };
        assert!(public_m > workers_m && workers_m == found_m);
    }
}
