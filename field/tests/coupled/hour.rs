//! An hour of heating through the Curie point.

use field::coupled::{Demand, Settings};

use crate::pipe::Pipe;

/// What two independent codes leave open: the reference was converged to 2 K, ours to less than 1 K.
const WITHIN_K: f64 = 3.0;

/// The reference case `d1-open`: an independent calculation with finite volumes for heat and another code for the
/// field. Rows: time in s, then temperatures in C at (outer, 0), (outer, 0.1 m), (inner, 0), (inner, 0.1 m).
const REFERENCE: [(f64, [f64; 4]); 6] = [
    (60.0, [95.112, 41.931, 82.214, 39.327]),
    (300.0, [302.135, 144.792, 284.696, 141.452]),
    (600.0, [503.524, 269.871, 481.957, 265.867]),
    (1200.0, [724.537, 446.739, 707.043, 442.984]),
    (1800.0, [747.897, 528.440, 739.829, 525.098]),
    (3600.0, [753.453, 605.514, 750.311, 602.527]),
];

#[test]
fn an_hour_as_another_code_sees_it() {
    let pipe = Pipe::d1();
    let mut run = pipe.run(Settings::fine(), 20.0);
    let places = [
        [pipe.outer_m, 0.0],
        [pipe.outer_m, 0.1],
        [pipe.inner_m, 0.0],
        [pipe.inner_m, 0.1],
    ];
    let (mut left_over_j, mut stored_j) = (0.0, 0.0);
    for (time_s, expected) in REFERENCE {
        run.walk(time_s, Demand::Current(300.0), |_, step| {
            left_over_j += step.energy.error_j;
            stored_j += step.energy.stored_j;
        })
        .expect("it converges");
        for (place, expected_c) in places.iter().zip(expected) {
            let found_c = run.temperature_c(&pipe.probe(*place));
            let off_k = (found_c - expected_c).abs();
            assert!(
                off_k < WITHIN_K,
                "{found_c} C at {place:?} after {time_s} s, reference {expected_c} C"
            );
        }
    }
    assert!(
        (left_over_j / stored_j).abs() < 1e-3,
        "balance of heat: {left_over_j} J of {stored_j} J"
    );
    for field in run.fields() {
        assert!(
            field.residual < 1e-10 && field.imbalance < 1e-6,
            "{field:?}"
        );
        let foreseen_w = field.foreseen_w.unwrap_or(field.power_w);
        assert!(
            (foreseen_w / field.power_w - 1.0).abs() < 0.05,
            "foreseen too far off: {field:?}"
        );
    }
    let effort = run.effort();
    assert!(
        effort.updates < 70 && effort.field_solves < 150,
        "{effort:?}"
    );
    assert!(
        effort.heat.steps < 140 && effort.heat.iterations < 900,
        "{effort:?}"
    );
}
