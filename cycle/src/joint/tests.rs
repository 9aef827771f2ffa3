//! What the section of a joint promises.

use std::f64::consts::PI;

use quantity::Millimeters;
use rules::weld::Orientation;

use super::{FaceKind, JointSection, joint_section};
use crate::setup::{BoreEnd, Joint, Side, Transition};

fn side(outside_mm: f64, wall_mm: f64, metal: &str) -> Side {
    Side {
        outside_diameter: Millimeters::from_mm(outside_mm),
        wall: Millimeters::from_mm(wall_mm),
        transition: None,
        length: Millimeters::from_mm(2000.0),
        bore_end: BoreEnd::Open,
        metal: materials::metal(metal).expect("known").clone(),
    }
}

fn joint(first: Side, second: Side) -> Joint {
    Joint {
        sides: [first, second],
        cap_width: Millimeters::from_mm(20.0),
        orientation: Orientation::Horizontal,
    }
}

fn section(joint: &Joint) -> JointSection {
    joint_section(joint, [1.0, 1.0], [0.3, 0.3], 3.0).expect("a joint")
}

fn ring_moment(outside_m: f64, bore_m: f64) -> f64 {
    0.5 * (outside_m * outside_m - bore_m * bore_m)
}

#[test]
fn equal_sides_make_one_straight_tube_cut_where_asked() {
    let pipe = side(323.9, 17.5, "carbon steel");
    let tube = section(&joint(pipe.clone(), pipe));
    assert_eq!(tube.polygons.len(), 1);
    assert_eq!(tube.polygons[0].len(), 4);
    assert_eq!(tube.lengths_m, [1.0, 1.0]);
    let expected = 2.0 * ring_moment(0.16195, 0.14445);
    assert!((tube.turned_area_m3_rad() / expected - 1.0).abs() < 1e-12);
    let bare = tube
        .faces
        .iter()
        .filter(|face| face.kind == FaceKind::Bare)
        .count();
    assert_eq!(bare, 2);
}

#[test]
fn unequal_walls_meet_in_a_taper_of_the_thicker_side() {
    let thin_thick = joint(
        side(219.1, 12.7, "carbon steel"),
        side(219.1, 25.0, "carbon steel"),
    );
    let tube = section(&thin_thick);
    assert!((tube.bore_radius_m(0.0) - (0.10955 - 0.0127)).abs() < 1e-12);
    assert!((tube.bore_radius_m(3.0 * 0.0123) - (0.10955 - 0.025)).abs() < 1e-9);
    assert!((tube.bore_radius_m(-0.5) - (0.10955 - 0.0127)).abs() < 1e-12);
    let rim = tube.outside_radius_m(0.4);
    assert!((rim - 0.10955).abs() < 1e-12);
}

#[test]
fn a_given_transition_is_followed() {
    let mut fitting = side(273.0, 40.0, "carbon steel");
    fitting.transition = Some(Transition {
        outside_diameter: Millimeters::from_mm(219.1),
        wall: Millimeters::from_mm(12.7),
        straight: Millimeters::from_mm(15.0),
        length: Millimeters::from_mm(60.0),
    });
    let tube = section(&joint(side(219.1, 12.7, "carbon steel"), fitting));
    assert!((tube.outside_radius_m(0.010) - 0.10955).abs() < 1e-12);
    assert!((tube.outside_radius_m(0.075) - 0.1365).abs() < 1e-9);
    assert!((tube.outside_radius_m(0.045) - 0.5 * (0.10955 + 0.1365)).abs() < 1e-9);
}

#[test]
fn two_metals_share_the_weld_plane() {
    let dissimilar = joint(side(323.9, 25.0, "carbon steel"), side(323.9, 25.0, "P91"));
    let tube = section(&dissimilar);
    assert_eq!(tube.metal_of, [0, 1]);
    for polygon in &tube.polygons {
        let on_plane = polygon.iter().filter(|p| p[1].abs() < 1e-12).count();
        assert_eq!(on_plane, 2);
    }
    let volume_m3 = 2.0 * PI * tube.turned_area_m3_rad();
    let expected_m3 = 2.0 * PI * 2.0 * ring_moment(0.16195, 0.13695);
    assert!((volume_m3 / expected_m3 - 1.0).abs() < 1e-12);
}

#[test]
fn sides_that_do_not_meet_are_refused_with_both_numbers() {
    let apart = joint(
        side(100.0, 5.0, "carbon steel"),
        side(60.0, 5.0, "carbon steel"),
    );
    let refused = joint_section(&apart, [1.0, 1.0], [0.2, 0.2], 3.0).expect_err("no common wall");
    assert!(refused.to_string().contains("1.5 mm"), "{refused}");
    let thin = joint(
        side(100.0, 0.5, "carbon steel"),
        side(100.0, 5.0, "carbon steel"),
    );
    let refused = joint_section(&thin, [1.0, 1.0], [0.2, 0.2], 3.0).expect_err("thin wall");
    assert!(refused.to_string().contains("0.5") && refused.to_string().contains("1.5"));
}
