//! Required or not: each condition is asked, answered, and counts one unit either side of its threshold.

use quantity::{Celsius, Millimeters};
use rules::answers::Question;
use rules::joint::{BranchForm, Joint, JointForm};
use rules::standing::Verdict;
use rules::weld::Weld;

use crate::welds::{carbon, need, remarks, side, weld};

fn verdict(weld: &Weld) -> Verdict {
    rules::standing(weld).expect("an answer").verdict
}

/// All that can override an exemption is answered with no.
fn nothing_overrides(weld: &mut Weld) {
    for question in [
        Question::SourService,
        Question::SevereCyclic,
        Question::AskedByOwner,
        Question::NamedService,
    ] {
        weld.answers.said.insert(question, false);
    }
}

fn preheated(weld: &mut Weld, c: f64) {
    weld.answers.preheat_applied = Some(Celsius::from_c(c));
}

#[test]
fn carbon_steel_of_any_wall_goes_by_preheat_and_layers() {
    // ASME B31.3-2016 and -2018 Table 331.1.3, P-1: 95 °C where a wall is over 25 mm, several layers over 5 mm.
    let mut pipe = carbon("ASME B31.3", "2018", 26.0);
    assert_eq!(verdict(&pipe), Verdict::Open);
    nothing_overrides(&mut pipe);
    pipe.answers.said.insert(Question::Multilayer, true);
    assert_eq!(verdict(&pipe), Verdict::Open, "the preheat is not known");
    preheated(&mut pipe, 94.0);
    assert_eq!(verdict(&pipe), Verdict::Required);
    preheated(&mut pipe, 95.0);
    assert_eq!(verdict(&pipe), Verdict::NotRequired);
    let mut thin = carbon("ASME B31.3", "2018", 25.0);
    nothing_overrides(&mut thin);
    thin.answers.said.insert(Question::Multilayer, true);
    assert_eq!(
        verdict(&thin),
        Verdict::NotRequired,
        "no preheat is asked to 25 mm"
    );
    thin.answers.said.insert(Question::Multilayer, false);
    assert_eq!(verdict(&thin), Verdict::Required);
    let mut root_run = carbon("ASME B31.3", "2018", 5.0);
    nothing_overrides(&mut root_run);
    assert_eq!(
        verdict(&root_run),
        Verdict::NotRequired,
        "5 mm may be one run"
    );
}

#[test]
fn an_exemption_of_some_groups_is_open_while_the_group_is_not_given() {
    // ASME VIII-1 UCS-56: P-3 Gr. 3 in any thickness, Gr. 1 and 2 over 16 mm; ASME B31.3-2018 Table 331.1.3: P-4 Gr. 1.
    let cases = [
        ("ASME VIII-1", "2019", "3", 3),
        ("ASME B31.3", "2018", "4", 2),
    ];
    for (code, edition, number, not_exempt) in cases {
        let mut pipe = weld(code, edition, &side(number, 1, 219.1, 10.0));
        nothing_overrides(&mut pipe);
        preheated(&mut pipe, 150.0);
        pipe.answers.said.insert(Question::Multilayer, true);
        pipe.answers.said.insert(Question::QualifiedThickness, true);
        for side in &mut pipe.sides {
            side.chemistry.insert("C".into(), 0.12);
        }
        assert_eq!(verdict(&pipe), Verdict::NotRequired, "{code}, Gr. 1");
        for side in &mut pipe.sides {
            side.p_number.group = None;
        }
        let standing = rules::standing(&pipe).expect("an answer");
        assert_eq!(standing.verdict, Verdict::Open, "{code}, no group");
        assert!(standing.open.iter().any(|open| open.text.contains("group")));
        for side in &mut pipe.sides {
            side.p_number.group = Some(not_exempt);
        }
        assert_eq!(verdict(&pipe), Verdict::Required, "{code}, {not_exempt}");
    }
}

