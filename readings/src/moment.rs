//! Dates and times as loggers write them.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{Offset, TimeZone};

use crate::words::words;

/// In which order day, month and year stand, by what stands first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DateOrder {
    Day,
    Month,
    Year,
}

const ORDERS: [DateOrder; 3] = [DateOrder::Day, DateOrder::Month, DateOrder::Year];

/// A date as it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DateParts {
    /// Nothing about it is open.
    Sure(Date),
    /// Two numbers, of which one is the day, and the year.
    Open([i8; 2], i16),
    /// Three numbers of two digits, of which the first or the last is the year of this century.
    Short([i8; 3]),
}

impl DateParts {
    /// The date in the given order; `None` where there is no such date.
    pub fn in_order(self, order: DateOrder) -> Option<Date> {
        match (self, order) {
            (DateParts::Sure(date), _) => Some(date),
            (DateParts::Open([day, month], year), DateOrder::Day)
            | (DateParts::Open([month, day], year), DateOrder::Month) => {
                Date::new(year, month, day).ok()
            }
            (DateParts::Open(..), DateOrder::Year) => None,
            (DateParts::Short([day, month, year]), DateOrder::Day)
            | (DateParts::Short([month, day, year]), DateOrder::Month)
            | (DateParts::Short([year, month, day]), DateOrder::Year) => {
                Date::new(2000 + i16::from(year), month, day).ok()
            }
        }
    }

    /// Whether its order has to be known.
    pub fn is_open(self) -> bool {
        !matches!(self, DateParts::Sure(_))
    }

    /// The order that this date alone decides.
    pub fn decides(self) -> Option<DateOrder> {
        match self {
            DateParts::Open([first, _], _) if first > 12 => Some(DateOrder::Day),
            DateParts::Open([_, second], _) if second > 12 => Some(DateOrder::Month),
            DateParts::Short(_) => {
                let mut possible = ORDERS.into_iter().filter(|o| self.in_order(*o).is_some());
                possible.next().filter(|_| possible.next().is_none())
            }
            _ => None,
        }
    }
}

/// What a cell with a date, a time or both says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stamp {
    pub date: Option<DateParts>,
    pub time: Option<Time>,
    pub offset: Option<Offset>,
}

/// A name of a time zone, or an offset such as `+01:00`.
pub(crate) fn zone(name: &str) -> Option<TimeZone> {
    match offset(name) {
        Some(offset) => Some(TimeZone::fixed(offset)),
        None => TimeZone::get(name).ok(),
    }
}

/// Reads a date, a time, or both.
pub(crate) fn stamp(text: &str) -> Option<Stamp> {
    let text = text.trim();
    if !text.bytes().any(|b| b.is_ascii_digit()) {
        return None;
    }
    let Some(colon) = text.find(':') else {
        if let Some(stamp) = basic(text) {
            return Some(stamp);
        }
        let date = Some(date(text)?);
        return Some(Stamp {
            date,
            time: None,
            offset: None,
        });
    };
    let hour_at = text[..colon]
        .rfind(|c: char| !c.is_ascii_digit())
        .map_or(0, |at| {
            at + text[at..].chars().next().map_or(1, char::len_utf8)
        });
    let before = text[..hour_at]
        .trim_end_matches(['T', 't', ' ', ',', '\u{a0}'])
        .trim();
    let (time, offset) = time(&text[hour_at..])?;
    let date = match before {
        "" => None,
        before => Some(date(before)?),
    };
    Some(Stamp {
        date,
        time: Some(time),
        offset,
    })
}

/// ISO 8601 without signs between, and hours with an h: `20260314T100000`, `20260314T1000Z`, `10h00`.
fn basic(text: &str) -> Option<Stamp> {
    if let Some((hour, minute)) = text.split_once(['h', 'H'])
        && (1..=2).contains(&hour.len())
        && minute.len() == 2
    {
        let (time, offset) = time(&format!("{hour}:{minute}"))?;
        let (date, time) = (None, Some(time));
        return Some(Stamp { date, time, offset });
    }
    let (date, behind) = text.split_once(['T', 't'])?;
    let date = compact_date(date)?;
    let digits = behind.find(|c: char| !c.is_ascii_digit());
    let (digits, rest) = behind.split_at(digits.unwrap_or(behind.len()));
    let (time, offset) = time(&format!("{}{rest}", with_colons(digits)?))?;
    Some(Stamp {
        date: Some(DateParts::Sure(date)),
        time: Some(time),
        offset,
    })
}

