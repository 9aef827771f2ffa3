//! Which way things go: what every supervisor knows.

use cycle::outcome::{Outcome, Stage};
use cycle::setup::BoreEnd;
use rules::weld::Orientation;

use crate::setups::{channel, coil, mm, run, side, small, small_plan};

fn hold_power_w(outcome: &Outcome) -> f64 {
    let hold = outcome
        .history
        .iter()
        .rev()
        .find(|m| m.stage == Stage::Hold);
    hold.expect("a hold").metal_power_w
}

#[test]
fn a_symmetrical_joint_has_a_symmetrical_plan() {
    let outcome = small_plan();
    let (left, right) = (channel(outcome, "TC2"), channel(outcome, "TC3"));
    let apart_k = left
        .iter()
        .zip(&right)
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f64::max);
    // The mesh of the air is not symmetrical; nothing else may tell the sides apart.
    assert!(apart_k < 0.3, "{apart_k}");
}

#[test]
fn a_thicker_blanket_takes_less_power_to_hold() {
    let with_blanket = |thickness_mm: f64| {
        let mut setup = small();
        setup.blanket.thickness = mm(thickness_mm);
        // The coil stays where it is: farther out it would heat a wider zone.
        setup.coil = Some(coil(6, 40.0, 76.0));
        hold_power_w(&run(&setup))
    };
    let (thin, usual, thick) = (with_blanket(19.0), with_blanket(38.0), with_blanket(76.0));
    assert!(thin > usual && usual > thick, "{thin} {usual} {thick}");
}

#[test]
fn an_open_bore_takes_more_power_than_a_plugged_one() {
    let with_ends = |end: BoreEnd| {
        let mut setup = small();
        setup
            .joint
            .sides
            .iter_mut()
            .for_each(|side| side.bore_end = end);
        run(&setup)
    };
    let (open, plugged) = (with_ends(BoreEnd::Open), with_ends(BoreEnd::Plugged));
    assert!(hold_power_w(&open) > hold_power_w(&plugged));
    assert!(open.surface_to_bore.hold.difference_k > plugged.surface_to_bore.hold.difference_k);
}

#[test]
fn wind_costs_power_and_a_standing_pipe_is_a_plan_too() {
    let still = small_plan();
    let mut windy = small();
    windy.surroundings.wind_m_s = 8.0;
    assert!(hold_power_w(&run(&windy)) > hold_power_w(still));
    let mut standing = small();
    standing.joint.orientation = Orientation::Vertical;
    let ratio = hold_power_w(&run(&standing)) / hold_power_w(still);
    assert!((0.9..1.1).contains(&ratio), "{ratio}");
}

#[test]
fn the_thicker_side_stays_behind() {
    let mut setup = small();
    setup.joint.sides[1] = side(219.1, 30.0, "carbon steel");
    let outcome = run(&setup);
    let (thin, thick) = (channel(&outcome, "TC2"), channel(&outcome, "TC3"));
    let middle = thin.len() / 3;
    assert!(thin[middle] > thick[middle] + 1.0);
    // No transition was given: the taper that was laid is told.
    assert!(outcome.assumptions.iter().any(|a| a.text.contains("taper")));
}

#[test]
fn two_metals_share_a_weld() {
    let mut setup = small();
    setup.joint.sides[1] = side(219.1, 12.7, "SA-335 P91");
    let outcome = run(&setup);
    assert!(outcome.source.enough);
    assert_eq!(outcome.snapshot.metal_outlines_mm.len(), 2);
}

#[test]
fn a_picture_shows_metal_air_blanket_and_turns() {
    let snapshot = &small_plan().snapshot;
    assert_eq!(snapshot.turns_mm.len(), 6);
    assert!(snapshot.blanket_outline_mm.len() >= 4);
    assert_eq!(snapshot.elements.len(), snapshot.bodies.len());
    let hottest = snapshot
        .temperature_c
        .iter()
        .flatten()
        .copied()
        .fold(0.0, f64::max);
    assert!((615.0..630.0).contains(&hottest), "{hottest}");
    let heated = snapshot.loss_w_m3.iter().zip(&snapshot.bodies);
    assert!(
        heated
            .clone()
            .any(|(loss, body)| body.is_some() && *loss > 0.0)
    );
    assert!(
        heated
            .clone()
            .all(|(loss, body)| body.is_some() || *loss == 0.0)
    );
    assert_eq!(snapshot.flux_wb.len(), snapshot.nodes_mm.len());
}

/// A plan solves the field with the pipe in the coil, and tells it on every line on which distances are told.
#[test]
fn the_field_outside_is_known_with_the_work_in_the_coil() {
    let setup = small();
    let coil = setup.coil.as_ref().expect("a coil");
    let cable_m = 1e-3 * setup.cable.outside_diameter_mm.value;
    let paths = cycle::stray_field::paths(&setup.joint, coil, cable_m, &setup.leads);
    let lines = cycle::stray_field::lines(&paths, coil.turns.len());
    let stray = &small_plan().stray;
    assert!(stray.is_solved());
    for line in [lines.beside, lines.along[0], lines.along[1]] {
        let near_t = stray.tesla_per_a(line, 0.5).expect("a line of the plan");
        let far_t = stray.tesla_per_a(line, 2.0).expect("a line of the plan");
        // Between the second power beside a long coil and the third of a dipole, 16 to 64 times; nearer by its own size.
        assert!(
            near_t > 10.0 * far_t && far_t > 0.0,
            "{line:?} {near_t:e} {far_t:e}"
        );
    }
    let beside_leads = lines.leads.expect("leads apart");
    assert!(
        stray
            .tesla_per_a(beside_leads, 0.5)
            .is_some_and(|tesla| tesla > 0.0)
    );
}
