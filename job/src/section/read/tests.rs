//! What a file may say, and what it is told where it says something else.

use std::path::Path;

use super::read;
use crate::section::{Asked, SectionProblem};
use crate::toml_reader::Fault;

/// A complete problem of field and heat, to be spoiled by the tests.
const SOUND: &str = r#"
title = "a pipe"
source = "test"
symmetry = "axisymmetric"
frequency_hz = 8000.0
outer = "far"

[material.steel]
resistivity_ohm_m = [[20.0, 2e-7], [800.0, 1.1e-6]]
magnetisation = { form = "froehlich", saturation_t = 1.9, initial_permeability = 1000.0 }
curie = { point_c = 750.0, exponent = 2.0, reference_c = 20.0 }
conductivity_w_mk = { standard = "EN 1993-1-2 carbon steel" }
specific_heat_j_kgk = 490.0
density_kg_m3 = 7850.0

[[body]]
name = "pipe"
material = "steel"
rectangle_m = [0.1, 0.12, -0.2, 0.2]

[[coil]]
name = "coil"
current_a_peak = 300.0
conductors = [ { circle_m = [0.15, 0.0, 0.005], turns = 1.0 } ]

[[edge]]
name = "outside"
from_m = [0.12, -0.2]
to_m = [0.12, 0.2]
convection = { w_m2k = 10.0, ambient_c = 20.0 }

[heat]
initial_c = 20.0
end_s = 100.0

[[expect]]
quantity = "temperature_c"
point_m = [0.11, 0.0]
time_s = 50.0
value = 300.0
within = 1.0
within_percent = 1.0
because = "test"

[[ask]]
quantity = "heat_flow_w"
of = "outside"
time_s = 100.0
"#;

fn sound(text: &str) -> SectionProblem {
    read("file.toml", text).unwrap_or_else(|faults| panic!("{}", told(&faults).join("\n")))
}

fn told(faults: &[Fault]) -> Vec<String> {
    faults.iter().map(ToString::to_string).collect()
}

/// The faults after one piece of the sound file was replaced.
fn spoiled(piece: &str, by: &str) -> Vec<String> {
    assert!(SOUND.contains(piece), "{piece} is not in the file");
    told(&read("file.toml", &SOUND.replacen(piece, by, 1)).expect_err("a fault"))
}

/// Whether exactly one fault is told and it says all of this.
fn assert_told(faults: &[String], says: &[&str]) {
    assert_eq!(faults.len(), 1, "{faults:#?}");
    for part in says {
        assert!(
            faults[0].contains(part),
            "{:?} does not say {part:?}",
            faults[0]
        );
    }
}

#[test]
fn a_sound_file_is_read_completely() {
    let problem = sound(SOUND);
    assert_eq!(problem.frequency_hz, Some(8000.0));
    assert_eq!(problem.bodies[0].polygon.len(), 4);
    assert_eq!(problem.rows.len(), 2);
    let expected = problem.rows[0].expected.as_ref().expect("an expectation");
    assert_eq!(expected.allowed, 3.0, "the larger of 1 K and 1 % counts");
    assert_eq!(problem.rows[1].asked, Asked::HeatFlow { edge: 0 });
    let steel = &problem.materials[0];
    assert_eq!(
        steel
            .conductivity_w_mk
            .as_ref()
            .and_then(|law| law.range_c()),
        Some((20.0, 1200.0))
    );
    assert_eq!(
        steel
            .specific_heat_j_kgk
            .as_ref()
            .and_then(|law| law.range_c()),
        None
    );
}

#[test]
fn all_faults_are_told_at_once_and_in_the_order_of_lines() {
    let text = SOUND
        .replacen("title = \"a pipe\"\n", "", 1)
        .replacen("[0.1, 0.12, -0.2, 0.2]", "[0.1, 0.12, -0.2]", 1)
        .replacen("turns = 1.0", "turns = 1.0, colour = 3", 1)
        .replacen("within = 1.0", "within = \"1 K\"", 1);
    let faults = read("file.toml", &text).expect_err("faults");
    assert_eq!(faults.len(), 4, "{:#?}", told(&faults));
    let lines: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
    assert_eq!(lines, [1, 18, 23, 40]);
    assert!(
        faults[2]
            .to_string()
            .contains("coil[1].conductors[1]: found the unknown key colour")
    );
}

#[test]
fn names_are_looked_up_and_guessed() {
    assert_told(
        &spoiled("material = \"steel\"", "material = \"stel\""),
        &["did you mean \"steel\"?"],
    );
    assert_told(
        &spoiled("of = \"outside\"", "of = \"inside\""),
        &["\"inside\"", "\"outside\""],
    );
    assert_told(
        &spoiled("EN 1993-1-2 carbon", "EN 1993-1-3 carbon"),
        &["file.toml:12", "EN 1993-1-2 carbon steel"],
    );
    assert_told(
        &spoiled("form = \"froehlich\"", "form = \"frohlich\""),
        &["did you mean \"froehlich\"?"],
    );
    assert_told(
        &spoiled(
            "[[ask]]\nquantity = \"heat_flow_w\"",
            "[[ask]]\nquantity = \"heat_flow\"",
        ),
        &["did you mean"],
    );
}

