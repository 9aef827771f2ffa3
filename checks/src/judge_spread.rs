//! Findings of spread, in the hold and while heating.

use quantity::{Hours, Kelvins};
use rules::requirement::Limit;

use crate::checker::Checker;
use crate::definition_words as definitions;
use crate::finding::{Beside, Finding, Measured, Origin, Verdict};
use crate::folds::Folds;
use crate::judge::{name, open, silent_soak_band};
use crate::spread::Spread;

/// Spread of the soak band in the hold.
pub(crate) fn hold_spread(
    checker: &Checker,
    folds: &Folds,
    limit: &Limit,
    allowed: Kelvins,
) -> Finding {
    let mut finding = open(
        limit,
        definitions::HOLD_SPREAD,
        "there was no hold with two thermocouples or more",
    );
    let settled_binds = checker.definitions.settled_spread_binds;
    let (whole, settled) = (folds.stage.widest(), folds.stage.settled());
    let (binding, other) = if settled_binds {
        (settled, whole)
    } else {
        (whole, settled)
    };
    // A plan's own pages say how even its hold is.
    if checker.origin == Origin::Measured {
        finding.beside = hold_spread_beside(checker, folds, other);
    }
    let Some(widest) = binding else {
        if let Some(reason) = silent_soak_band(checker) {
            finding.reason = reason;
        }
        return finding;
    };
    spread_finding(checker, &mut finding, widest, allowed);
    if finding.verdict == Verdict::Met
        && let Some(gap_s) = folds.stage.gap_s()
    {
        finding.verdict = Verdict::NotJudged;
        finding.reason = format!(
            "a gap lies inside the hold, from {}",
            Hours::from_s(gap_s).words()
        );
    }
    finding
}

fn hold_spread_beside(checker: &Checker, folds: &Folds, other: Option<Spread>) -> Vec<Beside> {
    let difference = |k: f64| Measured::Difference(Kelvins::from_k(k));
    let minutes = checker.definitions.settling.minutes();
    let what = match checker.definitions.settled_spread_binds {
        true => "largest of the whole hold".into(),
        false => format!("largest after the first {minutes:.0} min"),
    };
    vec![
        Beside {
            what,
            channel: None,
            measured: other.map(|s| difference(s.spread_k)),
        },
        Beside {
            what: "hottest of the whole hold less coldest of it".into(),
            channel: None,
            measured: folds.stage.worst_case_k().map(difference),
        },
    ]
}

/// Spread of near places while heating.
pub(crate) fn heating_spread(
    checker: &Checker,
    folds: &Folds,
    index: usize,
    limit: &Limit,
    allowed: Kelvins,
) -> Finding {
    let mut finding = open(
        limit,
        definitions::HEATING_SPREAD,
        "no two thermocouples spoke together while heating",
    );
    let widest = folds.heating_spreads[index].as_ref().and_then(|s| s.widest);
    if let Some(widest) = widest {
        spread_finding(checker, &mut finding, widest, allowed);
    }
    if finding.verdict == Verdict::Met
        && let Some(reason) = silent_soak_band(checker)
    {
        finding.verdict = Verdict::NotJudged;
        finding.reason = reason;
    }
    finding
}

fn spread_finding(checker: &Checker, finding: &mut Finding, widest: Spread, allowed: Kelvins) {
    let margin_k = allowed.k() - widest.spread_k;
    let name_of = |c: usize| name(checker, c).unwrap_or_default();
    finding.verdict = if margin_k >= 0.0 {
        Verdict::Met
    } else {
        Verdict::NotMet
    };
    finding.measured = Some(Measured::Difference(Kelvins::from_k(widest.spread_k)));
    finding.by_how_much = Some(Measured::Difference(Kelvins::from_k(margin_k.abs())));
    finding.when = Some(Hours::from_s(widest.time_s));
    finding.channel = name(checker, widest.hottest);
    finding.reason = format!(
        "{} hottest, {} coldest",
        name_of(widest.hottest),
        name_of(widest.coldest)
    );
}
