//! What a plan says of the welding before it: preheat, hydrogen, distances, rows that somebody confirmed.

use cycle::outcome::{Moment, Spot, Stage};
use job::plan::{Plan, judged, prepared};
use job::plan_json::plan_file;
use rules::Confirmation;
use rules::exposure::Persons;

use crate::invented::{good_outcome, job, plan_with, wide_coil};

fn moment(hour: u32, coldest_c: f64) -> Moment {
    let spot = |temperature_c: f64| Spot {
        temperature_c,
        ..Spot::default()
    };
    Moment {
        time_s: 3600.0 * f64::from(hour),
        stage: Stage::Hold,
        set_point_c: 620.0,
        control_c: 620.0,
        control_coldest_c: 620.0,
        control_hottest_c: 620.0,
        metal_power_w: 0.0,
        source_power_w: 0.0,
        loss_w: 0.0,
        current_rms_a: 0.0,
        voltage_rms_v: 0.0,
        resistance_ohm: 0.0,
        reactance_ohm: 0.0,
        frequency_hz: 9000.0,
        weld_outside_c: 620.0,
        weld_bore_c: 620.0,
        soak_hottest: spot(620.0),
        soak_coldest: spot(coldest_c),
        limited_by: None,
    }
}

/// Ten hours in which the coldest place is at 300 °C, whatever the thermocouples say.
fn cold_in_the_bore() -> Plan {
    plan_with(|_, outcome, _| outcome.history = (0..=10).map(|hour| moment(hour, 300.0)).collect())
}

fn words(plan: &Plan) -> String {
    report::text(&plan.sheet("made by a test"), 100)
}

#[test]
fn what_the_cycle_leaves_of_the_hydrogen_is_read_at_the_coldest_place() {
    let plan = cold_in_the_bore();
    let answer = &plan.bake_out.answer;
    let index = answer.after_history.expect("a coefficient holds there");
    let left = answer.by_coefficient[index]
        .history
        .expect("a history")
        .left;
    // Coe and Moreton 1966: 6.2e-9 m²/s at 250 °C and 5.1e-9 at 310 °C, the slowest of those that are kept for 300 °C.
    let wall = plan.bake_out.of_weld.asked.wall;
    let after = |m2_s: f64| wall.left(wall.fourier(m2_s * 10.0 * 3600.0)).mean;
    assert!(
        after(6.2e-9) < left.mean && left.mean < after(5.1e-9),
        "{left:?}: {} to {}",
        after(6.2e-9),
        after(5.1e-9)
    );
    let data = plan_file(&plan);
    let told = data.needs.bake_out.after_cycle.expect("in the data");
    assert!((told.mean_left_percent / 100.0 - left.mean).abs() < 1e-12);
}

#[test]
fn the_document_shows_preheat_hydrogen_distances_and_advice() {
    let plan = cold_in_the_bore();
    let text = words(&plan);
    for wanted in [
        "Preheat: at least",
        "Hydrogen bake-out, if done",
        "Along this cycle",
        "Distances from coil and leads",
        "Heating index",
        "To heed while it is set up",
        "No implants, no rings;",
    ] {
        assert!(text.contains(wanted), "{wanted}\n{text}");
    }
    let data = plan_file(&plan);
    assert!(data.needs.preheat.at_least_c.is_some() && !data.needs.preheat.methods.is_empty());
    assert!(data.exposure.workers_m < data.exposure.public_m);
}

#[test]
fn distances_are_those_of_the_coil_of_the_plan() {
    let near = cold_in_the_bore();
    let wide = plan_with(|_, _, coil| {
        let more = coil.turns.clone();
        coil.turns.extend(more);
    });
    let away = |plan: &Plan| {
        plan.exposure
            .keep_away_m(Persons::Workers)
            .expect("a level")
    };
    assert!(away(&wide) > away(&near), "twice the turns reach farther");
    // This invented outcome solved no field: the distances are those of the coil in air alone, and say so.
    assert!(
        near.exposure
            .distances
            .iter()
            .all(|one| one.with_work.is_none() && one.governing == one.in_air)
    );
    let told = words(&near);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("in free air, by Biot and Savart; the pipe is left out"));
}

#[test]
fn a_confirmed_row_is_used_and_named_on_the_plan() {
    let confirmed = Confirmation {
        row: "b31.3-2014/range-p1".into(),
        value: None,
        units: quantity::Units::Si,
        by: "A. Reader".into(),
        on: "2026-11-20".into(),
        note: Some("2022 edition".into()),
    };
    let text = job().text.clone();
    let job = job::read_with(&text, "carbon-steel-line.toml", &[confirmed]).expect("a job");
    let prepared = prepared(&job).expect("the rules know it");
    let outcome = good_outcome(&prepared);
    let coil = wide_coil(&prepared);
    let plan = judged(&job, prepared, coil, None, outcome).expect("a plan");
    assert!(words(&plan).contains("b31.3-2014/range-p1: A. Reader on 2026-11-20"));
    let data = plan_file(&plan);
    assert_eq!(data.needs.confirmed[0].by, "A. Reader");
    let is_given = |limit: &job::plan_json::Limit| limit.clause.status == "user_given";
    assert!(data.needs.limits.iter().any(is_given));
}
