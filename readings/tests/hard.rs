//! A user's promise: files that are nearly right are not read nearly rightly. What can't be told is silence, a complaint or a
//! question.

mod said;

use readings::{ComplaintKind, Log, Mapping, read};

use said::{log, with};

fn asked(text: &str) -> Vec<(&'static str, Vec<String>)> {
    let questions = with(text, &[]).questions;
    questions.into_iter().map(|q| (q.key, q.answers)).collect()
}

fn readings_of(log: &Log, channel: usize) -> Vec<Option<f64>> {
    let scans = log.scans.iter();
    scans
        .map(|s| s.readings[channel].map(|t| (t.c() * 10.0).round() / 10.0))
        .collect()
}

fn names(log: &Log) -> Vec<&str> {
    log.channels.iter().map(|c| c.name.as_str()).collect()
}

/// Rows a minute apart, each with the cells that `cells` gives.
fn rows(head: &str, cells: impl Fn(usize) -> String) -> String {
    let rows = (0..20).map(|m| format!("2026-03-02 08:{m:02}:00,{}\n", cells(m)));
    format!("{head}\n{}", rows.collect::<String>())
}

#[test]
fn a_missing_cell_shifts_nothing() {
    let text = rows("time,TC1 (C),TC2 (C),TC3 (C)", |m| match m {
        7 => "107.0,307.0".into(),
        8 => "108.0,208.0,308.0,9.0".into(),
        m => format!("{}.0,{}.0,{}.0", 100 + m, 200 + m, 300 + m),
    });
    let log = log(&text);
    for channel in 0..3 {
        let found = readings_of(&log, channel);
        assert_eq!(
            found[7..9],
            [None, None],
            "nothing tells which cell is which"
        );
        assert_eq!(found[9], Some(100.0 * (channel as f64 + 1.0) + 9.0));
    }
    let lines: Vec<_> = log
        .complaints
        .iter()
        .filter(|c| matches!(c.kind, ComplaintKind::OddRow { .. }))
        .map(|c| c.line)
        .collect();
    assert_eq!(lines, [Some(9), Some(10)]);
}

#[test]
fn letters_behind_a_name_are_no_units() {
    let text = rows("time,TC A,TC C,TC F", |m| {
        format!("{}.0,{}.0,{}.0", 100 + m, 200 + m, 300 + m)
    });
    assert_eq!(asked(&text), [("unit", vec!["C".to_string(), "F".into()])]);
    let read = with(&text, &["unit=C"]).log.expect("a log");
    assert_eq!(names(&read), ["TC A", "TC C", "TC F"]);
    assert_eq!(readings_of(&read, 2)[0], Some(300.0));
    let text = rows("time,TC1 C,TC2 C", |m| {
        format!("{}.0,{}.0", 100 + m, 200 + m)
    });
    assert_eq!(
        names(&log(&text)),
        ["TC1", "TC2"],
        "a name with a number may carry a unit"
    );
    let text = rows("time,T1 A,T1 C", |m| format!("{}.0,{}.0", 100 + m, 200 + m));
    assert_eq!(asked(&text)[0].0, "unit", "two letters behind one name");
}

#[test]
fn a_date_is_shown_as_it_is_written_while_day_and_month_are_open() {
    let text = "time;TC1 (C)\n06/05/2026 08:00;100.0\n06/05/2026 08:01;101.0\n";
    let shown = |said: &[&str]| with(text, said).understood.preview[0].time.clone();
    assert_eq!(shown(&[]), "06/05/2026 08:00");
    assert_eq!(shown(&["date_order=month_first"]), "2026-06-05 08:00:00");
    let apart = "date;time;TC1 (C)\n06/05/2026;08:00;100.0\n06/05/2026;08:01;101.0\n";
    let first = with(apart, &[]).understood.preview[0].time.clone();
    assert_eq!(first, "06/05/2026 08:00");
}