#[test]
fn service_and_owner_override_an_exemption_and_are_always_asked() {
    let mut pipe = carbon("ASME B31.3", "2018", 20.0);
    pipe.answers.said.insert(Question::Multilayer, true);
    let open = rules::standing(&pipe).expect("an answer");
    let keys: Vec<&str> = open.open.iter().map(|one| one.key.as_str()).collect();
    assert_eq!(open.verdict, Verdict::Open);
    assert_eq!(
        keys,
        [
            "answers.severe_cyclic",
            "answers.sour_service",
            "answers.asked_by_owner"
        ]
    );
    nothing_overrides(&mut pipe);
    assert_eq!(verdict(&pipe), Verdict::NotRequired);
    pipe.answers.said.insert(Question::SourService, true);
    let sour = rules::standing(&pipe).expect("an answer");
    assert_eq!(sour.verdict, Verdict::Required);
    assert!(
        sour.reasons
            .iter()
            .any(|reason| reason.text.contains("hardness limits"))
    );
}

#[test]
fn vessel_thresholds_of_32_and_38_mm() {
    // ASME VIII-1 Table UCS-56-1: mandatory over 38 mm, from 32 to 38 mm unless 95 °C preheat is applied.
    let at = |wall_mm: f64, c: Option<f64>| {
        let mut seam = carbon("ASME VIII-1", "2013", wall_mm);
        nothing_overrides(&mut seam);
        seam.answers.preheat_applied = c.map(Celsius::from_c);
        verdict(&seam)
    };
    assert_eq!(at(32.0, None), Verdict::NotRequired);
    assert_eq!(at(33.0, None), Verdict::Open);
    assert_eq!(at(33.0, Some(94.0)), Verdict::Required);
    assert_eq!(at(38.0, Some(95.0)), Verdict::NotRequired);
    assert_eq!(at(39.0, Some(95.0)), Verdict::Required);
    let mut lethal = carbon("ASME VIII-1", "2013", 20.0);
    nothing_overrides(&mut lethal);
    lethal.answers.said.insert(Question::NamedService, true);
    assert_eq!(verdict(&lethal), Verdict::Required);
}

#[test]
fn the_diameter_condition_of_p4_stands_in_2010_and_not_in_2013() {
    let tube = |edition: &str, od_mm: f64| {
        let mut steel = side("4", 1, od_mm, 10.0);
        steel.chemistry.insert("C".into(), 0.12);
        let mut tube = weld("ASME VIII-1", edition, &steel);
        nothing_overrides(&mut tube);
        preheated(&mut tube, 120.0);
        let without = verdict(&tube);
        tube.answers.said.insert(Question::PipeOrTube, true);
        (without, verdict(&tube))
    };
    let (open, free) = (Verdict::Open, Verdict::NotRequired);
    let asked = Verdict::Required;
    assert_eq!(tube("2010", 100.0), (open, free));
    assert_eq!(tube("2010", 101.0), (asked, asked));
    assert_eq!(tube("2013", 101.0), (open, free));
}

#[test]
fn low_alloy_piping_is_exempt_to_16_mm() {
    // ASME B31.3-2018 Table 331.1.3, P-3 and P-4 Gr. 1.
    for (p_number, carbon_percent, preheat_c) in [("3", 0.25, 95.0), ("4", 0.15, 120.0)] {
        let at = |wall_mm: f64, percent: f64| {
            let mut steel = side(p_number, 1, 168.3, wall_mm);
            steel.chemistry.insert("C".into(), percent);
            let mut pipe = weld("ASME B31.3", "2018", &steel);
            nothing_overrides(&mut pipe);
            pipe.answers.said.insert(Question::Multilayer, true);
            preheated(&mut pipe, preheat_c);
            verdict(&pipe)
        };
        assert_eq!(
            at(16.0, carbon_percent),
            Verdict::NotRequired,
            "P-{p_number}"
        );
        assert_eq!(at(17.0, carbon_percent), Verdict::Required, "P-{p_number}");
        assert_eq!(
            at(16.0, carbon_percent + 0.01),
            Verdict::Required,
            "P-{p_number}"
        );
    }
}

#[test]
fn stainless_and_duplex_need_none_and_do_not_hinder_the_other_side() {
    let mut pipe = weld("ASME B31.3", "2016", &side("8", 1, 219.1, 12.7));
    nothing_overrides(&mut pipe);
    assert_eq!(verdict(&pipe), Verdict::NotRequired);
    let mut joint = weld("ASME B31.3", "2016", &side("5A", 1, 219.1, 20.0));
    joint.sides[1] = side("8", 1, 219.1, 20.0);
    let requirement = need(&joint);
    assert_eq!(
        requirement.standing.as_ref().map(|s| s.verdict),
        Some(Verdict::Required)
    );
    assert_eq!(requirement.hold_min(), Some(Celsius::from_c(675.0)));
    assert!(
        remarks(&requirement).contains("side 2 (P-No. 8 Gr. 1): the table asks no stress relief")
    );
}

