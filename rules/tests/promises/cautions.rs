//! What a person must hear first: what harms the metal, what cannot be kept, what contradicts itself.

use quantity::{Celsius, Hours, Millimeters};
use rules::answers::Question;
use rules::joint::{BranchForm, Joint, JointForm};
use rules::preheat::preheat;
use rules::requirement::{Level, LimitKind};
use rules::standing::Verdict;
use rules::weld::Weld;

use crate::welds::{carbon, need, remarks, side, weld};

fn warnings(weld: &Weld) -> Vec<String> {
    let remarks = need(weld).remarks.into_iter().map(|remark| remark.text);
    remarks
        .filter(|text| text.starts_with("warning: "))
        .collect()
}

fn with_procedure(mut weld: Weld, min_c: f64, max_c: f64) -> Weld {
    weld.procedure.document = Some("an invented procedure".into());
    weld.procedure.hold_min = Some(Celsius::from_c(min_c));
    weld.procedure.hold_max = Some(Celsius::from_c(max_c));
    weld.procedure.hold_time = Some(Hours::from_h(2.0));
    weld
}

fn verdict(weld: &Weld) -> Verdict {
    rules::standing(weld).expect("an answer").verdict
}

fn chemistry(weld: &mut Weld, contents: &[(&str, f64)]) {
    for side in &mut weld.sides {
        let contents = contents.iter().map(|(e, percent)| ((*e).into(), *percent));
        side.chemistry.extend(contents);
    }
}

#[test]
fn stainless_and_duplex_in_their_harmful_range_are_told_so() {
    for (code, number) in [
        ("ASME B31.3", "8"),
        ("ASME B31.3", "10H"),
        ("EN 13445-4", "8.1"),
        ("EN 13445-4", "10.1"),
    ] {
        let edition = if code == "ASME B31.3" { "2018" } else { "2021" };
        let pipe = weld(code, edition, &side(number, 1, 219.1, 10.0));
        let told = warnings(&with_procedure(pipe.clone(), 600.0, 650.0));
        assert!(
            told.iter().any(|text| text.contains("is harmed between")),
            "{number}: {told:?}"
        );
        let told = warnings(&with_procedure(pipe, 1040.0, 1100.0));
        assert!(
            !told.iter().any(|text| text.contains("is harmed between")),
            "{number}: {told:?}"
        );
    }
}

#[test]
fn a_metal_of_which_a_code_keeps_no_row_is_not_called_required() {
    // Common practice: aluminum, copper, nickel, duplex and austenitic steel get none unless a procedure asks.
    for (code, edition, number) in [
        ("ASME B31.3", "2018", "23"),
        ("ASME B31.3", "2018", "34"),
        ("ASME B31.3", "2018", "41"),
        ("EN 13445-4", "2021", "8.1"),
        ("EN 13445-4", "2021", "10.1"),
    ] {
        let mut pipe = weld(code, edition, &side(number, 1, 219.1, 10.0));
        assert_eq!(
            verdict(&pipe),
            Verdict::Open,
            "{number}: the owner is asked"
        );
        for question in Question::ALL {
            pipe.answers.said.insert(*question, false);
        }
        assert_eq!(verdict(&pipe), Verdict::NotRequired, "{number}");
    }
    // 9Cr-1Mo-V is always tempered, whichever rows are kept.
    for (code, edition, number) in [("ASME B31.1", "2012", "15E"), ("EN 13445-4", "2021", "6.4")] {
        let header = weld(code, edition, &side(number, 1, 324.0, 30.0));
        assert_eq!(verdict(&header), Verdict::Required, "{code}");
    }
    // The rows of EN 13445-4 for carbon steel are off: whether it asks is to be read there, and said.
    let mut vessel = weld("EN 13445-4", "2021", &side("1.1", 1, 600.0, 10.0));
    for question in Question::ALL {
        vessel.answers.said.insert(*question, false);
    }
    assert_eq!(verdict(&vessel), Verdict::NotRequired);
    vessel.answers.said.insert(Question::CodeAsks, true);
    assert_eq!(verdict(&vessel), Verdict::Required);
    vessel.answers.said.remove(&Question::CodeAsks);
    let standing = rules::standing(&vessel).expect("an answer");
    assert_eq!(standing.verdict, Verdict::Open);
    assert!(standing.open[0].text.contains("read there"), "{standing:?}");
}

