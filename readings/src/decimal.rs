//! The decimal sign of a file.

use crate::cell::Decimal;
use crate::delimiter::Delimiter;

/// Lines looked at.
const LOOKED_AT: usize = 2000;

/// What numbers of a file show of its decimal sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    /// No doubt.
    Sure(Decimal),
    /// Every comma has three digits behind it: thousands or a decimal sign.
    Open,
}

/// Looks at every cell that is written like a number.
pub(crate) fn shown(lines: &[&str], delimiter: Delimiter) -> Shown {
    let mut cells = Vec::new();
    let (mut commas, mut threes, mut points) = (0, 0, 0);
    for line in lines.iter().take(LOOKED_AT) {
        delimiter.split(line, &mut cells);
        for cell in &cells {
            let cell = cell.trim_start_matches(['-', '+']);
            let written = !cell.is_empty()
                && cell
                    .bytes()
                    .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b','));
            if !written {
                continue;
            }
            match (cell.rfind('.'), cell.rfind(',')) {
                (Some(point), Some(comma)) if comma > point => commas += 1,
                (Some(_), Some(_)) => points += 1,
                (Some(_), None) if cell.matches('.').count() == 1 => points += 1,
                (None, Some(comma))
                    if cell.matches(',').count() == 1 && cell.len() - comma != 4 =>
                {
                    commas += 1
                }
                (None, Some(_)) => threes += 1,
                _ => {}
            }
        }
    }
    if commas > points {
        Shown::Sure(Decimal::Comma)
    } else if threes > 0 && points == 0 {
        Shown::Open
    } else {
        Shown::Sure(Decimal::Point)
    }
}
