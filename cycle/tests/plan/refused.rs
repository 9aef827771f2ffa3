//! What does not fit is refused, with both numbers where there are two.

use std::ops::ControlFlow;

use cycle::error::CycleError;
use cycle::plan::plan;
use cycle::setup::Setup;
use quantity::Celsius;
use rules::thermocouple::Role;

use crate::setups::{coil, mm, small};

fn refusal(setup: &Setup) -> String {
    plan(setup, &mut |_| ControlFlow::Continue(()))
        .expect_err("refused")
        .to_string()
}

#[test]
fn a_set_point_outside_the_hold_range() {
    let mut setup = small();
    setup.programme.set_point = Celsius::from_c(660.0);
    let said = refusal(&setup);
    assert!(said.contains("660") && said.contains("650"), "{said}");
}

#[test]
fn no_control_thermocouple() {
    let mut setup = small();
    setup
        .thermocouples
        .iter_mut()
        .for_each(|t| t.role = Role::Monitor);
    assert!(matches!(
        plan(&setup, &mut |_| ControlFlow::Continue(())),
        Err(CycleError::NoControl)
    ));
}

#[test]
fn turns_that_overlap_or_lie_beyond_the_pipe() {
    let mut setup = small();
    setup.coil = Some(coil(6, 20.0, 38.0));
    let said = refusal(&setup);
    assert!(said.contains("20") && said.contains("25"), "{said}");
    setup.coil = Some(coil(3, 2000.0, 38.0));
    let said = refusal(&setup);
    assert!(said.contains("place of a turn"), "{said}");
    setup.coil = Some(coil(0, 40.0, 38.0));
    assert!(refusal(&setup).contains("number of turns"));
}

#[test]
fn a_frequency_that_the_source_does_not_have() {
    let mut setup = small();
    setup.source.working_frequency_hz = Some(50_000.0);
    let said = refusal(&setup);
    assert!(said.contains("50000") && said.contains("30000"), "{said}");
}

#[test]
fn a_pipe_shorter_than_its_soak_band() {
    let mut setup = small();
    setup.joint.sides[0].length = mm(15.0);
    assert!(refusal(&setup).contains("15"));
}

#[test]
fn numbers_that_are_none() {
    let mut setup = small();
    setup.surroundings.wind_m_s = f64::NAN;
    assert!(refusal(&setup).contains("wind"));
}
