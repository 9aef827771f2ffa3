//! A user's promise: every situation in every dialect is read as it was written, and a broken file says where.

use jiff::civil::date;
use readings::{ComplaintKind as Kind, Log, Mapping, Reading, join, read};
use specimens::dialects::{ALL, CALENDARS, Dialect, written};
use specimens::{Damage, Encoding, Harm, Specimen, Told, situations};

/// Four decimals of a minute, ten of a day.
const TIME_S: f64 = 0.011;

/// Values are written with one decimal and converted in doubles.
const READING_K: f64 = 1e-6;

/// Situations that differ in what a reader meets; the others differ in numbers only.
const HANDFUL: [&str; 7] = [
    "straight",
    "gap-30-min-in-hold",
    "summer-time-ends",
    "summer-time-begins",
    "clock-set-forward",
    "open-in-hold",
    "replaced-by-spare",
];

fn told(specimen: &Specimen) -> Mapping {
    let mut mapping = Mapping {
        time_zone: Some("Europe/Berlin".to_owned()),
        ..Mapping::default()
    };
    for told in &specimen.told {
        let pair = match told {
            Told::DayFirst => "date_order=day_first",
            Told::MonthFirst => "date_order=month_first",
            Told::DaysFrom1900 => "date_base=1900",
            Told::DaysFrom1904 => "date_base=1904",
        };
        mapping.choose(pair).expect("a mapping");
    }
    mapping
}

fn readings(specimen: &Specimen) -> Vec<Reading> {
    let mapping = told(specimen);
    let file = |sheet: &specimens::Sheet| read(&sheet.name, &sheet.bytes(), &mapping);
    specimen.sheets.iter().map(file).collect()
}

fn one(readings: Vec<Reading>) -> Result<Log, String> {
    let mut logs = Vec::new();
    for reading in readings {
        let open = format!("{:?} {:?}", reading.questions, reading.complaints);
        logs.push(reading.log.ok_or(format!("no log: {open}"))?);
    }
    match logs.len() {
        1 => Ok(logs.remove(0)),
        _ => join(logs, &Mapping::default()).map_err(|error| error.to_string()),
    }
}

/// The first thing that differs.
fn differs(log: &Log, specimen: &Specimen) -> Option<String> {
    let names: Vec<&str> = log.channels.iter().map(|c| c.name.as_str()).collect();
    let plain: Vec<&str> = names
        .iter()
        .map(|n| n.split(' ').next().unwrap_or(n))
        .collect();
    if plain != specimen.channels {
        return Some(format!("channels {names:?}"));
    }
    let began = log.start.local();
    if began.duration_since(specimen.began).as_secs_f64().abs() > TIME_S {
        return Some(format!("{began} instead of {}", specimen.began));
    }
    if log.scans.len() != specimen.scans.len() {
        let at = log
            .scans
            .iter()
            .zip(&specimen.scans)
            .position(|(a, b)| (a.elapsed.as_secs_f64() - b.elapsed_s).abs() > TIME_S);
        return Some(format!(
            "{} scans, written {}; apart from {at:?}: {:?}",
            log.scans.len(),
            specimen.scans.len(),
            log.complaints
        ));
    }
    log.scans
        .iter()
        .zip(&specimen.scans)
        .find_map(|(scan, written)| {
            let time = (scan.elapsed.as_secs_f64() - written.elapsed_s).abs() <= TIME_S;
            let same =
                |(read, wrote): (&Option<quantity::Celsius>, &Option<f64>)| match (read, wrote) {
                    (Some(read), Some(wrote)) => (read.c() - wrote).abs() <= READING_K,
                    (None, None) => true,
                    _ => false,
                };
            let all = scan.readings.iter().zip(&written.readings_c).all(same);
            (!(time && all)).then(|| format!("{scan:?} instead of {written:?}"))
        })
}

fn fault(what: &str, dialect: &Dialect, specimen: &Specimen) -> Option<String> {
    let differs = match one(readings(specimen)) {
        Ok(log) => differs(&log, specimen)?,
        Err(none) => none,
    };
    Some(format!(
        "{} {what}: {}",
        dialect.id,
        differs.chars().take(400).collect::<String>()
    ))
}

