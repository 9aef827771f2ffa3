//! Rows of the rules that somebody read in the document judge a record as they judge a plan, and go with it.

use job::confirmed::ConfirmedFile;
use job::record::{Basis, RawFile, Record, Revision, basis, basis_with, record, verify};
use readings::Mapping;
use report::Moment;
use rules::requirement::{Level, LimitKind};

const JOB: &str = include_str!("../../../jobs/thick-9cr-header.toml");

/// Off until somebody confirms it: 705 °C in place of 730 °C.
const CONFIRMED: &str = "# read on the shelf of the site\n[[confirmed]]\nrow = \"b31.3-2014/range-min-p15e-printed\"\n\
    by = \"A. Reader\"\non = 2026-11-20\nnote = \"notes 6 and 7 allow it\"\n";

const VERSION: &str = "0.0.0-test";

const NOON: Moment = Moment {
    year: 2026,
    month: 11,
    day: 21,
    hour: 12,
    minute: 0,
    second: 0,
    utc_offset_minutes: 0,
};

/// The weld by its code alone.
fn job() -> String {
    let (before, own) = JOB.split_once("[limits.procedure]").expect("limits");
    let (_, after) = own.split_once("\n[").expect("a table behind them");
    format!("{before}[{after}")
}

fn based(confirmed: Option<&str>) -> Basis {
    let file = confirmed.map(|text| {
        ConfirmedFile::of(text.as_bytes().to_vec(), "confirmed.toml").expect("rows that can be")
    });
    basis_with(&job(), "job.toml", file).expect("a basis")
}

/// 40 K/h up and down, and 4 h at 720 °C, in every channel alike.
fn log(basis: &Basis) -> Vec<u8> {
    let names: Vec<&str> = basis
        .channels
        .iter()
        .map(|(c, _)| c.name.as_str())
        .collect();
    let mut text = format!("time,{}\n", names.join(","));
    for minute in 0..2400_u32 {
        let h = f64::from(minute) / 60.0;
        let c = (20.0 + 40.0 * h)
            .min(720.0)
            .min(720.0 - 40.0 * (h - 21.5))
            .max(20.0);
        let clock = format!(
            "2026-11-{:02}T{:02}:{:02}:00",
            18 + minute / 1440,
            minute / 60 % 24,
            minute % 60
        );
        let cells = vec![format!("{c:.1}"); names.len()];
        text += &format!("{clock},{}\n", cells.join(","));
    }
    text.into_bytes()
}

fn recorded(confirmed: Option<&str>) -> Record {
    let basis = based(confirmed);
    let mut mapping = Mapping::default();
    mapping.choose("unit=C").expect("a unit");
    let raw = vec![RawFile {
        name: "log.csv".into(),
        bytes: log(&basis),
    }];
    record(&basis, raw, &mapping, Revision::default()).unwrap_or_else(|error| panic!("{error}"))
}

fn pdf(record: &Record) -> Vec<u8> {
    record.pdf(VERSION, NOON).expect("a document")
}

/// The lower end of the hold by the code, and whether it was met.
fn code_minimum(record: &Record) -> (f64, bool) {
    let found = record
        .findings
        .findings
        .iter()
        .find_map(|one| match one.limit.kind {
            LimitKind::HoldMin(c) if one.limit.level == Level::Code => {
                Some((c.c(), one.verdict == checks::Verdict::Met))
            }
            _ => None,
        });
    found.expect("a lower end by the code")
}

#[test]
fn a_confirmed_row_judges_the_record_and_verify_agrees() {
    let (without, with) = (recorded(None), recorded(Some(CONFIRMED)));
    assert_eq!(code_minimum(&without), (730.0, false));
    assert_eq!(code_minimum(&with), (705.0, true));
    for record in [&without, &with] {
        let verified = verify(&pdf(record), VERSION).expect("made again");
        assert!(verified.agrees(), "{:?}", verified.compared);
    }
    let attached = report::attached(&pdf(&with)).expect("attachments");
    let file = attached.iter().find(|(name, _)| name == "confirmed.toml");
    assert_eq!(file.expect("attached").1, CONFIRMED.as_bytes(), "as it is");
}

#[test]
fn the_record_says_who_confirmed_which_row_and_when() {
    let record = recorded(Some(CONFIRMED));
    let words = report::text(&record.sheet("made by a test"), 300);
    assert!(
        words.contains(
            "b31.3-2014/range-min-p15e-printed: A. Reader on 2026-11-20: notes 6 and 7 allow it"
        ),
        "{words}"
    );
    let json: serde_json::Value =
        serde_json::from_slice(&record.json(VERSION, NOON).expect("data")).expect("JSON");
    let told = &json["confirmed"];
    assert_eq!(told["rows"][0]["by"], "A. Reader");
    assert_eq!(told["rows"][0]["on"], "2026-11-20");
    assert_eq!(told["sha256"], readings::sha256(CONFIRMED.as_bytes()));
}

/// Without such a file nothing stands in the record that records from before did not have.
#[test]
fn a_record_without_the_file_is_as_records_were() {
    let record = recorded(None);
    let json = record.json(VERSION, NOON).expect("data");
    let json: serde_json::Value = serde_json::from_slice(&json).expect("JSON");
    assert!(json.get("confirmed").is_none());
    let attached = report::attached(&pdf(&record)).expect("attachments");
    assert!(attached.iter().all(|(name, _)| name != "confirmed.toml"));
}

/// The document with one byte of the attached rows changed, and nothing else.
fn harmed(whole: &[u8], place: usize) -> Vec<u8> {
    let attached = report::attached(whole).expect("attachments").into_iter();
    let attachments = attached.map(|(name, mut bytes)| {
        if name == "confirmed.toml" {
            bytes[place] ^= 1;
        }
        report::Attachment {
            mime: "application/octet-stream".into(),
            description: name.clone(),
            relationship: report::Relationship::Source,
            name,
            bytes,
        }
    });
    let attachments: Vec<_> = attachments.collect();
    report::pdf(&report::Sheet::default(), &attachments, NOON).expect("a document")
}

#[test]
fn a_byte_changed_in_the_confirmed_rows_is_seen() {
    let whole = pdf(&recorded(Some(CONFIRMED)));
    let in_a_remark = 3;
    let verified = verify(&harmed(&whole, in_a_remark), VERSION).expect("made again");
    let rows = verified
        .compared
        .iter()
        .find(|one| one.what.contains("confirmed.toml"));
    assert_eq!(rows.expect("compared").agrees, Some(false));
    let in_the_id = CONFIRMED.find("printed").expect("the id");
    let refused = verify(&harmed(&whole, in_the_id), VERSION).expect_err("no such row");
    assert!(
        refused.to_string().contains("confirmed.toml:3: "),
        "{refused}"
    );
}

#[test]
fn rows_that_cannot_be_used_refuse_with_file_and_line() {
    let refused = |bytes: &[u8]| {
        ConfirmedFile::of(bytes.to_vec(), "confirmed.toml")
            .expect_err("refused")
            .to_string()
    };
    let unknown = refused(b"[[confirmed]]\nrow = \"no such row\"\nby = \"A\"\non = 2026-11-20\n");
    assert!(unknown.starts_with("confirmed.toml:2: "), "{unknown}");
    let no_text = refused(b"[[confirmed]]\nrow = \"a\"\nby = \"\xff\"\n");
    assert!(
        no_text.starts_with("confirmed.toml:3: no UTF-8 text"),
        "{no_text}"
    );
    assert!(basis(&job(), "job.toml").is_ok());
}
