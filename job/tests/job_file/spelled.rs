//! Codes, metals and P-numbers as people write them are understood, and what was understood is said.

use crate::demos::DEMOS;

fn with(changes: &[(&str, &str)]) -> String {
    let mut text = DEMOS[0].1.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from} is in the demo");
        text = text.replace(from, to);
    }
    text
}

#[test]
fn a_weld_is_the_same_however_its_code_and_metal_are_written() {
    let demo = job::read(DEMOS[0].1, "weld.toml").expect("the demo");
    for code in [
        "B31.3",
        "asme b31.3",
        "ASME B 31.3",
        "ANSI/ASME B31.3",
        "ASME B31.3-2016",
    ] {
        for metal in [
            "A106 Gr B",
            "A106B",
            "SA-106 Gr. B",
            "API 5L X52",
            "P-No. 1",
        ] {
            let text = with(&[
                ("\"ASME B31.3\"", &format!("{code:?}")),
                ("\"carbon steel\"", &format!("{metal:?}")),
            ]);
            let read =
                job::read(&text, "weld.toml").unwrap_or_else(|e| panic!("{code}, {metal}: {e}"));
            let welds = [&read.weld, &demo.weld].map(|weld| format!("{weld:?}"));
            assert_eq!(welds[0], welds[1], "{code}, {metal}");
            let said = |key: &str| read.taken.iter().find(|taken| taken.key == key);
            let metal_said = said("side[1].metal").expect("what was understood");
            assert!(
                metal_said.value.contains("carbon steel") && metal_said.value.contains(metal),
                "{metal_said:?}"
            );
            let is_name = code.eq_ignore_ascii_case("ASME B31.3");
            assert_eq!(said("code").is_none(), is_name, "{code}");
        }
    }
}

#[test]
fn a_need_says_what_a_grade_was_taken_for() {
    let text = with(&[
        ("\"carbon steel\"", "\"A335 Gr P91\""),
        ("name             = \"pipe\"\n", ""),
    ]);
    let read = job::read_need(&text, "weld.toml", &[]).expect("a weld");
    assert_eq!(read.names[0], "A335 Gr P91 (9Cr-1Mo-V)");
    assert_eq!(read.weld.sides[0].p_number.number, "15E");
}

#[test]
fn what_may_be_two_things_is_refused_with_both() {
    for (from, to, words) in [
        (
            "\"ASME B31.3\"",
            "\"ASME VIII\"",
            ["\"ASME VIII-1\" or \"ASME VIII-2\"", "write which"],
        ),
        (
            "\"ASME B31.3\"",
            "\"B31.33\"",
            ["did you mean \"ASME B31.3\"", "a known code"],
        ),
        ("\"carbon steel\"", "\"P1\"", ["grade P1", "P-No. 1"]),
        (
            "\"carbon steel\"",
            "\"A106\"",
            ["a known grade of A106", "A, B, C"],
        ),
        (
            "\"carbon steel\"",
            "\"A106 Gr Z\"",
            ["a known grade of A106", "A, B, C"],
        ),
    ] {
        let refused = job::read(&with(&[(from, to)]), "weld.toml")
            .expect_err(to)
            .to_string();
        for word in words {
            assert!(
                refused.contains(word),
                "{to}: {word} is missing in {refused}"
            );
        }
    }
}

#[test]
fn the_p_number_of_a_grade_that_differs_from_its_metal_is_asked() {
    let p9 = [("\"carbon steel\"", "\"A335 P9\"")];
    let refused = job::read(&with(&p9), "weld.toml")
        .expect_err("asked")
        .to_string();
    assert!(
        refused.contains("no key p_number") && refused.contains("A335 P9"),
        "{refused}"
    );
    for (given, number, group) in [
        ("5B", "5B", 1),
        ("P-No. 5B Gr. 1", "5B", 1),
        ("P5B", "5B", 1),
    ] {
        let metal = format!("\"A335 P9\"\np_number = {given:?}");
        let text = with(&[("\"carbon steel\"", &metal)]);
        let read =
            job::read_need(&text, "weld.toml", &[]).unwrap_or_else(|e| panic!("{given}: {e}"));
        let found = &read.weld.sides[0].p_number;
        assert_eq!((found.number.as_str(), found.group), (number, Some(group)));
    }
    let two = "\"carbon steel\"\np_number = \"P-1 Gr. 2\"";
    let refused =
        job::read(&with(&[("\"carbon steel\"", two)]), "weld.toml").expect_err("two groups");
    assert!(refused.to_string().contains("one group"), "{refused}");
}

#[test]
fn one_side_that_stands_for_both_tells_its_fault_once() {
    let text = "code = \"B31.3\"\nedition = \"2022\"\n[weld]\ncap_width = \"1 in\"\norientation = \"horizontal\"\n\
                [[side]]\noutside_diameter = \"18 in\"\nwall = \"1 in\"\nmetal = \"A335 P9\"\n";
    let refused = job::read_need(text, "weld.toml", &[]).expect_err("no P-number");
    assert_eq!(refused.faults.len(), 1, "{refused}");
}

#[test]
fn every_name_that_is_written_otherwise_is_told_also_while_the_job_is_half_written() {
    let loose = [
        ("code", "B31.3", "ASME B31.3"),
        ("side[1].metal", "A106 Gr B", "carbon steel"),
        ("side[1].p_number", "P-No. 1 Gr. 2", "1, group 2"),
        (
            "blanket.material",
            "ceramic fiber",
            "ceramic fiber blanket 128 kg/m3",
        ),
        ("coil.cable", "Liquid cooled", "liquid-cooled cable"),
    ];
    let mut text = DEMOS[0].1.to_owned();
    for (place, written, _) in loose {
        text = job::edit::set(&text, place, written).expect(place);
    }
    text = job::edit::set(&text, "side[1].group", "").expect("set");
    let half = job::edit::set(&text, "weld.cap_width", "").expect("set");
    let whole = job::read(&text, "weld.toml").expect("understood").taken;
    let half = job::read(&half, "weld.toml").expect_err("half").taken;
    for taken in [whole, half] {
        for (place, written, known) in loose {
            let said = taken.iter().find(|taken| taken.key == place);
            let said = said.unwrap_or_else(|| panic!("{place} is taken silently"));
            assert_eq!(said.value, format!("{known}, as {written:?} is understood"));
        }
    }
}
