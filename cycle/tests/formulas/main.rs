//! Formulas that the program uses, against lists of published and independently integrated values.

use std::f64::consts::PI;

use cycle::closed_forms::ring::{
    Ring, mutual_inductance_h, self_inductance_h, series_inductance_h,
};
use cycle::closed_forms::solenoid::{current_sheet_h, nagaoka};
use field::eddy::skin_depth_m;
use toml::Table;

/// Rings across a thick coil: their own sections are then small against the coil.
const RINGS_ACROSS: usize = 40;
/// What a bundle of so many rings leaves of a section that is filled evenly: a formula off by a term shows at 1e-2.
const BUNDLE_RELATIVE: f64 = 1e-3;
/// Geometric mean radius of a square over the sum of its sides (Rosa & Grover 1912), and of a round wire over its
/// radius: a ring of square section is like a ring of round wire with the same geometric mean radius.
const SQUARE_MEAN_RADIUS: f64 = 0.2235;
const ROUND_MEAN_RADIUS: f64 = 0.778_800_783;
/// The same of a strip without thickness over its width.
const STRIP_MEAN_RADIUS: f64 = 0.223_130_160;
/// A flat coil as this many strips.
const STRIPS: usize = 400;

fn facts(text: &str) -> Vec<Table> {
    let list: Table = text.parse().expect("a list of facts");
    let facts = list["fact"].as_array().expect("facts");
    facts
        .iter()
        .map(|fact| fact.as_table().expect("a fact").clone())
        .collect()
}

fn number(fact: &Table, key: &str) -> f64 {
    fact[key].as_float().expect(key)
}

fn assert_relative(fact: &Table, found: f64, expected: f64, within: f64) {
    let difference = found / expected - 1.0;
    assert!(
        difference.abs() <= within,
        "{fact}: {found:e} is {difference:e} from {expected:e}"
    );
}

/// Coils whose turns fill a rectangle evenly, as a bundle of rings of nearly square section.
fn bundle_h(inner_m: f64, outer_m: f64, length_m: f64, turns: f64) -> f64 {
    let radial_m = (outer_m - inner_m) / RINGS_ACROSS as f64;
    let along = (length_m / radial_m).round().max(1.0) as usize;
    let axial_m = length_m / along as f64;
    let rings: Vec<Ring> = (0..RINGS_ACROSS * along)
        .map(|index| Ring {
            radius_m: inner_m + radial_m * ((index % RINGS_ACROSS) as f64 + 0.5),
            axial_m: axial_m * ((index / RINGS_ACROSS) as f64 + 0.5),
        })
        .collect();
    let wire_m = SQUARE_MEAN_RADIUS * (radial_m + axial_m) / ROUND_MEAN_RADIUS;
    series_inductance_h(&rings, wire_m) * (turns / rings.len() as f64).powi(2)
}

/// Coils whose turns fill a flat ring evenly, as strips.
fn strips_h(inner_m: f64, outer_m: f64, turns: f64) -> f64 {
    let width_m = (outer_m - inner_m) / STRIPS as f64;
    let rings: Vec<Ring> = (0..STRIPS)
        .map(|strip| Ring {
            radius_m: inner_m + width_m * (strip as f64 + 0.5),
            axial_m: 0.0,
        })
        .collect();
    let wire_m = STRIP_MEAN_RADIUS * width_m / ROUND_MEAN_RADIUS;
    series_inductance_h(&rings, wire_m) * (turns / STRIPS as f64).powi(2)
}

fn inductance(fact: &Table) -> f64 {
    let of = |key: &str| number(fact, key);
    match fact["formula"].as_str().expect("a formula") {
        "nagaoka_coefficient" => nagaoka(of("diameter_over_length")),
        "solenoid_current_sheet" => current_sheet_h(of("turns"), of("radius_m"), of("length_m")),
        "mutual_of_coaxial_loops" => {
            let ring = |radius_m, axial_m| Ring { radius_m, axial_m };
            let (one_m, other_m) = (of("first_radius_m"), of("second_radius_m"));
            mutual_inductance_h(ring(one_m, 0.0), ring(other_m, of("distance_m")))
        }
        "ring_of_round_wire" => self_inductance_h(of("ring_radius_m"), of("wire_radius_m")),
        "rings_in_series" => {
            let rings: Vec<Ring> = (0..of("turns") as usize)
                .map(|turn| Ring {
                    radius_m: of("ring_radius_m"),
                    axial_m: of("pitch_m") * turn as f64,
                })
                .collect();
            series_inductance_h(&rings, of("wire_radius_m"))
        }
        "coil_of_rectangular_section" => bundle_h(
            of("inner_radius_m"),
            of("outer_radius_m"),
            of("length_m"),
            of("turns"),
        ),
        "flat_disc_coil" => strips_h(of("inner_radius_m"), of("outer_radius_m"), of("turns")),
        other => panic!("no formula {other}"),
    }
}

#[test]
fn inductances_in_air() {
    let facts = facts(include_str!("inductance.toml"));
    assert_eq!(facts.len(), 16);
    for fact in facts {
        let within = match fact["formula"].as_str() {
            Some("coil_of_rectangular_section" | "flat_disc_coil") => BUNDLE_RELATIVE,
            _ => number(&fact, "within_relative"),
        };
        assert_relative(&fact, inductance(&fact), number(&fact, "value"), within);
        if let Some(published) = fact.get("published").and_then(toml::Value::as_float) {
            // Tables print five or six digits; the ratio of 10 and the Brooks coil differ in the last ones.
            assert_relative(&fact, inductance(&fact), published, 1e-4 + within);
        }
    }
}

#[test]
fn skin_depths_and_the_loss_of_a_half_space() {
    let facts = facts(include_str!("skin-depth.toml"));
    assert_eq!(facts.len(), 18);
    for fact in facts {
        let of = |key: &str| number(&fact, key);
        let resistivity_ohm_m = of("resistivity_ohm_m");
        let depth_m = skin_depth_m(
            resistivity_ohm_m,
            of("relative_permeability"),
            of("frequency_hz"),
        );
        let within = of("within_relative");
        assert_relative(&fact, depth_m, of("skin_depth_m"), within);
        // Half a surface resistance times the square of the peak field.
        let half_space_w_m2 = 0.5 * resistivity_ohm_m / depth_m * of("field_a_m_peak").powi(2);
        let expected_w_m2 = match fact.get("half_space_w_m2") {
            Some(_) => of("half_space_w_m2"),
            None => of("loss_w_m") / of("loss_over_half_space") / (2.0 * PI * of("outer_radius_m")),
        };
        assert_relative(&fact, half_space_w_m2, expected_w_m2, within);
    }
}
