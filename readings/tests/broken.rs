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

proptest! {
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
