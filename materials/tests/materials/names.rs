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
