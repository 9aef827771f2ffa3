//! Code, owner and procedure are kept apart, and a weaker procedure is named in full.

use quantity::{Hours, Kelvins, KelvinsPerHour};
use rules::RuleFault;
use rules::requirement::{Level, LimitKind};

use crate::welds::*;

#[test]
fn each_level_keeps_its_own_limits() {
    let mut job = carbon("ASME VIII-1", "2013", 45.0);
    job.owner.hold_min = c(600.0);
    job.procedure.hold_min = c(610.0);
    job.procedure.hold_max = c(640.0);
    let need = need(&job);
    let of = |level| {
        let mins = need.limits.iter().filter(|limit| limit.level == level);
        mins.filter_map(|limit| {
            if let LimitKind::HoldMin(min) = limit.kind {
                Some(min.c())
            } else {
                None
            }
        })
        .next()
    };
    assert_eq!(
        (of(Level::Code), of(Level::Owner), of(Level::Procedure)),
        (Some(595.0), Some(600.0), Some(610.0))
    );
    assert_eq!(hold_min_c(&need), 610.0);
}

#[test]
fn a_weaker_procedure_is_refused_with_every_place_at_once() {
    let mut job = carbon("ASME VIII-1", "2013", 45.0);
    job.procedure.document = Some("WPS-7 rev 2".into());
    job.procedure.hold_min = c(580.0);
    job.procedure.hold_time = Some(Hours::from_h(1.0));
    job.procedure.heating_rate = Some(KelvinsPerHour::from_k_h(200.0));
    job.procedure.cooling_rate = Some(KelvinsPerHour::from_k_h(300.0));
    job.procedure.spread = Some(Kelvins::from_k(90.0));
    let error = rules::requirement(&job).expect_err("refused");
    let below = error
        .faults
        .iter()
        .filter(|fault| matches!(fault, RuleFault::ProcedureBelowCode { .. }));
    assert_eq!(below.count(), 5, "{error}");
    let text = error.to_string();
    assert!(
        text.contains("WPS-7 rev 2")
            && text.contains("580")
            && text.contains("595")
            && text.contains("UCS-56")
    );
}

#[test]
fn a_procedure_weaker_than_the_owner_is_refused_too() {
    let mut job = carbon("ASME B31.3", "2016", 25.0);
    job.owner.document = Some("Owner spec 12".into());
    job.owner.hold_time = Some(Hours::from_h(3.0));
    job.procedure.hold_time = Some(Hours::from_h(2.0));
    let error = rules::requirement(&job).expect_err("refused");
    assert_eq!(error.faults.len(), 1);
    assert!(error.to_string().contains("Owner spec 12"));
}

#[test]
fn a_rate_that_starts_to_hold_too_high_is_refused() {
    let mut job = carbon("ASME B31.1", "2018", 25.0);
    job.procedure.heating_rate = Some(KelvinsPerHour::from_k_h(100.0));
    job.procedure.rate_threshold = c(425.0);
    let error = rules::requirement(&job).expect_err("refused");
    assert!(
        error.to_string().contains("425") && error.to_string().contains("315"),
        "{error}"
    );
}

#[test]
fn a_rate_rounded_by_hand_is_accepted() {
    let mut job = carbon("ASME VIII-1", "2013", 45.0);
    job.procedure.heating_rate = Some(KelvinsPerHour::from_k_h(125.5));
    assert!(rules::requirement(&job).is_ok());
}

#[test]
fn a_listed_lower_temperature_needs_its_listed_hold_and_is_never_interpolated() {
    // ASME B31.3 Table 331.1.2: 30 K lower needs 2 h, 55 K lower 4 h, up to 25 mm.
    let job = |min_c: f64, hours: f64| {
        let mut job = carbon("ASME B31.3", "2016", 25.0);
        job.procedure.hold_min = c(min_c);
        job.procedure.hold_time = Some(Hours::from_h(hours));
        rules::requirement(&job)
    };
    assert!(job(565.0, 2.0).is_ok());
    assert!(job(565.0, 1.9).is_err());
    assert!(
        job(560.0, 3.0).is_err(),
        "between two rows the longer hold of the lower one is asked"
    );
    let need = job(560.0, 4.0).expect("the 55 K row");
    assert!(remarks(&need).contains("listed decrease of 55 K"));
    assert!(job(480.0, 40.0).is_err());
}

#[test]
fn an_owner_s_range_below_the_procedure_s_leaves_nothing() {
    let mut job = carbon("ASME VIII-1", "2013", 25.0);
    job.owner.hold_max = c(620.0);
    job.procedure.hold_min = c(630.0);
    assert!(rules::requirement(&job).is_err());
}