#[test]
fn laws_are_checked() {
    let descending = spoiled(
        "[[20.0, 2e-7], [800.0, 1.1e-6]]",
        "[[20.0, 2e-7], [20.0, 1.1e-6]]",
    );
    assert_told(
        &descending,
        &["resistivity_ohm_m[2]: found 20 after 20", "ascend"],
    );
    assert_told(
        &spoiled("1.1e-6]]", "-1.1e-6]]"),
        &["found the value -0.0000011"],
    );
    assert_told(
        &spoiled("point_c = 750.0", "point_c = 10.0"),
        &["found 10", "above reference_c, 20"],
    );
    assert_told(
        &spoiled("saturation_t = 1.9, ", ""),
        &["no key saturation_t"],
    );
    let both = spoiled(
        "density_kg_m3 = 7850.0",
        "density_kg_m3 = 7850.0\nrelative_permeability = 2",
    );
    assert_told(&both, &["magnetisation beside relative_permeability"]);
}

#[test]
fn times_lie_within_the_run() {
    assert_told(
        &spoiled("time_s = 50.0", "time_s = 500.0"),
        &["found 500", "from 0 to 100"],
    );
    assert_told(&spoiled("time_s = 50.0\n", ""), &["no time_s"]);
    let course = "temperature_c = [[0.0, 20.0], [60.0, 30.0]]";
    let short = spoiled("convection = { w_m2k = 10.0, ambient_c = 20.0 }", course);
    assert_told(&short, &["from 0 s to 60 s", "end_s, 100 s"]);
}

#[test]
fn what_is_asked_needs_its_kind_of_problem() {
    let without_heat = spoiled("[heat]\ninitial_c = 20.0\nend_s = 100.0\n", "");
    assert!(
        without_heat
            .iter()
            .any(|fault| fault.contains("temperature_c without a table [heat]"))
    );
    let without_density = spoiled("density_kg_m3 = 7850.0\n", "");
    assert_told(
        &without_density,
        &[
            "file.toml:8: material.steel: found no key density_kg_m3",
            "body \"pipe\"",
        ],
    );
    let driven = "tangential_field_a_m_peak = 1e4";
    let in_open_space = spoiled("convection = { w_m2k = 10.0, ambient_c = 20.0 }", driven);
    assert_told(&in_open_space, &["a prescribed field in open space"]);
}

#[test]
fn laws_of_an_edge_that_exclude_each_other() {
    let both = spoiled("convection = {", "temperature_c = 20.0\nconvection = {");
    assert_told(&both, &["temperature_c beside convection"]);
}

#[test]
fn a_planar_section_in_open_space_returns_its_current() {
    assert_told(
        &spoiled("\"axisymmetric\"", "\"planar\""),
        &["a net current of 300 A", "negative turns"],
    );
}

#[test]
fn a_polygon_may_run_either_way() {
    let clockwise = "polygon_m = [[0.1, -0.2], [0.1, 0.2], [0.12, 0.2], [0.12, -0.2]]";
    let problem = sound(&SOUND.replacen("rectangle_m = [0.1, 0.12, -0.2, 0.2]", clockwise, 1));
    assert_eq!(problem.bodies[0].polygon[0], [0.12, -0.2]);
}

#[test]
fn shapes_that_cannot_be() {
    let bow_tie = "polygon_m = [[0.1, -0.2], [0.12, 0.2], [0.12, -0.2], [0.1, 0.1]]";
    let crossed = spoiled("rectangle_m = [0.1, 0.12, -0.2, 0.2]", bow_tie);
    assert_told(&crossed, &["file.toml:16", "crosses itself near"]);
    let second = "[[body]]\nname = \"ring\"\nmaterial = \"steel\"\nrectangle_m = [0.11, 0.13, -0.1, 0.1]\n\n[[coil]]";
    assert_told(
        &spoiled("[[coil]]", second),
        &["\"pipe\" and \"ring\" overlap"],
    );
    assert_told(
        &spoiled("circle_m = [0.15,", "circle_m = [0.11,"),
        &["conductors[1]", "overlaps body \"pipe\""],
    );
    assert_told(
        &spoiled("to_m = [0.12, 0.2]", "to_m = [0.13, 0.2]"),
        &["file.toml:26", "no outline from"],
    );
    assert_told(
        &spoiled("point_m = [0.11, 0.0]", "point_m = [0.2, 0.0]"),
        &["outside every body, (0.2, 0) m"],
    );
    let beyond_axis = spoiled("rectangle_m = [0.1, 0.12,", "rectangle_m = [-0.1, 0.12,");
    assert!(
        beyond_axis
            .iter()
            .any(|fault| fault.contains("left of the axis")),
        "{beyond_axis:?}"
    );
}

#[test]
fn every_reference_case_can_be_read() {
    let cases = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../cases/recorded/pipe-heated-for-an-hour.toml");
    let text = std::fs::read_to_string(cases).expect("the case");
    assert_eq!(sound(&text).rows.len(), 24);
}
