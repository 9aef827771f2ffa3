//! A proposed coil suits joint, trade and source.

use std::ops::ControlFlow;

use cycle::plan::plan;
use cycle::practice::practice;
use cycle::propose::propose;
use cycle::setup::Setup;

use crate::setups::{side, small};

fn free(mut setup: Setup) -> Setup {
    setup.coil = None;
    setup.source.working_frequency_hz = None;
    setup
}

#[test]
fn a_proposal_keeps_to_the_habits_of_the_trade_and_to_the_hold_range() {
    let setup = free(small());
    let proposal = propose(&setup, practice(), &mut |_| ControlFlow::Continue(())).expect("a coil");
    let places: Vec<f64> = proposal
        .coil
        .turns
        .iter()
        .map(|turn| turn.axial.mm())
        .collect();
    for pair in places.windows(2) {
        assert!((25.0..=61.0).contains(&(pair[1] - pair[0])), "{places:?}");
    }
    assert!(
        proposal
            .coil
            .turns
            .iter()
            .all(|turn| turn.standoff == setup.blanket.thickness)
    );
    let [low, high] = setup.source.frequency_range_hz;
    assert!((low..=high).contains(&proposal.frequency_hz));
    let last = proposal.trials.last().expect("trials");
    assert!(last.coldest_c.expect("tried at rest") > 595.0);
    assert!(last.hottest_c.expect("tried at rest") < 650.0);
    assert!(!proposal.reason.is_empty());
}

#[test]
fn a_plan_with_a_proposed_coil_runs_and_has_enough() {
    let setup = free(small());
    let mut parts = Vec::new();
    let plan = plan(&setup, &mut |progress| {
        parts.push(progress.part);
        ControlFlow::Continue(())
    })
    .expect("a plan");
    assert!(plan.outcome.source.enough);
    assert!(plan.proposal.is_some());
    assert!(parts.windows(2).all(|pair| pair[0] <= pair[1] + 1e-12));
    assert!(parts.iter().all(|part| (0.0..=1.0).contains(part)));
}

#[test]
fn the_coil_moves_towards_the_thicker_side() {
    let mut setup = free(small());
    setup.joint.sides[1] = side(219.1, 30.0, "carbon steel");
    let proposal = propose(&setup, practice(), &mut |_| ControlFlow::Continue(())).expect("a coil");
    let turns = &proposal.coil.turns;
    let middle_mm = turns.iter().map(|turn| turn.axial.mm()).sum::<f64>() / turns.len() as f64;
    assert!(middle_mm > 5.0, "{middle_mm}");
}

#[test]
fn fewer_volts_mean_fewer_turns_or_a_lower_frequency() {
    let load = |setup: &Setup| {
        let proposal =
            propose(setup, practice(), &mut |_| ControlFlow::Continue(())).expect("a coil");
        let turns = proposal.coil.turns.len() as f64;
        turns * turns * proposal.frequency_hz
    };
    let able = free(small());
    let mut low = free(small());
    low.source.voltage_rms_v = 100.0;
    low.source.current_rms_a = 900.0;
    assert!(load(&low) <= load(&able));
}

#[test]
fn a_given_coil_is_kept_and_gets_a_frequency() {
    let mut setup = small();
    setup.source.working_frequency_hz = None;
    let proposal =
        propose(&setup, practice(), &mut |_| ControlFlow::Continue(())).expect("a frequency");
    assert_eq!(Some(&proposal.coil), setup.coil.as_ref());
    // One true sentence: of turns that were given nothing is said to have been proposed but the frequency.
    assert!(proposal.reason.contains("turns are those of the job"));
    assert!(!proposal.reason.contains("proposed"), "{}", proposal.reason);
    assert!(proposal.reason.contains("before the cycle was computed"));
}
