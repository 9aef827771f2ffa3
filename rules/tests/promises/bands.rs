//! Bands: worked values and the choice of the governing one.

use quantity::Millimeters;
use rules::band::{BandRow, Bands};
use rules::formula::PipeWall;
use rules::weld::{Purpose, Weld};

use crate::welds::*;

fn job(outside_diameter_mm: f64, wall_mm: f64, cap_mm: f64) -> Weld {
    let mut job = weld(
        "ASME VIII-1",
        "2013",
        &side("1", 1, outside_diameter_mm, wall_mm),
    );
    job.cap_width = Millimeters::from_mm(cap_mm);
    job
}

fn bands(weld: &Weld) -> Bands {
    rules::bands(weld).expect("bands")
}

fn row<'a>(bands: &'a Bands, name: &str) -> &'a BandRow {
    let starts = |row: &&BandRow| row.working.starts_with(&format!("{name}:"));
    bands
        .by_rule
        .iter()
        .find(starts)
        .unwrap_or_else(|| panic!("no row {name}"))
}

fn mm(width: Option<Millimeters>) -> f64 {
    width.expect("a width").mm().round()
}

#[test]
fn worked_widths() {
    // Computed by hand from the formulas of ASME VIII-1 UW-40(a), AWS D10.10, WRC 452 and EN 13445-4.
    for (od_mm, wall_mm, cap_mm, soak, hb1, hb2, hb3, en) in [
        (457.0, 25.4, 30.0, 81.0, 131.0, 368.0, 599.0, 359.0),
        (1200.0, 50.0, 60.0, 160.0, 210.0, 823.0, 1213.0, 829.0),
        (168.3, 18.3, 22.0, 59.0, 109.0, 197.0, 392.0, 174.0),
    ] {
        let bands = bands(&job(od_mm, wall_mm, cap_mm));
        assert_eq!(mm(row(&bands, "UW-40").soak), soak, "{od_mm}");
        assert_eq!(mm(row(&bands, "HB1").heated), hb1, "{od_mm}");
        assert_eq!(mm(row(&bands, "HB2").heated), hb2, "{od_mm}");
        assert_eq!(mm(row(&bands, "HB3").heated), hb3, "{od_mm}");
        assert_eq!(mm(row(&bands, "EN").heated), en, "{od_mm}");
        assert_eq!(mm(row(&bands, "WRC").heated), hb2, "{od_mm}");
        // EN 13445-4: 10·√(R·e) is insulated, twice the heated width.
        let insulated = row(&bands, "EN").gradient_control.expect("EN").mm();
        assert!((insulated - 2.0 * row(&bands, "EN").heated.expect("EN").mm()).abs() < 1e-9);
    }
}

#[test]
fn a_plan_follows_the_code_s_soak_band_and_the_widest_practice() {
    let bands = bands(&job(457.0, 25.4, 30.0));
    assert_eq!(bands.soak.width.mm().round(), 81.0);
    assert!(bands.by_rule[bands.soak.row].binding);
    assert_eq!(bands.heated.width.mm().round(), 599.0);
    assert!(!bands.by_rule[bands.heated.row].binding);
    assert!(
        bands.heated.reason.contains("AWS D10.10"),
        "{}",
        bands.heated.reason
    );
    // HB + 4·√(R·t) = 599 + 287, computed.
    assert_eq!(bands.gradient_control.width.mm().round(), 886.0);
}

#[test]
fn the_working_shows_the_numbers() {
    let bands = bands(&job(457.0, 25.4, 30.0));
    assert!(
        row(&bands, "UW-40")
            .working
            .contains("SB 81 mm = 30 + 2·min(25.4, 50)"),
        "{}",
        row(&bands, "UW-40").working
    );
}

#[test]
fn the_heating_index_of_a_narrow_band_is_near_one() {
    // AWS D10.10, 18 in × 1 in pipe: an index of 1.19 left 67 °C through the wall, an index of 5 or more below 25 °C.
    // The band of soak plus 50 mm lies at the bad end, the governing band at the good one.
    let pipe = PipeWall {
        outside_diameter_mm: 457.0,
        wall_mm: 25.4,
    };
    let bands = bands(&job(457.0, 25.4, 30.0));
    let soak_mm = bands.soak.width.mm();
    let narrow = pipe.heating_index(soak_mm, row(&bands, "HB1").heated.expect("HB1").mm());
    assert!((1.0..1.3).contains(&narrow), "{narrow}");
    assert!(pipe.heating_index(soak_mm, bands.heated.width.mm()) >= 5.0 - 1e-9);
}

#[test]
fn the_heating_index_is_the_ratio_of_its_areas() {
    // Hi = Ae/(2·Acs + Ai) written out (AWS D10.10).
    let (od, id, soak, heated) = (457.0_f64, 406.2_f64, 81.0, 300.0);
    let pi = std::f64::consts::PI;
    let areas = pi * od * heated / (2.0 * pi / 4.0 * (od * od - id * id) + pi * id * soak);
    let pipe = PipeWall {
        outside_diameter_mm: od,
        wall_mm: 25.4,
    };
    assert!((pipe.heating_index(soak, heated) - areas).abs() < 1e-12);
}

