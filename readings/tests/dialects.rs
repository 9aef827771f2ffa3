//! A user's promise: a logger's file is read as it is written, and what it leaves open is asked.

use readings::{Complaint, ComplaintKind, Log, Mapping, Reading, SeriesKind, join, read};

fn with(pairs: &[&str]) -> Mapping {
    let mut mapping = Mapping::default();
    for pair in pairs {
        mapping.choose(pair).expect("a mapping");
    }
    mapping
}

fn plain(text: &str) -> Reading {
    read("log", text.as_bytes(), &Mapping::default())
}

fn log(reading: Reading) -> Log {
    let shown = format!("{:?} {:?}", reading.questions, reading.complaints);
    reading.log.unwrap_or_else(|| panic!("no log: {shown}"))
}

/// Minutes and readings in °C to a tenth.
fn told(log: &Log) -> Vec<(f64, Vec<Option<f64>>)> {
    let tenth = |t: f64| (t * 10.0).round() / 10.0;
    log.scans
        .iter()
        .map(|scan| {
            let readings = scan
                .readings
                .iter()
                .map(|r| r.map(|t| tenth(t.c())))
                .collect();
            (scan.elapsed.as_secs_f64() / 60.0, readings)
        })
        .collect()
}

fn lines_of(complaints: &[Complaint], kind: fn(&ComplaintKind) -> bool) -> Vec<Option<usize>> {
    complaints
        .iter()
        .filter(|c| kind(&c.kind))
        .map(|c| c.line)
        .collect()
}

#[test]
fn one_header_and_iso_times() {
    let log = log(plain(
        "time,TC1 (°C),TC2 (°C)\n2026-03-02T08:00:00,20.5,21\n2026-03-02T08:01:00,22.5,\n2026-03-02T08:02:00,24.0,22\n",
    ));
    assert_eq!(
        log.channels
            .iter()
            .map(|c| c.name.as_str())
            .collect::<Vec<_>>(),
        ["TC1", "TC2"]
    );
    assert_eq!(
        told(&log),
        [
            (0.0, vec![Some(20.5), Some(21.0)]),
            (1.0, vec![Some(22.5), None]),
            (2.0, vec![Some(24.0), Some(22.0)])
        ]
    );
    assert_eq!(log.start.local().to_string(), "2026-03-02T08:00:00");
    assert!(log.complaints.is_empty(), "{:?}", log.complaints);
}

#[test]
fn preamble_two_time_columns_decimal_commas_and_latin_1() {
    let text = "Baustelle;Halle Süd\r\nJob;4711\r\nSchreiber;SN 88\r\n\r\nDatum;Zeit;TE 1;TE 2;\r\n;;°C;°C;\r\n\
                02.03.2026;23:59:00;20,5;21,0;\r\n03.03.2026;00:00:00;22,5;21,5;\r\n";
    let (bytes, _, _) = encoding_rs_windows(text);
    let log = log(read("log", &bytes, &Mapping::default()));
    assert_eq!(
        told(&log),
        [
            (0.0, vec![Some(20.5), Some(21.0)]),
            (1.0, vec![Some(22.5), Some(21.5)])
        ]
    );
    assert_eq!(log.channels[0].name, "TE 1");
}

/// Latin-1 bytes of a text: every character is one byte.
fn encoding_rs_windows(text: &str) -> (Vec<u8>, (), ()) {
    (text.chars().map(|c| c as u8).collect(), (), ())
}

#[test]
fn fahrenheit_with_thousands_and_a_date_order_that_a_late_row_decides() {
    let text = "Date,Time,TC1 degF,TC2 degF\n03/04/26,9:15 PM,\"1,382.0\",1200\n03/13/26,9:15 PM,212.0,32.0\n";
    let log = log(plain(text));
    assert_eq!(told(&log)[0].1, [Some(750.0), Some(648.9)]);
    assert_eq!(told(&log)[1], (9.0 * 1440.0, vec![Some(100.0), Some(0.0)]));
}

#[test]
fn what_is_open_is_asked_and_never_guessed() {
    let text = "Date,Time,TC1,TC2\n03/04/26,09:15,382.0,120\n03/04/26,09:16,383.0,121\n";
    let asked = plain(text);
    assert!(asked.log.is_none());
    let keys: Vec<&str> = asked.questions.iter().map(|q| q.key).collect();
    assert_eq!(keys, ["date_order", "unit"]);
    assert_eq!(asked.questions[0].line, Some(2));
    let answered = read(
        "log",
        text.as_bytes(),
        &with(&["date_order=day_first", "unit=C"]),
    );
    assert_eq!(
        log(answered).start.local().to_string(),
        "2026-04-03T09:15:00"
    );
}

