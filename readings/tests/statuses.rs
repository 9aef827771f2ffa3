//! A user's promise: a status never becomes a temperature, and what it calls good is known or asked, never guessed.

use readings::{ComplaintKind, Mapping, Reading, read};

fn with(text: &str, said: &[&str]) -> Reading {
    let mut mapping = Mapping::default();
    said.iter()
        .for_each(|pair| mapping.choose(pair).expect("a pair"));
    read("log", text.as_bytes(), &mapping)
}

fn keys(text: &str) -> Vec<&'static str> {
    with(text, &[]).questions.iter().map(|q| q.key).collect()
}

/// Forty rows of two thermocouples, each with a status behind it; the second is bad in rows 20 to 24.
fn beside(word: &str, good: &str, bad: &str) -> String {
    let mut text = format!("time,TC1 (C),TC1 {word},TC2 (C),TC2 {word}\n");
    for m in 0..40 {
        let second = if (20..25).contains(&m) { bad } else { good };
        text += &format!(
            "2026-03-02 08:{m:02}:00,{}.5,{good},{}.5,{second}\n",
            100 + m,
            200 + m
        );
    }
    text
}

/// Silent readings of both.
fn silent(reading: &Reading) -> [usize; 2] {
    let log = reading
        .log
        .as_ref()
        .unwrap_or_else(|| panic!("{:?}", reading.questions));
    assert_eq!(
        log.channels
            .iter()
            .map(|c| c.name.as_str())
            .collect::<Vec<_>>(),
        ["TC1", "TC2"]
    );
    [0, 1].map(|channel| {
        log.scans
            .iter()
            .filter(|s| s.readings[channel].is_none())
            .count()
    })
}

#[test]
fn codes_and_words_that_mean_one_thing_here_and_another_there_are_asked() {
    for (word, good, bad) in [
        ("Status", "1", "0"),
        ("Status", "0", "4"),
        ("Quality", "1", "0"),
        ("Quality", "0", "1"),
        ("Valid", "1", "0"),
        ("Alarm", "0", "1"),
        ("Valid", "true", "false"),
        ("Qualität", "gut", "schlecht"),
        ("Fehler", "nein", "ja"),
        ("xyz", "0", "1"),
        ("xyz", "A", "R"),
        ("Status", "0", "0"),
    ] {
        let text = beside(word, good, bad);
        assert_eq!(keys(&text), ["good"], "{word} {good}");
        let answer = format!("good={good}");
        let lost = if good == bad { 0 } else { 5 };
        assert_eq!(silent(&with(&text, &[&answer])), [0, lost], "{word} {good}");
    }
    let both = beside("Status", "1", "4").replace("8:00:00,100.5,1", "8:00:00,100.5,2");
    assert_eq!(silent(&with(&both, &["good=1, 2"])), [0, 5]);
    assert_eq!(silent(&with(&both, &["good=1"])), [1, 5]);
}

#[test]
fn what_plain_words_and_the_codes_of_opc_say_needs_no_answer() {
    for (word, good, bad) in [
        ("Status", "OK", "OPEN"),
        ("Quality", "Good", "Bad"),
        ("Quality", "192", "0"),
        ("Quality", "192", "64"),
        ("Quality", "216", "24"),
        ("Flag", "", "X"),
        ("Status", "OK", "X9"),
    ] {
        let text = beside(word, good, bad);
        assert_eq!(silent(&with(&text, &[])), [0, 5], "{word} {good}");
    }
}

#[test]
fn an_empty_status_among_good_ones_is_not_good() {
    assert_eq!(silent(&with(&beside("Status", "OK", ""), &[])), [0, 5]);
    assert_eq!(
        silent(&with(&beside("Status", "OK", ""), &["good=OK,blank"])),
        [0, 0]
    );
}

#[test]
fn one_status_for_all_takes_away_every_reading_of_its_row() {
    let mut text = "time,TC1 (C),TC2 (C),Status\n".to_string();
    for m in 0..40 {
        let status = if m < 35 { "OK" } else { "FAULT" };
        text += &format!(
            "2026-03-02 08:{m:02}:00,{}.5,{}.5,{status}\n",
            100 + m,
            200 + m
        );
    }
    let reading = with(&text, &[]);
    assert_eq!(silent(&reading), [5, 5]);
    let bad =
        |c: &&readings::Complaint| matches!(c.kind, ComplaintKind::BadStatus { count: 5, .. });
    assert_eq!(reading.complaints.iter().filter(bad).count(), 2);
    let coded = text.replace("OK", "0").replace("FAULT", "1");
    assert_eq!(keys(&coded), ["good"]);
    assert_eq!(silent(&with(&coded, &["good=0"])), [5, 5]);
    let first = "time,Status,TC1 (C),TC2 (C)\n2026-03-02 08:00:00,0,20.5,21.5\n2026-03-02 08:01:00,0,20.5,21.5\n";
    assert_eq!(keys(first), ["good"]);
}

#[test]
fn one_reading_a_row_with_its_status() {
    let mut text = "time;channel;value;unit;status\n".to_string();
    for m in 0..40 {
        let status = usize::from(m >= 35);
        text += &format!("2026-03-02 08:{m:02}:00;TC1;{}.5;°C;{status}\n", 100 + m);
        text += &format!("2026-03-02 08:{m:02}:00;TC2;{}.5;°C;0\n", 100 + m);
    }
    assert_eq!(keys(&text), ["good"]);
    assert_eq!(silent(&with(&text, &["good=0"])), [5, 0]);
}
