//! A user's promise: a broken file never stops the program, and what was in order is not lost in silence.

use proptest::prelude::*;
use readings::{Mapping, read};

fn clean() -> String {
    let mut text = "time,TC1 (C),TC2 (C)\n".to_string();
    for minute in 0..50 {
        text += &format!(
            "2026-03-02 08:{minute:02}:00,{}.5,{}.0\n",
            100 + minute,
            98 + minute
        );
    }
    text
}

/// Files whose times are numbers, or words without a day, in which a damaged digit moves a row by centuries.
fn of_numbers(kind: usize) -> String {
    let row = |m: usize| match kind {
        0 => format!("{},{}.5,20.0\n", 1_773_820_800 + 60 * m, 20 + m),
        1 => format!(
            "{},A{},{}.5,degC\n",
            1_779_955_200_000 + 3137 * m,
            m % 3,
            20 + m
        ),
        2 => format!("{},{}.5,20.0\n", 46098.25 + m as f64 / 1440.0, 20 + m),
        3 => format!("{}:{:02}:00,{}.5,20.0\n", m / 3, m % 3 * 20, 20 + m),
        4 => format!("{m}.5,{}.5,20.0\n", 20 + m),
        _ => format!("20260314,1{:02}{:02}00,{}.5,20.0\n", m / 60, m % 60, 20 + m),
    };
    let head = match kind {
        0 => "timestamp,TC1 (C),TC2 (C)\n",
        1 => "ts_ms,tag,value,unit\n",
        2 => "time,TC1 (C),TC2 (C)\n",
        3 => "elapsed,TC1 (C),TC2 (C)\n",
        4 => "elapsed (min),TC1 (C),TC2 (C)\n",
        _ => "date,time,TC1 (C),TC2 (C)\n",
    };
    (0..40).fold(head.to_string(), |text, m| text + &row(m))
}

fn answered() -> Mapping {
    let mut mapping = Mapping::default();
    for pair in [
        "date_base=1900",
        "start=2026-03-28 21:15",
        "date=2026-03-28",
        "clock_back=leave_out",
    ] {
        mapping.choose(pair).expect("a mapping");
    }
    mapping
}

#[test]
fn a_time_centuries_away_is_left_out_and_told() {
    for far in ["177382080220.0", "17738208020", "-1e300", "9e18"] {
        let text = of_numbers(0).replacen("1773820920", far, 1);
        let reading = read("log", text.as_bytes(), &Mapping::default());
        let told = reading.complaints.iter().find(|c| c.line == Some(4));
        assert!(
            told.is_some_and(|c| c.kind.lost_readings()),
            "{far}: {:?}",
            reading.complaints
        );
        assert_eq!(reading.log.expect("a log").scans.len(), 39, "{far}");
    }
}

proptest! {
    #[test]
    fn damaged_digits_of_times_never_stop_the_program(
        kind in 0_usize..6,
        edits in proptest::collection::vec((0_usize..1600, "[0-9:.eE+-]{0,12}", 0_usize..20), 1..12),
    ) {
        let mut text = of_numbers(kind);
        for (at, put, cut) in edits {
            let from = at % text.len();
            let to = (from + cut).min(text.len());
            text.replace_range(from..to, &put);
        }
        let reading = read("log", text.as_bytes(), &answered());
        if let Some(log) = reading.log {
            prop_assert!(log.scans.windows(2).all(|pair| pair[0].elapsed < pair[1].elapsed));
        }
    }

    #[test]
    fn any_bytes_at_all(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let _ = read("log", &bytes, &Mapping::default());
    }

    #[test]
    fn a_cut_file_gives_no_reading_that_the_whole_one_lacks(at in 0_usize..1700) {
        let text = clean();
        let whole = read("log", text.as_bytes(), &Mapping::default()).log.expect("a log");
        let cut = read("log", &text.as_bytes()[..at.min(text.len())], &Mapping::default());
        if let Some(log) = cut.log {
            for (scan, full) in log.scans.iter().zip(&whole.scans) {
                prop_assert_eq!(scan.elapsed, full.elapsed);
                for (reading, true_one) in scan.readings.iter().zip(&full.readings) {
                    prop_assert!(reading.is_none() || reading == true_one);
                }
            }
        }
    }

    #[test]
    fn flipped_bytes(places in proptest::collection::vec((0_usize..1600, any::<u8>()), 1..20)) {
        let mut bytes = clean().into_bytes();
        for (at, byte) in places {
            let length = bytes.len();
            bytes[at % length] = byte;
        }
        let reading = read("log", &bytes, &Mapping::default());
        if let Some(log) = reading.log {
            prop_assert!(log.scans.windows(2).all(|pair| pair[0].elapsed < pair[1].elapsed));
        }
    }

    #[test]
    fn shuffled_lines_are_asked_about(seed in proptest::collection::vec(0_usize..50, 4..30)) {
        let text = clean();
        let mut lines: Vec<&str> = text.lines().collect();
        for pair in seed.chunks(2).filter(|pair| pair.len() == 2 && pair[0] != pair[1]) {
            lines.swap(1 + pair[0], 1 + pair[1]);
        }
        let sorted = lines[1..].is_sorted();
        let reading = read("log", (lines.join("\n") + "\n").as_bytes(), &Mapping::default());
        prop_assert_eq!(reading.questions.iter().any(|q| q.key == "clock_back"), !sorted);
    }
}