#[test]
fn a_range_that_nobody_can_keep_is_told() {
    let mut header = weld("ASME B31.3", "2018", &side("15E", 1, 324.0, 30.0));
    let tempered = |header: &mut Weld, c: f64| {
        for side in &mut header.sides {
            side.tempered_at = Some(Celsius::from_c(c));
        }
    };
    // From 730 °C; 30 K below the tempering.
    tempered(&mut header, 774.0);
    assert!(
        warnings(&header)
            .iter()
            .any(|text| text.contains("only 14 K wide"))
    );
    tempered(&mut header, 775.0);
    assert!(!warnings(&header).iter().any(|text| text.contains("K wide")));
}

#[test]
fn a_metal_that_is_not_what_it_is_called_is_exempt_from_nothing() {
    let mut pipe = carbon("ASME B31.3", "2018", 20.0);
    for question in Question::ALL {
        let yes = *question == Question::Multilayer;
        pipe.answers.said.insert(*question, yes);
    }
    pipe.answers.preheat_applied = Some(Celsius::from_c(100.0));
    chemistry(&mut pipe, &[("C", 0.2), ("Cr", 0.1)]);
    assert_eq!(verdict(&pipe), Verdict::NotRequired);
    chemistry(&mut pipe, &[("Cr", 9.0)]);
    assert_eq!(verdict(&pipe), Verdict::Open);
    assert!(warnings(&pipe)[0].contains("Cr 9 % lies above 0.8 %"));
}

#[test]
fn martensite_that_did_not_transform_is_a_warning() {
    let mut header = weld("ASME B31.3", "2018", &side("15E", 1, 324.0, 30.0));
    header
        .answers
        .said
        .insert(Question::TransformedBefore, true);
    assert!(
        !warnings(&header)
            .iter()
            .any(|text| text.contains("martensite"))
    );
    header
        .answers
        .said
        .insert(Question::TransformedBefore, false);
    assert!(
        warnings(&header)
            .iter()
            .any(|text| text.contains("martensite"))
    );
}

#[test]
fn sour_service_is_told_and_takes_the_lower_temperatures_away() {
    let mut pipe = carbon("ASME VIII-1", "2019", 60.0);
    assert_eq!(verdict(&pipe), Verdict::Required);
    assert!(remarks(&need(&pipe)).contains("answers.sour_service"));
    assert!(remarks(&need(&pipe)).contains("lower end with a longer hold"));
    pipe.answers.said.insert(Question::SourService, true);
    let told = remarks(&need(&pipe));
    assert!(told.contains("250 HV"), "{told}");
    assert!(!told.contains("lower end with a longer hold"), "{told}");
}

#[test]
fn a_procedure_may_go_into_the_margin_and_not_above_the_lower_critical_temperature() {
    // Santella (2001): Ni+Mn 1.5 gives 768 °C, 15 K below that 753 °C.
    let mut header = weld("ASME B31.3", "2018", &side("15E", 1, 324.0, 30.0));
    chemistry(&mut header, &[("Ni", 0.5), ("Mn", 1.0)]);
    let into_the_margin = with_procedure(header.clone(), 755.0, 765.0);
    let needed = need(&into_the_margin);
    assert!(remarks(&needed).contains("must be qualified"));
    let cap = needed.limits.iter().find_map(|limit| match limit.kind {
        LimitKind::HoldMax(c) if limit.level == Level::Guidance => Some(c.c()),
        _ => None,
    });
    assert!((cap.expect("the temperature itself") - 768.0).abs() < 1.0);
    let above = rules::requirement(&with_procedure(header, 770.0, 775.0)).expect_err("refused");
    assert!(above.to_string().contains("lower critical"), "{above}");
}

