//! What the coarse steps and mesh of a plan cost.

use cycle::plan::Accuracy;
use cycle::setup::Setup;
use rules::thermocouple::Place;

use crate::setups::{channel, run, run_at, small, through_the_curie_point};

/// A plan may differ by this from a run with twice the unknowns, steps a quarter as long and fields three times as often,
/// in K, at any scan: in the soak band less than a thermocouple of the trade is good for; at the edge of the heated band,
/// where temperature falls steeply, somewhat more.
const SOAK_BAND_K: f64 = 1.0;
const HEATED_BAND_EDGE_K: f64 = 3.0;

fn compare(setup: &Setup) {
    let (coarse, fine) = (run(setup), run_at(setup, &Accuracy::fine()));
    for thermocouple in &setup.thermocouples {
        let name = &thermocouple.name;
        let allowed_k = match thermocouple.place {
            Place::SoakBand => SOAK_BAND_K,
            _ => HEATED_BAND_EDGE_K,
        };
        let (one, other) = (channel(&coarse, name), channel(&fine, name));
        let apart_k = one
            .iter()
            .zip(&other)
            .map(|(a, b)| (a - b).abs())
            .fold(0.0, f64::max);
        assert!(apart_k < allowed_k, "{name}: {apart_k} K");
    }
    let energy = coarse.energy.source_kwh / fine.energy.source_kwh;
    assert!((energy - 1.0).abs() < 0.02, "{energy}");
}

#[test]
fn a_plan_is_near_a_fine_run() {
    compare(&small());
}

#[test]
fn a_plan_through_the_curie_point_is_near_a_fine_run() {
    compare(&through_the_curie_point());
}
