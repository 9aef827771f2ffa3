//! What the thermocouples of a plan will read, against its limits.

use quantity::{Celsius, Hours, Kelvins, Units};

use super::file::Finding;
use super::left::Left;
use super::number::{LimitKind, LimitOf, Number};
use super::place::Place;
use super::rows::{Good, Row};
use crate::wording::{difference, temperature};

/// A row for each kind of limit that was judged; of several of one kind only the tightest.
pub(super) fn limits(findings: &[Finding], units: Units) -> Vec<Row> {
    let mut rows: Vec<(f64, Row)> = Vec::new();
    for (left, row) in findings.iter().filter_map(|one| row(one, units)) {
        match rows.iter_mut().find(|(_, told)| told.of == row.of) {
            Some(told) if left < told.0 => *told = (left, row),
            Some(_) => {}
            None => rows.push((left, row)),
        }
    }
    rows.into_iter().map(|(_, row)| row).collect()
}

/// How much is left to the limit, and its row.
fn row(finding: &Finding, units: Units) -> Option<(f64, Row)> {
    let limit = &finding.limit;
    let (is, most) = (finding.predicted.as_ref()?.number, limit.value.number);
    let at = |c: f64| temperature(Celsius::from_c(c), units);
    let apart = |k: f64| difference(Kelvins::from_k(k), units);
    let above = |what: &str| match limit.above_c {
        Some(c) => format!("{what} above {}", at(c)),
        None => what.to_owned(),
    };
    let under = most - is;
    let (what, words, margin, left) = match limit.kind {
        LimitKind::HoldMin => (
            "coldest thermocouple".to_owned(),
            at(is),
            -under,
            Left::above(is, most, units),
        ),
        LimitKind::HoldMax => (
            "hottest thermocouple".to_owned(),
            at(is),
            under,
            Left::below(is, most, "allowed", units),
        ),
        // Longer than asked for is no better.
        LimitKind::HoldTime => (
            "hold by thermocouples".to_owned(),
            Hours::from_h(is).words(),
            (-under).min(0.0),
            Left::longer(is, most),
        ),
        LimitKind::HeatingRate | LimitKind::CoolingRate => {
            let what = match limit.kind {
                LimitKind::HeatingRate => "heating",
                _ => "cooling",
            };
            (
                above(what),
                format!("{}/h", apart(is)),
                under,
                Left::within(is, most, "/h", units),
            )
        }
        LimitKind::HoldSpread => (
            "thermocouples apart, hold".to_owned(),
            apart(is),
            under,
            Left::within(is, most, "", units),
        ),
        LimitKind::HeatingSpread => (
            "apart while heating".to_owned(),
            apart(is),
            under,
            Left::within(is, most, "", units),
        ),
        LimitKind::Other => return None,
    };
    let of = Number::Limit(LimitOf {
        kind: limit.kind,
        above_c: limit.above_c,
        within_mm: limit.within_mm,
    });
    let row = Row::new(of, what, words, margin, Good::More).left(left);
    let row = match place(finding) {
        Some(place) => row.at(place),
        None => row,
    };
    let spare = match limit.kind {
        LimitKind::HoldTime => -under,
        _ => margin,
    };
    Some((spare, row))
}

/// On which thermocouple and when; of a spread, on which two.
fn place(finding: &Finding) -> Option<Place> {
    let when = |from: &str| {
        let at = |h| format!("{from} {}", Hours::from_h(h).words());
        finding.when_h.map_or(String::new(), at)
    };
    let channel = finding.channel.as_ref()?;
    Some(match finding.limit.kind {
        LimitKind::HoldMin => Place::on(channel, when("at") + ", when all were hottest together"),
        LimitKind::HeatingRate | LimitKind::CoolingRate => Place::on(channel, when("from")),
        LimitKind::HoldSpread | LimitKind::HeatingSpread if finding.verdict != "not_judged" => {
            Place::on(&finding.reason, when("at"))
        }
        _ => Place::on(channel, when("at")),
    })
}