#[test]
fn a_short_year_is_asked_for() {
    let text = |day: &str| format!("time;TC1 (C)\n{day} 08:00;100.0\n{day} 08:01;101.0\n");
    let questions = asked(&text("26-03-28"));
    assert_eq!(questions.len(), 1);
    assert_eq!(questions[0].0, "date_order");
    assert!(questions[0].1.contains(&"year_first".to_string()));
    for (said, day) in [
        ("date_order=year_first", "2026-03-28T08:00:00"),
        ("date_order=day_first", "2028-03-26T08:00:00"),
    ] {
        let log = with(&text("26-03-28"), &[said]).log.expect("a log");
        assert_eq!(log.start.local().to_string(), day);
    }
    let decided = log(&text("31-12-99"));
    assert_eq!(
        decided.start.local().to_string(),
        "2099-12-31T08:00:00",
        "only one order has such a day"
    );
}

#[test]
fn a_comma_that_is_both_is_proved_by_the_names_or_asked() {
    let row = |m: usize| format!("{},{},{},{}", 100 + m, m % 10, 200 + m, (m + 3) % 10);
    let log = log(&rows("time,TC1 (C),TC2 (C)", row));
    assert_eq!(names(&log), ["TC1", "TC2"]);
    assert_eq!(readings_of(&log, 0)[7], Some(107.7));
    assert_eq!(readings_of(&log, 1)[7], Some(207.0));
    assert!(
        log.complaints
            .iter()
            .any(|c| c.kind == ComplaintKind::CommaTwice)
    );
    let bare = rows("", row).trim_start().to_string();
    assert_eq!(asked(&bare)[0].0, "decimal");
    let said = with(&bare, &["decimal=comma", "unit=C"])
        .log
        .expect("a log");
    assert_eq!(said.channels.len(), 2);
    let said = with(&bare, &["decimal=point", "unit=C"])
        .log
        .expect("a log");
    assert_eq!(said.channels.len(), 4);
}

#[test]
fn whole_numbers_between_commas_stay_whole_numbers() {
    let text = rows("time,TC1 (C),TC2 (C)", |m| {
        format!("{},{}", 100 + m, 200 + m)
    });
    let log = log(&text);
    assert_eq!(readings_of(&log, 0)[3], Some(103.0));
    assert_eq!(readings_of(&log, 1)[3], Some(203.0));
}

#[test]
fn equal_names_are_told_apart_and_neither_is_lost() {
    let text = rows("time,TC1 (C),TC1 (C),TC2 (C)", |m| {
        format!("{}.0,{}.0,50.0", 100 + m, 200 + m)
    });
    let log = log(&text);
    assert_eq!(names(&log), ["TC1", "TC1 #2", "TC2"]);
    assert_eq!(readings_of(&log, 1)[0], Some(200.0));
    let told = log
        .complaints
        .iter()
        .find(|c| matches!(c.kind, ComplaintKind::SameName { .. }));
    assert_eq!(told.expect("a complaint").line, Some(1));
}

#[test]
fn a_zone_above_the_rows_is_kept_and_used() {
    for (head, utc) in [
        ("Time zone: Europe/Berlin", "2026-03-02T07:00:00Z"),
        ("Clock: UTC+5:30", "2026-03-02T02:30:00Z"),
        ("All times in UTC", "2026-03-02T08:00:00Z"),
    ] {
        let text = rows(&format!("{head}\ntime,TC1 (C)"), |m| {
            format!("{}.0", 100 + m)
        });
        let start = log(&text).start.moment().expect("a moment");
        assert_eq!(start.to_string(), utc, "{head}");
    }
    let named = rows("time (UTC),TC1 (C)", |m| format!("{}.0", 100 + m));
    assert_eq!(
        log(&named).start.moment().expect("a moment").to_string(),
        "2026-03-02T08:00:00Z"
    );
    let said = with(&named, &["time_zone=Europe/Berlin"])
        .log
        .expect("a log");
    assert_eq!(
        said.start.moment().expect("a moment").to_string(),
        "2026-03-02T07:00:00Z",
        "what a person says counts more"
    );
}

#[test]
fn one_damaged_byte_does_not_change_the_encoding() {
    let text = rows("time,Rohr auß. (°C),Rohr süd (°C)", |m| {
        format!("{}.0,{}.0", 100 + m, 200 + m)
    });
    let mut bytes = text.clone().into_bytes();
    let at = text.find("107.0").expect("stands there");
    bytes[at] = 0xe7;
    let reading = read("log", &bytes, &Mapping::default());
    assert_eq!(reading.understood.encoding, "UTF-8");
    let log = reading.log.expect("a log");
    assert_eq!(names(&log), ["Rohr auß.", "Rohr süd"]);
    assert_eq!(readings_of(&log, 0)[7], None);
    assert_eq!(readings_of(&log, 1)[7], Some(207.0));
    assert!(
        log.complaints
            .iter()
            .any(|c| c.kind == ComplaintKind::BadBytes && c.line == Some(9))
    );
}