fn governing(code: &str, walls: [f64; 2], joint: Joint) -> f64 {
    let mut weld = weld(code, "2018", &side("1", 1, 600.0, walls[0]));
    if code == "ASME VIII-1" {
        weld.code.edition = "2013".into();
    }
    weld.sides[1] = side("1", 1, 219.1, walls[1]);
    weld.joint = joint;
    need(&weld).governing_thickness.thickness.mm()
}

#[test]
fn the_governing_thickness_follows_the_form_of_the_joint() {
    let mm = |value: f64| Some(Millimeters::from_mm(value));
    let branch = |form: BranchForm, pad: Option<f64>| Joint {
        form: JointForm::Branch,
        branch: Some(form),
        pad: pad.map(Millimeters::from_mm),
        ..Joint::default()
    };
    // ASME B31.3 331.1.3 with tc = min(0.7·Tb, 6): Tb 8 gives 5.6, Tb 12 gives 6.
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
    near(
        governing("ASME B31.3", [20.0, 8.0], branch(BranchForm::SetOn, None)),
        13.6,
    );
    near(
        governing("ASME B31.3", [20.0, 12.0], branch(BranchForm::SetOn, None)),
        18.0,
    );
    near(
        governing("ASME B31.3", [20.0, 12.0], branch(BranchForm::SetIn, None)),
        26.0,
    );
    near(
        governing(
            "ASME B31.3",
            [20.0, 12.0],
            branch(BranchForm::SetOnPad, Some(15.0)),
        ),
        21.0,
    );
    near(
        governing(
            "ASME B31.3",
            [20.0, 12.0],
            branch(BranchForm::SetInPad, Some(15.0)),
        ),
        41.0,
    );
    let fillet = |throat: Option<f64>| Joint {
        form: JointForm::Fillet,
        throat: throat.map(Millimeters::from_mm),
        ..Joint::default()
    };
    near(
        governing("ASME B31.3", [30.0, 20.0], fillet(Some(8.0))),
        8.0,
    );
    near(governing("ASME B31.3", [30.0, 20.0], fillet(None)), 30.0);
    // ASME VIII-1 UW-40(f): butt the thinner, nozzle the greatest part, groove with fillet the larger.
    near(
        governing("ASME VIII-1", [30.0, 20.0], Joint::default()),
        20.0,
    );
    near(
        governing(
            "ASME VIII-1",
            [30.0, 20.0],
            branch(BranchForm::SetIn, Some(40.0)),
        ),
        40.0,
    );
    let partial = Joint {
        form: JointForm::PartialPenetration,
        groove_depth: mm(12.0),
        throat: mm(9.0),
        ..Joint::default()
    };
    near(
        governing("ASME VIII-1", [30.0, 20.0], partial.clone()),
        12.0,
    );
    near(governing("ASME B31.3", [30.0, 20.0], partial), 12.0);
}

fn fillet(code: &str, edition: &str, p_number: &str, wall_mm: f64, throat_mm: f64) -> Weld {
    let mut steel = side(p_number, 1, 80.0, wall_mm);
    steel.chemistry.insert("C".into(), 0.12);
    let mut weld = weld(code, edition, &steel);
    weld.joint.form = JointForm::Fillet;
    weld.joint.throat = Some(quantity::Millimeters::from_mm(throat_mm));
    nothing_overrides(&mut weld);
    weld.answers.said.insert(Question::NamedService, false);
    preheated(&mut weld, 120.0);
    weld
}

