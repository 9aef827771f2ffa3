//! Thermocouples.

use std::collections::BTreeSet;

use rules::thermocouple::{Face, Place, Role, Thermocouple};
use rules::weld::{Orientation, Purpose, Weld};

use crate::welds::*;

fn layout(weld: &Weld) -> Vec<Thermocouple> {
    let bands = rules::bands(weld).expect("bands");
    rules::layout(weld, &bands).expect("a layout")
}

fn pipe(outside_diameter_mm: f64) -> Weld {
    weld(
        "ASME B31.3",
        "2016",
        &side("1", 1, outside_diameter_mm, 12.7),
    )
}

fn count(layout: &[Thermocouple], role: Role) -> usize {
    layout
        .iter()
        .filter(|one| one.role == role && one.fitted)
        .count()
}

#[test]
fn zones_by_size() {
    for (od_mm, zones) in [
        (114.3, 1),
        (168.3, 1),
        (168.4, 2),
        (323.9, 2),
        (324.0, 4),
        (762.0, 4),
        (763.0, 4),
        (1220.0, 8),
    ] {
        let layout = layout(&pipe(od_mm));
        assert_eq!(count(&layout, Role::Control), zones, "{od_mm} mm");
        assert_eq!(
            count(&layout, Role::Spare),
            zones,
            "{od_mm} mm: each control has a spare"
        );
    }
}

#[test]
fn top_and_bottom_both_edges_and_the_bore_are_watched() {
    for orientation in [Orientation::Horizontal, Orientation::Vertical] {
        for od_mm in [114.3, 273.0, 508.0, 1220.0] {
            let mut weld = pipe(od_mm);
            weld.orientation = orientation;
            let bands = rules::bands(&weld).expect("bands");
            let layout = layout(&weld);
            let at = |clock: f64| {
                layout.iter().any(|one| {
                    one.fitted && one.axial.mm() == 0.0 && (one.clock - clock).abs() < 1.0
                })
            };
            assert!(at(12.0) && at(6.0));
            for half_mm in [0.5 * bands.soak.width.mm(), 0.5 * bands.heated.width.mm()] {
                for edge_mm in [-half_mm, half_mm] {
                    assert!(
                        layout
                            .iter()
                            .any(|one| one.fitted && one.axial.mm() == edge_mm)
                    );
                }
            }
            assert!(layout.iter().any(|one| one.face == Face::Bore
                && !one.fitted
                && one.reason.contains("predicted only")));
        }
    }
}

#[test]
fn names_run_on_and_clocks_are_hours() {
    let layout = layout(&pipe(1220.0));
    let names: BTreeSet<&str> = layout.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(names.len(), layout.len());
    assert_eq!(layout[0].name, "TC1");
    assert!(
        layout
            .iter()
            .all(|one| one.clock > 0.0 && one.clock <= 12.0)
    );
    assert!(
        layout
            .iter()
            .all(|one| one.reason.contains("common practice"))
    );
    assert!(
        layout
            .iter()
            .filter(|one| one.place == Place::HeatedBandEdge)
            .all(|one| one.role == Role::Monitor)
    );
}

#[test]
fn no_two_wires_share_a_spot() {
    for od_mm in [60.3, 114.3, 273.0, 508.0, 1220.0] {
        let layout = layout(&pipe(od_mm));
        for (index, one) in layout.iter().enumerate() {
            for other in &layout[index + 1..] {
                let same =
                    one.face == other.face && one.axial == other.axial && one.clock == other.clock;
                assert!(!same, "{} and {}", one.name, other.name);
            }
        }
    }
}

#[test]
fn every_purpose_has_a_control_thermocouple() {
    for purpose in [Purpose::Preheat, Purpose::HydrogenBakeOut] {
        let mut weld = pipe(219.1);
        weld.purpose = purpose;
        assert!(count(&layout(&weld), Role::Control) >= 1);
    }
}

#[test]
fn a_layout_read_without_the_word_fitted_is_fitted() {
    let text = r#"
        name = "TC1"
        role = "control"
        face = "outside"
        axial = 0.0
        clock = 12.0
        place = "soak_band"
        reason = "as placed"
    "#;
    let read: Thermocouple = toml::from_str(text).expect("a thermocouple");
    assert!(read.fitted);
    assert!((read.arc_mm(quantity::Millimeters::from_mm(100.0))).abs() < 1e-9);
}

#[test]
fn a_branch_is_controlled_at_crotches_and_flanks_and_watched_at_the_back() {
    let mut job = pipe(508.0);
    job.sides[1].outside_diameter = quantity::Millimeters::from_mm(254.0);
    job.joint.form = rules::joint::JointForm::Branch;
    let found = layout(&job);
    let control: Vec<(f64, f64)> = found
        .iter()
        .filter(|one| one.role == Role::Control)
        .map(|one| (one.axial.mm(), (one.clock * 100.0).round() / 100.0))
        .collect();
    // Crotches half the branch away along the run; flanks where half of 508 mm has a chord of 254 mm: 30 degrees, one hour.
    assert_eq!(
        control,
        [(-127.0, 12.0), (127.0, 12.0), (0.0, 11.0), (0.0, 1.0)]
    );
    assert_eq!(count(&found, Role::Spare), 4);
    assert!(
        found
            .iter()
            .any(|one| one.axial.mm() == 0.0 && one.clock == 6.0)
    );
}