/// `20260314`: a date only where a column of dates stands, for any number may be written so.
pub(crate) fn compact_date(text: &str) -> Option<Date> {
    let digits = text.len() == 8 && text.bytes().all(|b| b.is_ascii_digit());
    let year: i16 = digits.then(|| text[..4].parse().ok())??;
    let date = Date::new(year, text[4..6].parse().ok()?, text[6..].parse().ok()?);
    date.ok().filter(|_| (1980..2100).contains(&year))
}

/// `1000` and `100000` with colons.
fn with_colons(digits: &str) -> Option<String> {
    let [hour, minute] = [digits.get(..2)?, digits.get(2..4)?];
    match digits.len() {
        4 => Some(format!("{hour}:{minute}")),
        6 => Some(format!("{hour}:{minute}:{}", &digits[4..])),
        _ => None,
    }
}

/// `100000`, `19.40`, `10.00.00`: a time of day only where it stands beside a column of dates.
pub(crate) fn compact_time(text: &str) -> Option<Time> {
    let text = text.trim();
    let written = match text.contains(['.', ',']) {
        true => text.replace(['.', ','], ":"),
        false if text.bytes().all(|b| b.is_ascii_digit()) => with_colons(text)?,
        false => return None,
    };
    let two_digits = written.split(':').skip(1).all(|part| part.len() == 2);
    let (time, _) = time(&written).filter(|_| two_digits)?;
    Some(time)
}

/// A weekday, day, month and year.
const MOST_PARTS: usize = 4;

/// `2026-03-28`, `28.03.2026`, `3/28/26`, `28-Mar-2026`, `March 28, 2026`, `1er mars 2026`, `3 de marzo de 2026`.
fn date(text: &str) -> Option<DateParts> {
    let (mut parts, mut count) = ([""; MOST_PARTS], 0);
    let split = text.split(['-', '/', '.', ' ', ',', '\u{a0}']);
    for part in split.filter(|part| !part.is_empty() && !words().is_between(part)) {
        *parts.get_mut(count)? = part;
        count += 1;
    }
    // A weekday may stand before.
    let parts = match &parts[..count] {
        [weekday, rest @ ..] if rest.len() == 3 && weekday.chars().all(char::is_alphabetic) => rest,
        all => all,
    };
    let [first, second, third] = parts else {
        return None;
    };
    if let Some(month) = words().month(second) {
        return sure(year(third)?, month, ordinal(first)?);
    }
    if let Some(month) = words().month(first) {
        return sure(year(third)?, month, ordinal(second)?);
    }
    if first.len() == 4 {
        return sure(year(first)?, small(second)?, small(third)?);
    }
    if text.contains('-') && third.len() == 2 {
        let short = DateParts::Short([small(first)?, small(second)?, small(third)?]);
        return ORDERS
            .iter()
            .any(|o| short.in_order(*o).is_some())
            .then_some(short);
    }
    let (numbers, year) = ([small(first)?, small(second)?], year(third)?);
    if text.contains('.') {
        return sure(year, numbers[1], numbers[0]);
    }
    let possible = numbers.iter().all(|n| (1..=31).contains(n)) && numbers.iter().any(|n| *n <= 12);
    possible.then_some(DateParts::Open(numbers, year))
}

fn sure(year: i16, month: i8, day: i8) -> Option<DateParts> {
    Date::new(year, month, day).ok().map(DateParts::Sure)
}

/// The day beside a month's name: `3`, `1er`, `1st`, `1º`.
fn ordinal(text: &str) -> Option<i8> {
    small(text.trim_end_matches(|c: char| c.is_alphabetic()))
}

fn small(text: &str) -> Option<i8> {
    (text.len() <= 2).then(|| text.parse().ok()).flatten()
}

/// Two digits are of this century.
fn year(text: &str) -> Option<i16> {
    let number: i16 = text.parse().ok()?;
    match text.len() {
        2 => Some(2000 + number),
        4 => Some(number),
        _ => None,
    }
}

/// `21:15`, `9:15:02 PM`, `21:15:02.5`, each with an offset or `Z` behind it.
fn time(text: &str) -> Option<(Time, Option<Offset>)> {
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, ':' | '.' | ',')))
        .unwrap_or(text.len());
    let (digits, rest) = (&text[..end], text[end..].trim());
    let mut parts = digits.split(':');
    let hour: i8 = parts.next()?.parse().ok()?;
    let minute: i8 = parts.next()?.parse().ok()?;
    let (second, nanosecond) = match parts.next() {
        None => (0, 0),
        Some(seconds) => whole_and_part(seconds)?,
    };
    if parts.next().is_some() {
        return None;
    }
    let (half, rest) = half_of_day(rest);
    let hour = match half {
        None => hour,
        Some(_) if !(1..=12).contains(&hour) => return None,
        Some(false) => hour % 12,
        Some(true) => hour % 12 + 12,
    };
    let offset = match rest {
        "" => None,
        rest => Some(offset(rest)?),
    };
    Some((Time::new(hour, minute, second, nanosecond).ok()?, offset))
}