#[test]
fn of_two_sides_the_one_that_gives_more_counts() {
    let mut unequal = job(457.0, 25.4, 30.0);
    unequal.sides[1].wall = Millimeters::from_mm(12.7);
    let (unequal, equal) = (bands(&unequal), bands(&job(457.0, 25.4, 30.0)));
    assert_eq!(unequal.heated.width, equal.heated.width);
    assert!(
        row(&unequal, "HB2").working.contains("side 1"),
        "{}",
        row(&unequal, "HB2").working
    );
}

#[test]
fn a_wide_soak_band_of_the_code_widens_the_heated_band() {
    // ASME B31.1 132.7: three walls; 100 mm wall: 300 against 30 + 2·50 = 130 mm.
    let mut thick = weld("ASME B31.1", "2018", &side("1", 1, 600.0, 100.0));
    thick.cap_width = Millimeters::from_mm(30.0);
    let bands = bands(&thick);
    assert_eq!(bands.soak.width.mm(), 300.0);
    assert_eq!(mm(row(&bands, "HB1").heated), 350.0);
}

#[test]
fn the_unsure_band_of_the_piping_code_binds_nobody() {
    let piping = carbon("ASME B31.3", "2022", 40.0);
    let bands = bands(&piping);
    assert!(bands.by_rule.iter().all(|row| !row.binding));
    assert!(row(&bands, "local band").working.contains("switched off"));
    assert!(bands.soak.reason.contains("the code sets no soak band"));
}

#[test]
fn preheat_and_bake_out_have_bands() {
    for purpose in [Purpose::Preheat, Purpose::HydrogenBakeOut] {
        let mut weld = carbon("ASME B31.3", "2014", 25.0);
        weld.purpose = purpose;
        let bands = bands(&weld);
        assert!(bands.heated.width.mm() > bands.soak.width.mm());
        assert!(bands.gradient_control.width.mm() > bands.heated.width.mm());
    }
}

fn branch(code: &str, edition: &str) -> Weld {
    let mut job = weld(code, edition, &side("1", 1, 508.0, 20.0));
    job.sides[1] = side("1", 1, 219.1, 12.7);
    job.cap_width = Millimeters::from_mm(25.0);
    job.joint.form = rules::joint::JointForm::Branch;
    job
}

#[test]
fn the_bands_of_a_branch_lie_along_the_run() {
    let bands = bands(&branch("ASME B31.1", "2018"));
    // ASME B31.1 132.7: 219.1 + 2·25 over the weld and two walls of 20 mm beyond it on each side.
    assert_eq!(bands.soak.width.mm(), 269.1 + 4.0 * 20.0);
    assert!(bands.by_rule[bands.soak.row].binding);
    // ASME I PW-39.5: min(20, 50) beyond the weld on each side; it stands beside.
    let nozzle = row(&bands, "PW-39.5");
    assert!((nozzle.soak.expect("a zone").mm() - 309.1).abs() < 1e-9 && !nozzle.binding);
    assert!(
        !bands
            .by_rule
            .iter()
            .any(|row| row.working.starts_with("three walls")),
        "the band of a girth weld is not for a branch"
    );
    assert_eq!(bands.heating_index, None);
}

#[test]
fn the_index_of_the_governing_bands_is_told_and_is_that_of_the_worse_side() {
    let mut unequal = job(457.0, 25.4, 30.0);
    let equal = bands(&unequal).heating_index.expect("a girth weld");
    assert!((equal - 5.0).abs() < 1e-9, "{equal}");
    unequal.sides[1].wall = Millimeters::from_mm(12.7);
    let both = bands(&unequal).heating_index.expect("a girth weld");
    assert!(
        (both - 5.0).abs() < 1e-9,
        "the thick side governs and has 5: {both}"
    );
}

fn advised(weld: &Weld) -> Vec<String> {
    let advice = rules::setting_up(weld, false).expect("advice");
    advice.into_iter().map(|one| one.text).collect()
}

#[test]
fn advice_follows_form_direction_and_walls() {
    let holds = |weld: &Weld, words: &str| advised(weld).iter().any(|text| text.contains(words));
    let mut pipe = carbon("ASME B31.3", "2018", 20.0);
    pipe.orientation = rules::weld::Orientation::Horizontal;
    assert!(holds(&pipe, "bottom inside the coldest") && !holds(&pipe, "60 % of the heated width"));
    assert!(!holds(&pipe, "60 to 40"), "equal walls");
    pipe.orientation = rules::weld::Orientation::Vertical;
    assert!(holds(&pipe, "60 % of the heated width") && holds(&pipe, "More turns below"));
    pipe.sides[1].wall = Millimeters::from_mm(40.0);
    assert!(holds(&pipe, "60 to 40"));
    let branch = branch("ASME B31.3", "2018");
    assert!(holds(&branch, "whole circumference of the run") && !holds(&branch, "60 to 40"));
}