#[test]
fn minutes_since_a_start_that_stands_above() {
    let log = log(plain(
        "Start: 28 March 2026 21:15\nElapsed (min)\tTC1 (C)\tTC2 (C)\n0\t20.1\t20.2\n0.5\t20.9\t21.0\n1.0\t22\t23\n",
    ));
    assert_eq!(told(&log)[1], (0.5, vec![Some(20.9), Some(21.0)]));
    assert_eq!(log.start.local().to_string(), "2026-03-28T21:15:00");
}

#[test]
fn whole_numbers_with_codes_and_seconds_since_1970() {
    let text =
        "Scale;1/10\nUnit;degC\nn;epoch;CH1;CH2\n1;1772438400;205;210\n2;1772438460;-32768;32767\n";
    let log = log(plain(text));
    assert_eq!(
        told(&log),
        [(0.0, vec![Some(20.5), Some(21.0)]), (1.0, vec![None, None])]
    );
    let bad = lines_of(&log.complaints, |k| {
        matches!(k, ComplaintKind::BadStatus { .. })
    });
    assert_eq!(bad, [Some(5), Some(5)]);
    assert!(log.start.moment().is_some());
}

#[test]
fn readings_with_their_status() {
    let text = "time,TC1 (C),S1,TC2 (C),S2\n2026-03-02 08:00,748.3,OK,751.0,OK\n2026-03-02 08:01,748.3,OK,,OPEN\n\
                2026-03-02 08:02,748.0,B,750.0,OK\n";
    let log = log(plain(text));
    assert_eq!(log.channels.len(), 2);
    assert_eq!(told(&log)[1].1, [Some(748.3), None]);
    assert_eq!(told(&log)[2].1, [None, Some(750.0)]);
}

#[test]
fn one_reading_a_row_at_different_paces() {
    let text = "time;channel;value;unit\n2026-03-02 08:00:00;TC1;20;°C\n2026-03-02 08:00:00;TC2;68;°F\n\
                2026-03-02 08:02:00;TC1;22;°C\n2026-03-02 08:01:00;TC1;21;°C\n";
    let log = log(plain(text));
    assert_eq!(
        told(&log),
        [
            (0.0, vec![Some(20.0), Some(20.0)]),
            (1.0, vec![Some(21.0), None]),
            (2.0, vec![Some(22.0), None])
        ]
    );
}

#[test]
fn words_between_rows_and_other_series() {
    let text = "time,TC1 (C),TC2 (C),Set point (C),Power (kW)\n2026-03-02 08:00:00,20,21,25,3.5\n\
                2026-03-02 08:00:10,HOLD START,,,\n2026-03-02 08:00:20,24,23,27,3.6\n";
    let log = log(plain(text));
    assert_eq!(log.scans.len(), 2);
    assert_eq!(log.events[0].text, "HOLD START");
    let kinds: Vec<SeriesKind> = log.others.iter().map(|s| s.kind).collect();
    assert_eq!(kinds, [SeriesKind::SetPoint, SeriesKind::Power]);
    assert_eq!(log.others[1].points[1].1, 3.6);
}

#[test]
fn dates_of_a_spreadsheet() {
    let text = "Zone 1;;\n;TC1 (°C);TC2 (°C)\n45678,5;20,5;#N/A\n45678,5006944444;21,5;22,5\n";
    assert_eq!(plain(text).questions[0].key, "date_base");
    let log = log(read("log", text.as_bytes(), &with(&["date_base=1900"])));
    assert_eq!(log.start.local().to_string(), "2025-01-21T12:00:00");
    assert_eq!(told(&log)[1], (1.0, vec![Some(21.5), Some(22.5)]));
    assert_eq!(told(&log)[0].1[1], None);
}

#[test]
fn files_that_overlap_become_one() {
    let head = "time,TC1 (C),TC2 (C)\n";
    let first = format!("{head}2026-03-02 23:58,20,30\n2026-03-02 23:59,21,31\n");
    let second = format!(
        "{head}2026-03-02 23:59,21,31\n2026-03-03 00:00,22,32\n{head}2026-03-03 00:01,23,33\n2026-03-03 00:02,24,3"
    );
    let joined = join(
        vec![log(plain(&second)), log(plain(&first))],
        &Mapping::default(),
    )
    .expect("one log");
    assert_eq!(joined.scans.len(), 5);
    assert_eq!(told(&joined)[4], (4.0, vec![Some(24.0), None]));
    let cut = lines_of(&joined.complaints, |k| {
        matches!(k, ComplaintKind::LastLineCut)
    });
    assert_eq!(cut, [Some(6)]);
    assert_eq!(
        lines_of(&joined.complaints, |k| matches!(
            k,
            ComplaintKind::HeaderAgain
        )),
        [Some(4)]
    );
}

