//! A user's promise: what changes inside a file, its names, units or blocks, is followed and told.

mod said;

use readings::{ComplaintKind, Log};

use said::{log, with};

fn of(log: &Log, name: &str) -> Vec<Option<f64>> {
    let place = log.channels.iter().position(|c| c.name == name);
    let place = place.unwrap_or_else(|| panic!("no {name} in {:?}", log.channels));
    let tenth = |t: f64| (t * 10.0).round() / 10.0;
    let scans = log.scans.iter();
    scans
        .map(|s| s.readings[place].map(|t| tenth(t.c())))
        .collect()
}

fn changes(log: &Log) -> Vec<(Option<usize>, bool)> {
    let told = log.complaints.iter().filter_map(|c| match &c.kind {
        ComplaintKind::HeadChanged { beside, .. } => Some((c.line, *beside)),
        _ => None,
    });
    told.collect()
}

/// Ten rows from a minute on, channel by channel 100, 200 and 300 higher.
fn rows(from: usize, order: &[f64]) -> String {
    let row = |m: usize| {
        let cells: Vec<String> = order
            .iter()
            .map(|c| format!("{:.1}", c + m as f64))
            .collect();
        format!("2026-03-02 08:{m:02}:00,{}\n", cells.join(","))
    };
    (from..from + 10).map(row).collect()
}

#[test]
fn names_in_another_order_are_followed() {
    let text = format!(
        "time,TC1 (C),TC2 (C),TC3 (C)\n{}time,TC3 (C),TC2 (C),TC1 (C)\n{}",
        rows(0, &[100.0, 200.0, 300.0]),
        rows(10, &[300.0, 200.0, 100.0])
    );
    let log = log(&text);
    let all: Vec<Option<f64>> = (0..20).map(|m| Some(100.0 + f64::from(m))).collect();
    assert_eq!(of(&log, "TC1"), all);
    assert_eq!(of(&log, "TC3")[15], Some(315.0));
    assert_eq!(changes(&log), [(Some(12), false)]);
}

#[test]
fn other_names_and_another_number_of_columns_are_followed() {
    for units in ["", "\n,C,C"] {
        let text = format!(
            "time,TC1 (C),TC2 (C),TC3 (C)\n{}\ntime,TC2 (C),TC9 (C){units}\n{}",
            rows(0, &[100.0, 200.0, 300.0]),
            rows(10, &[200.0, 900.0])
        );
        let log = log(&text);
        assert_eq!(of(&log, "TC2")[9..11], [Some(209.0), Some(210.0)]);
        assert_eq!(of(&log, "TC1")[9..11], [Some(109.0), None]);
        assert_eq!(of(&log, "TC9")[9..11], [None, Some(910.0)]);
        assert_eq!(changes(&log), [(Some(13), false)]);
    }
}

#[test]
fn names_that_are_letters_or_numbers_are_followed_too() {
    for [a, b] in [["1", "2"], ["O", "N"], ["High", "Low"]] {
        let text = format!(
            "time,{a},{b}\n{}time,{b},{a}\n{}",
            rows(0, &[100.0, 200.0]),
            rows(10, &[200.0, 100.0])
        );
        let log = with(&text, &["unit=C"]).log.expect("a log");
        assert_eq!(of(&log, a)[15], Some(115.0), "{a}");
    }
}

#[test]
fn a_unit_that_changes_below_is_followed() {
    let head = |unit: &str| format!("time,TC1 ({unit}),TC2 ({unit})\n");
    let whole_head =
        head("C") + &rows(0, &[100.0, 200.0]) + &head("F") + &rows(10, &[212.0, 392.0]);
    let units_row = "time,TC1,TC2\n,C,C\n".to_string()
        + &rows(0, &[100.0, 200.0])
        + ",F,F\n"
        + &rows(10, &[212.0, 392.0]);
    let line_above = "Unit: C\ntime,TC1,TC2\n".to_string()
        + &rows(0, &[100.0, 200.0])
        + "Unit: F\ntime,TC1,TC2\n"
        + &rows(10, &[212.0, 392.0]);
    for text in [whole_head, units_row, line_above] {
        let log = log(&text);
        // 222 and 402 degrees Fahrenheit.
        assert_eq!(of(&log, "TC1")[9..11], [Some(109.0), Some(105.6)], "{text}");
        assert_eq!(of(&log, "TC2")[10], Some(205.6));
        assert_eq!(changes(&log).len(), 1, "{text}");
    }
}

