//! Upper caps that the metal itself sets: below its lower critical and below its tempering temperature.

use std::collections::BTreeMap;

use quantity::Celsius;

use crate::reader::push_once;
use crate::requirement::{Clause, Level, Limit, LimitKind, Remark};
use crate::row::{CompositionFormula, Row, Table, TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::{Side, Weld};
use crate::when::Fit;
use crate::wording::{exact, p_number_words, short};

/// The caps of both sides.
pub(crate) fn limits(weld: &Weld, shelf: &Shelf, remarks: &mut Vec<Remark>) -> Vec<Limit> {
    let mut caps = Vec::new();
    for table in shelf.of_kind(TableKind::Metal) {
        for (who, side) in &bodies(weld) {
            for cap in [
                below_lower_critical(table, side, who, remarks),
                below_tempering(table, side, who),
            ] {
                push_limit_once(&mut caps, cap);
            }
        }
    }
    caps
}

/// Both sides, and the weld metal where its composition is known: it is read as the side of the same family, without
/// a tempering of its own.
fn bodies(weld: &Weld) -> Vec<(String, Side)> {
    let mut bodies: Vec<(String, Side)> = weld
        .sides
        .iter()
        .enumerate()
        .map(|(index, side)| (weld.who(index), side.clone()))
        .collect();
    let metal = &weld.welding.weld_metal;
    if !metal.is_empty() {
        let chromium = |percent: &BTreeMap<String, f64>| percent.get("Cr").copied();
        let near = |side: &&Side| match (chromium(&side.chemistry), chromium(metal)) {
            (Some(side), Some(metal)) => (side - metal).abs(),
            _ => 0.0,
        };
        let like = weld.sides.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
        bodies.extend(like.map(|side| {
            let body = Side {
                chemistry: metal.clone(),
                tempered_at: None,
                ..side.clone()
            };
            ("weld metal".to_owned(), body)
        }));
    }
    bodies
}

fn push_limit_once(caps: &mut Vec<Limit>, cap: Option<Limit>) {
    let Some(cap) = cap else {
        return;
    };
    if !caps.iter().any(|known| known.reason == cap.reason) {
        caps.push(cap);
    }
}

/// An estimate of the lower critical temperature of one side.
struct Estimate {
    c: f64,
    clause: Clause,
    words: String,
}

fn below_lower_critical(
    table: &Table,
    side: &Side,
    who: &str,
    remarks: &mut Vec<Remark>,
) -> Option<Limit> {
    let estimates: Vec<Estimate> = rows_of(table, side)
        .filter_map(|row| estimate(table, row, side))
        .collect();
    let lowest = estimates.iter().min_by(|a, b| a.c.total_cmp(&b.c))?;
    let (margin_k, _) = margin(table, side, |value| match value {
        Value::BelowLowerCritical(margin) => Some(*margin),
        _ => None,
    })?;
    if estimates.len() > 1 {
        let all: Vec<String> = estimates.iter().map(|one| one.words.clone()).collect();
        push_once(
            remarks,
            Remark {
                text: format!(
                    "{who}: lower critical temperature by {}; the lowest is taken",
                    all.join("; ")
                ),
                clause: Some(lowest.clause.clone()),
            },
        );
    }
    Some(Limit {
        kind: LimitKind::HoldMax(Celsius::from_c(lowest.c - margin_k)),
        level: Level::Guidance,
        clause: lowest.clause.clone(),
        reason: format!(
            "{who} (P-No. {}): {} K below the lower critical temperature, {}",
            p_number_words(&side.p_number),
            short(margin_k),
            lowest.words
        ),
    })
}

fn below_tempering(table: &Table, side: &Side, who: &str) -> Option<Limit> {
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
            "{who} (P-No. {}): {} K below its tempering temperature, {} °C",
            p_number_words(&side.p_number),
            short(margin_k),
            short(tempered.c())
        ),
    })
}

fn rows_of<'a>(table: &'a Table, side: &'a Side) -> impl Iterator<Item = &'a Row> {
    let on = table.rows.iter().filter(|row| row.is_on());
    on.filter(|row| row.when.fit(side, side.wall.mm()) != Fit::No)
}

fn margin(table: &Table, side: &Side, value: fn(&Value) -> Option<f64>) -> Option<(f64, Clause)> {
    let found =
        rows_of(table, side).filter_map(|row| Some((value(&row.value)?, row.clause_in(table, ""))));
    found.max_by(|a, b| a.0.total_cmp(&b.0))
}

fn estimate(table: &Table, row: &Row, side: &Side) -> Option<Estimate> {
    let clause = row.clause_in(table, "");
    let (c, how) = match &row.value {
        Value::LowerCritical(c) => (*c, "listed"),
        Value::LowerCriticalFormula(formula) => {
            (formula.at(&side.chemistry)?, "from the composition")
        }
        _ => return None,
    };
    let words = format!(
        "{} °C {how} ({} {})",
        short(c),
        clause.document,
        clause.clause
    );
    Some(Estimate { c, clause, words })
}

impl CompositionFormula {
    /// The temperature in °C at a composition in weight percent; none where an element it needs is not given or one
    /// lies outside its range.
    pub fn at(&self, percent: &BTreeMap<String, f64>) -> Option<f64> {
        let known = self
            .needs
            .iter()
            .all(|element| percent.contains_key(element));
        let inside = self
            .percent_at_most
            .iter()
            .all(|(element, most)| percent.get(element).is_none_or(|p| p <= most));
        if !known || !inside {
            return None;
        }
        let content = |element: &String| percent.get(element).copied().unwrap_or(0.0);
        let linear: f64 = self
            .per_percent
            .iter()
            .map(|(element, factor)| factor * content(element))
            .sum();
        let sum: f64 = self.squared_sum_of.iter().map(content).sum();
        Some(self.base + linear + self.squared * sum * sum)
    }

    /// The formula in words.
    pub fn words(&self) -> String {
        let mut text = exact(self.base);
        for (element, factor) in &self.per_percent {
            text.push_str(&format!(
                " {} {}·{element}",
                if *factor < 0.0 { "−" } else { "+" },
                exact(factor.abs())
            ));
        }
        if self.squared != 0.0 {
            let sign = if self.squared < 0.0 { "−" } else { "+" };
            text.push_str(&format!(
                " {sign} {}·({})²",
                exact(self.squared.abs()),
                self.squared_sum_of.join("+")
            ));
        }
        text
    }
}