#[test]
fn the_hour_that_comes_twice() {
    let text = "time,TC1 (C),TC2 (C)\n2026-10-25 02:58,20,30\n2026-10-25 02:59,21,31\n2026-10-25 02:00,22,32\n2026-10-25 02:01,23,33\n";
    let asked = plain(text);
    assert_eq!(
        (asked.questions[0].key, asked.questions[0].line),
        ("clock_back", Some(4))
    );
    for answer in ["clock_back=summer_time_ends", "time_zone=Europe/Berlin"] {
        let log = log(read("log", text.as_bytes(), &with(&[answer])));
        let minutes: Vec<f64> = told(&log).iter().map(|row| row.0).collect();
        assert_eq!(minutes, [0.0, 1.0, 2.0, 3.0], "{answer}");
    }
    let left_out = log(read(
        "log",
        text.as_bytes(),
        &with(&["clock_back=leave_out"]),
    ));
    assert_eq!(left_out.scans.len(), 2);
}

#[test]
fn utf_16_with_placeholders() {
    let text = "time\tTC1 (°C)\tTC2 (°C)\tambient (°C)\n2026-03-02 08:00\t20,5\t---\t-0,0\n2026-03-02 08:01\t****\t---\t0,1\n";
    let mut bytes = vec![0xff, 0xfe];
    bytes.extend(text.encode_utf16().flat_map(u16::to_le_bytes));
    let log = log(read("log", &bytes, &Mapping::default()));
    assert_eq!(
        told(&log),
        [(0.0, vec![Some(20.5), None]), (1.0, vec![None, None])]
    );
    assert_eq!(log.others[0].kind, SeriesKind::Ambient);
    let stars = lines_of(&log.complaints, |k| {
        matches!(k, ComplaintKind::NoNumber { .. })
    });
    assert_eq!(stars, [Some(3)]);
}

#[test]
fn a_print_out_with_pages_and_two_blocks() {
    let page = "HEAT RECORD            PAGE 1\n\n   TIME             CH 1     CH 2        TIME             CH 3\n";
    let row = |at: &str, a: &str| format!("   {at}   {a} C  751.0 C     {at}   752.0 C\n");
    let mut text = page.to_string();
    text += &row("03/04/26 10:00", "748.3");
    text += &row("03/04/26 10:01", "748.4");
    text += &page.replace("PAGE 1", "PAGE 2");
    text += &row("13/04/26 10:02", "748.5");
    let log = log(plain(&text));
    assert_eq!(
        log.channels
            .iter()
            .map(|c| c.name.as_str())
            .collect::<Vec<_>>(),
        ["CH 1", "CH 2", "CH 3"]
    );
    assert_eq!(told(&log)[0].1, [Some(748.3), Some(751.0), Some(752.0)]);
    assert_eq!(log.start.local().to_string(), "2026-04-03T10:00:00");
}

#[test]
fn voltages_of_named_couples() {
    let text =
        "time,TC1 (mV),TC2 (mV)\n2026-03-02 08:00,24.905,4.096\n2026-03-02 08:01,24.905,99\n";
    assert_eq!(plain(text).questions[0].key, "thermocouple_type");
    let log = log(read(
        "log",
        text.as_bytes(),
        &with(&["thermocouple_type=K", "cold_junction=0"]),
    ));
    assert_eq!(told(&log)[0].1, [Some(600.0), Some(100.0)]);
    assert_eq!(told(&log)[1].1[1], None);
}

#[test]
fn degrees_that_look_like_fahrenheit_are_flagged() {
    let mut text = "time,TC1 (C),TC2 (C)\n".to_string();
    for minute in 0..60 {
        text += &format!("2026-03-02 08:{minute:02},{},1150\n", 1160 + minute % 2);
    }
    let flagged = lines_of(&log(plain(&text)).complaints, |k| {
        matches!(k, ComplaintKind::LooksLikeFahrenheit { .. })
    });
    assert_eq!(flagged, [None]);
}

#[test]
fn the_page_lists_every_key() {
    let page = include_str!("../../docs/log-dialects.md");
    for (key, takes) in readings::KEYS {
        assert!(page.contains(&format!("\n| `{key}` |")), "{key} is missing");
        for word in takes.split(", ").filter(|w| !w.is_empty()) {
            assert!(page.contains(&format!("`{word}`")), "{key} takes {word}");
        }
    }
}
