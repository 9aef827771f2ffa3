//! Facts of the trade that the solver must show. Status: common practice, no source.

use field::section::{Conductor, Metal, Section, Symmetry};

use crate::sections::*;

const FREQUENCY_HZ: f64 = 10_000.0;
const CURRENT_A: f64 = 300.0;

fn carbon_steel() -> Metal {
    metal(2.5e-7, 100.0)
}

/// Turns over a plate of 25 mm.
fn over_plate(metal: Metal, conductors: Vec<Conductor>) -> Section {
    turned(
        vec![rectangle("plate", metal, [0.0, 0.5, -0.025, 0.0])],
        conductors,
    )
}

fn heat_w(section: &Section) -> f64 {
    power_w(section, &drive(section, FREQUENCY_HZ, CURRENT_A))
}

fn rings(radii_m: &[f64], height_m: f64) -> Vec<Conductor> {
    radii_m
        .iter()
        .map(|&radius_m| round(radius_m, height_m, 0.005, 1.0))
        .collect()
}

const PANCAKE_M: [f64; 8] = [0.04, 0.055, 0.07, 0.085, 0.1, 0.115, 0.13, 0.145];

/// Steady heat of a section at a frequency, for the usual current.
fn heat_at_w(section: &Section, frequency_hz: f64) -> f64 {
    power_w(section, &drive(section, frequency_hz, CURRENT_A))
}

fn solenoid_on_pipe(turns: usize) -> Section {
    let pipe = rectangle("pipe", carbon_steel(), [0.14, 0.16, -0.4, 0.4]);
    turned(vec![pipe], solenoid(turns, 0.19, 0.015, 0.005))
}

/// Turns of 160 mm mean radius, as far from the plate as the solenoid's turns are from the pipe.
fn pancake_like_the_solenoid(turns: usize) -> Section {
    let inner_m = 0.16 - 0.0075 * (turns - 1) as f64;
    let radii_m: Vec<f64> = (0..turns).map(|i| inner_m + 0.015 * i as f64).collect();
    over_plate(carbon_steel(), rings(&radii_m, 0.03))
}

#[test]
fn turns_that_oppose_each_other_cancel() {
    let aiding = solenoid_on_pipe(8);
    let mut opposing = aiding.clone();
    for (i, conductor) in opposing.windings[0].conductors.iter_mut().enumerate() {
        conductor.turns = if i % 2 == 0 { 1.0 } else { -1.0 };
    }
    let (together_w, against_w) = (heat_w(&aiding), heat_w(&opposing));
    assert!(
        against_w < 0.05 * together_w,
        "{against_w} W against {together_w} W"
    );
}

#[test]
fn leads_together_heat_nothing_near_them_and_leads_apart_do() {
    let pair = |apart_m: f64| {
        let plate = rectangle("beam", carbon_steel(), [-0.3, 0.3, -0.02, 0.0]);
        let mut section = over_plate(carbon_steel(), vec![]);
        section.symmetry = Symmetry::Planar;
        section.bodies = vec![plate];
        let lead = |side: f64| round(0.5 * side * apart_m, 0.05, 0.005, side);
        section.windings = vec![winding(vec![lead(-1.0), lead(1.0)])];
        heat_w(&section)
    };
    let (together_w, apart_w) = (pair(0.012), pair(0.3));
    assert!(
        together_w < 0.05 * apart_w,
        "{together_w} W a meter against {apart_w} W a meter"
    );
}

#[test]
fn closer_coupling_gives_more_heat_for_the_same_current() {
    let heats_w = [0.015, 0.025, 0.04]
        .map(|gap_m| heat_w(&over_plate(carbon_steel(), rings(&PANCAKE_M, gap_m))));
    assert!(
        heats_w[0] > 1.2 * heats_w[1] && heats_w[1] > 1.2 * heats_w[2],
        "{heats_w:?} W"
    );
}

