//! Guidance gives way to what owner and procedure set themselves; it is then told, not required.

use quantity::Units;

use crate::own;
use crate::requirement::{Level, Limit, LimitKind, Remark};
use crate::weld::{OwnLimits, Weld};
use crate::wording::{short, temperature};

/// Turns limits of guidance into remarks where the procedure or the owner sets its own: a lower end and a hold time
/// always, an upper end where the whole own range lies above it.
pub(crate) fn give_way(weld: &Weld, limits: Vec<Limit>, remarks: &mut Vec<Remark>) -> Vec<Limit> {
    let (yielding, kept): (Vec<Limit>, Vec<Limit>) = limits.into_iter().partition(|limit| {
        limit.level == Level::Guidance
            && own::documents(weld)
                .iter()
                .any(|(_, own, _)| yields(limit.kind, own))
    });
    remarks.extend(yielding.into_iter().map(|limit| told(limit, weld.units)));
    kept
}

/// Whether a limit of guidance gives way to what a document sets.
pub(crate) fn yields(kind: LimitKind, own: &OwnLimits) -> bool {
    match kind {
        LimitKind::HoldMin(_) => own.hold_min.is_some(),
        LimitKind::HoldTime(_) => own.hold_time.is_some(),
        LimitKind::HoldMax(max) => {
            own.hold_max.is_some() && own.hold_min.is_some_and(|min| min > max)
        }
        _ => false,
    }
}

fn told(limit: Limit, units: Units) -> Remark {
    let text = match limit.kind {
        LimitKind::HoldMax(max) => format!(
            "warning: the own range lies above {} ({}); the procedure must be qualified for that",
            temperature(max.c(), units),
            limit.reason
        ),
        LimitKind::HoldMin(min) => format!(
            "guidance asks at least {} ({}); the own range governs",
            temperature(min.c(), units),
            limit.reason
        ),
        LimitKind::HoldTime(time) => format!(
            "guidance asks {} h ({}); the own hold time governs",
            short(time.h()),
            limit.reason
        ),
        _ => limit.reason,
    };
    Remark {
        text,
        clause: Some(limit.clause),
    }
}
