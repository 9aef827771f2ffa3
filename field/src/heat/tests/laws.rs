//! Laws, balances and refusals.

use super::{HIGH_U, LOW_U, Slab, assert_near, at, convection, metal, radiation, walk};
use crate::FieldError;
use crate::heat::{
    Blanket, Boundary, Conditions, Law, Loss, Model, NoSource, SteadySource, StepSettings,
    Transient, steady,
};
use crate::section::Symmetry::{Axisymmetric, Planar};
use crate::section::{Metal, Permeability};
use crate::table::Table;

/// The balance of a step is as good as Newton's method: a share of the heat that passes.
const BALANCE: f64 = 1e-3;

/// A steel whose heat content has the peak of a phase change.
fn steel() -> Metal {
    let peak = |t: f64| 3.8e6 * (t - 20.0) + 2e8 * libm::tanh((t - 735.0) / 8.0);
    let content: Vec<(f64, f64)> = (0..4800)
        .map(|i| 0.25 * f64::from(i))
        .map(|t| (t, peak(t)))
        .collect();
    Metal {
        resistivity_ohm_m: None,
        permeability: Permeability::Constant(1.0),
        conductivity_w_mk: Table::new(&[(20.0, 53.0), (800.0, 27.0), (1200.0, 27.0)])
            .expect("ascending"),
        heat_content_j_m3: Table::new(&content).expect("ascending"),
    }
}

#[test]
fn heat_is_neither_made_nor_lost_through_a_phase_change() {
    let blanket = Blanket {
        thickness_m: 0.025,
        cells: 4,
        conductivity_w_mk: Table::new(&[(20.0, 0.08), (1000.0, 0.25)]).expect("ascending"),
        heat_capacity_j_m3k: 128e3,
        outside: Loss {
            convection: Some(crate::heat::Convection {
                w_m2k: 8.0,
                ambient_c: 20.0,
            }),
            ..Loss::default()
        },
    };
    let slab = Slab::new(Axisymmetric, [0.14, 0.16, 0.0, 0.1], [6, 6], steel())
        .with(HIGH_U, Law::Blanket(blanket))
        .with(LOW_U, radiation(0.8, 20.0));
    let model = slab.model();
    let load_w = 9000.0 / model.nodes().len() as f64;
    let mut loads = vec![0.0; model.unknowns()];
    loads[..model.nodes().len()].fill(load_w);
    let source = SteadySource(loads);
    let ambient_c = model.radiation_ambient_c();
    let conditions = Conditions {
        source: &source,
        radiation_ambient_c: &ambient_c,
    };
    let mut transient = Transient::new(StepSettings::default());
    let (mut error_j, mut stored_j, mut source_j) = (0.0, 0.0, 0.0);
    let end = transient
        .walk(&model, &model.uniform(20.0), 3600.0, &conditions, |step| {
            error_j += step.energy.error_j;
            stored_j += step.energy.stored_j;
            source_j += step.energy.source_j;
        })
        .expect("it converges");
    let hottest_c = at(&model, &end, [0.15, 0.05]);
    assert!(
        hottest_c > 760.0,
        "it should pass the peak, reached {hottest_c} C"
    );
    assert_near("heat from the source", source_j, 9000.0 * 3600.0, 1.0);
    assert_near("error of the balance", error_j, 0.0, BALANCE * stored_j);
    assert!(transient.effort().steps < 120, "{:?}", transient.effort());
}

#[test]
fn a_lump_with_a_tabulated_loss_cools_as_by_convection() {
    let table = Table::new(&[(20.0, 0.0), (1020.0, 25_000.0)]).expect("ascending");
    let tabulated = Law::Loss(Loss {
        tabulated_w_m2: Some(table),
        ..Loss::default()
    });
    let lump = |law: Law| {
        let slab =
            Slab::new(Planar, [0.0, 0.01, 0.0, 0.01], [2, 2], metal(1e4, 4e6)).with(HIGH_U, law);
        let model = slab.model();
        let state = walk(&model, 700.0, 900.0, 0.01);
        at(&model, &state, [0.005, 0.005])
    };
    assert_near(
        "the lump",
        lump(tabulated),
        lump(convection(25.0, 20.0)),
        0.01,
    );
}

/// The caller gives each point its own surroundings: a wall between a hot and a cold half of a furnace.
#[test]
fn ambient_temperatures_may_differ_from_point_to_point() {
    let slab = Slab::new(Planar, [0.0, 1e-3, 0.0, 0.2], [1, 20], metal(1e-6, 4e6))
        .with(HIGH_U, radiation(1.0, 20.0));
    let model = slab.model();
    let ambient_c: Vec<f64> = model
        .exchanges()
        .iter()
        .map(|e| if e.place_m[1] < 0.1 { 300.0 } else { 500.0 })
        .collect();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &ambient_c,
    };
    let found = steady(&model, &model.uniform(100.0), &conditions)
        .expect("it converges")
        .state;
    assert_near("below", at(&model, &found, [1e-3, 0.04]), 300.0, 0.01);
    assert_near("above", at(&model, &found, [1e-3, 0.16]), 500.0, 0.01);
}

