//! Values of the code tables, read through the requirement.

use quantity::{Celsius, Status};
use rules::RuleFault;
use rules::requirement::Level;
use rules::weld::{Purpose, Weld};

use crate::welds::*;

#[test]
fn carbon_steel_by_the_process_piping_code() {
    // ASME B31.3-2016 Table 331.1.1: P-No. 1, 595-650 °C, 1 h/25 mm.
    let need = need(&carbon("ASME B31.3", "2016", 25.0));
    assert_eq!(hold_min_c(&need), 595.0);
    assert_eq!(code_max_c(&need), Some(650.0));
    assert_eq!(hold_minutes(&need), 60.0);
    let first = &need.limits[0];
    assert_eq!(first.clause.document, "ASME B31.3-2016");
    assert_eq!(first.clause.status, Status::Verified);
}

#[test]
fn a_value_read_in_another_edition_counts_as_from_memory() {
    let need = need(&carbon("ASME B31.3", "2022", 25.0));
    assert_eq!(need.limits[0].clause.status, Status::FromMemory);
    assert!(
        need.limits[0]
            .clause
            .note
            .as_ref()
            .is_some_and(|note| note.contains("2016"))
    );
}

#[test]
fn older_edition_older_values() {
    // ASME B31.3-2012 Table 331.1.1: P-No. 4, 704-746 °C, 2.4 min/mm, 2 h at least, 225 HB.
    let need = need(&weld("ASME B31.3", "2012", &side("4", 1, 457.0, 20.0)));
    assert_eq!(hold_min_c(&need), 704.0);
    assert_eq!(code_max_c(&need), Some(746.0));
    assert_eq!(hold_minutes(&need), 120.0);
    assert!(remarks(&need).contains("225 HB"));
    assert!(remarks(&need).contains("no document sets a heating rate"));
}

#[test]
fn vessel_code_gives_a_lower_end_only_and_the_metal_the_upper_end() {
    let need = need(&carbon("ASME VIII-1", "2013", 60.0));
    assert_eq!(hold_min_c(&need), 595.0);
    assert_eq!(code_max_c(&need), None);
    // 2 h + 15 min for each 25 mm over 50 (ASME VIII-1 Table UCS-56-1).
    assert_eq!(hold_minutes(&need), 126.0);
    // ASME B31.1 Table 129.3.2: 725 °C, less 15 K.
    let (cap_c, cap) = limit_max(&need, Level::Guidance).expect("a cap");
    assert_eq!(cap_c, 710.0);
    assert!(cap.reason.contains("725 °C"));
}

#[test]
fn rates_of_the_vessel_code_at_worked_thicknesses() {
    // Computed from the formulas of UCS-56(d): heating 5640/t to 222, cooling 7110/t to 280.
    for (wall_mm, heating, cooling) in [
        (25.4, 222.0, 280.0),
        (38.1, 148.0, 187.0),
        (50.8, 111.0, 140.0),
        (76.2, 74.0, 93.0),
        (100.0, 56.0, 71.0),
    ] {
        let need = need(&carbon("ASME VIII-1", "2019", wall_mm));
        assert_eq!(heating_k_h(&need).round(), heating, "{wall_mm} mm");
        assert_eq!(cooling_k_h(&need).round(), cooling, "{wall_mm} mm");
    }
}

#[test]
fn rates_of_the_power_piping_code_at_worked_thicknesses() {
    // Computed from 335 K/h over half the thickness in inches (B31.1 132.5).
    for (wall_mm, rate) in [
        (25.4, 335.0),
        (38.1, 335.0),
        (50.8, 335.0),
        (76.2, 223.0),
        (100.0, 170.0),
    ] {
        let need = need(&carbon("ASME B31.1", "2018", wall_mm));
        assert_eq!(heating_k_h(&need).round(), rate, "{wall_mm} mm");
    }
}

#[test]
fn the_lower_end_of_705_for_p91_stays_off_until_confirmed() {
    let need = need(&weld("ASME B31.3", "2016", &side("15E", 1, 450.0, 70.0)));
    assert_eq!(hold_min_c(&need), 730.0);
    assert_eq!(code_max_c(&need), Some(775.0));
    assert_eq!(hold_minutes(&need), 168.0);
    let remarks = remarks(&need);
    assert!(
        remarks.contains("705") && remarks.contains("switched off"),
        "{remarks}"
    );
}

#[test]
fn unknown_codes_editions_and_metals_are_refused_with_what_is_known() {
    let refused =
        |weld: &rules::weld::Weld| rules::requirement(weld).expect_err("refused").to_string();
    assert!(refused(&carbon("ASME B31.9", "2020", 20.0)).contains("ASME B31.3"));
    let text = refused(&carbon("ASME B31.3", "1999", 20.0));
    assert!(text.contains("1999") && text.contains("2016"), "{text}");
    let text = refused(&weld("ASME B31.3", "2016", &side("45", 1, 457.0, 20.0)));
    assert!(text.contains("45") && text.contains("15E"), "{text}");
    // P-No. 1 Gr. 4 has no temperature in the table.
    assert!(rules::requirement(&weld("ASME VIII-1", "2010", &side("1", 4, 457.0, 20.0))).is_err());
}

