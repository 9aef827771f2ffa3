//! An outcome as one JSON object (the keys: docs/section-files.md).

use job::section::{Asked, Row, SectionProblem, Solved, SolvedRow};
use serde_json::{Value, json};

use super::{Found, Outcome, Verdict};

/// The object of an outcome.
pub fn object(outcome: &Outcome) -> Value {
    match &outcome.found {
        Found::Refused(reasons) => json!({ "file": outcome.file, "refused": reasons }),
        Found::Solved(solved) => solution(outcome, &solved.0, &solved.1),
    }
}

fn solution(outcome: &Outcome, problem: &SectionProblem, solved: &Solved) -> Value {
    let rows = problem.rows.iter().zip(&solved.rows);
    let effort = &solved.effort;
    json!({
        "file": outcome.file,
        "title": problem.title,
        "source": problem.source,
        "rows": rows.map(|(row, solved)| self::row(problem, row, *solved)).collect::<Vec<_>>(),
        "holds": solved.holds(),
        "known_wrong": problem.known_wrong,
        "as_expected": outcome.verdict() == Verdict::Holds,
        "unknowns": { "field": effort.field_unknowns, "heat": effort.heat_unknowns },
        "field_solves": effort.field_solves,
        "heat_steps": effort.heat_steps,
        "power_balance": effort.power_balance,
        "largest_residual": effort.largest_residual,
        "seconds": outcome.seconds,
    })
}

fn row(problem: &SectionProblem, row: &Row, solved: SolvedRow) -> Value {
    let (side, at_m) = match row.asked {
        Asked::Flux { side, at_m, .. } => (Some(side.word()), Some(at_m)),
        _ => (None, None),
    };
    let point_m = match row.asked {
        Asked::Temperature { point_m } => Some(point_m),
        _ => None,
    };
    let expected = row.expected.as_ref();
    json!({
        "quantity": row.asked.quantity(),
        "of": row.asked.of(problem),
        "side": side,
        "at_m": at_m,
        "point_m": point_m,
        "time_s": row.time_s,
        "computed": solved.computed,
        "expected": expected.map(|expected| expected.value),
        "difference": expected.map(|expected| solved.computed - expected.value),
        "allowed": expected.map(|expected| expected.allowed),
        "because": expected.map(|expected| expected.because.as_str()),
        "holds": solved.holds,
        "line": row.line,
    })
}
