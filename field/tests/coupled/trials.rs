//! Trials, controllers, and changes on the way.

use field::coupled::{Demand, Run, Settings, Trial};
use field::heat::Probe;

use crate::pipe::{FREQUENCY_HZ, Pipe};

#[test]
fn a_trial_changes_nothing_until_it_is_kept() {
    let pipe = Pipe::small();
    let mut run = pipe.run(Settings::fine(), 20.0);
    let before = run.state().clone();
    let weak = run.trial(5.0, 100.0).expect("it converges");
    let strong = run.trial(weak.step.step_s, 120.0).expect("it converges");
    assert_eq!(*run.state(), before);
    let again = run.trial(weak.step.step_s, 100.0).expect("it converges");
    let probe = pipe.probe([pipe.outer_m, 0.0]);
    let at_end = |trial: &Trial| probe.temperature_c(&trial.step.state);
    assert!(at_end(&strong) > at_end(&weak));
    assert!((at_end(&again) - at_end(&weak)).abs() < 0.05 * Settings::fine().steps.tolerance_k);
    let report = run.commit(strong);
    assert_eq!(run.time_s(), report.time_s);
    assert_eq!(report.current_a, 120.0);
}

/// The current that takes a point to a temperature at the end of a step, by the secant rule on its square.
fn steer(
    run: &mut Run,
    probe: &Probe,
    limit_s: f64,
    first_a: f64,
    wanted: impl Fn(f64) -> f64,
) -> (Trial, f64) {
    let (mut square, mut limit_s, mut last) = (first_a * first_a, limit_s, None);
    for _ in 0..12 {
        let trial = run.trial(limit_s, square.sqrt()).expect("it converges");
        limit_s = trial.step.step_s;
        let excess_k = probe.temperature_c(&trial.step.state) - wanted(run.time_s() + limit_s);
        if excess_k.abs() < 0.3 {
            return (trial, excess_k);
        }
        let next = match last {
            Some((x, excess)) => square - excess_k * (square - x) / (excess_k - excess),
            None => square * if excess_k < 0.0 { 1.3 } else { 0.7 },
        };
        last = Some((square, excess_k));
        square = next.clamp(0.25 * square, 4.0 * square);
    }
    panic!("no current found at {} s", run.time_s());
}

/// A ramp of an hour at 600 K/h, as an ideal controller drives it.
#[test]
fn a_point_follows_a_ramp() {
    let pipe = Pipe::d1();
    let mut run = pipe.run(Settings::quick(), 20.0);
    let probe = pipe.probe([pipe.outer_m, 0.0]);
    let mut current_a = 150.0;
    while run.time_s() < 3600.0 {
        let limit_s = (3600.0 - run.time_s()).min(300.0);
        let (trial, excess_k) = steer(&mut run, &probe, limit_s, current_a, |time_s| {
            20.0 + time_s / 6.0
        });
        current_a = trial.current_a;
        run.commit(trial);
        assert!(excess_k.abs() < 0.3);
    }
    let effort = run.effort();
    assert!(effort.heat.steps < 80 && effort.updates < 40, "{effort:?}");
}

#[test]
fn without_current_the_work_cools_and_warms_again() {
    let pipe = Pipe::small();
    let mut run = pipe.run(Settings::fine(), 20.0);
    let probe = pipe.probe([pipe.outer_m, 0.0]);
    run.walk(60.0, Demand::Current(400.0), |_, _| {})
        .expect("it converges");
    let hot_c = run.temperature_c(&probe);
    let solved = run.effort().updates;
    run.walk(120.0, Demand::Current(0.0), |run, step| {
        assert_eq!((step.power_w, run.power_w(0.0)), (0.0, 0.0));
    })
    .expect("it converges");
    assert_eq!(
        run.effort().updates,
        solved,
        "no field is needed without a current"
    );
    let cold_c = run.temperature_c(&probe);
    assert!(cold_c < hot_c - 20.0, "{hot_c} C fell to {cold_c} C only");
    run.walk(180.0, Demand::Current(400.0), |_, _| {})
        .expect("it converges");
    assert!(run.temperature_c(&probe) > cold_c + 20.0);
}

#[test]
fn another_frequency_is_another_field() {
    let pipe = Pipe::small();
    let mut run = pipe.run(Settings::fine(), 20.0);
    let first = run
        .advance(0.5, Demand::Current(100.0))
        .expect("it converges");
    let before = run.impedance_ohm(0, 100.0).expect("solved");
    run.set_frequency_hz(2.0 * FREQUENCY_HZ);
    let second = run
        .advance(0.5, Demand::Current(100.0))
        .expect("it converges");
    let after = run.impedance_ohm(0, 100.0).expect("solved");
    assert_eq!(run.effort().updates, 2);
    assert!(
        second.power_w > 1.2 * first.power_w,
        "{first:?}, then {second:?}"
    );
    assert!(after.im > 1.5 * before.im);
}

#[test]
fn a_demanded_power_is_what_the_work_takes_up() {
    let pipe = Pipe::small();
    let mut run = pipe.run(Settings::fine(), 20.0);
    run.walk(30.0, Demand::Power(400.0), |_, step| {
        assert!((step.power_w / 400.0 - 1.0).abs() < 0.05, "{step:?}");
    })
    .expect("it converges");
    let square = run
        .fields()
        .last()
        .map(|field| field.current_a.powi(2))
        .expect("solved");
    let resistance_ohm = run.impedance_ohm(0, square.sqrt()).expect("solved").re;
    let by_circuit_w = 0.5 * square * resistance_ohm;
    assert!((by_circuit_w / run.power_w(square.sqrt()) - 1.0).abs() < 1e-9);
}