#[test]
fn attachments_of_a_vessel_go_by_throat_and_preheat() {
    // ASME VIII-1 Tables UCS-56-2 note (d), UCS-56-3 note (b), UCS-56-7 note (c): a throat of 13 mm; P-4 on pipe to 16 mm.
    for (p_number, wall_mm) in [("3", 20.0), ("4", 16.0), ("10A", 20.0)] {
        let at = |throat_mm| verdict(&fillet("ASME VIII-1", "2019", p_number, wall_mm, throat_mm));
        assert_eq!(at(13.0), Verdict::NotRequired, "P-No. {p_number}");
        // Above, the row for any weld to 16 mm is left, which asks whether the procedure is qualified for the thickness.
        let left = match p_number {
            "4" => Verdict::Required,
            _ => Verdict::Open,
        };
        assert_eq!(at(14.0), left, "P-No. {p_number}");
        assert_eq!(at(17.0), Verdict::Required, "P-No. {p_number}");
    }
    assert_eq!(
        verdict(&fillet("ASME VIII-1", "2019", "4", 17.0, 13.0)),
        Verdict::Required
    );
    let mut cold = fillet("ASME VIII-1", "2019", "3", 20.0, 13.0);
    preheated(&mut cold, 94.0);
    assert_eq!(
        verdict(&cold),
        Verdict::Open,
        "the qualified thickness is asked"
    );
}

#[test]
fn power_piping_is_exempt_as_process_piping_is() {
    // ASME B31.1-2016 Table 132.2: P-1 of any wall by 95 °C over 25 mm and several layers over 5 mm; P-5A to 16 mm.
    let of = |wall_mm: f64, layers: bool, c: f64| {
        let mut weld = weld("ASME B31.1", "2016", &side("1", 1, 500.0, wall_mm));
        nothing_overrides(&mut weld);
        weld.answers.said.insert(Question::Multilayer, layers);
        preheated(&mut weld, c);
        verdict(&weld)
    };
    assert_eq!(of(25.0, true, 10.0), Verdict::NotRequired);
    assert_eq!(of(26.0, true, 94.0), Verdict::Required);
    assert_eq!(of(26.0, true, 95.0), Verdict::NotRequired);
    assert_eq!(
        of(5.0, false, 10.0),
        Verdict::NotRequired,
        "one layer to 5 mm"
    );
    assert_eq!(of(6.0, false, 10.0), Verdict::Required);
    let chromium = |wall_mm: f64, carbon: f64| {
        let mut steel = side("5A", 1, 300.0, wall_mm);
        steel.chemistry.insert("C".into(), carbon);
        let mut weld = weld("ASME B31.1", "2016", &steel);
        nothing_overrides(&mut weld);
        weld.answers.said.insert(Question::Multilayer, true);
        preheated(&mut weld, 150.0);
        verdict(&weld)
    };
    assert_eq!(chromium(16.0, 0.15), Verdict::NotRequired);
    assert_eq!(chromium(17.0, 0.15), Verdict::Required);
    assert_eq!(chromium(16.0, 0.16), Verdict::Required);
}

#[test]
fn an_older_power_piping_edition_has_its_own_wall() {
    // ASME B31.1 Table 132 to 2012: P-1 to 19 mm.
    let at = |wall_mm: f64| {
        let mut weld = weld("ASME B31.1", "2012", &side("1", 1, 500.0, wall_mm));
        nothing_overrides(&mut weld);
        verdict(&weld)
    };
    assert_eq!(
        (at(19.0), at(20.0)),
        (Verdict::NotRequired, Verdict::Required)
    );
}

#[test]
fn seal_welds_and_idle_attachments_need_preheat_and_layers_only() {
    // ASME B31.3-2018 Table 331.1.3, P-4 Gr. 1: no limit of throat nor of carbon; whether over 16 mm as well was not read.
    let of = |form: JointForm, wall_mm: f64, throat_mm: f64, c: f64| {
        let mut weld = fillet("ASME B31.3", "2018", "4", wall_mm, throat_mm);
        weld.joint.form = form;
        weld.sides.iter_mut().for_each(|side| {
            side.chemistry.insert("C".into(), 0.17);
        });
        weld.answers.said.insert(Question::Multilayer, true);
        preheated(&mut weld, c);
        verdict(&weld)
    };
    for form in [JointForm::Seal, JointForm::Attachment] {
        assert_eq!(of(form, 16.0, 14.0, 120.0), Verdict::NotRequired);
        assert_eq!(of(form, 16.0, 14.0, 119.0), Verdict::Required);
        assert_eq!(of(form, 17.0, 8.0, 120.0), Verdict::Required, "not read");
    }
    assert_eq!(of(JointForm::Fillet, 16.0, 14.0, 120.0), Verdict::Required);
    // 331.1.3: the throat governs the hold of a seal weld as of any fillet.
    let mut seal = fillet("ASME B31.3", "2018", "4", 16.0, 8.0);
    seal.joint.form = JointForm::Seal;
    let needed = rules::requirement(&seal).expect("limits");
    assert_eq!(needed.governing_thickness.thickness.mm(), 8.0);
}

