//! Remarks on what no document sets.

use crate::requirement::{Limit, LimitKind, Remark};
use crate::weld::Purpose;

/// Adds a remark for each part of a requirement that nobody sets.
pub(crate) fn name_what_nobody_sets(purpose: Purpose, limits: &[Limit], remarks: &mut Vec<Remark>) {
    let has = |test: fn(&LimitKind) -> bool| limits.iter().any(|limit| test(&limit.kind));
    let parts = [
        (
            has(|kind| matches!(kind, LimitKind::HoldMax(_))),
            "highest temperature",
            "hold_max",
        ),
        (
            has(|kind| matches!(kind, LimitKind::HoldTime(_))),
            "hold time",
            "hold_time",
        ),
        (
            has(|kind| matches!(kind, LimitKind::HeatingRate { .. })),
            "heating rate",
            "heating_rate",
        ),
        (
            has(|kind| matches!(kind, LimitKind::CoolingRate { .. })),
            "cooling rate",
            "cooling_rate",
        ),
    ];
    for (set, what, key) in parts {
        if set || (purpose == Purpose::Preheat && key == "hold_time") {
            continue;
        }
        remarks.push(Remark {
            text: format!("no document sets a {what}; the procedure gives it as {key}"),
            clause: None,
        });
    }
    if purpose == Purpose::Preheat && !has(|kind| matches!(kind, LimitKind::HoldTime(_))) {
        remarks.push(Remark {
            text: "preheat lasts as long as the welding; the procedure gives the time to plan for as hold_time".into(),
            clause: None,
        });
    }
}
