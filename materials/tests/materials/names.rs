use std::collections::BTreeMap;

use materials::{MaterialError, blanket, cable, metal, metals, surface};

#[test]
fn a_metal_is_found_by_name_grade_and_p_number() {
    for (asked, name) in [
        ("SA-335 P91", "9Cr-1Mo-V"),
        ("a335 p91", "9Cr-1Mo-V"),
        ("P-15E", "9Cr-1Mo-V"),
        ("P15E", "9Cr-1Mo-V"),
        ("P-No. 1 Group 2", "carbon steel"),
        ("P-1", "carbon steel"),
        ("2.25Cr-1Mo", "2¼Cr-1Mo"),
        ("P22", "2¼Cr-1Mo"),
        ("1.25Cr-0.5Mo", "1¼Cr-½Mo"),
        ("ISO/TR 15608 group 8.1", "austenitic 18-8"),
        ("P-8", "austenitic 18-8"),
        ("TP304", "austenitic 18-8"),
    ] {
        assert_eq!(
            metal(asked).map(|found| found.name.as_str()),
            Ok(name),
            "{asked}"
        );
    }
}

#[test]
fn grades_are_found_as_people_write_them() {
    for (spellings, name) in [
        (
            "A106 B|A106B|a106 gr b|A106 Gr. B|ASTM A106 Grade B|SA-106 B|SA106-B|ASME SA-106 Gr.B|A-106-B|A 106 B|A53 B|\
             A105",
            "carbon steel",
        ),
        (
            "API 5L Gr. B|API 5L X-52|5L X65|X65|A333 Gr.6|A234 WPB|A350-LF2|A516-70|SA-516 Gr 70",
            "carbon steel",
        ),
        (
            "P265GH|P265GH TC1|S355J2+N|P355NL1|1.0345|St 35.8",
            "carbon steel",
        ),
        (
            "P11|A335 P11|A335-P11|A182 F11 Cl. 2|A387 Gr.11 Class 2|13CrMo4-5|13 CrMo 4 5|A217 WC6",
            "1¼Cr-½Mo",
        ),
        (
            "P22|A335 Gr P22|T22|WP22|A234 WP22|10CrMo910|2 1/4Cr-1Mo",
            "2¼Cr-1Mo",
        ),
        (
            "P91|p 91|A335 P91|A335 Gr. P91|ASTM A335-P91|SA335P91|Gr 91|Grade 91|Gr.91|X10CrMoVNb9-1|x10crmovnb91|\
             1.4903|1.4903 (P91)|P91/T91|A182 F91|A387 Gr 91 Cl 2|A217 C12A|P92|A335 P9",
            "9Cr-1Mo-V",
        ),
        ("X20|x20|X20CrMoV12-1|410|TP410", "12Cr martensitic"),
        (
            "304L|304 L|TP304L|TP 304L|SS304|SS 316L|AISI 316|316Ti|1.4301|EN 1.4301|1.4404|A312 TP304L|A312-TP316|\
             SA-312 Gr. TP321|A182 F304L|A403 WP316L|A240 304|304/304L|S31603|UNS S30400|CF8M",
            "austenitic 18-8",
        ),
        ("2205|S31803|UNS S32205|1.4462|A790 S31803", "duplex 2205"),
    ] {
        for asked in spellings.split('|') {
            let found = metal(asked).map(|found| found.name.as_str());
            assert_eq!(found, Ok(name), "{asked}");
        }
    }
}

#[test]
fn what_may_be_two_things_or_none_of_them_is_refused_with_near_names() {
    for (asked, near) in [
        ("A106", "A, B, C"),
        ("A335", "P11"),
        ("A335 P5b", "P5"),
        ("P93", "P9"),
        ("305L", "30"),
        ("P-91", "P91"),
        ("P1", "P-No. 1"),
        ("304/P91", "304"),
    ] {
        let refused = metal(asked).expect_err(asked).to_string();
        assert!(refused.contains(near), "{asked}: {refused}");
    }
}

#[test]
fn of_a_known_standard_the_known_grades_are_told_where_only_the_grade_is_not_known() {
    for asked in ["A106 Gr Z", "SA-106 Z", "A106Z", "ASTM A 106 Grade Z"] {
        let Err(MaterialError::UnknownGrade {
            standard, grades, ..
        }) = metal(asked)
        else {
            panic!("{asked}");
        };
        assert_eq!(standard, "A106", "{asked}");
        assert_eq!(grades, ["A", "B", "C"], "{asked}");
    }
    let refused = metal("API 5L X99").expect_err("no such grade").to_string();
    assert!(
        refused.contains("API 5L") && refused.contains("X65"),
        "{refused}"
    );
    assert!(matches!(
        metal("A9999 Z"),
        Err(MaterialError::Unknown { .. })
    ));
}

