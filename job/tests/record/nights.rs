//! The clock on the wall changes for summer time, once a year each way: a heat of that night is judged like any other.

use checks::Verdict;
use jiff::ToSpan;
use jiff::civil::{DateTime, date};
use job::record::Record;
use proptest::prelude::*;
use readings::ComplaintKind;
use specimens::{Situation, situations};

use super::{card_of, log_of, recorded};

const ZONE: &str = "time_zone=Europe/Berlin";
const HOUR_S: i64 = 3600;

/// At this time of the clock summer time ends: 03:00 becomes 02:00 (Central Europe, 2026).
fn ends() -> DateTime {
    date(2026, 10, 25).at(3, 0, 0, 0)
}

/// At this time of the clock summer time begins: 02:00 becomes 03:00 (Central Europe, 2026).
fn begins() -> DateTime {
    date(2026, 3, 29).at(2, 0, 0, 0)
}

/// Longest time in h from the start to the change of the clock.
const LATEST_H: f64 = 10.0;

/// Situations whose own clock goes on, and that are still logged when it is changed.
fn any_situation() -> impl Strategy<Value = Situation> {
    let long = |s: &Situation| {
        s.logging
            .paces
            .last()
            .is_some_and(|p| p.until_h > LATEST_H + 1.0)
    };
    let steady = situations::all();
    let steady = steady.into_iter();
    let steady: Vec<_> = steady
        .filter(|s| s.logging.clock_changes.is_empty() && long(s))
        // What shows a failure may lie in an hour that is left out, and a pause may hide the change.
        .filter(|s| s.failed.is_none() && s.logging.pauses.is_empty())
        .filter(|s| s.logging.paces.iter().all(|p| p.interval_s <= 60))
        .collect();
    prop::sample::select(steady)
}

/// The situation with its clock changed so many minutes after its start.
fn in_the_night(mut situation: Situation, changes: DateTime, by_s: i64, minutes: i64) -> Situation {
    situation.logging.start = changes.saturating_sub(minutes.minutes());
    situation.logging.clock_changes = vec![(minutes as f64 / 60.0, by_s)];
    situation
}

fn told(record: &Record) -> Vec<(Verdict, String)> {
    let findings = record.findings.findings.iter();
    findings
        .map(|f| (f.verdict, format!("{:?}", f.measured)))
        .collect()
}

/// What the record of the log says, or why there is none.
fn of(situation: &Situation, said: &[&str]) -> Result<Record, String> {
    recorded(&card_of(situation), &log_of(situation), said).map_err(|error| error.to_string())
}

/// Limits that one record meets and the plain one does not.
fn better(record: &Record, plain: &Record) -> Vec<String> {
    let both = record
        .findings
        .findings
        .iter()
        .zip(&plain.findings.findings);
    both.filter(|(f, p)| f.verdict == Verdict::Met && p.verdict != Verdict::Met)
        .map(|(f, p)| format!("{:?} was {:?}: {}", f.limit.kind, p.verdict, f.reason))
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn the_hour_that_comes_twice(plain in any_situation(), minutes in 61_i64..600) {
        let night = in_the_night(plain.clone(), ends(), -HOUR_S, minutes);
        let plain = of(&plain, &[]).expect("a record");
        for said in [ZONE, "clock_back=summer_time_ends"] {
            let record = of(&night, &[said]).expect("a record");
            prop_assert_eq!(told(&record), told(&plain), "{}, {}", night.name, said);
        }
        prop_assert!(of(&night, &[]).is_err(), "{}: nobody said why the clock goes back", night.name);
        let left_out = of(&night, &["clock_back=leave_out"]).expect("a record");
        // What stood in an hour that a person leaves out is known to nobody, so the record waits for an answer.
        prop_assert!(!left_out.all_met(), "{}: complete without an hour", night.name);
    }

    #[test]
    fn the_hour_that_never_was(plain in any_situation(), minutes in 61_i64..600) {
        let night = in_the_night(plain.clone(), begins(), HOUR_S, minutes);
        let plain = of(&plain, &[]).expect("a record");
        let record = of(&night, &[ZONE]).expect("a record");
        prop_assert_eq!(told(&record), told(&plain), "{}", night.name);
        let unsaid = of(&night, &[]).expect("a record");
        let better = better(&unsaid, &plain);
        prop_assert!(better.is_empty(), "{}: {better:?}", night.name);
        let mut complaints = unsaid.log.complaints.iter();
        let perhaps = |c: &readings::Complaint| matches!(c.kind, ComplaintKind::PerhapsSummerTimeBegins);
        prop_assert!(complaints.any(perhaps) || unsaid.log.start.moment().is_some(), "{}", night.name);
    }

    #[test]
    fn lines_written_twice(plain in any_situation(), places in prop::collection::vec(0.0..1.0_f64, 1..40)) {
        let text = String::from_utf8(log_of(&plain)).expect("text");
        let mut lines: Vec<&str> = text.lines().collect();
        for place in places {
            let at = 1 + (place * (lines.len() - 1) as f64) as usize;
            lines.insert(at, lines[at]);
        }
        let twice = lines.join("\n") + "\n";
        let record = recorded(&card_of(&plain), twice.as_bytes(), &[]).expect("a record");
        let plain = of(&plain, &[]).expect("a record");
        prop_assert_eq!(told(&record), told(&plain));
        prop_assert_ne!(&record.log.files[0].sha256, &plain.log.files[0].sha256);
    }
}
