//! A user's promise: two files that contradict each other are not joined until a person says which of them holds.

use readings::{ComplaintKind, JoinError, Log, Mapping, join, read};

fn with(pairs: &[&str]) -> Mapping {
    let mut mapping = Mapping::default();
    for pair in pairs {
        mapping.choose(pair).expect("a mapping");
    }
    mapping
}

/// Thirty minutes from a minute on; the reading of a minute is told by its clock and what is added.
fn file(name: &str, from: usize, add: usize, seconds: usize, mapping: &Mapping) -> Log {
    let row = |m: usize| {
        format!(
            "2026-03-02 08:{m:02}:{seconds:02},{}.0,{}.0\n",
            100 + m + add,
            200 + m + add
        )
    };
    let rows: String = (from..from + 30).map(row).collect();
    let text = format!("time,TC1 (C),TC2 (C)\n{rows}");
    read(name, text.as_bytes(), mapping).log.expect("a log")
}

fn joined(add: usize, seconds: usize, pairs: &[&str]) -> Result<Log, JoinError> {
    let mapping = with(pairs);
    let first = file("first.csv", 0, 0, 0, &mapping);
    let second = file("second.csv", 20, add, seconds, &mapping);
    join(vec![second, first], &mapping)
}

fn at(log: &Log, minute: u64) -> Option<f64> {
    let scan = log
        .scans
        .iter()
        .find(|s| s.elapsed.as_secs() == 60 * minute);
    scan.and_then(|s| s.readings[0]).map(|t| t.c())
}

#[test]
fn files_that_agree_are_taken_once() {
    for seconds in [0, 30] {
        let log = joined(0, seconds, &[]).expect("one log");
        assert_eq!(at(&log, 10), Some(110.0));
    }
    assert_eq!(joined(0, 0, &[]).expect("one log").scans.len(), 50);
}

#[test]
fn files_that_contradict_each_other_wait_for_an_answer() {
    for seconds in [0, 30] {
        let error = joined(40, seconds, &[]).expect_err("asked");
        let told = error.to_string();
        assert!(matches!(error, JoinError::Contradict { .. }), "{told}");
        for part in [
            "first.csv",
            "second.csv",
            "overlap",
            "clock.second.csv",
            "TC1",
        ] {
            assert!(told.contains(part), "{part}: {told}");
        }
    }
}

#[test]
fn the_answer_counts_and_is_told() {
    for (said, expected) in [
        ("earlier", Some(125.0)),
        ("later", Some(165.0)),
        ("neither", None),
    ] {
        let log = joined(40, 0, &[&format!("overlap={said}")]).expect("one log");
        assert_eq!(at(&log, 25), expected, "{said}");
        assert_eq!(at(&log, 10), Some(110.0), "{said}");
        assert_eq!(at(&log, 40), Some(180.0), "{said}");
        let told = log
            .complaints
            .iter()
            .any(|c| matches!(c.kind, ComplaintKind::OverlapDiffers { count: 10, .. }));
        assert!(told, "{said}: {:?}", log.complaints);
    }
    let earlier = joined(40, 30, &["overlap=earlier"]).expect("one log");
    assert!(
        earlier
            .scans
            .windows(2)
            .all(|p| (p[1].elapsed - p[0].elapsed).as_secs() <= 90)
    );
    assert_eq!(
        earlier
            .scans
            .iter()
            .filter(|s| s.elapsed.as_secs() < 29 * 60)
            .count(),
        29
    );
}

#[test]
fn a_clock_that_was_slow_is_moved_and_told() {
    // The second file shows at 8:20 what the first shows at 8:30.
    let log = joined(10, 0, &["clock.second.csv=+600"]).expect("one log");
    assert_eq!(log.scans.len(), 60);
    assert_eq!(at(&log, 45), Some(145.0));
    assert!(
        log.complaints
            .iter()
            .any(|c| c.kind == ComplaintKind::ClockMoved { by_s: 600 })
    );
    assert!(Mapping::default().choose("clock.second.csv=soon").is_err());
}
