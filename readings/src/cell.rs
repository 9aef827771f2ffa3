//! One cell: a number, silence, or words.

use crate::words::{Unit, words};

/// The decimal sign of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Decimal {
    Point,
    Comma,
}

/// What stands in a cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Cell {
    /// A number, with the unit written behind it, if one is.
    Number(f64, Option<Unit>),
    /// No reading, and no word why.
    Silent,
    /// Anything else.
    Words,
}

/// Reads a cell.
pub(crate) fn cell(text: &str, decimal: Decimal) -> Cell {
    let text = text.trim();
    if let Some(number) = number(text, decimal) {
        return Cell::Number(number, None);
    }
    if words().is_silent(text) {
        return Cell::Silent;
    }
    let digits = text
        .trim_end_matches(|c: char| c.is_alphabetic() || matches!(c, '°' | 'º' | '℃' | '℉' | '%'));
    if digits.len() < text.len()
        && let Some(unit) = words().unit_of(&text[digits.len()..])
        && let Some(number) = number(digits.trim_end(), decimal)
    {
        return Cell::Number(number, Some(unit));
    }
    Cell::Words
}

/// Signs and digits of the longest number.
const LONGEST: usize = 48;

/// A number with the decimal sign of the file; the other sign may part thousands.
pub(crate) fn number(text: &str, decimal: Decimal) -> Option<f64> {
    let bytes = text.as_bytes();
    let first = *bytes.first()?;
    if !(first.is_ascii_digit() || matches!(first, b'+' | b'-' | b'.' | b',')) {
        return None;
    }
    let (sign, thousands) = match decimal {
        Decimal::Point => (b'.', b','),
        Decimal::Comma => (b',', b'.'),
    };
    let plain = |b: &u8| b.is_ascii_digit() || matches!(b, b'+' | b'-' | b'e' | b'E') || *b == b'.';
    if decimal == Decimal::Point && bytes.iter().all(plain) {
        return text.parse().ok().filter(|n: &f64| n.is_finite());
    }
    if bytes.contains(&thousands) && !parts_thousands(text, char::from(sign), char::from(thousands))
    {
        return None;
    }
    let mut rewritten = [0_u8; LONGEST];
    let mut length = 0;
    for &byte in bytes {
        let kept = match byte {
            b if b == thousands => continue,
            b if b == sign => b'.',
            b if b.is_ascii_digit() || matches!(b, b'+' | b'-' | b'e' | b'E') => b,
            _ => return None,
        };
        *rewritten.get_mut(length)? = kept;
        length += 1;
    }
    let rewritten = std::str::from_utf8(&rewritten[..length]).ok()?;
    rewritten.parse().ok().filter(|n: &f64| n.is_finite())
}

/// Whether a sign stands only where it parts groups of three digits.
fn parts_thousands(text: &str, sign: char, thousands: char) -> bool {
    let whole = text
        .split(sign)
        .next()
        .unwrap_or(text)
        .trim_start_matches(['+', '-']);
    let mut groups = whole.split(thousands);
    let leads = groups.next().is_some_and(|g| (1..=3).contains(&g.len()));
    let mut behind = text.split(sign).skip(1);
    leads && groups.all(|g| g.len() == 3) && !behind.any(|part| part.contains(thousands))
}

#[cfg(test)]
mod tests {
    use super::{Cell, Decimal, Unit, cell};

    #[test]
    fn numbers_as_loggers_write_them() {
        let point = |text| cell(text, Decimal::Point);
        let comma = |text| cell(text, Decimal::Comma);
        assert_eq!(point("748.3"), Cell::Number(748.3, None));
        assert_eq!(point("1,382.0"), Cell::Number(1382.0, None));
        assert_eq!(comma("1.382,5"), Cell::Number(1382.5, None));
        assert_eq!(comma("-0,0"), Cell::Number(0.0, None));
        assert_eq!(point("748.3C"), Cell::Number(748.3, Some(Unit::Celsius)));
        assert_eq!(
            point("1382 °F"),
            Cell::Number(1382.0, Some(Unit::Fahrenheit))
        );
        assert_eq!(point("---"), Cell::Silent);
        assert_eq!(point("****"), Cell::Words);
        assert_eq!(point("1,38.0"), Cell::Words);
        assert_eq!(comma("-210.\u{fffd}"), Cell::Words);
        assert_eq!(point("12:30"), Cell::Words);
    }
}