#[test]
fn impossible_measures_are_all_named_at_once() {
    let mut bad = carbon("ASME B31.3", "2016", 25.0);
    bad.sides[0].wall = quantity::Millimeters::from_mm(-3.0);
    bad.sides[1].outside_diameter = quantity::Millimeters::from_mm(f64::NAN);
    let error = rules::requirement(&bad).expect_err("refused");
    assert_eq!(error.faults.len(), 2);
    assert!(
        error
            .faults
            .iter()
            .all(|fault| matches!(fault, RuleFault::BadMeasure { .. }))
    );
}

#[test]
fn a_row_that_is_only_unsure_is_refused_unless_the_procedure_gives_its_own() {
    let mut p91 = weld("ASME B31.3", "2012", &side("15E", 1, 450.0, 40.0));
    let error = rules::requirement(&p91).expect_err("refused");
    assert!(
        matches!(error.faults[0], RuleFault::OnlyUnsure { .. }),
        "{error}"
    );
    p91.procedure.hold_min = c(740.0);
    p91.procedure.hold_max = c(770.0);
    p91.procedure.hold_time = Some(quantity::Hours::from_h(3.0));
    assert_eq!(hold_min_c(&need(&p91)), 740.0);
}

#[test]
fn preheat_and_bake_out_get_a_requirement_too() {
    // ASME B31.3-2014 Table 330.1.1: P-No. 4 120 °C; 2010: 149 °C.
    for (edition, c) in [("2014", 120.0), ("2010", 149.0)] {
        let mut preheat = weld("ASME B31.3", edition, &side("4", 1, 219.1, 20.0));
        preheat.purpose = Purpose::Preheat;
        assert_eq!(hold_min_c(&need(&preheat)), c);
    }
    let mut bake = carbon("ASME B31.3", "2022", 150.0);
    bake.purpose = Purpose::HydrogenBakeOut;
    let bake = need(&bake);
    assert_eq!(hold_min_c(&bake), 316.0);
    assert_eq!(hold_minutes(&bake), 360.0);
    assert!(
        bake.limits
            .iter()
            .all(|limit| limit.level == Level::Guidance)
    );
}

#[test]
fn lower_critical_temperature_from_the_composition() {
    // Andrews (1965), computed for Mn 1.4 Si 0.3: 717 °C.
    let mut steel = side("1", 1, 457.0, 25.0);
    steel.chemistry = [("C", 0.17), ("Mn", 1.4), ("Si", 0.3)]
        .map(|(name, p)| (name.to_string(), p))
        .into();
    let need = need(&weld("ASME VIII-1", "2013", &steel));
    let (cap_c, _) = limit_max(&need, Level::Guidance).expect("a cap");
    assert!((cap_c + 15.0 - 717.0).abs() < 1.0, "{cap_c}");
}

#[test]
fn the_upper_critical_temperature_stands_beside_the_lower_and_a_limit_above_is_told() {
    let mut steel = side("1", 1, 457.0, 25.0);
    steel.chemistry = [("C", 0.16), ("Mn", 1.4), ("Si", 0.3)]
        .map(|(name, p)| (name.to_string(), p))
        .into();
    let mut weld = weld("ASME VIII-1", "2013", &steel);
    let critical = &rules::critical_temperatures(&weld).expect("kept")[0];
    // Andrews (1965): 842 °C, as worked out by hand.
    assert!((critical.upper[0].c - 842.2).abs() < 0.1, "{critical:?}");
    assert!(
        critical
            .lowest()
            .is_some_and(|lower| lower.c < critical.upper[0].c)
    );
    let told = |weld: &Weld| -> Vec<String> {
        let remarks = need(weld).remarks.into_iter().map(|remark| remark.text);
        remarks
            .filter(|text| text.contains("austenite forms"))
            .collect()
    };
    assert_eq!(told(&weld), Vec::<String>::new());
    weld.owner.hold_max = Some(Celsius::from_c(740.0));
    weld.owner.document = Some("an invented specification".into());
    let told = told(&weld);
    assert!(
        told[0].contains("740 °C") && told[0].contains("842.2 °C"),
        "{told:?}"
    );
}

#[test]
fn nickel_and_manganese_lower_the_ceiling_of_p91() {
    // Computed from the rule for 9Cr weld metal: Ni+Mn 1.5 gives 768 °C, 15 K below that 753 °C.
    let mut steel = side("15E", 1, 450.0, 40.0);
    steel.chemistry = [("Ni", 0.5), ("Mn", 1.0)]
        .map(|(name, p)| (name.to_string(), p))
        .into();
    let need = need(&weld("ASME B31.3", "2016", &steel));
    let (cap_c, cap) = limit_max(&need, Level::Guidance).expect("a cap");
    assert!((cap_c - 753.0).abs() < 1.0, "{cap_c}");
    assert_eq!(cap.clause.status, Status::Unsure);
}

