//! Any sensible section gets a mesh that fills it without gaps; the rest is refused with the place.
//!
//! That areas, perimeters and edges fit is checked by `mesh::build` itself; here it has to succeed.

use std::collections::BTreeMap;

use field::FieldError;
use field::mesh::{self, Mesh, MeshSettings, Region};
use field::section::{Body, Outer, Section, Symmetry};

use crate::sections::*;

/// Skin depths of cold and hot steel at some kilohertz.
const COLD_M: f64 = 0.5e-3;
const HOT_M: f64 = 5e-3;

fn steel() -> field::section::Metal {
    metal(5e-7, 60.0)
}

fn build(section: &Section, depths_m: &[Option<f64>]) -> Mesh {
    mesh::build(section, &MeshSettings::for_field(depths_m, 0.06)).expect("a sensible section")
}

/// Four turns round a weld at z = 0 of a pipe of 0.16 m outer radius.
fn joint(bodies: Vec<Body>) -> Section {
    turned(bodies, solenoid(4, 0.19, 0.03, 0.006))
}

/// Two pipe ends with a single-V preparation and a root gap of 4 mm.
fn groove() -> [Body; 2] {
    let lower = [
        [0.14, -0.2],
        [0.16, -0.2],
        [0.16, -0.010],
        [0.1416, -0.002],
        [0.14, -0.002],
    ];
    let upper = [
        [0.14, 0.002],
        [0.1416, 0.002],
        [0.16, 0.010],
        [0.16, 0.2],
        [0.14, 0.2],
    ];
    [
        polygon("lower", steel(), &lower),
        polygon("upper", steel(), &upper),
    ]
}

/// The weld metal that fills it, with cap and root reinforcement.
fn weld() -> Body {
    let corners = [
        [0.1395, -0.0022],
        [0.14, -0.002],
        [0.1416, -0.002],
        [0.16, -0.010],
        [0.1615, 0.0],
        [0.16, 0.010],
        [0.1416, 0.002],
        [0.14, 0.002],
        [0.1395, 0.0022],
    ];
    polygon("weld", steel(), &corners)
}

#[test]
fn a_counterbore_with_a_taper() {
    let corners = [
        [0.14, -0.2],
        [0.16, -0.2],
        [0.16, 0.0],
        [0.15, 0.0],
        [0.15, -0.03],
        [0.147, -0.04],
        [0.14, -0.05],
    ];
    build(
        &joint(vec![polygon("pipe", steel(), &corners)]),
        &[Some(COLD_M)],
    );
}

#[test]
fn a_groove_with_a_thin_ligament_beneath() {
    let corners = [
        [0.14, -0.2],
        [0.16, -0.2],
        [0.16, -0.012],
        [0.1416, 0.0],
        [0.16, 0.012],
        [0.16, 0.2],
        [0.14, 0.2],
    ];
    build(
        &joint(vec![polygon("pipe", steel(), &corners)]),
        &[Some(COLD_M)],
    );
}

#[test]
fn a_groove_open_and_filled_with_like_and_unlike_metal() {
    let [lower, upper] = groove();
    build(
        &joint(vec![lower.clone(), upper.clone()]),
        &[Some(COLD_M); 2],
    );
    let filled = joint(vec![lower, upper, weld()]);
    build(&filled, &[Some(COLD_M); 3]);
    build(&filled, &[Some(COLD_M), Some(COLD_M), Some(HOT_M)]);
}

#[test]
fn pipes_of_different_wall_that_share_the_weld_plane() {
    let thin = rectangle("thin", steel(), [0.15, 0.16, -0.3, 0.0]);
    let thick = rectangle("thick", steel(), [0.13, 0.165, 0.0, 0.3]);
    build(
        &joint(vec![thin.clone(), thick.clone()]),
        &[Some(COLD_M); 2],
    );
    build(&joint(vec![thin, thick]), &[Some(COLD_M), Some(HOT_M)]);
}

#[test]
fn a_pad_on_part_of_a_plate() {
    let plate = rectangle("plate", steel(), [0.0, 0.4, -0.03, 0.0]);
    let pad = rectangle("pad", steel(), [0.05, 0.1, 0.0, 0.01]);
    let turns: Vec<_> = (0..6)
        .map(|i| round(0.035 + 0.02 * f64::from(i), 0.04, 0.005, 1.0))
        .collect();
    let section = turned(vec![plate, pad], turns);
    build(&section, &[Some(COLD_M); 2]);
    build(&section, &[Some(COLD_M), Some(HOT_M)]);
}

#[test]
fn turns_that_lie_in_an_insulator() {
    let plate = rectangle("plate", steel(), [0.0, 0.4, -0.03, 0.0]);
    let blanket = rectangle("blanket", insulator(), [0.0, 0.25, 0.0, 0.05]);
    let section = turned(vec![plate, blanket], vec![round(0.1, 0.03, 0.005, 1.0)]);
    build(&section, &[Some(COLD_M), None]);
}

#[test]
fn a_round_head_on_the_axis() {
    let quarter = (0..=24).map(|k| std::f64::consts::FRAC_PI_2 * f64::from(k) / 24.0);
    let mut corners = vec![[0.0, -0.1], [0.1, -0.1]];
    corners.extend(quarter.map(|angle| [0.1 * angle.cos().max(0.0), 0.1 * angle.sin()]));
    let section = turned(
        vec![polygon("head", steel(), &corners)],
        vec![round(0.13, 0.0, 0.006, 1.0)],
    );
    build(&section, &[Some(COLD_M)]);
}