#[test]
fn the_same_head_again_changes_nothing() {
    let head = "time,TC1 (C),TC2 (C)\n,C,C\n";
    let text = format!(
        "{head}{}{head}{}",
        rows(0, &[100.0, 200.0]),
        rows(10, &[100.0, 200.0])
    );
    let log = log(&text);
    assert_eq!(log.scans.len(), 20);
    assert_eq!(changes(&log), []);
}

#[test]
fn a_block_of_other_channels_below_the_first_is_set_beside_it() {
    let text = format!(
        "time,TC1 (C),TC2 (C)\n{}\ntime,TC3 (C),TC4 (C)\n{}",
        rows(0, &[100.0, 200.0]),
        rows(0, &[300.0, 400.0])
    );
    let log = log(&text);
    assert_eq!(log.scans.len(), 10);
    assert_eq!(of(&log, "TC1")[7], Some(107.0));
    assert_eq!(of(&log, "TC4")[7], Some(407.0));
    assert_eq!(changes(&log), [(Some(13), true)]);
    let by_day = text.replace("2026-03-02 ", "");
    let by_day = with(&by_day, &["date=2026-03-02"]).log.expect("a log");
    assert_eq!(by_day.scans, log.scans);
}

#[test]
fn days_go_on_where_names_change() {
    let row = |hour: usize| format!("{:02}:00,{}.0\n", hour % 24, 20 + hour);
    let hours = |range: std::ops::Range<usize>| range.map(row).collect::<String>();
    let text = format!(
        "time,TC1 (C)\n{}time,TC1 (C) x\n{}",
        hours(20..28),
        hours(28..54)
    );
    let log = with(&text.replace(" x", ""), &["date=2026-03-02"])
        .log
        .expect("a log");
    let last = |log: &Log| log.scans.last().map(|s| s.elapsed.as_secs() / 3600);
    assert_eq!(last(&log), Some(33));
    let other = text.replace("TC1 (C) x", "TC2 (C)");
    let log = with(&other, &["date=2026-03-02"]).log.expect("a log");
    assert_eq!(last(&log), Some(33));
}

#[test]
fn a_clock_that_goes_back_where_the_head_changes_is_asked() {
    let text = format!(
        "time,TC1 (C),TC2 (C)\n{}time,TC2 (C),TC1 (C)\n{}",
        rows(0, &[100.0, 200.0]),
        rows(5, &[200.0, 100.0])
    );
    let keys: Vec<_> = with(&text, &[]).questions.iter().map(|q| q.key).collect();
    assert_eq!(keys, ["clock_back"]);
    let left_out = with(&text, &["clock_back=leave_out"]).log.expect("a log");
    assert_eq!(of(&left_out, "TC1")[14], Some(114.0));
}

#[test]
fn heads_without_end_are_cut_short_and_told() {
    let part = |m: usize| {
        format!(
            "time,A{m} (C),B{m} (C)\n2026-03-02 {:02}:{:02}:00,20,30\n2026-03-02 {:02}:{:02}:30,20,30\n",
            m / 60,
            m % 60,
            m / 60,
            m % 60
        )
    };
    let text: String = (0..200).map(part).collect();
    let log = log(&text);
    assert_eq!(log.scans.len(), 128);
    let told = log
        .complaints
        .iter()
        .find(|c| matches!(c.kind, ComplaintKind::TooManyHeads { .. }));
    assert!(
        told.is_some_and(|c| c.kind.lost_readings() && c.line == Some(193)),
        "{told:?}"
    );
}