#[test]
fn steps_end_on_the_knots_of_a_schedule() {
    let schedule = Table::new(&[(0.0, 20.0), (100.0, 120.0), (137.0, 50.0)]).expect("ascending");
    let slab = Slab::new(Planar, [0.0, 0.02, 0.0, 0.02], [3, 3], metal(40.0, 4e6))
        .with(LOW_U, Law::Temperature(schedule));
    let model = slab.model();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &[],
    };
    let mut ends_s = Vec::new();
    Transient::new(StepSettings::default())
        .walk(&model, &model.uniform(20.0), 200.0, &conditions, |step| {
            ends_s.push(step.state.time_s)
        })
        .expect("it converges");
    for knot_s in [100.0, 137.0, 200.0] {
        assert!(
            ends_s.contains(&knot_s),
            "no step ends at {knot_s} s: {ends_s:?}"
        );
    }
}

/// Heat through a held surface while the body still warms: its integral is what the body has stored.
#[test]
fn the_reaction_counts_what_a_body_takes_up() {
    let slab = Slab::new(Planar, [0.0, 0.02, 0.0, 0.02], [6, 2], metal(40.0, 4e6)).with(
        LOW_U,
        Law::Temperature(Table::new(&[(0.0, 20.0), (50.0, 120.0)]).expect("ascending")),
    );
    let model = slab.model();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &[],
    };
    let settings = StepSettings {
        tolerance_k: 0.01,
        ..StepSettings::default()
    };
    let (mut by_flow_j, mut stored_j, mut last_w) = (0.0, 0.0, 0.0);
    Transient::new(settings)
        .walk(&model, &model.uniform(20.0), 40.0, &conditions, |step| {
            let flow_w = model.heat_flow_w(0, &step.state, &conditions);
            by_flow_j += 0.5 * step.step_s * (flow_w + last_w);
            last_w = flow_w;
            stored_j += step.energy.stored_j;
            assert_near(
                "balance",
                step.energy.error_j,
                0.0,
                BALANCE * step.energy.stored_j.abs(),
            );
        })
        .expect("it converges");
    assert_near("integral of the flow", by_flow_j, stored_j, 0.01 * stored_j);
}

#[test]
fn air_without_conductivity_takes_no_part() {
    let mut slab = Slab::new(Planar, [0.0, 0.02, 0.0, 0.02], [2, 2], metal(40.0, 4e6));
    slab.section.bodies[0].metal.conductivity_w_mk = Table::constant(0.0);
    let found = Model::new(&slab.section, &slab.mesh, &slab.space, Vec::new());
    assert_eq!(found.err(), Some(FieldError::NothingConductsHeat));
}

#[test]
fn a_steady_state_that_nothing_holds_is_refused() {
    let slab = Slab::new(Planar, [0.0, 0.02, 0.0, 0.02], [2, 2], metal(40.0, 4e6))
        .with(LOW_U, Law::Flux(Table::constant(1000.0)));
    let model = slab.model();
    let conditions = Conditions {
        source: &NoSource,
        radiation_ambient_c: &[],
    };
    let error = steady(&model, &model.uniform(20.0), &conditions).expect_err("singular");
    assert!(matches!(error, FieldError::Singular { .. }), "{error}");
}

#[test]
fn bad_laws_are_refused_with_a_hint() {
    let slab = Slab::new(
        Axisymmetric,
        [0.01, 0.02, 0.0, 0.02],
        [2, 2],
        metal(40.0, 4e6),
    );
    let with = |law: Law| {
        let pieces = (0..slab.mesh.outlines.len() as u32)
            .filter(|&i| slab.mesh.outlines[i as usize].edge == LOW_U);
        let boundary = Boundary {
            pieces: pieces.collect(),
            law,
        };
        Model::new(&slab.section, &slab.mesh, &slab.space, vec![boundary])
            .err()
            .map(|error| error.to_string())
    };
    let blanket = |thickness_m: f64| {
        Law::Blanket(Blanket {
            thickness_m,
            cells: 3,
            conductivity_w_mk: Table::constant(0.1),
            heat_capacity_j_m3k: 1e5,
            outside: Loss::default(),
        })
    };
    assert_eq!(with(blanket(0.005)), None);
    let beyond_the_axis = with(blanket(0.015)).expect("refused");
    assert!(
        beyond_the_axis.contains("0.015") && beyond_the_axis.contains("0.01 m"),
        "{beyond_the_axis}"
    );
    assert!(with(blanket(0.0)).expect("refused").contains("thickness"));
    let model = slab.model();
    assert!(matches!(
        model.probe([0.5, 0.5]),
        Err(FieldError::OutsideMetal { .. })
    ));
}