#[test]
fn a_plate_thinner_than_the_layers() {
    let plate = rectangle("plate", steel(), [0.0, 0.6, -0.0003, 0.0]);
    build(
        &turned(vec![plate], vec![round(0.1, 0.03, 0.005, 1.0)]),
        &[Some(HOT_M)],
    );
}

#[test]
fn like_bodies_whose_rounding_differs_are_still_joined() {
    let lower = rectangle("lower", steel(), [0.15, 0.16, -0.3, 0.1 + 0.2 - 0.3]);
    let upper = rectangle("upper", steel(), [0.15, 0.16, 0.0, 0.3]);
    let mesh = build(&joint(vec![lower, upper]), &[Some(COLD_M); 2]);
    let mut uses = BTreeMap::new();
    for piece in &mesh.outlines {
        let [a, b] = piece.points;
        *uses.entry([a.min(b), a.max(b)]).or_insert(0) += 1;
    }
    assert!(
        uses.values().any(|&times| times == 2),
        "no piece is shared by both bodies"
    );
}

#[test]
fn heat_alone_needs_no_air() {
    let slab = filled(
        Symmetry::Planar,
        vec![rectangle("slab", steel(), [0.0, 0.6, 0.0, 1.0])],
    );
    let mut settings = MeshSettings::for_heat(1, 0.01, 0.08);
    settings.entries = vec![[[0.6, 0.3], [0.6, 0.7]]];
    settings.breaks = vec![[0.6, 0.3], [0.6, 0.7]];
    let mesh = mesh::build(&slab, &settings).expect("a plain slab");
    assert!(mesh.regions.iter().all(|&region| region == Region::Body(0)));
    for place in &settings.breaks {
        assert!(mesh.points.contains(place), "no point at {place:?}");
    }
}

#[test]
fn the_mesh_is_the_same_every_time() {
    let [lower, upper] = groove();
    let section = joint(vec![lower, upper, weld()]);
    let (once, again) = (
        build(&section, &[Some(COLD_M); 3]),
        build(&section, &[Some(COLD_M); 3]),
    );
    assert_eq!(once.points, again.points);
    assert_eq!(once.triangles, again.triangles);
}

#[test]
fn a_conductor_inside_metal_is_refused_with_its_place() {
    let plate = rectangle("plate", steel(), [0.0, 0.4, -0.03, 0.0]);
    let section = turned(
        vec![plate],
        vec![round(0.1, 0.03, 0.005, 1.0), round(0.1, 0.004, 0.005, 1.0)],
    );
    let refused = mesh::build(&section, &MeshSettings::for_field(&[Some(COLD_M)], 0.06));
    let error = refused.expect_err("it overlaps by 1 mm");
    assert!(
        matches!(error, FieldError::ConductorInBody { conductor: 2, .. }),
        "{error}"
    );
    assert!(error.to_string().contains("plate"), "{error}");
}

#[test]
fn overlapping_bodies_are_refused() {
    let first = rectangle("first", steel(), [0.0, 0.1, 0.0, 0.1]);
    for other in [
        [0.05, 0.15, 0.05, 0.15],
        [0.02, 0.08, 0.02, 0.08],
        [0.0, 0.1, 0.0, 0.1],
        [0.05, 0.1, 0.0, 0.1],
    ] {
        let section = turned(
            vec![first.clone(), rectangle("second", steel(), other)],
            vec![],
        );
        let refused = mesh::build(&section, &MeshSettings::for_field(&[Some(COLD_M); 2], 0.06));
        assert!(
            matches!(refused, Err(FieldError::BodiesOverlap { .. })),
            "{other:?}"
        );
    }
}

#[test]
fn wrong_polygons_are_refused() {
    let bad = |corners: &[field::section::Point]| {
        let section = turned(vec![polygon("bad", steel(), corners)], vec![]);
        mesh::build(&section, &MeshSettings::for_field(&[Some(COLD_M)], 0.06))
            .expect_err("a bad polygon")
    };
    assert!(matches!(
        bad(&[[0.0, 0.0], [1.0, 0.0]]),
        FieldError::BadPolygon { .. }
    ));
    assert!(matches!(
        bad(&[[0.0, 0.0], [0.0, 1.0], [1.0, 0.0]]),
        FieldError::BadPolygon { .. }
    ));
    assert!(matches!(
        bad(&[[0.0, 0.0], [1.0, 0.0], [2.0, 0.0]]),
        FieldError::BadPolygon { .. }
    ));
    assert!(matches!(
        bad(&[[0.0, 0.0], [f64::NAN, 0.0], [1.0, 1.0]]),
        FieldError::BadPolygon { .. }
    ));
    assert!(matches!(
        bad(&[[-0.1, 0.0], [1.0, 0.0], [1.0, 1.0]]),
        FieldError::LeftOfAxis { .. }
    ));
    let bow_tie = bad(&[[0.0, 0.0], [1.0, 0.0], [0.2, 1.0], [0.8, 1.1]]);
    assert!(
        matches!(bow_tie, FieldError::OutlineCrossesItself { .. }),
        "{bow_tie}"
    );
}

#[test]
fn nothing_in_open_space_is_refused() {
    let section = Section {
        symmetry: Symmetry::Planar,
        outer: Outer::Far,
        bodies: vec![],
        windings: vec![],
    };
    let refused = mesh::build(&section, &MeshSettings::for_field(&[], 0.06));
    assert!(matches!(refused, Err(FieldError::WrongCount { .. })));
}
