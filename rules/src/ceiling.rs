//! Upper caps that the metal itself sets: below its lower critical and below its tempering temperature.

use quantity::{Celsius, Units};

use crate::critical::{Critical, bodies, in_table, remark, rows_of};
use crate::guidance;
use crate::own;
use crate::reader::push_once;
use crate::requirement::{Clause, Level, Limit, LimitKind, Remark};
use crate::row::{Table, TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::{Side, Weld};
use crate::wording::{difference, temperature};

/// The caps of both sides.
#[derive(Default)]
pub(crate) struct Caps {
    /// Margins, which give way to a range for which a procedure is qualified.
    pub yielding: Vec<Limit>,
    /// Lower critical temperatures themselves, where a procedure goes into the margin below one: they never give way.
    pub firm: Vec<Limit>,
}

/// The caps of both sides; what code, owner and procedure permit above the lower critical temperature is told.
pub(crate) fn limits(weld: &Weld, shelf: &Shelf, set: &[Limit], remarks: &mut Vec<Remark>) -> Caps {
    let mut caps = Caps::default();
    for table in shelf.of_kind(TableKind::Metal) {
        let criticals = in_table(table, weld);
        for (who, side) in &bodies(weld) {
            let critical = criticals.iter().find(|one| one.who == *who);
            let below = critical.and_then(|one| below_lower_critical(table, side, one, weld.units));
            let firm = critical
                .zip(below.as_ref())
                .and_then(|(one, below)| lower_critical_itself(one, below, weld));
            push_limit_once(&mut caps.firm, firm);
            for cap in [below, below_tempering(table, side, (who, weld.units))] {
                push_limit_once(&mut caps.yielding, cap);
            }
        }
        for remark in harm(table, weld, set) {
            push_once(remarks, remark);
        }
        if let Some(remark) = remark(&criticals, weld.units) {
            push_once(remarks, remark);
        }
        for remark in set
            .iter()
            .filter_map(|limit| reaches_austenite(limit, &criticals, weld.units))
        {
            push_once(remarks, remark);
        }
    }
    caps
}

/// What becomes of the metal where a limit that is set permits more than a lower critical temperature.
fn reaches_austenite(limit: &Limit, criticals: &[Critical], units: Units) -> Option<Remark> {
    let (end, set) = match limit.kind {
        LimitKind::HoldMin(set) => ("at least", set),
        LimitKind::HoldMax(set) => ("at most", set),
        _ => return None,
    };
    let heed = match (limit.level, limit.kind) {
        (Level::Code, LimitKind::HoldMax(_)) => "",
        _ => "warning: ",
    };
    let lowest = |one: &Critical| one.lowest().map_or(f64::INFINITY, |estimate| estimate.c);
    let first = criticals
        .iter()
        .min_by(|a, b| lowest(a).total_cmp(&lowest(b)))
        .filter(|first| set.c() > lowest(first))?;
    let whole = first.upper.iter().map(|upper| upper.c).reduce(f64::min);
    let whole = whole.map_or(String::new(), |c| {
        format!(" and is complete above {}", temperature(c, units))
    });
    Some(Remark {
        text: format!(
            "{heed}{end} {} lies above the lower critical temperature of {}, {}: austenite forms there{whole}, and the \
             metal is no longer tempered; its ceiling governs",
            temperature(set.c(), units),
            first.who,
            temperature(lowest(first), units)
        ),
        clause: Some(limit.clause.clone()),
    })
}

/// What a hold that is set does to a metal that bears no such temperature.
fn harm(table: &Table, weld: &Weld, set: &[Limit]) -> Vec<Remark> {
    let holds: Vec<f64> = set
        .iter()
        .filter_map(|limit| match limit.kind {
            LimitKind::HoldMin(c) | LimitKind::HoldMax(c) => Some(c.c()),
            _ => None,
        })
        .collect();
    let mut remarks = Vec::new();
    for (index, side) in weld.sides.iter().enumerate() {
        for row in rows_of(table, side) {
            let Value::Harmful { from_c, to_c, why } = &row.value else {
                continue;
            };
            if holds.iter().any(|c| (*from_c..=*to_c).contains(c)) {
                remarks.push(Remark {
                    text: format!(
                        "warning: {} ({}) is harmed between {} and {}: {why}",
                        weld.who(index),
                        side.p_number.words(),
                        temperature(*from_c, weld.units),
                        temperature(*to_c, weld.units)
                    ),
                    clause: Some(row.clause_in(table, "")),
                });
            }
        }
    }
    remarks
}

fn push_limit_once(caps: &mut Vec<Limit>, cap: Option<Limit>) {
    let Some(cap) = cap else {
        return;
    };
    if !caps.iter().any(|known| known.reason == cap.reason) {
        caps.push(cap);
    }
}

fn below_lower_critical(
    table: &Table,
    side: &Side,
    critical: &Critical,
    units: Units,
) -> Option<Limit> {
    let lowest = critical.lowest()?;
    let (margin_k, _) = margin(table, side, |value| match value {
        Value::BelowLowerCritical(margin) => Some(*margin),
        _ => None,
    })?;
    Some(Limit {
        kind: LimitKind::HoldMax(Celsius::from_c(lowest.c - margin_k)),
        level: Level::Guidance,
        clause: lowest.clause.clone(),
        reason: format!(
            "{} ({}): {} below the lower critical temperature, {}",
            critical.who,
            side.p_number.words(),
            difference(margin_k, units),
            lowest.words(units)
        ),
    })
}

/// The lower critical temperature, where owner or procedure set a range above the margin below it.
fn lower_critical_itself(critical: &Critical, below: &Limit, weld: &Weld) -> Option<Limit> {
    let lowest = critical.lowest()?;
    let mut own = own::documents(weld).into_iter();
    let goes_beyond = own.any(|(_, own, _)| guidance::yields(below.kind, own));
    goes_beyond.then(|| Limit {
        kind: LimitKind::HoldMax(Celsius::from_c(lowest.c)),
        level: Level::Guidance,
        clause: lowest.clause.clone(),
        reason: format!(
            "{}: the lower critical temperature itself, {}, for the own range lies in the margin below it",
            critical.who,
            lowest.words(weld.units)
        ),
    })
}

fn below_tempering(table: &Table, side: &Side, (who, units): (&str, Units)) -> Option<Limit> {
    let tempered = side.tempered_at?;
    let (margin_k, clause) = margin(table, side, |value| match value {
        Value::BelowTempering(margin) => Some(*margin),
        _ => None,
    })?;
    Some(Limit {
        kind: LimitKind::HoldMax(Celsius::from_c(tempered.c() - margin_k)),
        level: Level::Guidance,
        clause,
        reason: format!(
            "{who} ({}): {} below its tempering temperature, {}",
            side.p_number.words(),
            difference(margin_k, units),
            temperature(tempered.c(), units)
        ),
    })
}

fn margin(table: &Table, side: &Side, value: fn(&Value) -> Option<f64>) -> Option<(f64, Clause)> {
    let found =
        rows_of(table, side).filter_map(|row| Some((value(&row.value)?, row.clause_in(table, ""))));
    found.max_by(|a, b| a.0.total_cmp(&b.0))
}