fn whole_and_part(seconds: &str) -> Option<(i8, i32)> {
    let (whole, part) = seconds.split_once(['.', ',']).unwrap_or((seconds, ""));
    let nanoseconds = match part {
        "" => 0,
        part => format!("{part:0<9}").get(..9)?.parse().ok()?,
    };
    Some((whole.parse().ok()?, nanoseconds))
}

fn half_of_day(rest: &str) -> (Option<bool>, &str) {
    let lower = rest.to_ascii_lowercase();
    for (word, afternoon) in [("a.m.", false), ("p.m.", true), ("am", false), ("pm", true)] {
        if lower.starts_with(word) {
            return (Some(afternoon), rest[word.len()..].trim());
        }
    }
    (None, rest)
}

fn offset(text: &str) -> Option<Offset> {
    if matches!(text, "Z" | "z" | "UTC" | "GMT") {
        return Some(Offset::UTC);
    }
    let sign = match text.as_bytes().first()? {
        b'+' => 1,
        b'-' => -1,
        _ => return None,
    };
    let digits: String = text[1..].chars().filter(|c| *c != ':').collect();
    if !(2..=4).contains(&digits.len()) || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let hours: i32 = digits[..2].parse().ok()?;
    let minutes: i32 = digits
        .get(2..)
        .filter(|m| !m.is_empty())
        .map_or(Some(0), |m| m.parse().ok())?;
    Offset::from_seconds(sign * (3600 * hours + 60 * minutes)).ok()
}

/// A date and time without doubt, for keys of a mapping.
pub(crate) fn date_time(text: &str) -> Option<DateTime> {
    text.replacen(' ', "T", 1).parse().ok()
}

#[cfg(test)]
mod tests {
    use jiff::civil::{date, time};

    use super::{DateOrder, DateParts, stamp};

    #[test]
    fn dates_and_times_as_loggers_write_them() {
        let sure = Some(DateParts::Sure(date(2026, 3, 28)));
        for text in [
            "2026-03-28",
            "28.03.2026",
            "28-Mar-26",
            "28 Mär 2026",
            "March 28, 2026",
            "2026/03/28",
        ] {
            assert_eq!(stamp(text).and_then(|s| s.date), sure, "{text}");
        }
        let open = stamp("3/4/26 9:15 PM").expect("a stamp");
        assert_eq!(open.date, Some(DateParts::Open([3, 4], 2026)));
        assert_eq!(open.time, Some(time(21, 15, 0, 0)));
        let day_first = open.date.and_then(|d| d.in_order(DateOrder::Day));
        assert_eq!(day_first, Some(date(2026, 4, 3)));
        assert_eq!(
            stamp("12:05 AM").and_then(|s| s.time),
            Some(time(0, 5, 0, 0))
        );
        let full = stamp("2026-03-28T21:15:02.5+01:00").expect("a stamp");
        assert_eq!(full.time, Some(time(21, 15, 2, 500_000_000)));
        assert_eq!(full.offset.map(|o| o.seconds()), Some(3600));
        let short = stamp("26-03-28").and_then(|s| s.date).expect("a date");
        assert_eq!(short.in_order(DateOrder::Year), Some(date(2026, 3, 28)));
        assert_eq!(short.in_order(DateOrder::Day), Some(date(2028, 3, 26)));
        assert_eq!(short.decides(), None);
        let decided = stamp("26-13-28").and_then(|s| s.date);
        assert_eq!(decided, None, "no order has a month 13 or 26");
        let basic = stamp("20260314T100005.5Z").expect("a stamp");
        assert_eq!(basic.time, Some(time(10, 0, 5, 500_000_000)));
        assert_eq!(basic.offset.map(|o| o.seconds()), Some(0));
        assert_eq!(stamp("9h05").and_then(|s| s.time), Some(time(9, 5, 0, 0)));
        assert_eq!(stamp("20260314"), None, "any number may be written so");
        for text in [
            "748.3",
            "TC1",
            "T1",
            "1T2",
            "24h00",
            "20261314T1000",
            "25:00",
            "31/31/26",
            "10:00 TC1",
        ] {
            assert_eq!(stamp(text), None, "{text}");
        }
    }
}
