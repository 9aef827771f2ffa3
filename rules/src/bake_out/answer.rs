//! The bake-out of a weld: time by every coefficient, what holds in use leave, what the plan's history leaves.

use quantity::{Celsius, Hours};
use serde::Serialize;

use super::diffusivity::MetalKind;
use super::history::History;
use super::law::{BakeRow, Law, laws, rows};
use super::refused::{Hopeless, hopeless};
use super::value::{BakeOutValue, CommonHold};
use super::wall::{Left, Wall, Where};
use crate::fault::RuleError;
use crate::requirement::{Clause, Remark};
use crate::row::{Row, Value};
use crate::shelf::Shelf;
use crate::time_temperature::bad_measure;
use crate::weld::{Purpose, Weld};
use crate::when::Fit;
use crate::wording::{short, temperature};

/// What is asked of a bake-out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Asked {
    /// The wall that is baked.
    pub wall: Wall,
    /// Temperature of the hold.
    pub temperature: Celsius,
    /// Share of the hydrogen that may be left, between 0 and 1.
    pub share: f64,
    /// Whether the mean or the slowest place counts.
    pub place: Where,
    /// The plan's or the log's temperatures over time, where there are any.
    pub history: Vec<(Hours, Celsius)>,
}

/// The bake-out of a weld.
#[derive(Clone, Debug, Serialize)]
pub struct BakeOut {
    /// Each coefficient of ferritic metal.
    pub by_coefficient: Vec<ByCoefficient>,
    /// Index of the slowest coefficient that holds at the temperature; none where none does or the metal is hopeless.
    pub governing: Option<usize>,
    /// Times by that coefficient until each listed share is left.
    pub times: Vec<TimeTo>,
    /// Index of the coefficient by which the history leaves the most, of those that hold for more than half of it.
    pub after_history: Option<usize>,
    /// Holds in use, with what they leave by the slowest coefficient that holds there; none where the metal is hopeless.
    pub holds: Vec<HoldLeaves>,
    /// Sides that keep their hydrogen.
    pub hopeless: Vec<Hopeless>,
    /// What a person must know or answer.
    pub remarks: Vec<Remark>,
}

/// The answer of one coefficient.
#[derive(Clone, Debug, Serialize)]
pub struct ByCoefficient {
    /// The metal it was found in.
    pub metal: String,
    /// D in m²/s at the temperature; none outside its range.
    pub m2_s: Option<f64>,
    /// Time until the share is left; none outside its range.
    pub time: Option<Hours>,
    /// What the history leaves.
    pub history: Option<AfterHistory>,
    /// Where it stands.
    pub clause: Clause,
}

/// What a history of temperatures leaves.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AfterHistory {
    /// What is left.
    pub left: Left,
    /// The hours of it that lie outside the coefficient's range and are not counted.
    pub not_counted: Hours,
}

/// The times until a share is left.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TimeTo {
    /// The share, between 0 and 1.
    pub share: f64,
    /// Until the mean over the wall has fallen to it.
    pub of_mean: Hours,
    /// Until the slowest place has fallen to it.
    pub at_slowest: Hours,
}

/// What a hold in use leaves.
#[derive(Clone, Debug, Serialize)]
pub struct HoldLeaves {
    /// Its temperature.
    pub temperature: Celsius,
    /// Its time on this wall.
    pub time: Hours,
    /// What is left, and by the coefficient of which metal.
    pub left: Option<(Left, String)>,
    /// Where it stands.
    pub clause: Clause,
}

