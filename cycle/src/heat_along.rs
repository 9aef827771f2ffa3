//! Where along the pipe the heat of the coil arises.

use std::collections::BTreeMap;

use field::eddy::Solution;

use crate::prepare::Prepared;

/// Heat is told in stretches of this length, in m: our choice, a fraction of the width of a cable.
const STRETCH_M: f64 = 0.01;

/// The heat that the currents set free in the metal up to a place, in W, at equal steps along the pipe in mm from the weld
/// center; the last is `power_w`.
pub fn heat_up_to(prepared: &Prepared, solution: &Solution, power_w: f64) -> Vec<(f64, f64)> {
    let mut stretches = BTreeMap::<i64, f64>::new();
    for body in 0..prepared.joint.polygons.len() {
        for point in solution.points(&prepared.problem, body) {
            let stretch = (point.place_m[1] / STRETCH_M).floor() as i64;
            *stretches.entry(stretch).or_default() += point.volume_m3 * point.loss_w_m3;
        }
    }
    // The field may be of a state a little before the one at rest: its shape holds, its amount follows.
    let found_w: f64 = stretches.values().sum();
    let scale = power_w / found_w.max(f64::MIN_POSITIVE);
    let edge_mm = |stretch: i64| 1e3 * STRETCH_M * stretch as f64;
    let first = stretches.keys().next().map(|&first| (edge_mm(first), 0.0));
    let mut up_to_w = 0.0;
    let steps = stretches.into_iter().map(|(stretch, heat_w)| {
        up_to_w += scale * heat_w;
        (edge_mm(stretch + 1), up_to_w)
    });
    first.into_iter().chain(steps).collect()
}
