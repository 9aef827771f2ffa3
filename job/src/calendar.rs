//! From the system's clock to a date: for the foot of a sheet.

use std::time::{SystemTime, UNIX_EPOCH};

use report::Moment;

const SECONDS_PER_DAY: u64 = 86_400;

/// The moment in UTC. A clock before 1970 counts as 1970.
pub fn utc(now: SystemTime) -> Moment {
    let seconds = now
        .duration_since(UNIX_EPOCH)
        .map_or(0, |since| since.as_secs());
    let (year, month, day) = date(seconds / SECONDS_PER_DAY);
    let of_day = seconds % SECONDS_PER_DAY;
    Moment {
        year,
        month,
        day,
        hour: (of_day / 3600) as u8,
        minute: (of_day / 60 % 60) as u8,
        second: (of_day % 60) as u8,
        utc_offset_minutes: 0,
    }
}

/// The words at the foot of the sheet.
pub fn made(moment: Moment) -> String {
    format!(
        "Made {:04}-{:02}-{:02} {:02}:{:02} UTC by soakwright {}",
        moment.year,
        moment.month,
        moment.day,
        moment.hour,
        moment.minute,
        env!("CARGO_PKG_VERSION")
    )
}

/// Year, month and day of the Gregorian calendar from days since 1970-01-01: eras of 400 years that begin in March, so
/// that the leap day ends a year.
fn date(days: u64) -> (u16, u8, u8) {
    const DAYS_TO_EPOCH_FROM_MARCH_0000: u64 = 719_468;
    const DAYS_PER_ERA: u64 = 146_097;
    let days = days + DAYS_TO_EPOCH_FROM_MARCH_0000;
    let (era, of_era) = (days / DAYS_PER_ERA, days % DAYS_PER_ERA);
    let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let from_march = (5 * of_year + 2) / 153;
    let day = of_year - (153 * from_march + 2) / 5 + 1;
    let month = if from_march < 10 {
        from_march + 3
    } else {
        from_march - 9
    };
    let year = 400 * era + year_of_era + u64::from(month <= 2);
    (year as u16, month as u8, day as u8)
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    #[test]
    fn dates_that_a_wall_calendar_confirms() {
        assert_eq!(date(0), (1970, 1, 1));
        assert_eq!(date(11_016), (2000, 2, 29));
        assert_eq!(date(11_017), (2000, 3, 1));
        assert_eq!(date(19_782), (2024, 2, 29));
        assert_eq!(date(47_540), (2100, 2, 28));
        assert_eq!(date(47_541), (2100, 3, 1));
    }

    #[test]
    fn a_moment_of_the_day() {
        let moment =
            utc(UNIX_EPOCH + Duration::from_secs(19_782 * 86_400 + 9 * 3600 + 26 * 60 + 53));
        assert_eq!((moment.hour, moment.minute, moment.second), (9, 26, 53));
        assert!(made(moment).starts_with("Made 2024-02-29 09:26 UTC by soakwright"));
    }
}
