//! Reading a day of 24 channels at one second, against parting the same bytes with the `csv` crate.
//!
//! `cargo bench --workspace --bench reading` prints the ratio of the two first, then a table of each dialect over a shorter log.

use std::time::Instant;

use divan::Bencher;
use readings::{Mapping, Reading, read};
use specimens::dialects::ALL;
use specimens::{Pace, Recording, Specimen, Told, situations};

const CHANNELS: usize = 24;
const DAY_H: f64 = 24.0;
const HOUR_H: f64 = 1.0;

/// The best of some runs is what the machine can do; the others were disturbed.
const RUNS: usize = 5;

fn recording(hours: f64) -> Recording {
    let mut situation = situations::named("straight").expect("a situation");
    let few = situation.channels.clone();
    let channel = |number: usize| specimens::Channel {
        name: format!("TC{number}"),
        ..few[number % few.len()].clone()
    };
    situation.channels = (1..=CHANNELS).map(channel).collect();
    situation.logging.paces = vec![Pace {
        until_h: hours,
        interval_s: 1,
    }];
    situation.record()
}

fn specimen(id: &str, hours: f64) -> Specimen {
    let dialect = ALL.iter().find(|d| d.id == id).expect("a dialect");
    (dialect.write)(&recording(hours))
}

fn told(specimen: &Specimen) -> Mapping {
    let mut mapping = Mapping::default();
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

/// Every cell parted and every reading turned into a number, nothing asked and nothing checked.
fn with_csv(bytes: &[u8]) -> (usize, f64) {
    let mut rows = csv::ReaderBuilder::new().from_reader(bytes);
    let mut record = csv::StringRecord::new();
    let (mut count, mut sum) = (0, 0.0);
    while rows.read_record(&mut record).expect("a row") {
        count += 1;
        let cells = record.iter().skip(1);
        sum += cells.filter_map(|c| c.parse::<f64>().ok()).sum::<f64>();
    }
    (count, sum)
}

fn main() {
    print_ratio();
    divan::main();
}

fn print_ratio() {
    let bytes = specimen("d01", DAY_H).sheets[0].bytes();
    let ours_ms = best_ms(|| rows_of(&read("log", &bytes, &Mapping::default())));
    let csv_ms = best_ms(|| with_csv(&bytes).0);
    println!(
        "{:.1} MB, {} rows: read and checked in {ours_ms:.0} ms, parted by csv in {csv_ms:.0} ms, ratio {:.1}",
        bytes.len() as f64 / 1e6,
        with_csv(&bytes).0,
        ours_ms / csv_ms
    );
}

fn rows_of(reading: &Reading) -> usize {
    reading.log.as_ref().expect("a log").scans.len()
}

fn best_ms<T>(mut run: impl FnMut() -> T) -> f64 {
    let mut once = || {
        let began = Instant::now();
        divan::black_box(run());
        began.elapsed().as_secs_f64() * 1e3
    };
    (0..RUNS).map(|_| once()).fold(f64::INFINITY, f64::min)
}

#[divan::bench(args = ALL.map(|d| d.id), sample_count = 5)]
fn an_hour(bencher: Bencher, id: &str) {
    let specimen = specimen(id, HOUR_H);
    let mapping = told(&specimen);
    let bytes = specimen.sheets[0].bytes();
    bencher.bench_local(|| read("log", &bytes, &mapping));
}

#[divan::bench(sample_count = 5)]
fn an_hour_parted_by_csv(bencher: Bencher) {
    let bytes = specimen("d01", HOUR_H).sheets[0].bytes();
    bencher.bench_local(|| with_csv(&bytes));
}
