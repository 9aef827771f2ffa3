//! What the live drawing needs, in mm from the weld center and from the axis.

use cycle::practice::practice;
use cycle::prepare::joint_of;
use cycle::setup::{Coil, Setup};
use job::Job;
use job::at_rest::WoundBy;
use job::plan::Prepared;
use rules::thermocouple::{Face, Role, told_as};
use serde::Serialize;

/// The drawing.
#[derive(Clone, Debug, Serialize)]
pub struct Drawing {
    /// Outlines of the metal, (r, z).
    metal: Vec<Vec<[f64; 2]>>,
    /// The outside as corners (z, r), ascending.
    outside: Vec<[f64; 2]>,
    /// The bore as corners (z, r), ascending.
    bore: Vec<[f64; 2]>,
    cap_width: f64,
    blanket: Blanket,
    cable_diameter: f64,
    turns: Vec<Turn>,
    /// Whether the file or a plan gives the turns; else they are wound by habit until a plan proposes them.
    given: bool,
    /// Whether the turns are those of a plan, and not yet in the file.
    of_plan: bool,
    thermocouples: Vec<Thermocouple>,
    /// Full widths with their names.
    bands: Vec<(&'static str, f64)>,
    neighbors: Vec<(String, f64)>,
    hold_c: [f64; 2],
    /// How far the first and the second side go.
    ends: [f64; 2],
    /// Names of the sides' metals.
    metals: [String; 2],
    us_units: bool,
}

#[derive(Clone, Debug, Serialize)]
struct Blanket {
    reach: [f64; 2],
    thickness: f64,
}

#[derive(Clone, Debug, Serialize)]
struct Turn {
    axial: f64,
    standoff: f64,
}

#[derive(Clone, Debug, Serialize)]
struct Thermocouple {
    name: String,
    axial: f64,
    clock: f64,
    bore: bool,
    control: bool,
    /// What it is for, in words.
    told_as: &'static str,
    fitted: bool,
    reason: String,
}

/// The drawing of a job with its coil, or with `wound` where the file leaves the turns open.
pub fn drawing(
    job: &Job,
    prepared: &Prepared,
    wound: Option<&Coil>,
    wound_by: WoundBy,
) -> Option<Drawing> {
    let setup = &prepared.setup;
    let joint = joint_of(setup, practice()).ok()?;
    let ends = joint.lengths_m.map(|m| m * 1e3);
    let corners: Vec<f64> = corners_mm(&joint.polygons);
    let edge = |radius_m: &dyn Fn(f64) -> f64| -> Vec<[f64; 2]> {
        corners
            .iter()
            .map(|z| [*z, radius_m(z * 1e-3) * 1e3])
            .collect()
    };
    let coil = job.coil.as_ref().or(wound);
    let bands = &prepared.bands;
    Some(Drawing {
        outside: edge(&|z| joint.outside_radius_m(z)),
        bore: edge(&|z| joint.bore_radius_m(z)),
        metal: joint
            .polygons
            .iter()
            .map(|polygon| polygon.iter().map(|point| point.map(|m| m * 1e3)).collect())
            .collect(),
        cap_width: job.joint.cap_width.mm(),
        blanket: Blanket {
            reach: setup.blanket.reach.map(|reach| reach.mm()),
            thickness: setup.blanket.thickness.mm(),
        },
        cable_diameter: setup.cable.outside_diameter_mm.value,
        turns: coil.iter().flat_map(|coil| &coil.turns).map(turn).collect(),
        given: wound_by != WoundBy::Habit,
        of_plan: wound_by == WoundBy::Plan,
        thermocouples: thermocouples(setup),
        bands: vec![
            ("soak band", bands.soak.width.mm()),
            ("heated band", bands.heated.width.mm()),
            ("gradient control band", bands.gradient_control.width.mm()),
        ],
        neighbors: setup
            .neighbors
            .iter()
            .map(|n| (n.name.clone(), n.axial.mm()))
            .collect(),
        hold_c: setup.programme.hold_range.map(|c| c.c()),
        metals: [0, 1].map(|side: usize| job.joint.sides[side].metal.name.clone()),
        us_units: job.units == quantity::Units::Us,
        ends,
    })
}

/// Every place along the pipe where an outline has a corner, a hair to both sides so that steps stay steps.
fn corners_mm(polygons: &[Vec<[f64; 2]>]) -> Vec<f64> {
    let mut corners: Vec<f64> = polygons
        .iter()
        .flatten()
        .flat_map(|point| [point[1] * 1e3 - 1e-3, point[1] * 1e3 + 1e-3])
        .collect();
    corners.sort_by(f64::total_cmp);
    corners.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    corners
}

fn turn(turn: &cycle::setup::Turn) -> Turn {
    Turn {
        axial: turn.axial.mm(),
        standoff: turn.standoff.mm(),
    }
}

fn thermocouples(setup: &Setup) -> Vec<Thermocouple> {
    let all = setup.thermocouples.iter();
    all.map(|t| Thermocouple {
        name: t.name.clone(),
        axial: t.axial.mm(),
        clock: t.clock,
        bore: t.face == Face::Bore,
        control: t.role == Role::Control,
        told_as: told_as(t.role, t.place),
        fitted: t.fitted,
        reason: t.reason.clone(),
    })
    .collect()
}
