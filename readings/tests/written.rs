//! A user's promise: dates, times, units and rows that few loggers write are read as they are meant, or asked about.

use readings::{ComplaintKind, Log, Mapping, Reading, read};

fn with(text: &str, said: &[&str]) -> Reading {
    let mut mapping = Mapping::default();
    said.iter()
        .for_each(|pair| mapping.choose(pair).expect("a pair"));
    read("log", text.as_bytes(), &mapping)
}

fn log(text: &str) -> Log {
    let reading = with(text, &[]);
    reading.log.unwrap_or_else(|| {
        panic!(
            "{text:.200} {:?} {:?}",
            reading.questions, reading.complaints
        )
    })
}

fn keys(text: &str) -> Vec<&'static str> {
    with(text, &[]).questions.iter().map(|q| q.key).collect()
}

/// Ninety rows a minute apart, each with what `time` writes for the hour and minute.
fn rows(head: &str, time: impl Fn(usize, usize) -> String) -> String {
    let row = |m: usize| format!("{};{}.5;{}.5\n", time(10 + m / 60, m % 60), 20 + m, 30 + m);
    let rows: String = (0..90).map(row).collect();
    format!("{head};TC1 (C);TC2 (C)\n{rows}")
}

#[test]
fn dates_and_times_without_signs() {
    let texts = [
        rows("date;time", |h, m| format!("20260314;{h:02}{m:02}00")),
        rows("date;time", |h, m| format!("20260314;{h:02}{m:02}")),
        rows("date;time", |h, m| format!("20260314;{h:02}:{m:02}:00")),
        rows("time", |h, m| format!("20260314T{h:02}{m:02}00")),
        rows("time", |h, m| format!("20260314T{h:02}{m:02}")),
        rows("Date;Hour", |h, m| format!("2026-03-14;{h:02}.{m:02}")),
        rows("Date;Time", |h, m| format!("2026-03-14;{h:02}.{m:02}.00")),
        rows("Datum;Uhrzeit", |h, m| format!("14.03.2026;{h}h{m:02}")),
    ];
    for text in texts {
        let log = log(&text);
        assert_eq!(log.scans.len(), 90, "{text:.60}");
        assert_eq!(
            log.start.local().to_string(),
            "2026-03-14T10:00:00",
            "{text:.60}"
        );
        assert_eq!(log.scans[75].elapsed.as_secs(), 75 * 60);
        assert_eq!(log.channels.len(), 2);
        assert!(log.complaints.is_empty(), "{:?}", log.complaints);
    }
}

#[test]
fn numbers_that_could_be_dates_stay_readings_elsewhere() {
    let text =
        rows("time", |h, m| format!("2026-03-14 {h:02}:{m:02}")).replace(";2", ";20260314;2");
    let read = with(&text.replace("TC1 (C)", "A (C);TC1 (C)"), &[]);
    assert_eq!(read.understood.columns[1].role, "temperature");
    let hours = rows("Date;Hour", |h, m| {
        format!("2026-03-14;{:.2}", h as f64 + m as f64 / 60.0)
    });
    assert!(
        with(&hours, &[]).understood.columns[1].role != "time",
        "decimals of an hour"
    );
}

#[test]
fn time_since_the_start_beyond_a_day() {
    let row = |h: usize| format!("{h}:00:00;{}.5\n", 20 + h);
    let text = |head: &str, hours: usize| {
        let rows: String = (0..hours).map(row).collect();
        format!("{head}{rows}")
    };
    let start = "Beginn;05.05.2026 16:20\n";
    for (head, hours) in [
        ("Laufzeit;TC1 (C)\n", 30),
        ("t;TC1 (C)\n", 30),
        ("t;TC1 (C)\n", 20),
    ] {
        let log = log(&text(&format!("{start}{head}"), hours));
        assert_eq!(log.scans.len(), hours, "{head}");
        assert_eq!(
            log.start.local().to_string(),
            "2026-05-05T16:20:00",
            "{head}"
        );
    }
    assert_eq!(keys(&text("t;TC1 (C)\n", 30)), ["start"]);
    assert_eq!(
        keys(&text("t;TC1 (C)\n", 20)),
        ["date"],
        "a time of day, as far as anything tells"
    );
}