#[test]
fn a_mapping_of_what_is_not_there_is_told() {
    let text = rows("time,TC1 (C),TC2 (C)", |m| {
        format!("{}.0,{}.0", 100 + m, 200 + m)
    });
    let reading = with(&text, &["name.CH 9=TC9", "column.CH 7=ambient"]);
    let told: Vec<String> = reading.complaints.iter().map(ToString::to_string).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(
        told[1].contains("which thermocouple CH 9 is") && told[1].contains("TC1, TC2"),
        "{told:?}"
    );
    let wrong = Mapping::default()
        .choose("column.TC1=ambiant")
        .expect_err("no such word");
    assert!(wrong.to_string().contains("ambient"), "{wrong}");
}

#[test]
fn a_name_of_its_own_in_every_row_fills_no_memory() {
    let mut text = "time;channel;value;unit\n".to_string();
    for row in 0..3000 {
        let (hour, minute, second) = (row / 3600, row / 60 % 60, row % 60);
        text += &format!("2026-03-02 {hour:02}:{minute:02}:{second:02};part {row};20.0;°C\n");
    }
    let reading = read("log", text.as_bytes(), &Mapping::default());
    let told = reading.complaints.iter().find_map(|c| match c.kind {
        ComplaintKind::TooManyNames { most, left_out } => Some((c.line, most, left_out)),
        _ => None,
    });
    assert_eq!(told, Some((Some(1002), 1000, 2000)));
}

#[test]
fn the_question_of_a_spreadsheets_days_shows_both_dates() {
    let rows = (0..20).map(|m| format!("{},{}.0\n", 46098.25 + f64::from(m) / 1440.0, 100 + m));
    let text = format!("time,TC1 (C)\n{}", rows.collect::<String>());
    let questions = with(&text, &[]).questions;
    let evidence = &questions
        .iter()
        .find(|q| q.key == "date_base")
        .expect("asked")
        .evidence;
    // Day 46098 counted from 1899-12-30 is 2026-03-17; 1904-01-01 lies 1462 days later.
    assert!(
        evidence.contains("2026-03-17") && evidence.contains("2030-03-18"),
        "{evidence}"
    );
}

#[test]
fn words_without_a_time_are_an_event_and_told_with_their_line() {
    let log = log(
        "time,TC1 (C),TC2 (C)\n2026-03-02 08:00:00,100.0,101.0\n,POWER FAIL,\n2026-03-02 08:01:00,102.0,103.0\n\
         2026-03-02 08:01:30,hold start,\n2026-03-02 08:02:00,104.0,105.0\nPrinted page 1\n2026-03-02 08:03:00,106.0,107.0\n\
         Printed page 2\n2026-03-02 08:04:00,108.0,109.0\n",
    );
    let events: Vec<&str> = log.events.iter().map(|e| e.text.as_str()).collect();
    assert_eq!(
        events,
        [
            "POWER FAIL",
            "hold start",
            "Printed page 1",
            "Printed page 2"
        ]
    );
    let told: Vec<(Option<usize>, String)> = log
        .complaints
        .iter()
        .map(|c| (c.line, c.kind.to_string()))
        .collect();
    assert_eq!(
        told.len(),
        2,
        "an event with its time needs no word: {told:?}"
    );
    assert!(told[0].0 == Some(3) && told[0].1.contains("POWER FAIL"));
    assert!(told[1].0 == Some(7) && told[1].1.contains("2 times from here"));
    assert!(log.complaints.iter().all(|c| !c.kind.lost_readings()));
    assert_eq!(log.scans.len(), 5);
}

