//! Radii along one side of the joint: its own, and bent so that two sides meet.

use quantity::Millimeters;

use super::SAME_M;
use crate::setup::Side;

/// Radii of one side over the distance from the weld: points (distance, radius) in m, straight between them.
#[derive(Clone, Debug)]
pub(super) struct Contour {
    pub outside: Vec<(f64, f64)>,
    pub bore: Vec<(f64, f64)>,
}

pub(super) fn own_contour(side: &Side) -> Contour {
    let radii =
        |outside: Millimeters, wall: Millimeters| (0.5 * outside.m(), 0.5 * outside.m() - wall.m());
    let (outside_m, bore_m) = radii(side.outside_diameter, side.wall);
    let Some(transition) = side.transition else {
        return Contour {
            outside: vec![(0.0, outside_m)],
            bore: vec![(0.0, bore_m)],
        };
    };
    let (weld_outside_m, weld_bore_m) = radii(transition.outside_diameter, transition.wall);
    let from_m = transition.straight.m();
    let to_m = from_m + transition.length.m().max(SAME_M);
    let shape = |weld_m: f64, pipe_m: f64| match (weld_m - pipe_m).abs() < SAME_M {
        true => vec![(0.0, pipe_m)],
        false => vec![(0.0, weld_m), (from_m, weld_m), (to_m, pipe_m)],
    };
    Contour {
        outside: shape(weld_outside_m, outside_m),
        bore: shape(weld_bore_m, bore_m),
    }
}

/// Bends a contour so that it starts at the common radius and rises (or falls) no steeper than `slope`.
pub(super) fn meet(
    own: &[(f64, f64)],
    common_m: f64,
    slope: f64,
    pick: fn(f64, f64) -> f64,
) -> Vec<(f64, f64)> {
    if (own[0].1 - common_m).abs() < SAME_M {
        return own.to_vec();
    }
    let ramp = |z: f64| common_m + slope * z;
    let last = own[own.len() - 1];
    let end_m = last.0.max((last.1 - common_m) / slope) + SAME_M;
    let mut stops: Vec<f64> = own.iter().map(|p| p.0).collect();
    let ends = own.iter().copied().chain([(end_m, last.1)]);
    for ((z0, r0), (z1, r1)) in own.iter().copied().zip(ends.skip(1)) {
        let (before, after) = (r0 - ramp(z0), r1 - ramp(z1));
        if before * after < 0.0 {
            stops.push(z0 + (z1 - z0) * before / (before - after));
        }
    }
    stops.sort_by(f64::total_cmp);
    stops.dedup_by(|a, b| (*a - *b).abs() < SAME_M);
    stops
        .into_iter()
        .map(|z| (z, pick(at(own, z), ramp(z))))
        .collect()
}

/// The radius of a contour at a distance from the weld; the last one holds beyond.
pub(super) fn at(contour: &[(f64, f64)], distance_m: f64) -> f64 {
    let after = contour.partition_point(|p| p.0 <= distance_m);
    let (z0, r0) = contour[after.saturating_sub(1)];
    contour.get(after).map_or(r0, |&(z1, r1)| {
        r0 + (r1 - r0) * (distance_m - z0) / (z1 - z0)
    })
}