#[test]
fn carbon_steel_takes_more_than_aluminum_and_copper_in_the_same_coil() {
    let heat = |metal: Metal| heat_w(&over_plate(metal, rings(&PANCAKE_M, 0.03)));
    let (steel_w, aluminum_w, copper_w) = (
        heat(carbon_steel()),
        heat(metal(2.82e-8, 1.0)),
        heat(metal(1.724e-8, 1.0)),
    );
    assert!(
        steel_w > 5.0 * aluminum_w && aluminum_w > copper_w,
        "{steel_w}, {aluminum_w}, {copper_w} W"
    );
}

#[test]
fn a_solenoid_couples_better_than_a_pancake_and_extra_turns_make_up_for_it() {
    let power_factor = |section: &Section| {
        let (_, solution) = solved(section, &drive(section, FREQUENCY_HZ, CURRENT_A));
        let impedance = solution.circuits[0]
            .impedance_ohm()
            .expect("it carries current");
        (solution.body_power_w[0], impedance.re / impedance.norm())
    };
    let (solenoid_w, solenoid_factor) = power_factor(&solenoid_on_pipe(8));
    let (pancake_w, pancake_factor) = power_factor(&pancake_like_the_solenoid(8));
    assert!(
        solenoid_w > 1.2 * pancake_w,
        "{solenoid_w} W against {pancake_w} W"
    );
    assert!(
        solenoid_factor > 1.1 * pancake_factor,
        "{solenoid_factor} against {pancake_factor}"
    );
    let more_turns_w = heat_w(&pancake_like_the_solenoid(11));
    assert!(
        more_turns_w > solenoid_w,
        "{more_turns_w} W with eleven turns against {solenoid_w} W"
    );
}

/// Opposite sides of a small turn carry opposite currents; seen from a surface as far away as they are from each
/// other they cancel. So the heat under the innermost turns falls when these are crowded into the middle.
#[test]
fn innermost_turns_crowded_into_the_middle_heat_less_beneath_them() {
    let crowded_m = [0.025, 0.0355, 0.046, 0.085, 0.1, 0.115, 0.13, 0.145];
    let beneath_the_second_turn = |radii_m: &[f64]| {
        let section = over_plate(carbon_steel(), rings(radii_m, 0.03));
        let (problem, solution) = solved(&section, &drive(&section, FREQUENCY_HZ, CURRENT_A));
        let flux_w_m2 = solution
            .flux_w_m2(&problem, 0, 2, 0.5 - radii_m[1])
            .expect("on the plate");
        (flux_w_m2, solution.body_power_w[0])
    };
    let (spread, crowded) = (
        beneath_the_second_turn(&PANCAKE_M),
        beneath_the_second_turn(&crowded_m),
    );
    assert!(
        crowded.0 < 0.7 * spread.0,
        "{} W/m2 against {} W/m2",
        crowded.0,
        spread.0
    );
    assert!(
        crowded.1 < spread.1,
        "{} W against {} W in all",
        crowded.1,
        spread.1
    );
}

#[test]
fn higher_frequency_heats_shallower_and_more() {
    let section = over_plate(carbon_steel(), rings(&PANCAKE_M, 0.03));
    let mean_depth_m = |frequency_hz: f64| {
        let (problem, solution) = solved(&section, &drive(&section, frequency_hz, CURRENT_A));
        let sums = solution
            .points(&problem, 0)
            .fold((0.0, 0.0), |(heat, moment), point| {
                let own_w = point.volume_m3 * point.loss_w_m3;
                (heat + own_w, moment - own_w * point.place_m[1])
            });
        sums.1 / sums.0
    };
    let (low_m, high_m) = (mean_depth_m(2_000.0), mean_depth_m(20_000.0));
    assert!(
        high_m < 0.5 * low_m,
        "{high_m} m at 20 kHz against {low_m} m at 2 kHz"
    );
    assert!(heat_at_w(&section, 20_000.0) > 2.0 * heat_at_w(&section, 2_000.0));
}
