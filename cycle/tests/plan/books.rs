//! Nothing is lost: heat, energy, times and scans add up.

use cycle::outcome::Stage;

use crate::setups::{mm, run, small, small_plan};

/// Heat that the solver cannot account for, in percent of what was put in: far below any property's uncertainty.
const UNACCOUNTED_PERCENT: f64 = 0.1;

#[test]
fn heat_put_in_is_given_off_or_stored() {
    let outcome = small_plan();
    let energy = outcome.energy;
    assert!(outcome.effort.energy_error_percent < UNACCOUNTED_PERCENT);
    let left_kwh = energy.metal_kwh - energy.given_off_kwh - energy.stored_kwh;
    assert!(left_kwh.abs() < 1e-3 * UNACCOUNTED_PERCENT * 10.0 * energy.metal_kwh);
    let parts_kwh = energy.metal_kwh + energy.coil_kwh + energy.leads_kwh;
    assert!((parts_kwh / energy.source_kwh - 1.0).abs() < 1e-9);
    assert!(energy.given_off_kwh > 0.0 && energy.stored_kwh > 0.0);
}

#[test]
fn every_field_is_solved_soundly() {
    let effort = small_plan().effort;
    assert!(effort.worst_residual < 1e-10, "{effort:?}");
    assert!(effort.worst_balance < 1e-6, "{effort:?}");
    // What the heat did between two fields was foreseen within a few percent.
    assert!(effort.worst_prediction_percent < 10.0, "{effort:?}");
}

#[test]
fn scans_come_at_the_interval_of_the_recorder_with_every_channel() {
    let setup = small();
    let outcome = small_plan();
    let end_s = outcome.history.last().expect("history").time_s;
    assert_eq!(outcome.scans.len(), (end_s / 60.0).floor() as usize + 1);
    for (number, scan) in outcome.scans.iter().enumerate() {
        assert_eq!(scan.elapsed.as_secs(), 60 * number as u64);
        assert_eq!(scan.readings.len(), setup.thermocouples.len());
    }
}

#[test]
fn stages_follow_each_other_without_gaps() {
    let outcome = small_plan();
    let stages: Vec<Stage> = outcome.stages.iter().map(|span| span.stage).collect();
    assert_eq!(
        stages,
        [
            Stage::FreeHeating,
            Stage::Heating,
            Stage::Hold,
            Stage::Cooling
        ]
    );
    for pair in outcome.stages.windows(2) {
        assert_eq!(pair[0].to_s, pair[1].from_s);
    }
    let hold = outcome.stages[2];
    // A quarter of an hour is required, and the margin of the trade's numbers is added.
    assert!(hold.to_s - hold.from_s >= 900.0 + 60.0 * 6.0 - 1.0);
}

#[test]
fn leads_lose_by_their_resistance_and_twice_the_length_loses_twice() {
    let short = small_plan();
    let mut longer = small();
    longer.leads.length = mm(10_000.0);
    let long = run(&longer);
    let ratio = long.energy.leads_kwh / short.energy.leads_kwh;
    assert!((ratio - 2.0).abs() < 0.02, "{ratio}");
    let ohm = short.circuit[1].leads_resistance_ohm;
    let mut before_s = 0.0;
    let mut kwh = 0.0;
    for moment in &short.history {
        kwh += moment.current_rms_a.powi(2) * ohm * (moment.time_s - before_s) / 3.6e6;
        before_s = moment.time_s;
    }
    assert!((kwh / short.energy.leads_kwh - 1.0).abs() < 1e-9);
}

#[test]
fn the_same_setup_gives_the_same_plan_to_the_last_bit() {
    let (one, other) = (small_plan(), run(&small()));
    assert_eq!(one.scans, other.scans);
}
