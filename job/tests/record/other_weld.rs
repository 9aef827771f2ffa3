//! A log that names another weld than the job.

use job::record::Record;

const CARD: &str = include_str!("../../../jobs/cards/spool-repair.toml");
const LOG: &str = include_str!("../../../jobs/cards/spool-repair-log.csv");

fn of(log: &str) -> Record {
    super::recorded(CARD, log.as_bytes(), &["unit=C", "time_zone=Europe/Lisbon"]).expect("a record")
}

fn remarks(record: &Record) -> Vec<&str> {
    let all = record.deviations.iter();
    all.map(|d| d.says.as_str())
        .filter(|says| says.contains("names weld"))
        .collect()
}

#[test]
fn a_log_of_another_weld_is_told_and_one_of_the_same_is_not() {
    let other = of(&format!("Weld: SR-40-R1\n{LOG}"));
    assert_eq!(
        remarks(&other),
        ["the log names weld SR-40-R1, the job SR-41-R1 (log.csv, line 1)"]
    );
    assert!(other.all_met(), "it is told and judges nothing");
    for same in ["Weld: SR-41-R1\n", "weld: sr 41 r1\n", ""] {
        assert!(remarks(&of(&format!("{same}{LOG}"))).is_empty(), "{same:?}");
    }
}

#[test]
fn the_times_of_the_chart_stand_in_hours_local_time_and_utc() {
    let page = report::html(&of(LOG).sheet(""));
    // 07:30 in Lisbon in October is 06:30 in UTC.
    for words in [">local<", ">UTC<", ">07:30<", ">06:30<"] {
        assert!(page.contains(words), "{words}");
    }
}