#[test]
fn fillets_of_a_vessel_are_exempt_by_their_throat_and_those_of_piping_by_the_wall() {
    // ASME VIII-1 UW-40(f): the nominal thickness of a fillet is its throat; B31.3 331.1.3 reads the material's own.
    let of = |code: &str, edition: &str, throat_mm: f64| {
        let mut weld = fillet(code, edition, "1", 38.5, throat_mm);
        preheated(&mut weld, 20.0);
        weld.answers.said.insert(Question::Multilayer, true);
        verdict(&weld)
    };
    assert_eq!(of("ASME VIII-1", "2019", 8.0), Verdict::NotRequired);
    assert_eq!(of("ASME VIII-1", "2019", 39.0), Verdict::Required);
    assert_eq!(
        of("ASME B31.3", "2018", 8.0),
        Verdict::Required,
        "no preheat over 25 mm"
    );
}

#[test]
fn of_a_socket_of_half_molybdenum_steel_the_carbon_is_the_pipes() {
    // ASME B31.3-2018 Table 331.1.3, P-3: carbon to 0.25 % of the pipe; the fitting is not counted.
    let of = |fitting_c: f64, pipe_c: f64| {
        let mut weld = fillet("ASME B31.3", "2018", "3", 10.0, 8.0);
        weld.joint.form = JointForm::Socket;
        weld.sides[0].wall = quantity::Millimeters::from_mm(20.0);
        weld.answers.said.insert(Question::Multilayer, true);
        for (side, c) in weld.sides.iter_mut().zip([fitting_c, pipe_c]) {
            side.chemistry.insert("C".into(), c);
        }
        verdict(&weld)
    };
    assert_eq!(of(0.30, 0.15), Verdict::NotRequired);
    assert_eq!(of(0.15, 0.30), Verdict::Required);
}

#[test]
fn what_is_open_names_the_key_that_answers_it() {
    let key = |change: fn(&mut Weld)| {
        let mut weld = weld("ASME B31.3", "2018", &side("4", 1, 60.0, 10.0));
        weld.sides.iter_mut().for_each(|side| {
            side.chemistry.insert("C".into(), 0.12);
        });
        nothing_overrides(&mut weld);
        weld.answers.said.insert(Question::Multilayer, true);
        preheated(&mut weld, 120.0);
        change(&mut weld);
        let standing = rules::standing(&weld).expect("an answer");
        standing.open.first().map(|open| open.key.clone())
    };
    assert_eq!(key(|_| {}), None);
    let no_carbon = key(|weld| {
        weld.sides
            .iter_mut()
            .for_each(|side| side.chemistry.clear())
    });
    assert_eq!(no_carbon.as_deref(), Some("side.chemistry"));
    let no_group = key(|weld| {
        weld.sides
            .iter_mut()
            .for_each(|side| side.p_number.group = None)
    });
    assert_eq!(no_group.as_deref(), Some("side.group"));
}

#[test]
fn a_shallow_groove_in_a_thick_pipe_exempts_nothing() {
    // ASME B31.3 331.1.3: the lesser of weld and wall governs the hold, the material's own thickness the exemption.
    let of = |wall_mm: f64| {
        let mut steel = side("4", 1, 300.0, wall_mm);
        steel.chemistry.insert("C".into(), 0.12);
        let mut weld = weld("ASME B31.3", "2018", &steel);
        weld.joint.groove_depth = Some(quantity::Millimeters::from_mm(12.0));
        nothing_overrides(&mut weld);
        weld.answers.said.insert(Question::Multilayer, true);
        preheated(&mut weld, 120.0);
        verdict(&weld)
    };
    assert_eq!(of(16.0), Verdict::NotRequired);
    assert_eq!(of(40.0), Verdict::Required);
}