#[test]
fn a_first_row_after_the_start_is_not_the_start() {
    let log = log("Start: 2026-05-05 16:20\nelapsed (min);TC1 (C)\n5;20.5\n6;21.5\n7;22.5\n");
    assert_eq!(log.start.local().to_string(), "2026-05-05T16:25:00");
}

#[test]
fn kelvins_are_told_from_thermocouples_of_type_k() {
    let of =
        |head: &str| rows("time", |h, m| format!("2026-03-14 {h:02}:{m:02}")).replace("(C)", head);
    let asked = with(&of("(K)"), &[]).questions;
    assert_eq!(asked.len(), 1);
    assert_eq!(
        (asked[0].key, asked[0].answers.join(" ")),
        ("unit", "K C F".to_string())
    );
    let first = |text: &str, said: &[&str]| {
        let log = with(text, said).log.expect("a log");
        log.scans[0].readings[0].map(|t| (t.c() * 100.0).round() / 100.0)
    };
    assert_eq!(first(&of("(K)"), &["unit=K"]), Some(-252.65));
    assert_eq!(first(&of("(K)"), &["unit=C"]), Some(20.5));
    assert_eq!(first(&of("[kelvin]"), &[]), Some(-252.65));
    assert_eq!(first(&format!("Unit: °C\n{}", of("(K)")), &[]), Some(20.5));
}

#[test]
fn lone_letters_above_the_rows_are_names() {
    let log = log(
        "Start: 13.06.2026 07:30\nUnit: °C\nmin\ta\tb\tc\n0\t20\t21\t22\n1\t20\t21\t22\n2\t20\t21\t22\n",
    );
    let names: Vec<&str> = log.channels.iter().map(|c| c.name.as_str()).collect();
    assert_eq!(names, ["a", "b", "c"]);
    assert_eq!(log.scans[2].elapsed.as_secs(), 120);
}

#[test]
fn lines_that_end_with_a_carriage_return_only() {
    let text = rows("time", |h, m| format!("2026-03-14 {h:02}:{m:02}"));
    let log_of = log(&text.replace('\n', "\r"));
    assert_eq!(log_of.scans, log(&text).scans);
    assert!(log_of.complaints.is_empty(), "{:?}", log_of.complaints);
}

#[test]
fn rows_that_sum_up_are_told_once_and_lose_nothing() {
    let text = rows("time", |h, m| format!("2026-03-14 {h:02}:{m:02}"))
        + "\nMinimum;20.5;30.5\nMaximum;109.5;119.5\nAverage;65;75\n";
    let log = log(&text);
    assert_eq!(log.scans.len(), 90);
    let told: Vec<_> = log
        .complaints
        .iter()
        .map(|c| (c.line, c.count(), c.kind.lost_readings()))
        .collect();
    assert_eq!(told, [(Some(93), 3, false)]);
}

#[test]
fn many_rows_alike_are_told_once_with_their_count() {
    let text = rows("time", |h, m| match m % 10 {
        3 => "????".to_string(),
        _ => format!("2026-03-14 {h:02}:{m:02}"),
    });
    let told = log(&text).complaints;
    let lost: Vec<_> = told
        .iter()
        .filter(|c| matches!(c.kind, ComplaintKind::RowNotUnderstood(_)))
        .collect();
    assert_eq!(lost.len(), 1);
    assert_eq!((lost[0].line, lost[0].count()), (Some(5), 9));
    assert!(
        lost[0]
            .to_string()
            .contains("9 such lines: this one, 15, 25"),
        "{}",
        lost[0]
    );
}

#[test]
fn what_is_shown_says_milliseconds() {
    let rows: String = (0..9)
        .map(|m| format!("{};20.5;21.5\n", 1_779_955_200_000_i64 + m))
        .collect();
    let read = with(&format!("ts;TC1 (C);TC2 (C)\n{rows}"), &[]);
    assert_eq!(read.understood.columns[0].role, "milliseconds since 1970");
}
