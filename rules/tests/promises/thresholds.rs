//! One unit to either side of each threshold, and what must never turn round.

use proptest::prelude::*;
use rules::weld::Purpose;

use crate::welds::*;

fn hold_at(code: &str, edition: &str, p_number: &str, wall_mm: f64) -> f64 {
    hold_minutes(&need(&weld(
        code,
        edition,
        &side(p_number, 1, 1000.0, wall_mm),
    )))
}

#[test]
fn hold_times_around_their_thresholds() {
    // ASME B31.3-2016 Table 331.1.1 and ASME VIII-1 Tables UCS-56; B31.3-2012 Table 331.1.1.
    for (code, edition, p_number, wall_mm, minutes) in [
        ("ASME B31.3", "2016", "1", 6.0, 15.0),
        ("ASME B31.3", "2016", "1", 7.0, 16.8),
        ("ASME B31.3", "2016", "1", 50.0, 120.0),
        ("ASME B31.3", "2016", "1", 51.0, 120.6),
        ("ASME B31.3", "2016", "15E", 12.0, 30.0),
        ("ASME B31.3", "2016", "15E", 13.0, 31.2),
        ("ASME B31.3", "2016", "15E", 125.0, 300.0),
        ("ASME B31.3", "2016", "15E", 126.0, 300.6),
        ("ASME VIII-1", "2013", "4", 51.0, 122.4),
        ("ASME VIII-1", "2013", "4", 125.0, 300.0),
        ("ASME VIII-1", "2013", "4", 126.0, 300.6),
        ("ASME B31.3", "2012", "1", 25.0, 60.0),
        ("ASME B31.3", "2012", "1", 26.0, 62.4),
    ] {
        let found = hold_at(code, edition, p_number, wall_mm);
        assert!(
            (found - minutes).abs() < 1e-9,
            "{code} {edition} P-{p_number} {wall_mm} mm: {found}"
        );
    }
}

#[test]
fn p91_in_a_vessel_starts_ten_degrees_lower_up_to_13_mm() {
    let at = |wall_mm| {
        hold_min_c(&need(&weld(
            "ASME VIII-1",
            "2019",
            &side("15E", 1, 219.1, wall_mm),
        )))
    };
    assert_eq!((at(13.0), at(13.1)), (720.0, 730.0));
}

#[test]
fn exemption_turns_mandatory_one_unit_on() {
    // ASME VIII-1:2010 Table UCS-56 note 2: 32 and 38 mm; 95 °C preheat between.
    let text = |wall_mm| remarks(&need(&carbon("ASME VIII-1", "2010", wall_mm)));
    assert!(!text(32.0).contains("preheat of at least"));
    assert!(text(33.0).contains("preheat of at least 95 °C"));
    assert!(text(38.0).contains("preheat of at least 95 °C"));
    assert!(text(39.0).contains("mandatory"));
    // ASME B31.3-2012 Table 331.1.1: none up to 20 mm.
    let text = |wall_mm| remarks(&need(&carbon("ASME B31.3", "2012", wall_mm)));
    assert!(text(20.0).contains("asks no stress relief"));
    assert!(text(21.0).contains("mandatory"));
}

#[test]
fn preheat_turns_at_the_printed_wall_and_strength() {
    let preheat = |edition: &str, p_number: &str, wall_mm: f64, mpa: f64, carbon: f64| {
        let mut steel = side(p_number, 1, 457.0, wall_mm);
        steel.tensile_strength_mpa = Some(mpa);
        steel.chemistry.insert("C".into(), carbon);
        let mut job = weld("ASME B31.3", edition, &steel);
        job.purpose = Purpose::Preheat;
        hold_min_c(&need(&job))
    };
    // ASME B31.3-2014 Table 330.1.1.
    assert_eq!(preheat("2014", "1", 26.0, 480.0, 0.30), 10.0);
    assert_eq!(preheat("2014", "1", 25.0, 480.0, 0.31), 10.0);
    assert_eq!(preheat("2014", "1", 26.0, 480.0, 0.31), 95.0);
    assert_eq!(preheat("2014", "3", 13.0, 450.0, 0.2), 10.0);
    assert_eq!(preheat("2014", "3", 14.0, 450.0, 0.2), 95.0);
    assert_eq!(preheat("2014", "3", 13.0, 451.0, 0.2), 95.0);
    assert_eq!(preheat("2014", "5A", 13.0, 414.0, 0.1), 150.0);
    assert_eq!(preheat("2014", "5A", 13.0, 415.0, 0.1), 200.0);
    // ASME B31.3-2010 Table 330.1.1: the step lies at 25 mm itself.
    assert_eq!(preheat("2010", "1", 24.9, 480.0, 0.2), 10.0);
    assert_eq!(preheat("2010", "1", 25.0, 480.0, 0.2), 79.0);
    assert_eq!(preheat("2010", "1", 24.9, 491.0, 0.2), 79.0);
}

#[test]
fn what_is_not_known_is_taken_the_strict_way_and_said() {
    let mut job = weld("ASME B31.3", "2014", &side("3", 1, 457.0, 10.0));
    job.purpose = Purpose::Preheat;
    let need = need(&job);
    assert_eq!(hold_min_c(&need), 95.0);
    assert!(
        remarks(&need).contains("tensile strength not given"),
        "{}",
        remarks(&need)
    );
}

/// Tables with holds; those from the second on have rates.
const TABLES: [(&str, &str); 6] = [
    ("ASME B31.3", "2012"),
    ("ASME B31.3", "2016"),
    ("ASME VIII-1", "2013"),
    ("ASME B31.1", "2012"),
    ("ASME B31.1", "2018"),
    ("AWS D1.1", "2015"),
];

proptest! {
    #[test]
    fn a_thicker_weld_never_holds_shorter(table in 0..6usize, metal in 0..4usize, thin in 2.0..250.0, more in 0.0..140.0) {
        let (code, edition) = TABLES[table];
        let p_number = match code { "AWS D1.1" => "1", _ => ["1", "4", "5A", "5B"][metal] };
        prop_assert!(hold_at(code, edition, p_number, thin + more) >= hold_at(code, edition, p_number, thin) - 1e-9);
    }

    #[test]
    fn a_thicker_weld_is_never_heated_or_cooled_faster(table in 1..6usize, thin in 2.0..250.0, more in 0.0..140.0) {
        let (code, edition) = TABLES[table];
        let at = |wall_mm| need(&weld(code, edition, &side("1", 1, 1000.0, wall_mm)));
        let (thin, thick) = (at(thin), at(thin + more));
        prop_assert!(heating_k_h(&thick) <= heating_k_h(&thin));
        prop_assert!(cooling_k_h(&thick) <= cooling_k_h(&thin));
    }
}
