//! A damaged log never stops the program and never says more good of a heat than the whole one.
//!
//! What "more good" means: a limit that the whole log does not meet is met by the damaged one, or the record as a whole
//! becomes complete. A digit that became another digit is seen by nobody in the readings; there the file's fingerprint differs.
//! A log that ends cold looks like a whole one: what another attempt would have broken is seen by nobody.
//! What shows that a thermocouple failed may lie in the part that is missing, so logs with a failed one are not shortened.
//! A silence up to the floor of `gap/2` is no gap by definition, so stretches that are taken out are longer than that.

use std::sync::LazyLock;

use checks::Verdict;
use job::record::Record;
use proptest::prelude::*;
use specimens::situations;

use super::{card_of, log_of, recorded};

/// Longer than the ceiling of a gap, in rows of a minute.
const ROWS_OUT: std::ops::Range<usize> = 6..300;

/// The threshold of the rates of every situation's card.
const THRESHOLD_C: f64 = 300.0;

/// A situation with what its whole log says.
struct Whole {
    name: &'static str,
    card: String,
    log: String,
    verdicts: Vec<Verdict>,
    all_met: bool,
    /// Whether no thermocouple of it fails.
    sound: bool,
}

/// Situations that are logged once a minute as plain text.
static WHOLE: LazyLock<Vec<Whole>> = LazyLock::new(|| {
    let plain = situations::all();
    let plain = plain
        .iter()
        .filter(|s| s.logging.paces.iter().all(|p| p.interval_s == 60));
    plain
        .filter_map(|situation| {
            let (card, log) = (card_of(situation), log_of(situation));
            let record = recorded(&card, &log, &[]).ok()?;
            Some(Whole {
                name: situation.name,
                card,
                log: String::from_utf8(log).ok()?,
                verdicts: verdicts(&record),
                all_met: record.all_met(),
                sound: situation.failed.is_none(),
            })
        })
        .collect()
});

fn verdicts(record: &Record) -> Vec<Verdict> {
    record.findings.findings.iter().map(|f| f.verdict).collect()
}

/// Limits that the damaged log meets and the whole one does not.
fn better(whole: &Whole, log: &[u8], said: &[&str]) -> Vec<String> {
    let Ok(record) = recorded(&whole.card, log, said) else {
        return Vec::new();
    };
    let found = record.findings.findings.iter().zip(&whole.verdicts);
    let mut better: Vec<String> = found
        .filter(|(f, before)| f.verdict == Verdict::Met && **before != Verdict::Met)
        .map(|(f, before)| {
            format!(
                "{}: {:?} was {before:?}: {}",
                whole.name, f.limit.kind, f.reason
            )
        })
        .collect();
    if record.all_met() && !whole.all_met {
        better.push(format!("{}: complete", whole.name));
    }
    better
}

/// Whether the log up to a byte ends with its hottest thermocouple below the threshold of the rates, after it was above.
fn ends_cold(whole: &Whole, at: usize) -> bool {
    let Ok(record) = recorded(&whole.card, &whole.log.as_bytes()[..at], &[]) else {
        return false;
    };
    let hottest = |scan: &readings::Scan| {
        let readings = scan.readings.iter().flatten();
        readings.map(|t| t.c()).fold(f64::NEG_INFINITY, f64::max)
    };
    let scans = &record.log.scans;
    let was_hot = scans.iter().any(|scan| hottest(scan) > THRESHOLD_C);
    was_hot && scans.last().is_some_and(|scan| hottest(scan) < THRESHOLD_C)
}

fn any_whole() -> impl Strategy<Value = usize> {
    0..WHOLE.len()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn cut_anywhere(which in any_whole(), part in 0.0..1.0_f64) {
        let whole = &WHOLE[which];
        let at = (part * whole.log.len() as f64) as usize;
        prop_assume!(whole.sound && !ends_cold(whole, at));
        let better = better(whole, &whole.log.as_bytes()[..at], &[]);
        prop_assert!(better.is_empty(), "{better:?}");
    }

    #[test]
    fn a_stretch_taken_out(which in any_whole(), part in 0.0..1.0_f64, rows in ROWS_OUT) {
        let whole = &WHOLE[which];
        prop_assume!(whole.sound);
        let mut lines: Vec<&str> = whole.log.lines().collect();
        let from = 1 + (part * (lines.len() - 2) as f64) as usize;
        lines.drain(from..(from + rows).min(lines.len()));
        let better = better(whole, (lines.join("\n") + "\n").as_bytes(), &[]);
        prop_assert!(better.is_empty(), "{better:?}");
    }

    #[test]
    fn bytes_that_are_no_digits(which in any_whole(), places in prop::collection::vec(0.0..1.0_f64, 1..12)) {
        let whole = &WHOLE[which];
        let mut bytes = whole.log.clone().into_bytes();
        let head = whole.log.find('\n').expect("a head") + 1;
        for place in places {
            let at = head + (place * (bytes.len() - head) as f64) as usize;
            if bytes[at].is_ascii_digit() {
                bytes[at] = b'x';
            }
        }
        let record = recorded(&whole.card, &bytes, &[]);
        let complete = record.as_ref().is_ok_and(Record::all_met);
        prop_assert!(!complete || bytes == whole.log.as_bytes());
    }

    #[test]
    fn any_byte_turned_into_any_other(which in any_whole(), part in 0.0..1.0_f64, byte in any::<u8>()) {
        let whole = &WHOLE[which];
        let mut bytes = whole.log.clone().into_bytes();
        let at = (part * bytes.len() as f64) as usize;
        prop_assume!(bytes[at] != byte);
        bytes[at] = byte;
        if let Ok(record) = recorded(&whole.card, &bytes, &[]) {
            let before = readings::sha256(whole.log.as_bytes());
            prop_assert_ne!(&record.log.files[0].sha256, &before);
        }
    }

    #[test]
    fn lines_out_of_order(which in any_whole(), swaps in prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 1..8)) {
        let whole = &WHOLE[which];
        let mut lines: Vec<&str> = whole.log.lines().collect();
        let place = |part: f64, rows: usize| 1 + (part * (rows - 1) as f64) as usize;
        for (a, b) in swaps {
            let rows = lines.len();
            lines.swap(place(a, rows), place(b, rows));
        }
        let text = lines.join("\n") + "\n";
        for said in [&[][..], &["clock_back=leave_out"]] {
            let record = recorded(&whole.card, text.as_bytes(), said);
            let complete = record.as_ref().is_ok_and(Record::all_met);
            prop_assert!(!complete || lines[1..].is_sorted(), "{}", whole.name);
        }
    }
}

#[test]
fn there_is_enough_to_harm() {
    assert!(WHOLE.len() > 20, "{}", WHOLE.len());
    assert!(WHOLE.iter().any(|w| w.all_met) && WHOLE.iter().any(|w| !w.all_met));
}
