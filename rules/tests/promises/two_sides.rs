//! Two sides that differ.

use rules::RuleFault;
use rules::weld::Weld;

use crate::welds::*;

fn joint(code: &str, edition: &str, first: (&str, f64), second: (&str, f64)) -> Weld {
    let mut joint = weld(code, edition, &side(first.0, 1, 457.0, first.1));
    joint.sides[1] = side(second.0, 1, 457.0, second.1);
    joint
}

#[test]
fn the_higher_temperature_governs_and_the_overlap_is_named() {
    // ASME B31.3-2016 Table 331.1.1: P-4 650-705, P-5A 675-760 °C.
    let need = need(&joint("ASME B31.3", "2016", ("4", 25.0), ("5A", 25.0)));
    assert_eq!(hold_min_c(&need), 675.0);
    assert_eq!(code_max_c(&need), Some(760.0));
    assert!(
        remarks(&need).contains("675 to 705 °C lies in both"),
        "{}",
        remarks(&need)
    );
    assert!(need.limits[0].reason.contains("side 2") && need.limits[0].reason.contains("650"));
}

#[test]
fn ranges_that_do_not_overlap_are_named_and_the_lower_side_caps() {
    // P-1 595-650, P-5A 675-760 °C: the carbon steel side is capped by its lower critical temperature, 725 less 15.
    let need = need(&joint("ASME B31.3", "2016", ("1", 25.0), ("5A", 25.0)));
    assert_eq!(hold_min_c(&need), 675.0);
    assert_eq!(need.hold_max().map(quantity::Celsius::c), Some(710.0));
    assert!(remarks(&need).contains("do not overlap"));
}

#[test]
fn carbon_steel_against_p91_leaves_no_range() {
    let error = rules::requirement(&joint("ASME B31.3", "2016", ("1", 25.0), ("15E", 25.0)))
        .expect_err("refused");
    assert!(
        matches!(error.faults[0], RuleFault::EmptyRange { .. }),
        "{error}"
    );
    assert!(
        error.to_string().contains("730")
            && error.to_string().contains("710")
            && error.to_string().contains("butter")
    );
}

#[test]
fn codes_differ_in_which_wall_governs() {
    let walls = (("1", 20.0), ("1", 60.0));
    let vessel = need(&joint("ASME VIII-1", "2013", walls.0, walls.1));
    assert_eq!(vessel.governing_thickness.thickness.mm(), 20.0);
    assert_eq!(heating_k_h(&vessel), 94.0);
    assert!(remarks(&vessel).contains("rates are read at 60 mm"));
    let piping = need(&joint("ASME B31.3", "2016", walls.0, walls.1));
    assert_eq!(piping.governing_thickness.thickness.mm(), 60.0);
    assert!(piping.governing_thickness.reason.contains("20 and 60 mm"));
}

#[test]
fn every_unknown_side_is_named() {
    let error = rules::requirement(&joint("ASME B31.3", "2016", ("45", 20.0), ("46", 20.0)))
        .expect_err("refused");
    assert_eq!(error.faults.len(), 2);
}