#[test]
fn weld_metal_is_read_by_its_own_composition() {
    let mut header = weld("ASME B31.3", "2018", &side("15E", 1, 324.0, 30.0));
    let caps = |weld: &Weld| -> Vec<f64> {
        let needed = need(weld);
        let caps = needed.limits.iter().filter_map(|limit| match limit.kind {
            LimitKind::HoldMax(c) if limit.reason.contains("weld metal") => Some(c.c()),
            _ => None,
        });
        caps.collect()
    };
    // Andrews (1965): 723 - 10.7 * 0.8 + 29.1 * 0.3 + 16.9 * 2.25 = 761.2 °C, 15 K below that 746 °C.
    let low = [("C", 0.08), ("Mn", 0.8), ("Si", 0.3), ("Cr", 2.25)];
    header.welding.weld_metal = low.map(|(e, percent)| (e.into(), percent)).into();
    assert!(
        (caps(&header)[0] - 746.2).abs() < 0.5,
        "{:?}",
        caps(&header)
    );
    let nickel_base = [("C", 0.03), ("Mn", 3.0), ("Ni", 68.0), ("Cr", 20.0)];
    header.welding.weld_metal = nickel_base.map(|(e, percent)| (e.into(), percent)).into();
    assert_eq!(caps(&header), Vec::<f64>::new(), "no formula holds for it");
}

#[test]
fn the_thickest_component_and_the_fillet_of_a_nozzle_count() {
    let mm = |value: f64| Some(Millimeters::from_mm(value));
    let governing = |code: &str, edition: &str, joint: Joint| {
        let run = side("1", 1, 600.0, 18.0);
        let branch = side("1", 1, 219.1, 10.0);
        let mut weld = weld(code, edition, &run);
        weld.sides[1] = branch;
        weld.joint = joint;
        need(&weld).governing_thickness.thickness.mm()
    };
    let with_pad = Joint {
        form: JointForm::Branch,
        branch: Some(BranchForm::SetOnPad),
        pad: mm(25.0),
        ..Joint::default()
    };
    // ASME B31.3-2012 331.1.3: the thicker component.
    assert_eq!(governing("ASME B31.3", "2012", with_pad), 25.0);
    let set_in = Joint {
        form: JointForm::Branch,
        branch: Some(BranchForm::SetIn),
        ..Joint::default()
    };
    // ASME B31.1-2012 132.4.2, from memory: run and the cover throat, min(0.7 * 10, 6).
    assert_eq!(governing("ASME B31.1", "2012", set_in.clone()), 24.0);
    let nozzle = Joint {
        groove_depth: mm(18.0),
        throat: mm(40.0),
        ..set_in
    };
    // ASME VIII-1 UW-40(f), from memory: the attachment fillet where it is the greatest.
    assert_eq!(governing("ASME VIII-1", "2019", nozzle), 40.0);
}

#[test]
fn a_method_that_does_not_reach_the_weld_is_a_warning() {
    let at = |hydrogen_ml_100g: f64| {
        let mut pipe = weld("EN 13445-4", "2021", &side("1.2", 1, 600.0, 40.0));
        chemistry(
            &mut pipe,
            &[
                ("C", 0.18),
                ("Mn", 1.4),
                ("Cr", 0.1),
                ("Mo", 0.05),
                ("Cu", 0.1),
                ("Ni", 0.1),
            ],
        );
        pipe.welding.hydrogen_ml_100g = Some(hydrogen_ml_100g);
        pipe.welding.heat_input_kj_mm = Some(1.0);
        let remarks = preheat(&pipe).expect("an answer").remarks;
        remarks
            .iter()
            .any(|remark| remark.text.starts_with("warning: EN 1011-2 method B"))
    };
    assert!(!at(20.0));
    assert!(at(21.0), "beyond 20 ml/100 g the formula ends");
}
