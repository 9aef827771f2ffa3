//! Calibrations that ran out or soon will, over all welds that nobody has accepted yet.

use std::collections::BTreeMap;
use std::time::{Duration, SystemTime};

use super::{Row, State};
use crate::calendar::utc;

/// So many days ahead a calibration is told of (common practice, no source).
const AHEAD_DAYS: u32 = 30;
const DAY: Duration = Duration::from_secs(86_400);

/// A calibration that ran out or soon will.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Due<'r> {
    /// What was or will be used, with its number.
    pub what: &'r str,
    /// The last day on which it holds (`2027-01-31`).
    pub day: &'r str,
    /// Whether that day has gone by.
    pub ran_out: bool,
    /// The welds that rest on it.
    pub rows: Vec<&'r Row>,
}

impl Due<'_> {
    /// `ran out on 2026-01-09`.
    pub fn words(&self) -> String {
        let how = if self.ran_out { "ran out" } else { "runs out" };
        format!("{how} on {}", self.day)
    }
}

/// What runs out, by day and name. On its last day a calibration still holds.
pub fn due(all: &[Row], now: SystemTime) -> Vec<Due<'_>> {
    let today = day(now);
    let until = day(now + DAY * AHEAD_DAYS);
    let mut due: BTreeMap<(&str, &str), Vec<&Row>> = BTreeMap::new();
    for row in all.iter().filter(|row| row.state < State::Accepted) {
        for (what, until) in &row.calibrations {
            due.entry((until, what)).or_default().push(row);
        }
    }
    due.retain(|(day, _), _| *day <= until.as_str());
    due.into_iter()
        .map(|((day, what), rows)| Due {
            what,
            day,
            ran_out: *day < *today,
            rows,
        })
        .collect()
}

/// `2027-01-31`, in UTC.
fn day(at: SystemTime) -> String {
    let at = utc(at);
    format!("{:04}-{:02}-{:02}", at.year, at.month, at.day)
}

#[cfg(test)]
mod tests {
    use std::time::UNIX_EPOCH;

    use super::*;

    fn row(state: State, due: &str) -> Row {
        Row {
            name: "a".into(),
            weld: "W-1".into(),
            line: String::new(),
            purpose: String::new(),
            code: String::new(),
            demo: false,
            state,
            note: String::new(),
            changed: String::new(),
            missing: String::new(),
            ended_s: None,
            calibrations: vec![("recorder R-1".into(), due.into())],
        }
    }

    #[test]
    fn what_ran_out_and_what_soon_will_is_told_until_the_record_is_accepted() {
        // 2026-01-10.
        let now = UNIX_EPOCH + DAY * 20_463;
        let told = |state, day| {
            let rows = [row(state, day)];
            due(&rows, now).first().map(Due::words)
        };
        let said = |words: &str| Some(words.to_owned());
        assert_eq!(
            told(State::Run, "2026-01-09"),
            said("ran out on 2026-01-09")
        );
        assert_eq!(
            told(State::Run, "2026-01-10"),
            said("runs out on 2026-01-10"),
            "it holds on its last day"
        );
        assert_eq!(
            told(State::Run, "2026-02-09"),
            said("runs out on 2026-02-09")
        );
        assert_eq!(told(State::Run, "2026-02-10"), None);
        assert_eq!(told(State::Accepted, "2026-01-09"), None);
    }
}
