//! Records of files that are far apart: asked from now on, and made again as they were.

use job::record::{RawFile, RecordError, Revision, basis, record, verify};
use readings::Mapping;
use report::Moment;

const CARD: &str = include_str!("../../../jobs/cards/spool-repair.toml");
const LOG: &str = include_str!("../../../jobs/cards/spool-repair-log.csv");
const AT: Moment = Moment {
    year: 2026,
    month: 11,
    day: 2,
    hour: 9,
    minute: 0,
    second: 0,
    utc_offset_minutes: 0,
};

fn made(pairs: &[&str]) -> Result<job::record::Record, RecordError> {
    let mut mapping = Mapping::default();
    for pair in [&["unit=C", "time_zone=Europe/Lisbon"], pairs].concat() {
        mapping.choose(pair).expect("a pair");
    }
    let file = |name: &str, text: String| RawFile {
        name: name.into(),
        bytes: text.into_bytes(),
    };
    let raw = vec![
        file("early.csv", LOG.to_owned()),
        file("late.csv", LOG.replace("2026-10-20", "2026-10-21")),
    ];
    let basis = basis(CARD, "card.toml").expect("a card");
    record(&basis, raw, &mapping, Revision::default())
}

#[test]
fn files_of_two_days_are_no_record_before_somebody_says_whether_they_are_one_heat() {
    let asked = made(&[]).expect_err("asked").to_string();
    assert!(
        asked.contains("file.late.csv.heat=early.csv or file.late.csv.heat=other"),
        "{asked}"
    );
    let both = made(&["file.late.csv.heat=early.csv"]).expect("a record");
    assert_eq!(both.log.files.len(), 2);
    let one = made(&["file.late.csv.heat=other"]).expect("a record");
    assert_eq!((one.log.files.len(), one.raw.len()), (1, 1));
    let none = made(&["file.late.csv.heat=other", "file.early.csv.heat=other"]);
    let says = none.expect_err("nothing is left").to_string();
    assert!(
        says.contains("early.csv, late.csv are said to be of another heat"),
        "{says}"
    );
}

#[test]
fn what_was_said_of_one_file_is_verified_with_the_record() {
    for answer in ["file.late.csv.heat=early.csv", "file.late.csv.heat=other"] {
        let record = made(&[answer, "file.early.csv.unit=F"]).expect("a record");
        let pdf = record.pdf("0.1.0", AT).expect("a document");
        let verified = verify(&pdf, "0.1.0").expect("verified");
        let lines = verified.lines("record.pdf");
        assert!(verified.agrees(), "{answer}: {lines:#?}");
    }
}

#[test]
fn a_record_from_before_it_was_asked_is_made_again_byte_for_byte() {
    let mut record = made(&["file.late.csv.heat=early.csv"]).expect("a record");
    record.mapping.file.clear();
    let pdf = record.pdf("0.1.0", AT).expect("a document");
    let verified = verify(&pdf, "0.1.0").expect("verified");
    assert!(verified.agrees(), "{:#?}", verified.lines("record.pdf"));
}