/// The bake-out of a weld by diffusion. A coefficient is not used outside its range.
///
/// # Errors
/// [`crate::fault::RuleFault::BadMeasure`] for every measure that cannot be; the faults of the data files.
pub fn bake_out(weld: &Weld, asked: &Asked) -> Result<BakeOut, RuleError> {
    check(asked)?;
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let rows = rows(&shelf);
    let ferritic = laws(weld, &rows, MetalKind::Ferritic);
    let hopeless = hopeless(weld, asked, &rows)?;
    let by_coefficient = by_coefficient(asked, &ferritic)?;
    let keeps_all =
        hopeless.iter().any(|one| one.who == "both sides") || hopeless.len() == weld.sides.len();
    let governing = slowest(&by_coefficient).filter(|_| !keeps_all);
    Ok(BakeOut {
        times: times(
            asked,
            &rows,
            governing.and_then(|index| by_coefficient[index].m2_s),
        )?,
        after_history: after_history(asked, &by_coefficient).filter(|_| !keeps_all),
        governing,
        holds: match keeps_all {
            true => Vec::new(),
            false => holds(weld, asked, &rows, &ferritic),
        },
        remarks: match keeps_all {
            true => Vec::new(),
            false => remarks(weld, &shelf, &by_coefficient, asked),
        },
        by_coefficient,
        hopeless,
    })
}

fn check(asked: &Asked) -> Result<(), RuleError> {
    let mut faults = Vec::new();
    let (length_mm, c) = (asked.wall.length().mm(), asked.temperature.c());
    if !(length_mm.is_finite() && length_mm > 0.0) {
        faults.extend(bad_measure("wall", length_mm, "mm", "it must be more than zero").faults);
    }
    if !(c.is_finite() && asked.temperature.absolute_k() > 0.0) {
        faults.extend(
            bad_measure(
                "bake-out temperature",
                c,
                "°C",
                "it must lie above absolute zero",
            )
            .faults,
        );
    }
    if !(asked.share > 0.0 && asked.share < 1.0) {
        faults.extend(
            bad_measure(
                "share of the hydrogen",
                asked.share,
                "of 1",
                "it must lie between 0 and 1",
            )
            .faults,
        );
    }
    if faults.is_empty() {
        Ok(())
    } else {
        Err(RuleError { faults })
    }
}

pub(super) fn by_coefficient(
    asked: &Asked,
    laws: &[Law<'_>],
) -> Result<Vec<ByCoefficient>, RuleError> {
    let mut answers = Vec::new();
    for law in laws {
        let m2_s = law.m2_s(asked.temperature);
        let time = m2_s
            .map(|d| asked.wall.time_to(asked.share, asked.place, d))
            .transpose()?;
        answers.push(ByCoefficient {
            metal: law.metal.clone(),
            m2_s,
            time,
            history: history(asked, law)?,
            clause: law.clause(asked.temperature),
        });
    }
    Ok(answers)
}

fn history(asked: &Asked, law: &Law<'_>) -> Result<Option<AfterHistory>, RuleError> {
    if asked.history.is_empty() {
        return Ok(None);
    }
    let mut history = History::new(|temperature| law.m2_s(temperature));
    for (time, temperature) in &asked.history {
        history.push(*time, Some(*temperature))?;
    }
    Ok(Some(AfterHistory {
        left: asked.wall.left(asked.wall.fourier(history.diffused_m2())),
        not_counted: history.not_counted(),
    }))
}

/// Of the coefficients that hold for more than half of the history, the one that leaves the most.
fn after_history(asked: &Asked, answers: &[ByCoefficient]) -> Option<usize> {
    let (first, last) = (asked.history.first()?.0, asked.history.last()?.0);
    let half_h = 0.5 * (last.h() - first.h());
    let known = answers.iter().enumerate().filter_map(|(index, one)| {
        let after = one.history.as_ref()?;
        (after.not_counted.h() <= half_h).then_some((index, after.left.mean))
    });
    known
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(index, _)| index)
}

