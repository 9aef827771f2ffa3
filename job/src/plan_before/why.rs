//! Why a number of a plan differs from the one before: what made the same number of the metal at rest differ, where both
//! went the same way.

use quantity::Units;

use super::Changed;
use super::number::{LimitKind, LimitOf, Number};
use crate::rest_change::{Kept, Moved, ToldOnce, moved};
use crate::rest_numbers::Measure;

/// The changed numbers with what made them differ, as far as the metal at rest tells it.
pub(super) fn with_reasons(
    changed: Vec<Changed>,
    at_rest: [Option<Kept>; 2],
    units: Units,
) -> Vec<Changed> {
    let [Some(before), Some(now)] = at_rest else {
        return changed;
    };
    let at_rest = moved(&before, &now, units);
    let of = |measure: Measure| {
        let place = now.numbers.iter().position(|one| one.of == measure)?;
        at_rest.get(place)
    };
    let changed = changed.into_iter().chain(reach([&before, &now], &at_rest));
    let mut told = ToldOnce::default();
    let with = changed.map(|one| {
        let rest = behind(&one.of).and_then(of);
        let by_rest = rest.map(|rest| because(&one, rest, &mut told));
        Changed {
            because: one.because.clone().or(by_rest),
            ..one
        }
    });
    with.collect()
}

/// How far the turns heat: the same in a cycle and at rest.
fn reach(pair: [&Kept; 2], at_rest: &[Moved]) -> Option<Changed> {
    let of = |kept: &Kept| {
        let mut all = kept.numbers.iter();
        let place = all.position(|one| one.of == Measure::HeatedReach)?;
        let number = &kept.numbers[place];
        let words = format!("{:.*} {}", number.digits, number.value, number.unit);
        Some((place, words, number.left.clone()))
    };
    let ((_, was, _), (place, is, left)) = (of(pair[0])?, of(pair[1])?);
    let moved = at_rest
        .get(place)
        .filter(|moved| moved.by.is_some() && !moved.is_slight)?;
    Some(Changed {
        of: Number::HeatedReach,
        what: "reach of the turns".to_owned(),
        was,
        is,
        better: moved.better,
        left,
        place: None,
        because: moved.because.clone(),
    })
}

/// The number of the metal at rest that stands behind one of a plan.
fn behind(number: &Number) -> Option<Measure> {
    Some(match number {
        Number::MetalColdest
        | Number::Limit(LimitOf {
            kind: LimitKind::HoldMin,
            ..
        }) => Measure::SoakColdest,
        Number::MetalHottest
        | Number::Limit(LimitOf {
            kind: LimitKind::HoldMax,
            ..
        }) => Measure::SoakHottest,
        Number::Limit(LimitOf {
            kind: LimitKind::HoldSpread,
            ..
        }) => Measure::HottestLessColdest,
        Number::BeyondHottest => Measure::BeyondHottest,
        Number::OutsideLessBoreHeating | Number::OutsideLessBoreHold => Measure::OutsideLessBore,
        Number::Energy | Number::Power => Measure::SourcePower,
        Number::Current => Measure::Current,
        Number::Voltage => Measure::Voltage,
        _ => return None,
    })
}

/// What made it differ.
fn because(one: &Changed, rest: &Moved, told: &mut ToldOnce) -> String {
    let (Some(by), Some(because)) = (&rest.by, &rest.because) else {
        return "the metal at rest reads as before: this comes of the heating up".to_owned();
    };
    match one.better == rest.better {
        true => format!("{} (at rest {by})", told.once(because, &one.what)),
        false => format!("this comes of the heating up; at rest it goes the other way, {by}"),
    }
}
