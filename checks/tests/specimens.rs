//! A user's promise: what is found in a log agrees with what is known to be true of it.

use std::time::Duration;

use checks::{
    ChannelUse, Checker, Definitions, Event, FailureKind, Findings, Happening, Removal, Verdict,
    Zone,
};
use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Millimeters, Status};
use readings::Scan;
use rules::requirement::{Clause, GoverningThickness, Level, Limit, LimitKind, Requirement};
use rules::thermocouple::{Face, Place, Role};
use rules::weld::{CodeEdition, Purpose};
use specimens::{Card, Expected, Failing, Shown, Situation, situations};

fn clause() -> Clause {
    Clause {
        document: "A made-up code".into(),
        clause: "1.1".into(),
        status: Status::UserGiven,
        note: None,
    }
}

fn kinds(card: &Card) -> Vec<LimitKind> {
    let above = Celsius::from_c(card.rates_above_c);
    vec![
        LimitKind::HoldMin(Celsius::from_c(card.hold_low_c)),
        LimitKind::HoldMax(Celsius::from_c(card.hold_high_c)),
        LimitKind::HoldTime(Hours::from_h(card.hold_h)),
        LimitKind::HeatingRate {
            above,
            rate: KelvinsPerHour::from_k_h(card.heating_k_h),
        },
        LimitKind::CoolingRate {
            above,
            rate: KelvinsPerHour::from_k_h(card.cooling_k_h),
        },
        LimitKind::HoldSpread(Kelvins::from_k(card.spread_k)),
    ]
}

fn requirement(card: &Card) -> Requirement {
    let limit = |kind| Limit {
        kind,
        level: Level::Procedure,
        clause: clause(),
        reason: "test".into(),
    };
    Requirement {
        purpose: Purpose::StressRelief,
        code: CodeEdition {
            code: "made up".into(),
            edition: "1".into(),
        },
        governing_thickness: GoverningThickness {
            thickness: Millimeters::from_mm(25.0),
            reason: "test".into(),
            clause: clause(),
        },
        standing: None,
        limits: kinds(card).into_iter().map(limit).collect(),
        remarks: Vec::new(),
    }
}

fn channels(situation: &Situation) -> Vec<ChannelUse> {
    let channel = |(i, c): (usize, &specimens::Channel)| ChannelUse {
        name: c.name.clone(),
        role: match (i, c.judged) {
            (_, false) => Role::Spare,
            (0, true) => Role::Control,
            _ => Role::Monitor,
        },
        face: Face::Outside,
        axial: Millimeters::from_mm(10.0 * i as f64),
        place: Place::SoakBand,
        fitted: true,
    };
    situation.channels.iter().enumerate().map(channel).collect()
}

fn scans(situation: &Situation) -> Vec<Scan> {
    let reading = |shown: &Shown| match shown {
        Shown::Tenths(tenths) => Some(Celsius::from_c(f64::from(*tenths) / 10.0)),
        // The end of the range of type K, to which a recorder drives an open circuit.
        Shown::Open => Some(Celsius::from_c(1372.0)),
        Shown::Silent => None,
    };
    let scan = |row: &specimens::Row| Scan {
        elapsed: Duration::from_secs(row.elapsed_s),
        readings: row.shown.iter().map(reading).collect(),
    };
    situation.record().rows.iter().map(scan).collect()
}

fn judged(situation: &Situation, removal: Removal) -> Findings {
    let definitions = Definitions {
        removal,
        ..Definitions::default()
    };
    let mut checker = Checker::new(
        &requirement(&situation.card),
        &channels(situation),
        definitions,
    )
    .with_zones(zones(situation))
    .expect("zones of known thermocouples");
    situation.events.iter().for_each(|(at_h, words)| {
        checker.note(&Event {
            elapsed: Duration::from_secs_f64(at_h * 3600.0),
            what: match words.contains("OFF CHECK") {
                true => Happening::PowerOffCheck,
                false => Happening::Remark((*words).to_owned()),
            },
        });
    });
    for (row, scan) in situation.record().rows.iter().zip(scans(situation)) {
        for (zone, power_kw) in row.power_kw.iter().enumerate() {
            checker.power(zone, scan.elapsed, *power_kw);
        }
        checker.push(&scan);
    }
    checker.findings()
}

/// The first half of the thermocouples is heated by the first zone, the rest by the second.
fn zones(situation: &Situation) -> Vec<Zone> {
    let names: Vec<String> = situation.channels.iter().map(|c| c.name.clone()).collect();
    let halves = names.split_at(names.len() / 2);
    let zone = |power: &str, names: &[String]| Zone {
        power: power.into(),
        thermocouples: names.to_vec(),
    };
    vec![zone("A", halves.0), zone("B", halves.1)]
}

