//! An outcome as a table of at most a hundred columns.

use std::fmt::Write;

use job::section::{Asked, Row, SectionProblem, Solved, SolvedRow};

use super::{Found, Outcome, Verdict};

/// Columns of the words of a row; the numbers take what is left of a hundred.
const ASKED_COLUMNS: usize = 46;

/// The table of a file, or why it was refused.
pub fn outcome(outcome: &Outcome) -> String {
    match &outcome.found {
        Found::Refused(reasons) => refusal(&outcome.file, reasons),
        Found::Solved(solved) => table(outcome, &solved.0, &solved.1),
    }
}

/// The last line: how many rows hold.
pub fn summary(outcomes: &[Outcome]) -> String {
    let (mut rows, mut holding, mut refused, mut known) = (0, 0, 0, 0);
    for outcome in outcomes {
        let Found::Solved(solved) = &outcome.found else {
            refused += 1;
            continue;
        };
        let (problem, solved) = &**solved;
        let expecting = solved.rows.iter().filter_map(|row| row.holds);
        rows += expecting.clone().count();
        holding += expecting.filter(|holds| *holds).count();
        known += usize::from(problem.known_wrong.is_some());
    }
    let mut line = match rows {
        0 => format!("no row is expected to hold in {}", files(outcomes.len())),
        _ => format!("{holding} of {rows} rows hold in {}", files(outcomes.len())),
    };
    if known > 0 {
        let _ = write!(line, "; {} known not to hold", files(known));
    }
    if refused > 0 {
        let _ = write!(line, "; {} refused", files(refused));
    }
    line
}

fn files(count: usize) -> String {
    match count {
        1 => "1 file".to_owned(),
        _ => format!("{count} files"),
    }
}

fn refusal(file: &str, reasons: &[String]) -> String {
    let mut text = format!("{file}: refused\n");
    for reason in reasons {
        let _ = writeln!(text, "  {reason}");
    }
    text.push('\n');
    text
}

fn table(outcome: &Outcome, problem: &SectionProblem, solved: &Solved) -> String {
    let mut text = format!("{}\n{}\n", problem.title, outcome.file);
    let _ = writeln!(
        text,
        "{}",
        line(
            "asked",
            ["computed", "expected", "difference", "allowed"],
            "holds"
        )
    );
    for (row, solved) in problem.rows.iter().zip(&solved.rows) {
        text.push_str(&self::row(problem, row, *solved));
    }
    let _ = writeln!(text, "{}", effort(outcome, solved));
    if let Some(why) = &problem.known_wrong {
        let still = match outcome.verdict() {
            Verdict::Holds => "known not to hold",
            _ => "holds, and is marked as known not to hold",
        };
        let _ = writeln!(text, "{still}: {why}");
    }
    text.push('\n');
    text
}

fn row(problem: &SectionProblem, row: &Row, solved: SolvedRow) -> String {
    let unit = unit(row.asked);
    let words = format!("{}, {unit}", asked(problem, row));
    let computed = number(solved.computed);
    let expected = row.expected.as_ref();
    let difference = expected.map(|expected| match expected.allowed_percent {
        Some(percent) => {
            let off = 100.0 * (solved.computed / expected.value - 1.0);
            (format!("{off:+.3} %"), format!("{percent} %"))
        }
        None => (
            signed(solved.computed - expected.value),
            short(expected.allowed),
        ),
    });
    let (difference, allowed) = difference.unwrap_or_default();
    let value = expected
        .map(|expected| number(expected.value))
        .unwrap_or_default();
    let holds = match solved.holds {
        Some(true) => "yes",
        Some(false) => "NO",
        None => "",
    };
    let mut text = String::new();
    // Words too long for their column get a line of their own.
    let words = if words.chars().count() > ASKED_COLUMNS {
        let _ = writeln!(text, "  {words}");
        String::new()
    } else {
        words
    };
    let _ = writeln!(
        text,
        "{}",
        line(&words, [&computed, &value, &difference, &allowed], holds)
    );
    text
}