#[test]
fn garbage_where_every_channel_has_a_cell_is_a_lost_row_and_no_event() {
    let text = rows("time,TC1 (C),TC2 (C)", |m| match m {
        4 => "sensor break,sensor break".into(),
        m => format!("{}.0,{}.0", 100 + m, 200 + m),
    });
    let untimed = text.replace("2026-03-02 08:09:00,109.0,209.0", "xxqqzz,garbled,row");
    let log = log(&untimed);
    assert!(log.events.is_empty(), "{:?}", log.events);
    let lost: Vec<Option<usize>> = log
        .complaints
        .iter()
        .filter(|c| c.kind.lost_readings())
        .map(|c| c.line)
        .collect();
    assert!(
        lost.contains(&Some(6)) && lost.contains(&Some(11)),
        "{lost:?}"
    );
    assert_eq!(readings_of(&log, 0)[4], None, "the silence has its time");
    assert_eq!(log.scans.len(), 19);
}

#[test]
fn the_weld_that_the_lines_above_name_is_kept_with_its_line() {
    let named = |above: &str| {
        let text = rows(&format!("{above}time,TC1 (C)"), |m| {
            format!("{}.0", 100 + m)
        });
        let weld = with(&text, &[]).file.weld;
        weld.map(|weld| (weld.line, weld.name))
    };
    let found = |line, name: &str| Some((line, name.to_owned()));
    assert_eq!(
        named("Site: north\nWeld No.: SR-41-R1\n"),
        found(2, "SR-41-R1")
    );
    assert_eq!(named("Naht;W-17\n"), found(1, "W-17"));
    assert_eq!(named("weld,W 17\n"), found(1, "W 17"));
    for none in ["", "Weld:\n", "Welding of 17\n", "Welder: K. M\n"] {
        assert_eq!(named(none), None, "{none:?}");
    }
}

#[test]
fn a_name_is_never_a_scale() {
    for names_there in ["X1,X2", "x10,x100", "*2,*4", "1/2,1/10"] {
        let text = rows(&format!("time,{names_there}"), |m| {
            format!("{}.5,{}.5", 100 + m, 200 + m)
        });
        let log = with(&text, &["unit=C"]).log.expect("a log");
        assert_eq!(readings_of(&log, 1)[0], Some(200.5), "{names_there}");
        assert_eq!(names(&log).join(","), names_there);
    }
}

#[test]
fn a_scale_that_is_stated_is_applied_and_told() {
    let whole = |head: &str| rows(head, |m| format!("{},{}", 1000 + m, 2000 + m));
    for head in [
        "Scale: 0.1\ntime,TC1 (C),TC2 (C)",
        "time,TC1 (C),TC2 (C)\n,x0.1,x0.1",
        "time,TC1 (C),TC2 (C)\nFactor,1/10,1/10",
    ] {
        let log = log(&whole(head));
        assert_eq!(names(&log), ["TC1", "TC2"], "{head}");
        assert_eq!(readings_of(&log, 0)[5], Some(100.5), "{head}");
        let told = |c: &&readings::Complaint| matches!(&c.kind, ComplaintKind::Scaled { channels, by } if channels == "TC1, TC2" && *by == 0.1);
        assert_eq!(log.complaints.iter().filter(told).count(), 1, "{head}");
    }
    let one = rows("time,TC1 (x0.1),TC2", |m| {
        format!("{},{}", 1000 + m, 200 + m)
    });
    let log = with(&one, &["unit=C"]).log.expect("a log");
    assert_eq!(readings_of(&log, 0)[5], Some(100.5));
    assert_eq!(readings_of(&log, 1)[5], Some(205.0));
}

#[test]
fn a_scale_above_readings_with_decimals_is_asked() {
    for head in ["Scale: 0.1", "Factor: 0,1", "Scale;x10"] {
        let text = rows(&format!("{head}\ntime,TC1 (C),TC2 (C)"), |m| {
            format!("{}.5,{}.0", 100 + m, 200 + m)
        });
        assert_eq!(asked(&text)[0].0, "scale", "{head}");
        let log = with(&text, &["scale=1"]).log.expect("a log");
        assert_eq!(readings_of(&log, 0)[0], Some(100.5));
    }
    let text = rows("Scale: x10\ntime,TC1 (C),TC2 (C)", |m| {
        format!("{},{}", 100 + m, 200 + m)
    });
    assert_eq!(
        asked(&text),
        [("scale", vec!["0.1".to_string(), "1".into(), "10".into()])]
    );
}
