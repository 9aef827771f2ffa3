//! Damaged files are refused or read, never a panic.

use proptest::prelude::*;

use crate::demos::DEMOS;

/// Pieces that tear a file in unusual places.
const PIECES: &[&str] = &[
    "",
    "\"",
    "=",
    "[",
    "]]",
    "-1",
    "1e308",
    "nan",
    "\"inf mm\"",
    "\"-0 mm\"",
    "0",
    "\n",
    "°",
    "\"1/0 in\"",
    "{",
    "[[side]]",
    "true",
    "1979-05-27",
    "\"propose\"",
    ",",
    "\u{0}",
    "𝄞",
];

/// A change: where, how much is cut out, what is put in.
fn changes() -> impl Strategy<Value = Vec<(f64, usize, usize)>> {
    prop::collection::vec((0.0_f64..1.0, 0_usize..40, 0_usize..PIECES.len()), 1..6)
}

fn changed(text: &str, changes: &[(f64, usize, usize)]) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    for (at, cut, piece) in changes {
        let at = ((letters.len() as f64) * at) as usize;
        let end = (at + cut).min(letters.len());
        letters.splice(at..end, PIECES[*piece].chars());
    }
    letters.into_iter().collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn a_damaged_demo_never_panics(demo in 0..DEMOS.len(), changes in changes()) {
        let text = changed(DEMOS[demo].1, &changes);
        if let Err(refusal) = job::read(&text, "damaged.toml") {
            prop_assert!(!refusal.faults.is_empty());
            let lines = text.lines().count() + 1;
            prop_assert!(refusal.faults.iter().all(|f| f.line >= 1 && f.line <= lines));
        }
    }

    #[test]
    fn swapped_numbers_never_panic(
        demo in 0..DEMOS.len(), which in 0_usize..40, value in prop_oneof![
            Just("0"), Just("-1"), Just("1e300"), Just("99999999999999999999"), Just("0.0000001"), Just("1/3"),
        ],
    ) {
        let text = DEMOS[demo].1;
        let mut parts: Vec<&str> = text.split('"').collect();
        let quantities: Vec<usize> =
            (0..parts.len()).filter(|i| i % 2 == 1 && parts[*i].starts_with(|c: char| c.is_ascii_digit())).collect();
        let at = quantities[which % quantities.len()];
        let unit = parts[at].split_once(' ').map_or("", |p| p.1);
        let put = format!("{value} {unit}");
        parts[at] = &put;
        let _ = job::read(&parts.join("\""), "swapped.toml");
    }
}