fn line(asked: &str, [computed, expected, difference, allowed]: [&str; 4], holds: &str) -> String {
    let line = format!(
        "  {asked:<ASKED_COLUMNS$} {computed:>11} {expected:>11} {difference:>10} {allowed:>9}  {holds:<5}"
    );
    line.trim_end().to_owned()
}

/// What a row asks, in words.
fn asked(problem: &SectionProblem, row: &Row) -> String {
    let of = row.asked.of(problem).unwrap_or_default();
    let mut words = match row.asked {
        Asked::Power { .. } => format!("power of {of}"),
        Asked::Resistance { .. } => format!("resistance of {of}"),
        Asked::Reactance { .. } => format!("reactance of {of}"),
        Asked::Inductance { .. } => format!("inductance of {of}"),
        Asked::Flux { side, at_m, .. } => format!("flux through {of} {} at {at_m} m", side.word()),
        Asked::Temperature { point_m: [u, v] } => format!("temperature at ({u}, {v}) m"),
        Asked::HeatFlow { .. } => format!("heat into {of}"),
    };
    if let Some(time_s) = row.time_s {
        let _ = write!(words, ", {time_s} s");
    }
    words
}

fn unit(asked: Asked) -> &'static str {
    match asked {
        Asked::Power { .. } | Asked::HeatFlow { .. } => "W",
        Asked::Resistance { .. } | Asked::Reactance { .. } => "ohm",
        Asked::Inductance { .. } => "H",
        Asked::Flux { .. } => "W/m2",
        Asked::Temperature { .. } => "°C",
    }
}

fn effort(outcome: &Outcome, solved: &Solved) -> String {
    let effort = &solved.effort;
    let mut parts = Vec::new();
    parts.extend(
        effort
            .field_unknowns
            .map(|unknowns| format!("{unknowns} unknowns of field")),
    );
    parts.extend(
        effort
            .heat_unknowns
            .map(|unknowns| format!("{unknowns} of heat")),
    );
    if effort.field_solves > 0 {
        parts.push(counted(effort.field_solves, "field solve"));
    }
    if effort.heat_steps > 0 {
        parts.push(counted(effort.heat_steps, "step"));
    }
    parts.extend(
        effort
            .power_balance
            .map(|balance| format!("power balance {balance:.0e}")),
    );
    parts.push(format!("{:.2} s", outcome.seconds));
    format!("  {}", parts.join(", "))
}

fn counted(count: usize, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}

/// Six digits, as many as a tolerance of a thousandth of a percent needs.
fn number(value: f64) -> String {
    digits(value, 6)
}

fn short(value: f64) -> String {
    let text = digits(value, 4);
    match text.contains(['.']) && !text.contains('e') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

fn signed(value: f64) -> String {
    let text = digits(value.abs(), 3);
    format!("{}{text}", if value < 0.0 { '-' } else { '+' })
}

/// A number with this many significant digits, without an exponent between a thousandth and a million.
fn digits(value: f64, count: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let exponent = value.abs().log10().floor() as i32;
    if !(-4..7).contains(&exponent) {
        return format!("{value:.*e}", (count - 1) as usize);
    }
    format!("{value:.*}", (count - 1 - exponent).max(0) as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_carry_as_many_digits_as_they_should() {
        assert_eq!(number(8499.2), "8499.20");
        assert_eq!(number(0.000_733_614_9), "0.000733615");
        assert_eq!(number(2.5e-7), "2.50000e-7");
        assert_eq!(number(-20.0), "-20.0000");
        assert_eq!(short(3.0), "3");
        assert_eq!(short(839.442_289), "839.4");
        assert_eq!(signed(-0.012_345), "-0.0123");
    }

    #[test]
    fn a_line_is_at_most_a_hundred_columns_wide() {
        let widest = line(
            &"x".repeat(ASKED_COLUMNS),
            ["-1.2345e-10", "-1.2345e-10", "-1.23e-10", "1.234e-10"],
            "holds",
        );
        assert!(widest.chars().count() <= 100, "{}", widest.chars().count());
    }
}