#[test]
fn every_situation_in_every_dialect_is_read_as_it_was_written() {
    let mut faults = Vec::new();
    for name in HANDFUL {
        let recording = situations::named(name).expect("a situation").record();
        for dialect in &ALL {
            let specimen = (dialect.write)(&recording);
            faults.extend(fault(name, dialect, &specimen));
        }
    }
    assert!(
        faults.is_empty(),
        "{} differ:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

fn fits(kind: &Kind, harm: Harm) -> bool {
    match harm {
        Harm::WordForNumber => matches!(kind, Kind::NoNumber { .. }),
        Harm::ShortRow => matches!(kind, Kind::OddRow { .. }),
        Harm::ImpossibleDate | Harm::NoTime => matches!(kind, Kind::RowNotUnderstood(_)),
        Harm::OverRange | Harm::UnknownStatus => matches!(kind, Kind::BadStatus { .. }),
        Harm::SameTimeAgain => matches!(kind, Kind::SameTimeAgain { .. }),
        Harm::CutLine => matches!(kind, Kind::LastLineCut),
        Harm::BadBytes => matches!(kind, Kind::BadBytes),
        Harm::BlocksDisagree => matches!(kind, Kind::BlocksDisagree),
    }
}

fn complains(readings: &[Reading], damage: &Damage) -> Option<String> {
    let complaints = &readings[damage.sheet].complaints;
    let there = complaints
        .iter()
        .any(|c| c.line == Some(damage.line) && fits(&c.kind, damage.harm));
    (!there).then(|| format!("no word of {damage:?} in {complaints:?}"))
}

#[test]
fn a_broken_twin_is_read_as_far_as_it_goes_and_says_where_it_is_broken() {
    let mut faults = Vec::new();
    for name in [
        "straight",
        "dip-20-min",
        "open-in-hold",
        "whole-degrees-noisy",
    ] {
        let recording = situations::named(name).expect("a situation").record();
        for dialect in &ALL {
            for row in [1, 437] {
                let (specimen, damage) = (dialect.broken)(&recording, row);
                let what = format!("{name}, row {row}");
                let missing = complains(&readings(&specimen), &damage);
                faults.extend(missing.map(|m| {
                    format!("{} {what}: {m}", dialect.id)
                        .chars()
                        .take(400)
                        .collect()
                }));
                faults.extend(fault(&what, dialect, &specimen));
            }
        }
    }
    assert!(
        faults.is_empty(),
        "{} differ:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

#[test]
fn what_a_file_leaves_open_is_asked_in_every_situation() {
    let recording = situations::named("clock-set-forward")
        .expect("a situation")
        .record();
    // The fourth of May, or the fifth of April; days since 1900, or since 1904.
    for (id, key) in [
        ("d03", "date_order"),
        ("d12", "date_order"),
        ("d09", "date_base"),
        ("d09-1904", "date_base"),
    ] {
        let dialect = ALL.iter().find(|d| d.id == id).expect("a dialect");
        let bytes = (dialect.write)(&recording).sheets[0].bytes();
        let reading = read("log", &bytes, &Mapping::default());
        assert!(reading.log.is_none(), "{id}");
        assert!(
            reading.questions.iter().any(|q| q.key == key),
            "{id}: {:?}",
            reading.questions
        );
    }
}

#[test]
fn every_month_in_the_words_of_several_languages() {
    let mut faults = Vec::new();
    for calendar in &CALENDARS {
        for month in 1..=12 {
            let mut situation = situations::named("straight").expect("a situation");
            situation.logging.start = date(2026, month, 1).at(0, 30, 0, 0);
            let specimen = written(&situation.record(), calendar, Encoding::Utf8);
            let differs = match one(readings(&specimen)) {
                Ok(log) => differs(&log, &specimen),
                Err(none) => Some(none),
            };
            let what = |d: String| format!("{} {month}: {:.300}", calendar.language, d);
            faults.extend(differs.map(what));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
