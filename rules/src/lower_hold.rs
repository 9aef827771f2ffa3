//! A listed lower temperature with its longer hold, where the procedure uses it. The list is never interpolated.

use quantity::{Celsius, Hours};

use crate::answers::Question;
use crate::book::Book;
use crate::requirement::{Clause, Level, Limit, LimitKind, Remark};
use crate::row::Value;
use crate::weld::Weld;
use crate::when::{Fit, is_over};
use crate::wording::{difference, short};

/// A row of the list that the procedure meets.
struct Listed {
    decrease_k: f64,
    minutes: f64,
    clause: Clause,
}

/// Replaces lower end and hold time of the code where the procedure uses a listed lower temperature with its hold.
pub(crate) fn apply(
    weld: &Weld,
    book: &Book<'_>,
    thickness_mm: f64,
    limits: &mut [Limit],
    remarks: &mut Vec<Remark>,
) {
    let (Some(own_min), Some(own_time)) = (weld.procedure.hold_min, weld.procedure.hold_time)
    else {
        return;
    };
    let code_min = limits.iter().find_map(|limit| match limit.kind {
        LimitKind::HoldMin(min) if limit.level == Level::Code => Some(min),
        _ => None,
    });
    let Some(code_min) = code_min.filter(|min| is_over(min.c(), own_min.c())) else {
        return;
    };
    let listed = listed(weld, book, thickness_mm, (code_min - own_min).k());
    let Some(listed) = listed.filter(|row| own_time.minutes() >= row.minutes) else {
        return;
    };
    let reason = format!(
        "the procedure uses the listed decrease of {} with {} h",
        difference(listed.decrease_k, weld.units),
        short(listed.minutes / 60.0)
    );
    for limit in limits.iter_mut().filter(|limit| limit.level == Level::Code) {
        match limit.kind {
            LimitKind::HoldMin(_) => {
                limit.kind = LimitKind::HoldMin(Celsius::from_c(code_min.c() - listed.decrease_k))
            }
            LimitKind::HoldTime(_) => {
                limit.kind = LimitKind::HoldTime(Hours::from_min(listed.minutes))
            }
            _ => continue,
        }
        limit.clause.clone_from(&listed.clause);
        limit.reason.clone_from(&reason);
    }
    remarks.push(Remark {
        text: reason,
        clause: Some(listed.clause),
    });
}

/// The whole list at a thickness, as one remark.
pub(crate) fn told(weld: &Weld, book: &Book<'_>, thickness_mm: f64) -> Option<Remark> {
    let rows = all(weld, book, thickness_mm);
    let first = rows.first()?;
    let pairs: Vec<String> = rows
        .iter()
        .map(|row| {
            format!(
                "{} lower {} h",
                difference(row.decrease_k, weld.units),
                short(row.minutes / 60.0)
            )
        })
        .collect();
    Some(Remark {
        text: format!(
            "where the range is impractical, a lower end with a longer hold may be used as it is listed, never between two: {}",
            pairs.join(", ")
        ),
        clause: Some(first.clause.clone()),
    })
}

/// The least listed decrease that covers the one that is needed and holds for both sides.
fn listed(weld: &Weld, book: &Book<'_>, thickness_mm: f64, needed_k: f64) -> Option<Listed> {
    let listed = all(weld, book, thickness_mm).into_iter();
    listed
        .filter(|row| !is_over(needed_k, row.decrease_k))
        .min_by(|a, b| a.decrease_k.total_cmp(&b.decrease_k))
}

/// Every row of the list that holds for both sides.
fn all(weld: &Weld, book: &Book<'_>, thickness_mm: f64) -> Vec<Listed> {
    // A relief that serves the hardness of a sour service is not weakened.
    if weld.answers.to(Question::SourService) == Some(true) {
        return Vec::new();
    }
    let page = book.first();
    let rows = page.rows(weld.purpose).filter(|row| {
        row.is_on()
            && weld
                .sides
                .iter()
                .all(|side| row.when.fit(side, thickness_mm) == Fit::Yes)
    });
    let listed = rows.filter_map(|row| match &row.value {
        Value::LowerHold { decrease, hold } => Some(Listed {
            decrease_k: *decrease,
            minutes: hold.minutes_at(thickness_mm),
            clause: row.clause_in(page.table, page.edition),
        }),
        _ => None,
    });
    listed.collect()
}
