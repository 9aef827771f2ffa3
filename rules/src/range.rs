//! Lower and upper ends against each other: two metals, and all levels together.

use quantity::Units;

use crate::fault::RuleFault;
use crate::pick::Picked;
use crate::requirement::{Level, Limit, LimitKind, Remark};
use crate::row::{TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::Weld;
use crate::when::is_over;
use crate::wording::{Measure, difference, rounded, temperature};

/// A remark on how the ranges of two metals lie to each other.
pub(crate) fn of_two_metals(
    weld: &Weld,
    mins: &[Option<Picked<'_>>; 2],
    maxes: &[Option<Picked<'_>>; 2],
) -> Option<Remark> {
    let ([Some(first), Some(second)], false) =
        (mins, weld.sides[0].p_number == weld.sides[1].p_number)
    else {
        return None;
    };
    if first.value == second.value && top(&maxes[0]) == top(&maxes[1]) {
        return None;
    }
    let (low, high) = if first.value < second.value {
        (0, 1)
    } else {
        (1, 0)
    };
    let higher = [first, second][high];
    let lower_top = top(&maxes[low]);
    let (from, to) = (higher.value, lower_top.min(top(&maxes[high])));
    let ranges = format!(
        "side 1: {}, side 2: {}",
        words(first, &maxes[0], weld.units),
        words(second, &maxes[1], weld.units)
    );
    let text = if from <= to && to.is_finite() {
        format!(
            "the ranges of the two metals overlap ({ranges}): {} to {} lies in both",
            Measure::Temperature.bare(from, weld.units),
            temperature(to, weld.units)
        )
    } else if from > to {
        format!(
            "the ranges of the two metals do not overlap ({ranges}); the higher temperature, of side {}, governs, and side {} goes above its own range: its lower critical and its tempering temperature must stay above, or the joint is buttered",
            high + 1,
            low + 1
        )
    } else {
        format!(
            "the metals differ ({ranges}); the higher temperature, of side {}, governs",
            high + 1
        )
    };
    Some(Remark {
        text,
        clause: Some(higher.clause.clone()),
    })
}

fn top(max: &Option<Picked<'_>>) -> f64 {
    max.as_ref().map_or(f64::INFINITY, |picked| picked.value)
}

fn words(min: &Picked<'_>, max: &Option<Picked<'_>>, units: Units) -> String {
    match max {
        Some(max) => format!(
            "{} to {}",
            Measure::Temperature.bare(min.value, units),
            temperature(max.value, units)
        ),
        None => format!("at least {}", temperature(min.value, units)),
    }
}

/// A warning where the range is narrower than a hold can be kept.
pub(crate) fn narrow(limits: &[Limit], shelf: &Shelf, units: Units) -> Option<Remark> {
    let (narrowest_k, clause) = shelf.of_kind(TableKind::Metal).find_map(|table| {
        table.rows.iter().find_map(|row| match row.value {
            Value::NarrowestRange(k) => Some((k, row.clause_in(table, ""))),
            _ => None,
        })
    })?;
    let ((min_c, min_limit), (max_c, max_limit)) = ends(limits)?;
    let wide_k = max_c - min_c;
    (wide_k >= 0.0 && is_over(narrowest_k, wide_k)).then(|| Remark {
        text: format!(
            "warning: the range is only {} wide, from {} ({}) to {} ({}); less than about {} can hardly be kept by any heat, \
             and thermocouples err by several kelvins",
            difference(wide_k, units),
            temperature(min_c, units),
            from(min_limit),
            temperature(max_c, units),
            from(max_limit),
            difference(narrowest_k, units)
        ),
        clause: Some(clause),
    })
}

/// A fault if no temperature meets every limit of every level.
pub(crate) fn empty(limits: &[Limit], units: Units) -> Option<RuleFault> {
    let ((min_c, min_limit), (max_c, max_limit)) = ends(limits)?;
    is_over(min_c, max_c).then(|| RuleFault::EmptyRange {
        min: rounded(Measure::Temperature.number(min_c, units)),
        min_from: from(min_limit),
        max: rounded(Measure::Temperature.number(max_c, units)),
        unit: Measure::Temperature.unit(units),
        max_from: from(max_limit),
        of_the_metal: (min_limit.level, max_limit.level) == (Level::Code, Level::Guidance),
        hint: hint(max_limit),
    })
}

/// An end in °C with the limit that sets it.
type End<'a> = (f64, &'a Limit);

/// The highest lower end and the lowest upper end.
fn ends(limits: &[Limit]) -> Option<(End<'_>, End<'_>)> {
    let mut lowest: Option<(f64, &Limit)> = None;
    let mut highest: Option<(f64, &Limit)> = None;
    for limit in limits {
        match limit.kind {
            LimitKind::HoldMin(min) if lowest.is_none_or(|(kept, _)| min.c() > kept) => {
                lowest = Some((min.c(), limit))
            }
            LimitKind::HoldMax(max) if highest.is_none_or(|(kept, _)| max.c() < kept) => {
                highest = Some((max.c(), limit));
            }
            _ => {}
        }
    }
    Some((lowest?, highest?))
}

fn from(limit: &Limit) -> String {
    match limit.level {
        Level::Guidance => limit.reason.clone(),
        _ => format!("{} {}", limit.clause.document, limit.clause.clause),
    }
}

fn hint(max_limit: &Limit) -> String {
    match max_limit.level {
        Level::Guidance => "butter the joint, take another filler, or give the range for which the procedure is qualified as its own hold_min and hold_max".into(),
        _ => "bring the documents into agreement".into(),
    }
}