fn agrees(expected: Expected, verdict: Verdict) -> bool {
    match expected {
        Expected::Met => verdict == Verdict::Met,
        Expected::NotMet => verdict == Verdict::NotMet,
        Expected::NeverBroken => verdict != Verdict::NotMet,
        Expected::NeverMet => verdict != Verdict::Met,
        Expected::Either => true,
    }
}

fn disagreements(situation: &Situation) -> Vec<String> {
    let expected = situation.expected();
    let wanted = [
        expected.hold_low,
        expected.hold_high,
        expected.hold_time,
        expected.heating,
        expected.cooling,
        expected.spread,
    ];
    let findings = judged(situation, Removal::WithEvidence);
    let differs = findings.findings.iter().zip(wanted);
    differs
        .filter(|(finding, wanted)| !agrees(*wanted, finding.verdict))
        .map(|(f, wanted)| {
            let (kind, measured) = (&f.limit.kind, &f.measured);
            format!(
                "{}: {kind:?} is {:?} ({measured:?}), known: {wanted:?}; {}",
                situation.name, f.verdict, f.reason
            )
        })
        .collect()
}

/// Whether one log proves nothing of the metal's own limits, because readings that are wrong stay judged.
fn unproven(situation: &Situation) -> bool {
    situation.failed.as_ref().is_some_and(|f| !f.how.proven())
}

#[test]
fn every_verdict_agrees_with_what_is_known() {
    let faults: Vec<String> = situations::all()
        .iter()
        .filter(|s| !unproven(s))
        .flat_map(disagreements)
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn kind(how: Failing) -> FailureKind {
    match how {
        Failing::Open => FailureKind::Open,
        Failing::Stuck => FailureKind::Stuck,
        Failing::Reversed => FailureKind::Reversed,
        Failing::Detached => FailureKind::Detached,
        Failing::Noisy => FailureKind::Noisy,
        Failing::Drift => FailureKind::Drifting,
        Failing::Pickup => FailureKind::Pickup,
        Failing::Swapped => FailureKind::Exchanged,
    }
}

/// Evidence of the slowest sign, drift, is taken over an hour.
const LATEST_H: f64 = 1.1;

/// Signs taken over stretches may date the beginning one stretch of ten minutes early.
const EARLIEST_H: f64 = 0.2;

#[test]
fn what_fails_is_found_and_nothing_else() {
    let mut faults = Vec::new();
    for situation in situations::all() {
        let findings = judged(&situation, Removal::Never);
        let wanted = situation.failed.as_ref().map(|f| (f, kind(f.how)));
        let is_wanted = |failure: &checks::Failure| {
            wanted.as_ref().is_some_and(|(failed, kind)| {
                let late_h = failure.first_evidence.h() - failed.shows_h;
                failure.channel == failed.channel
                    && failure.kind == *kind
                    // Names are exchanged from the first scan on, long before a power shows it.
                    && (*kind == FailureKind::Exchanged
                        || (-EARLIEST_H..=LATEST_H).contains(&late_h))
            })
        };
        if wanted.is_some() && !findings.failures.iter().any(is_wanted) {
            faults.push(format!(
                "{}: not found: {:?}",
                situation.name, findings.failures
            ));
        }
        let of_another = |f: &&checks::Failure| {
            situation
                .failed
                .as_ref()
                .is_none_or(|failed| failed.channel != f.channel)
        };
        // A place that really departs can't be told from a drifting couple by one log; the finding says so and decides
        // nothing.
        // Of two that were exchanged, the situation names one.
        let may_be_real = |f: &&checks::Failure| {
            let exchanged = f.kind == FailureKind::Exchanged && f.channel == "TC3";
            f.kind != FailureKind::Drifting && !(exchanged && situation.name == "swapped")
        };
        let others = findings.failures.iter().filter(of_another);
        let others: Vec<_> = others.filter(may_be_real).collect();
        if !others.is_empty() {
            faults.push(format!(
                "{}: sound ones flagged: {others:?}",
                situation.name
            ));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn attempts_are_counted_as_they_were_made() {
    let faults: Vec<String> = situations::all()
        .iter()
        .filter_map(|situation| {
            let found = judged(situation, Removal::WithEvidence).attempts.list.len();
            let differs = found != situation.attempts;
            differs.then(|| format!("{}: {found}, made: {}", situation.name, situation.attempts))
        })
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