/// Times by one coefficient until each listed share is left.
fn times(asked: &Asked, rows: &[BakeRow<'_>], m2_s: Option<f64>) -> Result<Vec<TimeTo>, RuleError> {
    let Some(m2_s) = m2_s else {
        return Ok(Vec::new());
    };
    let listed = rows.iter().find_map(|(_, _, value)| match value {
        BakeOutValue::Shares(shares) => Some(shares.listed.as_slice()),
        _ => None,
    });
    listed
        .unwrap_or_default()
        .iter()
        .map(|share| {
            Ok(TimeTo {
                share: *share,
                of_mean: asked.wall.time_to(*share, Where::Mean, m2_s)?,
                at_slowest: asked.wall.time_to(*share, Where::Slowest, m2_s)?,
            })
        })
        .collect()
}

fn slowest(answers: &[ByCoefficient]) -> Option<usize> {
    let known = answers
        .iter()
        .enumerate()
        .filter_map(|(index, one)| Some((index, one.time?.h())));
    known
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(index, _)| index)
}

fn fits(weld: &Weld, row: &Row) -> bool {
    weld.sides
        .iter()
        .any(|side| row.when.fit(side, side.wall.mm()) != Fit::No)
}

fn holds(weld: &Weld, asked: &Asked, rows: &[BakeRow<'_>], laws: &[Law<'_>]) -> Vec<HoldLeaves> {
    let thickest_mm = weld.sides[0].wall.mm().max(weld.sides[1].wall.mm());
    let of_hold = |hold: &CommonHold, clause: Clause| {
        let (temperature, time) = (
            Celsius::from_c(hold.temperature_c),
            Hours::from_h(hold.hours_at(thickest_mm)),
        );
        let known = laws
            .iter()
            .filter_map(|law| Some((law.metal.as_str(), law.m2_s(temperature)?)));
        let slowest = known.min_by(|a, b| a.1.total_cmp(&b.1));
        HoldLeaves {
            temperature,
            time,
            left: slowest.map(|(metal, d)| {
                (
                    asked.wall.left(asked.wall.fourier(d * time.s())),
                    metal.to_string(),
                )
            }),
            clause,
        }
    };
    rows.iter()
        .filter(|(_, row, _)| fits(weld, row))
        .filter_map(|(table, row, value)| match value {
            BakeOutValue::CommonHold(hold) => Some(of_hold(hold, row.clause_in(table, ""))),
            _ => None,
        })
        .collect()
}

/// How the remark on coefficients that disagree ends.
const SLOWEST_TAKEN: &str = "the slowest that holds there is taken";

/// The shortest and the longest time of coefficients that disagree.
fn range_of_times(answers: &[ByCoefficient]) -> Option<(Hours, Hours)> {
    let times = || answers.iter().filter_map(|one| one.time);
    let least = times().reduce(|a, b| if b < a { b } else { a })?;
    let most = times().reduce(|a, b| if b > a { b } else { a })?;
    (most > least).then_some((least, most))
}

impl BakeOut {
    /// The shortest and the longest time of coefficients that disagree; none where they agree or one alone holds.
    pub fn range_of_times(&self) -> Option<(Hours, Hours)> {
        range_of_times(&self.by_coefficient)
    }

    /// The remark that tells it.
    pub fn disagreement(&self) -> Option<&Remark> {
        let tells = |remark: &&Remark| remark.text.ends_with(SLOWEST_TAKEN);
        self.remarks.iter().find(tells)
    }
}

/// Questions of the rows, and how far the coefficients lie apart.
fn remarks(weld: &Weld, shelf: &Shelf, answers: &[ByCoefficient], asked: &Asked) -> Vec<Remark> {
    let mut remarks = Vec::new();
    if let Some((least, most)) = range_of_times(answers) {
        remarks.push(Remark {
            text: format!(
                "the coefficients disagree at {}: {} to {} h; {SLOWEST_TAKEN}",
                temperature(asked.temperature.c(), weld.units),
                short(least.h()),
                short(most.h())
            ),
            clause: None,
        });
    }
    for table in shelf.tables() {
        for row in table.rows.iter().filter(|row| {
            row.purpose == Purpose::HydrogenBakeOut && row.is_asked(weld) && fits(weld, row)
        }) {
            if let Value::Question(text) = &row.value {
                remarks.push(Remark {
                    text: text.clone(),
                    clause: Some(row.clause_in(table, "")),
                });
            }
        }
    }
    remarks
}