#[test]
fn a_metal_has_its_ceiling_under_every_name() {
    // Santella (2001), from Ni+Mn as above; Andrews (1965): 723 - 10.7 * 0.6 - 16.9 * 3.5 + 29.1 * 0.25 = 664.7 °C.
    let nickel = [("C", 0.12), ("Mn", 0.6), ("Si", 0.25), ("Ni", 3.5)];
    let grade_91 = [("Ni", 0.5), ("Mn", 1.0)];
    type Case<'a> = (&'a str, &'a [(&'a str, f64)], f64);
    let cases: [Case<'_>; 3] = [
        ("15E", &grade_91, 753.0),
        ("6.4", &grade_91, 753.0),
        ("9B", &nickel, 664.7 - 15.0),
    ];
    for (number, chemistry, cap_c) in cases {
        let mut steel = side(number, 1, 450.0, 40.0);
        steel.chemistry = chemistry
            .iter()
            .map(|(name, percent)| ((*name).to_owned(), *percent))
            .collect();
        let (code, edition) = match number {
            "6.4" => ("EN 13445-4", "2021"),
            _ => ("ASME VIII-1", "2019"),
        };
        let mut weld = weld(code, edition, &steel);
        weld.procedure.document = Some("an invented procedure".into());
        weld.procedure.hold_min = c(cap_c - 20.0);
        weld.procedure.hold_max = c(cap_c + 20.0);
        weld.procedure.hold_time = Some(quantity::Hours::from_h(4.0));
        let needed = rules::requirement(&weld).unwrap_or_else(|refused| panic!("{refused}"));
        let (found_c, cap) = limit_max(&needed, Level::Guidance).expect("a cap");
        assert!((found_c - cap_c).abs() < 1.0, "{number}: {found_c}");
        assert!(cap.reason.contains(number), "{}", cap.reason);
    }
}

#[test]
fn tempering_caps_the_hold() {
    let mut steel = side("5A", 1, 323.9, 30.0);
    steel.tempered_at = c(720.0);
    let need = need(&weld("ASME B31.3", "2016", &steel));
    assert_eq!(need.hold_max().map(quantity::Celsius::c), Some(690.0));
}

#[test]
fn a_ceiling_below_the_range_is_refused_unless_the_procedure_is_qualified() {
    let mut steel = side("1", 1, 457.0, 25.0);
    steel.tempered_at = c(620.0);
    let mut quenched = weld("ASME B31.3", "2016", &steel);
    let error = rules::requirement(&quenched).expect_err("refused");
    assert!(
        matches!(
            error.faults[0],
            RuleFault::EmptyRange {
                min: 595.0,
                max: 590.0,
                ..
            }
        ),
        "{error}"
    );
    quenched.procedure.hold_min = c(595.0);
    quenched.procedure.hold_max = c(610.0);
    assert!(remarks(&need(&quenched)).contains("qualified"));
}

#[test]
fn what_a_code_only_recommends_is_guidance_and_gives_way() {
    // ASME VIII-1 Appendix R is not mandatory: a procedure may set its own preheat.
    let mut job = weld("ASME VIII-1", "2017", &side("5A", 1, 323.9, 20.0));
    job.purpose = Purpose::Preheat;
    assert!(
        need(&job)
            .limits
            .iter()
            .all(|limit| limit.level == Level::Guidance)
    );
    job.procedure.hold_min = c(140.0);
    let need = need(&job);
    assert_eq!(hold_min_c(&need), 140.0);
    assert!(
        remarks(&need).contains("guidance asks at least 204 °C"),
        "{}",
        remarks(&need)
    );
}

#[test]
fn a_bake_out_of_the_procedure_governs_over_practice() {
    let mut job = carbon("ASME B31.3", "2022", 40.0);
    job.purpose = Purpose::HydrogenBakeOut;
    job.procedure.hold_min = c(250.0);
    job.procedure.hold_max = c(280.0);
    job.procedure.hold_time = Some(quantity::Hours::from_h(2.0));
    let need = need(&job);
    assert_eq!((hold_min_c(&need), hold_minutes(&need)), (250.0, 120.0));
    assert!(remarks(&need).contains("EN 1011-2 recommends 2 h at 250 °C"));
}

#[test]
fn the_same_metal_on_both_sides_is_told_once() {
    let need = need(&weld("ASME B31.3", "2016", &side("15E", 1, 450.0, 70.0)));
    let of = |text: &str| {
        need.remarks
            .iter()
            .filter(|remark| remark.text.contains(text))
            .count()
    };
    assert_eq!(of("705"), 1);
    assert_eq!(of("in proportion"), 1);
    assert_eq!(
        need.limits
            .iter()
            .filter(|limit| limit.level == Level::Guidance)
            .count(),
        1
    );
}
