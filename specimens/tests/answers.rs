//! Known answers, worked out by hand from the corners of the lines.

use specimens::{Expected, Situation, situations};

/// Rounding of sums of hours and degrees.
const EXACT: f64 = 1e-6;

fn named(name: &str) -> Situation {
    situations::named(name).expect("a situation")
}

fn near(value: f64, expected: f64) {
    assert!(
        (value - expected).abs() < EXACT,
        "{value} instead of {expected}"
    );
}

#[test]
fn a_straight_cycle() {
    let answer = named("straight").answer();
    // The coldest lies 2 K below: 18 K at 100 K/h before 6 h, 18 K at 120 K/h after 8.5 h.
    near(answer.hold_longest_h, 2.5 + 0.18 + 0.15);
    near(answer.hold_total_h, answer.hold_longest_h);
    near(answer.peak_c, 623.0);
    near(answer.heating.gain_k_h, 100.0);
    near(answer.cooling.least_squares_k_h, 120.0);
    near(answer.spread_k.expect("a hold"), 5.0);
}

#[test]
fn dips_take_from_the_total_and_cut_the_run() {
    let answer = named("dip-2-min").answer();
    // 18 K of 35 K are above the limit, on both flanks of a minute.
    let out_h = 2.0 * (1.0 - 18.0 / 35.0) / 60.0;
    near(answer.hold_total_h, 2.83 - out_h);
    near(answer.hold_longest_h, 0.18 + 1.25 + (18.0 / 35.0) / 60.0);
    assert_eq!(named("dip-2-min").expected().hold_time, Expected::NotMet);
}

#[test]
fn silence_counts_for_nothing_and_breaks_the_run() {
    let answer = named("gap-30-min-in-hold").answer();
    near(answer.hold_total_h, 2.83 - 0.5);
    near(answer.hold_longest_h, 0.18 + 1.25);
    near(answer.hold_longest_bridged_h, 2.83);
    let expected = named("gap-30-min-in-hold").expected();
    assert_eq!(expected.hold_time, Expected::NeverMet);
    assert_eq!(expected.hold_high, Expected::NeverBroken);
}

#[test]
fn a_burst_is_judged_apart_by_gain_and_by_slope() {
    let situation = named("burst-in-slow-hour");
    let heating = situation.answer().heating;
    near(heating.gain_k_h, 45.0 + 82.5 + 0.0);
    assert!(heating.least_squares_k_h > 150.0, "{heating:?}");
    assert_eq!(situation.expected().heating, Expected::Either);
}

#[test]
fn a_failed_thermocouple_takes_nothing_from_the_others() {
    for name in [
        "open-in-hold",
        "detached",
        "reversed",
        "noisy",
        "stuck-in-ramp",
    ] {
        let situation = named(name);
        near(situation.answer().hold_longest_h, 2.5 + 0.2 + 20.0 / 120.0);
        assert_eq!(situation.expected().hold_time, Expected::Met, "{name}");
    }
}

#[test]
fn a_recording_repeats_itself_and_stays_near_the_truth() {
    for situation in situations::all() {
        let recording = situation.record();
        assert_eq!(recording, situation.record(), "{}", situation.name);
        assert!(
            recording
                .rows
                .windows(2)
                .all(|w| w[0].elapsed_s < w[1].elapsed_s)
        );
        let sound = situation
            .channels
            .iter()
            .enumerate()
            .filter(|c| c.1.faults.is_empty());
        for (index, channel) in sound {
            for row in &recording.rows {
                let specimens::Shown::Tenths(tenths) = row.shown[index] else {
                    panic!("{}: silent", situation.name)
                };
                let true_c = channel.metal.at(row.elapsed_s as f64 / 3600.0);
                // Six standard deviations are the most that a sum of twelve even draws can be; half a step more.
                let most = 6.0 * situation.logging.deviation_k
                    + f64::from(situation.logging.step_tenths) / 20.0;
                let off = (f64::from(tenths) / 10.0 - true_c).abs();
                assert!(
                    off <= most + EXACT,
                    "{}: {off} K off at {} s",
                    situation.name,
                    row.elapsed_s
                );
            }
        }
    }
}

#[test]
fn names_are_unlike_each_other() {
    let mut names: Vec<&str> = situations::all().iter().map(|s| s.name).collect();
    let count = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), count);
    assert!(count >= 30, "{count}");
}
