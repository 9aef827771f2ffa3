//! The limits of a stress relief in few rows: what one clause says together stands together.

use checks::{level_words, limit_words};
use quantity::{Celsius, KelvinsPerHour, Units};
use report::{Block, Row};
use rules::requirement::{Limit, LimitKind};

use super::{by, table};

/// The limits, the strictest of every kind at every level; `home` is the document that needs no name.
pub(crate) fn limits(limits: &[Limit], units: Units, home: &str) -> Block {
    let mut kept: Vec<&Limit> = limits.iter().collect();
    kept.sort_by(|a, b| in_order(a).total_cmp(&in_order(b)));
    // Of several ceilings of one level the lowest stands here; the others are in the data.
    kept.dedup_by(|later, kept| {
        let kind = |limit: &Limit| std::mem::discriminant(&limit.kind);
        later.level == kept.level && kind(later) == kind(kept)
    });
    let rows = together(&kept).into_iter().map(|group| {
        Row::Cells(vec![
            words(&group, units).into(),
            by(level_words(group[0].level), &group[0].clause, home),
        ])
    });
    table(["Limit", "Who sets it, and where"], rows.collect())
}

/// Limits of one kind together, the strictest first.
fn in_order(limit: &Limit) -> f64 {
    let (kind, strict) = match limit.kind {
        LimitKind::HoldMin(c) => (0.0, -c.c()),
        LimitKind::HoldMax(c) => (1.0, c.c()),
        LimitKind::HoldTime(time) => (2.0, -time.h()),
        LimitKind::HeatingRate { rate, .. } => (3.0, rate.k_h()),
        LimitKind::CoolingRate { rate, .. } => (4.0, rate.k_h()),
        LimitKind::HoldSpread(k) => (5.0, k.k()),
        LimitKind::HeatingSpread { spread, .. } => (6.0, spread.k()),
    };
    1e6 * kind + strict
}

/// What one clause sets of hold, rates and spreads.
fn together<'a>(limits: &[&'a Limit]) -> Vec<Vec<&'a Limit>> {
    let mut groups: Vec<Vec<&Limit>> = Vec::new();
    for limit in limits {
        let same = groups
            .iter_mut()
            .find(|group| group[0].level == limit.level && group[0].clause == limit.clause);
        match same {
            Some(group) => group.push(limit),
            None => groups.push(vec![limit]),
        }
    }
    groups
}

/// In one sentence; equal rates of heating and cooling are said once.
fn words(group: &[&Limit], units: Units) -> String {
    let mut said: Vec<String> = Vec::new();
    for (index, limit) in group.iter().enumerate() {
        let words = limit_words(&limit.kind, units);
        match limit.kind {
            LimitKind::CoolingRate { rate, above } if heats_alike(group, rate, above) => {}
            LimitKind::HeatingRate { rate, above } if cools_alike(group, rate, above) => {
                said.push(words.replacen("heating", "heating and cooling", 1));
            }
            LimitKind::HoldTime(_) if index > 0 => {
                said.push(words.replacen("hold of", "for", 1));
            }
            _ => said.push(words),
        }
    }
    said.join(", ")
}

fn heats_alike(group: &[&Limit], rate: KelvinsPerHour, above: Celsius) -> bool {
    let kind = LimitKind::HeatingRate { rate, above };
    group.iter().any(|limit| limit.kind == kind)
}

fn cools_alike(group: &[&Limit], rate: KelvinsPerHour, above: Celsius) -> bool {
    let kind = LimitKind::CoolingRate { rate, above };
    group.iter().any(|limit| limit.kind == kind)
}
