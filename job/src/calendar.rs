//! Moments of documents: from the system's clock, as words at the foot of a sheet, and as they stand in data.

use std::time::SystemTime;

use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::Offset;
use report::Moment;

/// The moment in UTC. A clock that no calendar reaches counts as 1970.
pub fn utc(now: SystemTime) -> Moment {
    let at = Timestamp::try_from(now).unwrap_or(Timestamp::UNIX_EPOCH);
    moment(Offset::UTC.to_datetime(at)).unwrap_or(Moment {
        year: 1970,
        month: 1,
        day: 1,
        hour: 0,
        minute: 0,
        second: 0,
        utc_offset_minutes: 0,
    })
}

/// The words at the foot of a sheet; `version` is that of the program.
pub fn made(version: &str, at: Moment) -> String {
    format!(
        "Made {:04}-{:02}-{:02} {:02}:{:02} UTC by soakwright {version}",
        at.year, at.month, at.day, at.hour, at.minute
    )
}

/// As it stands in data: `2026-03-28T21:15:02Z`.
pub(crate) fn written(at: Moment) -> String {
    format!(
        "{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z",
        at.year, at.month, at.day, at.hour, at.minute, at.second
    )
}

/// What stands in data, as a person reads it: `2026-03-28 21:15 UTC`. What is no moment stays as it is.
pub fn in_words(written: &str) -> String {
    read(written).map_or(written.to_owned(), |at| {
        format!(
            "{:04}-{:02}-{:02} {:02}:{:02} UTC",
            at.year, at.month, at.day, at.hour, at.minute
        )
    })
}

/// The moment of what [`written`] gave.
pub(crate) fn read(text: &str) -> Option<Moment> {
    let at: Timestamp = text.parse().ok()?;
    moment(Offset::UTC.to_datetime(at))
}

fn moment(at: DateTime) -> Option<Moment> {
    Some(Moment {
        year: u16::try_from(at.year()).ok()?,
        month: u8::try_from(at.month()).ok()?,
        day: u8::try_from(at.day()).ok()?,
        hour: u8::try_from(at.hour()).ok()?,
        minute: u8::try_from(at.minute()).ok()?,
        second: u8::try_from(at.second()).ok()?,
        utc_offset_minutes: 0,
    })
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, UNIX_EPOCH};

    use super::*;

    #[test]
    fn a_leap_day_is_written_and_read_back() {
        let days = Duration::from_secs(19_782 * 86_400 + 9 * 3600 + 26 * 60 + 53);
        let moment = utc(UNIX_EPOCH + days);
        assert_eq!(written(moment), "2024-02-29T09:26:53Z");
        assert_eq!(read(&written(moment)), Some(moment));
        assert_eq!(
            made("9.9.9", moment),
            "Made 2024-02-29 09:26 UTC by soakwright 9.9.9"
        );
        assert_eq!(read("yesterday"), None);
        assert_eq!(in_words(&written(moment)), "2024-02-29 09:26 UTC");
        assert_eq!(in_words("yesterday"), "yesterday");
    }
}
