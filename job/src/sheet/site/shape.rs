//! The outlines of the joint, in mm along the pipe and mm from the axis.

use cycle::setup::{Joint, Side};
use quantity::Millimeters;

/// Distances from the weld center, on one side, at which the dimensions change, with outside diameter and wall.
fn corners(side: &Side) -> Vec<(f64, f64, f64)> {
    let pipe = (side.outside_diameter.mm(), side.wall.mm());
    match &side.transition {
        None => vec![(0.0, pipe.0, pipe.1)],
        Some(transition) => {
            let end = (transition.outside_diameter.mm(), transition.wall.mm());
            let straight = transition.straight.mm();
            vec![
                (0.0, end.0, end.1),
                (straight, end.0, end.1),
                (straight + transition.length.mm(), pipe.0, pipe.1),
            ]
        }
    }
}

/// Outside diameter and wall at a distance along the pipe, in mm.
pub(super) fn at(joint: &Joint, axial_mm: f64) -> (f64, f64) {
    let side = &joint.sides[usize::from(axial_mm >= 0.0)];
    let places = corners(side);
    let away = axial_mm.abs();
    for pair in places.windows(2) {
        let ((from, d0, w0), (to, d1, w1)) = (pair[0], pair[1]);
        if away <= to {
            let share = ((away - from) / (to - from).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
            return (d0 + (d1 - d0) * share, w0 + (w1 - w0) * share);
        }
    }
    let last = places[places.len() - 1];
    (last.1, last.2)
}

/// Outside diameter at a distance along the pipe.
pub(super) fn diameter_at(joint: &Joint, axial: Millimeters) -> Millimeters {
    Millimeters::from_mm(at(joint, axial.mm()).0)
}

/// Places along the pipe, within a reach on each side in mm, at which the outline has a corner; ascending.
pub(super) fn places_mm(joint: &Joint, left_mm: f64, right_mm: f64) -> Vec<f64> {
    let mut places = vec![left_mm, right_mm, -1e-6, 1e-6];
    for (side, sign) in joint.sides.iter().zip([-1.0, 1.0]) {
        places.extend(corners(side).iter().skip(1).map(|corner| sign * corner.0));
    }
    places.retain(|x| (left_mm..=right_mm).contains(x));
    places.sort_by(f64::total_cmp);
    places
}
