//! Upper caps that the metal itself sets: below its lower critical and below its tempering temperature.

use quantity::{Celsius, Units};

use crate::critical::{Critical, bodies, in_table, remark, rows_of};
use crate::reader::push_once;
use crate::requirement::{Clause, Level, Limit, LimitKind, Remark};
use crate::row::{Table, TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::{Side, Weld};
use crate::wording::{difference, p_number_words, temperature};

/// The caps of both sides; what code, owner and procedure permit above the lower critical temperature is told.
pub(crate) fn limits(
    weld: &Weld,
    shelf: &Shelf,
    set: &[Limit],
    remarks: &mut Vec<Remark>,
) -> Vec<Limit> {
    let mut caps = Vec::new();
    for table in shelf.of_kind(TableKind::Metal) {
        let criticals = in_table(table, weld);
        for (who, side) in &bodies(weld) {
            let critical = criticals.iter().find(|one| one.who == *who);
            let below = critical.and_then(|one| below_lower_critical(table, side, one, weld.units));
            for cap in [below, below_tempering(table, side, (who, weld.units))] {
                push_limit_once(&mut caps, cap);
            }
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
            "{} (P-No. {}): {} below the lower critical temperature, {}",
            critical.who,
            p_number_words(&side.p_number),
            difference(margin_k, units),
            lowest.words(units)
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
            "{who} (P-No. {}): {} below its tempering temperature, {}",
            p_number_words(&side.p_number),
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
