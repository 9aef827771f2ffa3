//! Everything that is wrong is refused at once, each fault with its line, what was found, what is allowed and a hint.

use job::toml_reader::Fault;

use crate::demos::DEMOS;

/// The faults of a demo with one text replaced by another.
fn faults_with(demo: usize, changes: &[(&str, &str)]) -> Vec<Fault> {
    let mut text = DEMOS[demo].1.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from} is in the demo");
        text = text.replacen(from, to, 1);
    }
    job::read(&text, "weld.toml").expect_err("refused").faults
}

/// The one fault, with the line on which the changed text stands.
fn the_fault(demo: usize, from: &str, to: &str) -> String {
    let faults = faults_with(demo, &[(from, to)]);
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert_eq!(faults[0].file, "weld.toml");
    faults[0].to_string()
}

fn has(told: &str, words: &[&str]) {
    for word in words {
        assert!(told.contains(word), "{word:?} is missing in: {told}");
    }
}

#[test]
fn a_wall_larger_than_the_radius() {
    let told = faults_with(1, &[("wall             = \"60 mm\"", "wall = \"260 mm\"")]);
    has(
        &told[0].to_string(),
        &["side[1].wall", "260.0 mm", "203.2 mm", "check the unit"],
    );
    let line = DEMOS[1]
        .1
        .lines()
        .position(|l| l.starts_with("wall"))
        .expect("a wall")
        + 1;
    assert_eq!(told[0].line, line);
}

#[test]
fn a_hold_below_the_range_of_the_code() {
    let told = the_fault(1, "hold_min     = \"745 °C\"", "hold_min = \"690 °C\"");
    has(
        &told,
        &[
            "limits.procedure.hold_min",
            "690 °C",
            "730 °C",
            "ASME B31.3",
            "raise hold_min",
        ],
    );
}

#[test]
fn a_blanket_that_does_not_bear_the_heat() {
    let known: Vec<_> = materials::blankets().iter().collect();
    let coldest = known
        .iter()
        .min_by(|a, b| a.limit_c.value.total_cmp(&b.limit_c.value))
        .expect("blankets");
    assert!(
        coldest.limit_c.value < 770.0,
        "no blanket colder than the hold is known"
    );
    let told = the_fault(1, "ceramic fiber blanket 128 kg/m3", &coldest.name);
    has(
        &told,
        &[
            "blanket",
            &coldest.name,
            "770 °C",
            &format!("{:.0} °C", coldest.limit_c.value),
        ],
    );
}

#[test]
fn an_air_cooled_cable_on_work_too_hot_for_it() {
    let told = the_fault(0, "\"liquid-cooled cable\"", "\"air-cooled cable\"");
    has(&told, &["coil.cable", "662 °F", "liquid-cooled"]);
}

#[test]
fn an_unknown_metal_and_an_unknown_key_with_what_was_meant() {
    let told = faults_with(
        0,
        &[
            ("\"carbon steel\"", "\"carbn steel\""),
            ("bore_end ", "bore_ned "),
        ],
    );
    let told: Vec<String> = told.iter().map(ToString::to_string).collect();
    let all = told.join("\n");
    has(
        &all,
        &[
            "carbn steel",
            "did you mean \"carbon steel\"",
            "bore_ned",
            "did you mean bore_end?",
        ],
    );
}

#[test]
fn a_number_without_a_unit() {
    let told = the_fault(1, "cap_width   = \"38 mm\"", "cap_width = 38");
    has(
        &told,
        &["weld.cap_width", "38 without a unit", "cap_width_mm"],
    );
}

#[test]
fn a_missing_side() {
    let text = DEMOS[0].1;
    let second = text.rfind("[[side]]").expect("two sides");
    let end = text.find("[surroundings]").expect("surroundings");
    let one = format!("{}{}", &text[..second], &text[end..]);
    let told = job::read(&one, "weld.toml")
        .expect_err("refused")
        .to_string();
    has(&told, &["1 sides", "two tables [[side]]"]);
}