#[test]
fn cables_and_blankets_are_understood_as_people_write_them() {
    for (asked, name) in [
        ("air cooled", "air-cooled cable"),
        ("Air-cooled induction cable", "air-cooled cable"),
        ("air", "air-cooled cable"),
        ("liquid cooled cable", "liquid-cooled cable"),
        ("water cooled hose", "liquid-cooled cable"),
        (
            "Water-cooled induction heating cable",
            "liquid-cooled cable",
        ),
        ("cable, water cooled", "liquid-cooled cable"),
    ] {
        assert_eq!(cable(asked).map(|c| c.name.as_str()), Ok(name), "{asked}");
    }
    for asked in ["cable", "cooled", "", "oil cooled cable"] {
        assert!(cable(asked).is_err(), "{asked}");
    }
    for (asked, name) in [
        (
            "ceramic fibre insulation",
            "ceramic fiber blanket 128 kg/m3",
        ),
        ("8 lb ceramic fiber", "ceramic fiber blanket 128 kg/m3"),
        ("6# ceramic fiber blanket", "ceramic fiber blanket 96 kg/m3"),
        ("Ceramic fibre 96 kg/m³", "ceramic fiber blanket 96 kg/m3"),
        ("mineral wool blanket", "rock wool mat 100 kg/m3"),
    ] {
        assert_eq!(blanket(asked).map(|b| b.name.as_str()), Ok(name), "{asked}");
    }
    for asked in ["blanket", "ceramic fiber 64 kg/m3"] {
        assert!(blanket(asked).is_err(), "{asked}");
    }
}

#[test]
fn a_grade_of_another_p_number_has_none_of_the_metal() {
    let p_numbers = |name: &str| metal(name).expect("known").p_numbers_of(name).to_vec();
    assert_eq!(p_numbers("A335 P91"), ["P-15E"]);
    for name in ["P9", "A335 Gr P9", "9Cr-1Mo", "X20", "420"] {
        assert!(p_numbers(name).is_empty(), "{name}");
    }
}

#[test]
fn a_misspelled_name_gets_a_suggestion() {
    let refused = metal("carbn steel").expect_err("misspelled");
    let MaterialError::Unknown { suggestions, .. } = &refused else {
        panic!("not an unknown name: {refused}");
    };
    assert_eq!(suggestions[0], "carbon steel");
    assert!(refused.to_string().contains("did you mean"), "{refused}");
}

#[test]
fn a_grade_that_reads_like_a_p_number_is_asked_back() {
    // SA-335 P1 is carbon-molybdenum steel, P-No. 1 is carbon steel.
    let refused = metal("P1").expect_err("two meanings").to_string();
    assert_eq!(
        refused,
        "\"P1\" may mean grade P1 (½Mo) or P-No. 1 (carbon steel); write one of these in full"
    );
    assert_eq!(metal("SA-335 P1").expect("a grade").name, "½Mo");
}

#[test]
fn an_unknown_p_number_lists_the_known_ones() {
    let refused = metal("P-99").expect_err("unknown");
    let MaterialError::Unknown { suggestions, .. } = refused else {
        panic!("not an unknown name: {refused}");
    };
    assert!(suggestions.contains(&"P-1".to_string()));
}

#[test]
fn names_and_p_numbers_are_unique() {
    let mut owners: BTreeMap<String, &str> = BTreeMap::new();
    for metal in metals() {
        let names = std::iter::once(&metal.name)
            .chain(&metal.aliases)
            .chain(&metal.p_numbers);
        for name in names {
            let owner = owners.insert(name.to_lowercase(), &metal.name);
            assert_eq!(owner, None, "{name} stands for two entries");
            let found = materials::metal(name).map(|found| &found.name);
            let ambiguous = matches!(found, Err(MaterialError::Ambiguous { .. }));
            assert!(ambiguous || found == Ok(&metal.name), "{name}");
        }
    }
}

#[test]
fn unknown_blankets_cables_and_surfaces_are_told_with_what_is_known() {
    assert!(
        blanket("ceramik fiber")
            .expect_err("unknown")
            .to_string()
            .contains("ceramic fiber")
    );
    assert!(
        cable("liquid coled")
            .expect_err("unknown")
            .to_string()
            .contains("liquid-cooled")
    );
    assert!(
        surface("oxidised steel")
            .expect_err("unknown")
            .to_string()
            .contains("oxidized steel")
    );
}
