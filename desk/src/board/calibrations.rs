//! Calibrations that ran out or soon will, over all welds that nobody has accepted yet.

use std::collections::BTreeMap;
use std::time::{Duration, SystemTime};

use job::calendar::utc;
use job::folder::State;
use maud::{Markup, html};

use super::{Row, path_of};

/// So many days ahead a calibration is told of (common practice, no source).
const AHEAD_DAYS: u32 = 30;
const DAY: Duration = Duration::from_secs(86_400);

/// What runs out, by day and name, with the welds that rest on it.
pub fn running_out(all: &[Row], now: SystemTime) -> Markup {
    let today = day(now);
    let until = day(now + DAY * AHEAD_DAYS);
    let mut due: BTreeMap<(&str, &str), Vec<&Row>> = BTreeMap::new();
    for row in all.iter().filter(|row| row.state < State::Accepted) {
        for (what, until) in &row.calibrations {
            due.entry((until, what)).or_default().push(row);
        }
    }
    due.retain(|(day, _), _| *day <= until.as_str());
    html! {
        @if !due.is_empty() {
            section aria-labelledby="calibrations-heading" {
                h2 #calibrations-heading { "Calibrations" }
                ul.plain { @for ((day, what), rows) in &due {
                    li {
                        (what) " "
                        @if *day < today.as_str() { span.passed { span aria-hidden="true" { "■ " } "ran out on " (day) } }
                        @else { span.look { span aria-hidden="true" { "▲ " } "runs out on " (day) } }
                        span.soft { ", used for " @for (place, row) in rows.iter().enumerate() { @if place > 0 { ", " } a href={ "/weld/" (path_of(&row.name)) } { (row.weld) } } }
                    }
                } }
            }
        }
    }
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
            missing: String::new(),
            ended_s: None,
            calibrations: vec![("recorder R-1".into(), due.into())],
        }
    }

    #[test]
    fn what_ran_out_and_what_soon_will_is_told_until_the_record_is_accepted() {
        // 2026-01-10.
        let now = UNIX_EPOCH + DAY * 20_463;
        let told = |state, due| running_out(&[row(state, due)], now).into_string();
        assert!(told(State::Run, "2026-01-09").contains("ran out on 2026-01-09"));
        assert!(
            told(State::Run, "2026-01-10").contains("runs out on"),
            "it holds on its last day"
        );
        assert!(told(State::Run, "2026-02-09").contains("runs out on"));
        assert_eq!(told(State::Run, "2026-02-10"), "");
        assert_eq!(told(State::Accepted, "2026-01-09"), "");
    }
}