#[test]
fn turns_that_overlap_and_a_coil_longer_than_the_pipe() {
    let sections = "\n[[coil.section]]\nturns = 6\nfirst = \"-100 mm\"\npitch = \"10 mm\"\n\
                    \n[[coil.section]]\nturns = 60\nfirst = \"100 mm\"\npitch = \"40 mm\"\n\n[source]";
    let told = faults_with(
        1,
        &[
            ("turns          = \"propose\"\n", ""),
            ("\n[source]", sections),
        ],
    );
    assert_eq!(told.len(), 2, "{told:#?}");
    has(
        &told[0].to_string(),
        &["coil.section[1]", "19.0 mm", "may not overlap"],
    );
    has(
        &told[1].to_string(),
        &["coil.section[2]", "longer than the pipe"],
    );
}

#[test]
fn a_thermocouple_off_the_pipe_and_one_named_twice() {
    let list = "\n[[thermocouple]]\nname = \"TC1\"\nrole = \"control\"\naxial = \"0 mm\"\nclock = 12\n\
                \n[[thermocouple]]\nname = \"TC1\"\nrole = \"monitor\"\naxial_m = 4\nclock = \"6:30\"\n\n[source]";
    let told = faults_with(1, &[("\n[source]", list)]);
    let all: Vec<String> = told.iter().map(ToString::to_string).collect();
    let all = all.join("\n");
    has(
        &all,
        &[
            "thermocouple[2]",
            "TC1 at 4000 mm",
            "off the pipe",
            "second thermocouple named TC1",
        ],
    );
}

#[test]
fn a_list_of_thermocouples_without_a_control() {
    let list = "\n[[thermocouple]]\nrole = \"monitor\"\naxial_mm = 0\nclock = 12\n\n[source]";
    has(
        &the_fault(1, "\n[source]", list),
        &["no control thermocouple", "role = \"control\""],
    );
}

#[test]
fn sides_that_do_not_meet() {
    let told = faults_with(
        2,
        &[(
            "outside_diameter = \"219.1 mm\"\nwall",
            "outside_diameter = \"168.3 mm\"\nwall",
        )],
    );
    assert!(
        told.iter()
            .any(|f| f.to_string().contains("in common at the weld")),
        "{told:#?}"
    );
}

#[test]
fn an_unknown_code_edition_and_p_number() {
    has(
        &the_fault(0, "\"ASME B31.3\"", "\"ASME B31.33\""),
        &["code", "ASME B31.33", "ASME B31.3"],
    );
    has(
        &the_fault(0, "\"2016\"", "\"1995\""),
        &["edition", "1995", "2016"],
    );
    has(
        &the_fault(0, "group            = 1", "p_number = \"15E\""),
        &["side[1].p_number", "15E", "P-1"],
    );
}

#[test]
fn a_set_point_outside_the_range() {
    let told = the_fault(
        1,
        "\n[source]",
        "\n[cycle]\nset_point = \"800 °C\"\n\n[source]",
    );
    has(&told, &["cycle.set_point", "800 °C", "745 °C to 770 °C"]);
}

#[test]
fn everything_at_once_and_in_the_order_of_lines() {
    let told = faults_with(
        1,
        &[
            ("\"stress_relief\"", "\"stress_releif\""),
            ("cap_width   = \"38 mm\"", "cap_width = 38"),
            ("wall             = \"60 mm\"", "wall = \"60 kg\""),
            ("power         = \"70 kW\"", ""),
            ("thickness = \"50 mm\"", "thickness = \"50,5 mm\""),
        ],
    );
    assert_eq!(told.len(), 5, "{told:#?}");
    assert!(told.windows(2).all(|pair| pair[0].line <= pair[1].line));
}

#[test]
fn what_is_no_toml_is_told_with_its_line() {
    let refusal = job::read("purpose = \ncode = \"x\"\n", "weld.toml").expect_err("refused");
    assert_eq!(refusal.faults[0].line, 1);
}
