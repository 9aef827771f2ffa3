//! The further families of codes.

use quantity::{Hours, KelvinsPerHour};
use rules::RuleFault;
use rules::requirement::{Level, LimitKind};
use rules::weld::Weld;

use crate::welds::*;

fn with_own_hold(mut weld: Weld) -> Weld {
    weld.procedure.hold_min = c(560.0);
    weld.procedure.hold_max = c(600.0);
    weld.procedure.hold_time = Some(Hours::from_h(2.0));
    weld
}

#[test]
fn structural_steel_counts_each_step_begun() {
    // AWS D1.1 stress relief table read as "or fraction thereof": 20 mm are four steps of 6 mm, 1 h; in proportion 50 min.
    let need = need(&carbon("AWS D1.1", "2008", 20.0));
    assert_eq!((hold_min_c(&need), hold_minutes(&need)), (600.0, 60.0));
    assert!(
        remarks(&need).contains("in proportion it would be 50 min"),
        "{}",
        remarks(&need)
    );
    let spread = need
        .limits
        .iter()
        .find(|limit| matches!(limit.kind, LimitKind::HoldSpread(_)));
    assert!(
        spread.is_some_and(
            |limit| limit.kind == LimitKind::HoldSpread(quantity::Kelvins::from_k(85.0))
        )
    );
}

#[test]
fn structural_hold_times_around_their_thresholds() {
    for (wall_mm, minutes) in [
        (6.0, 15.0),
        (6.1, 30.0),
        (18.0, 45.0),
        (48.0, 120.0),
        (51.0, 135.0),
        (75.0, 135.0),
        (76.0, 150.0),
    ] {
        assert_eq!(
            hold_minutes(&need(&carbon("AWS D1.1", "2015", wall_mm))),
            minutes,
            "{wall_mm} mm"
        );
    }
}

#[test]
fn rates_at_worked_thicknesses() {
    // Computed from the formulas: D1.1 heating 5600/t to 220; EN 13445-4 5500/e to 220, 55 at least; PD 5500 cooling
    // 6875/e to 275.
    for (wall_mm, structural, european, british) in [
        (25.4, 220.0, 217.0, 271.0),
        (38.1, 147.0, 144.0, 180.0),
        (50.8, 110.0, 108.0, 135.0),
        (100.0, 56.0, 55.0, 69.0),
        (150.0, 55.0, 55.0, 55.0),
    ] {
        assert_eq!(
            heating_k_h(&need(&carbon("AWS D1.1", "2008", wall_mm))).round(),
            structural,
            "{wall_mm} mm"
        );
        let group = |code: &str| with_own_hold(weld(code, "2021", &side("1.1", 1, 457.0, wall_mm)));
        assert_eq!(
            heating_k_h(&need(&group("EN 13445-4"))).round(),
            european,
            "{wall_mm} mm"
        );
        assert_eq!(
            cooling_k_h(&need(&group("PD 5500"))).round(),
            british,
            "{wall_mm} mm"
        );
    }
}

#[test]
fn the_european_table_is_off_until_the_procedure_speaks() {
    let steel = side("5.1", 1, 457.0, 40.0);
    let error = rules::requirement(&weld("EN 13445-4", "2021", &steel)).expect_err("refused");
    assert!(
        matches!(error.faults[0], RuleFault::OnlyUnsure { .. }),
        "{error}"
    );
    let need = need(&with_own_hold(weld("EN 13445-4", "2021", &steel)));
    assert!(need.limits.iter().all(
        |limit| !matches!(limit.kind, LimitKind::HoldMin(_)) || limit.level == Level::Procedure
    ));
    assert!(remarks(&need).contains("switched off"));
}

#[test]
fn the_european_band_binds_a_european_vessel() {
    let job = with_own_hold(weld("EN 13445-4", "2014", &side("1.1", 1, 457.0, 25.4)));
    let bands = rules::bands(&job).expect("bands");
    let row = bands
        .by_rule
        .iter()
        .find(|row| row.binding)
        .expect("a binding row");
    // 5·√(203.1·25.4) = 359 mm, computed.
    assert_eq!(row.heated.map(|width| width.mm().round()), Some(359.0));
    assert!(bands.heated.width.mm() >= 359.0);
}

#[test]
fn an_older_power_piping_edition_holds_hotter() {
    // ASME B31.1 Table 132 (2010-2012) against Table 132.1.1-1 (2014 on), P-No. 4.
    let at = |edition: &str| {
        hold_min_c(&need(&weld(
            "ASME B31.1",
            edition,
            &side("4", 1, 457.0, 20.0),
        )))
    };
    assert_eq!((at("2012"), at("2014")), (700.0, 650.0));
}

#[test]
fn a_procedure_slower_than_the_code_is_welcome() {
    let mut job = with_own_hold(weld("PD 5500", "2018", &side("1.1", 1, 457.0, 60.0)));
    job.procedure.heating_rate = Some(KelvinsPerHour::from_k_h(60.0));
    assert!(rules::requirement(&job).is_ok());
}

#[test]
fn quenched_and_tempered_structural_steel_is_refused_with_its_upper_end() {
    // AWS D1.1-2008 5.8.1 (3): quenched and tempered steel at no more than 600 °C.
    let mut plate = weld("AWS D1.1", "2020", &side("1", 1, 600.0, 20.0));
    let yes = rules::answers::Question::QuenchedTempered;
    plate.answers.said.insert(yes, true);
    let refused = rules::requirement(&plate).expect_err("no lower end");
    let told = refused.to_string();
    assert!(
        told.contains("600 °C") && !told.contains("P-No. none"),
        "{told}"
    );
}
