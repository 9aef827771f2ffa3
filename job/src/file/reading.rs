//! `[reading]`: which of the definitions of `reading-a-log.md` a procedure sets otherwise.

use checks::{Definitions, FailureSigns, HoldCount, Interruption, Removal};
use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};

use crate::toml_reader::Table;

use super::measure::{Spelling, difference, rate, temperature, time};

/// The words of `hold_counts`.
pub(crate) const HOLD_COUNTS: &[&str] = &["longest_run", "total"];
/// The words of `interruption`.
pub(crate) const INTERRUPTIONS: &[&str] = &["same_attempt", "new_attempt"];
/// The words of `removal`.
pub(crate) const REMOVALS: &[&str] = &["never", "by_word", "with_evidence"];

/// Windows in h over which a slope still says something of a rate per hour.
const WINDOW_H: (f64, f64) = (0.05, 4.0);
/// Spans in h of everything else.
const SPAN_H: (f64, f64) = (0.0, 24.0);
/// Differences in K that are small beside a heat.
const DIFFERENCE_K: (f64, f64) = (0.0, 200.0);
/// Temperatures in °C of instruments.
const INSTRUMENT_C: (f64, f64) = (-270.0, 2500.0);
/// Rates in K/h.
const RATE_K_H: (f64, f64) = (0.0, 1000.0);
/// Readings of a running median.
pub(crate) const FILTER_READINGS: (f64, f64) = (1.0, 61.0);
/// How many times an interval or a noise.
pub(crate) const TIMES: (f64, f64) = (1.0, 100.0);
/// Thermocouples.
pub(crate) const FEWEST: (f64, f64) = (1.0, 100.0);

/// Reads `[reading]` and `[reading.failures]`.
pub(crate) fn reading(root: &Table<'_>) -> Definitions {
    let mut definitions = Definitions::default();
    let Some(table) = root.get("reading").and_then(|v| v.table()) else {
        return definitions;
    };
    rates(&table, &mut definitions);
    holds(&table, &mut definitions);
    gaps_and_filter(&table, &mut definitions);
    set(&table, &mut definitions);
    if let Some(failures) = table.get("failures").and_then(|v| v.table()) {
        signs(&failures, &mut definitions.signs);
        failures.finish();
    }
    table.finish();
    definitions
}

fn rates(table: &Table<'_>, to: &mut Definitions) {
    span(table, &time!("rate_window"), WINDOW_H, &mut to.rate_window);
    windows_beside(table, &mut to.rate_windows_beside);
    span(
        table,
        &time!("shortest_ramp"),
        WINDOW_H,
        &mut to.shortest_ramp,
    );
    step(table, &difference!("turn"), &mut to.turn);
    step(table, &difference!("level"), &mut to.level);
}

/// `rate_windows_beside = ["15 min", "30 min"]`
fn windows_beside(table: &Table<'_>, to: &mut Vec<Hours>) {
    let Some(list) = table.get("rate_windows_beside").and_then(|v| v.list()) else {
        return;
    };
    let read = |value: &crate::toml_reader::Value<'_>| {
        let read = time!("rate_windows_beside").of_text(value)?;
        read.within(WINDOW_H.0, WINDOW_H.1)
            .map(|r| Hours::from_h(r.value))
    };
    *to = list.iter().filter_map(read).collect();
}

fn holds(table: &Table<'_>, to: &mut Definitions) {
    if word(table, "hold_counts", HOLD_COUNTS) == Some(1) {
        to.hold_count = HoldCount::Total;
    }
    if word(table, "interruption", INTERRUPTIONS) == Some(1) {
        to.interruption = Interruption::NewAttempt;
    }
    step(table, &difference!("loss_depth"), &mut to.loss_depth);
    span(table, &time!("loss_time"), SPAN_H, &mut to.loss_time);
    step(table, &difference!("start_rise"), &mut to.start_rise);
    level(table, &temperature!("cold"), &mut to.cold);
    let cooling = time!("cooling_lookback");
    span(table, &cooling, SPAN_H, &mut to.cooling_lookback);
    span(table, &time!("settling"), SPAN_H, &mut to.settling);
    if let Some(binds) = table.get("settled_spread_binds").and_then(|v| v.boolean()) {
        to.settled_spread_binds = binds;
    }
    let allowance = difference!("hold_allowance");
    step(table, &allowance, &mut to.hold_allowance);
}

fn gaps_and_filter(table: &Table<'_>, to: &mut Definitions) {
    span(table, &time!("gap_floor"), SPAN_H, &mut to.gap_floor);
    span(table, &time!("gap_ceiling"), SPAN_H, &mut to.gap_ceiling);
    number(table, "gap_factor", TIMES, &mut to.gap_factor);
    if let Some(read) = rate!("fastest_change").get(table) {
        let within = read.within(RATE_K_H.0, RATE_K_H.1 * 10.0);
        to.fastest_change = within.map_or(to.fastest_change, |r| KelvinsPerHour::from_k_h(r.value));
    }
    let mut readings = to.filter_readings as f64;
    number(table, "filter_readings", FILTER_READINGS, &mut readings);
    to.filter_readings = readings as usize;
    span(table, &time!("filter_span"), SPAN_H, &mut to.filter_span);
}

fn set(table: &Table<'_>, to: &mut Definitions) {
    match word(table, "removal", REMOVALS) {
        Some(1) => to.removal = Removal::ByWord,
        Some(2) => to.removal = Removal::WithEvidence,
        _ => {}
    }
    let mut fewest = to.fewest_thermocouples as f64;
    number(table, "fewest_thermocouples", FEWEST, &mut fewest);
    to.fewest_thermocouples = fewest as usize;
    let reach = time!("evidence_reach");
    span(table, &reach, SPAN_H, &mut to.evidence_reach);
}

fn signs(table: &Table<'_>, to: &mut FailureSigns) {
    level(table, &temperature!("range_low"), &mut to.range_low);
    level(table, &temperature!("range_high"), &mut to.range_high);
    level(table, &temperature!("short_below"), &mut to.short_below);
    level(table, &temperature!("short_beside"), &mut to.short_beside);
    step(table, &difference!("stuck_moved"), &mut to.stuck_moved);
    step(table, &difference!("reversed_rise"), &mut to.reversed_rise);
    step(table, &difference!("reversed_fall"), &mut to.reversed_fall);
    span(
        table,
        &time!("noise_stretch"),
        WINDOW_H,
        &mut to.noise_stretch,
    );
    step(table, &difference!("noise_floor"), &mut to.noise_floor);
    number(table, "noise_times", TIMES, &mut to.noise_times);
    step(table, &difference!("jump"), &mut to.jump);
    span(table, &time!("jump_stays"), SPAN_H, &mut to.jump_stays);
    if let Some(read) = rate!("drift_rate").get(table) {
        let within = read.within(RATE_K_H.0, RATE_K_H.1);
        to.drift_rate = within.map_or(to.drift_rate, |r| KelvinsPerHour::from_k_h(r.value));
    }
    span(
        table,
        &time!("drift_window"),
        WINDOW_H,
        &mut to.drift_window,
    );
    step(table, &difference!("pickup_step"), &mut to.pickup_step);
    span(
        table,
        &time!("pickup_within"),
        SPAN_H,
        &mut to.pickup_within,
    );
    number(table, "swap_times", TIMES, &mut to.swap_times);
}

fn word(table: &Table<'_>, key: &'static str, words: &[&str]) -> Option<usize> {
    table.get(key).and_then(|v| v.word_of(words))
}

fn number(table: &Table<'_>, key: &'static str, (least, most): (f64, f64), to: &mut f64) {
    if let Some(read) = table.get(key).and_then(|v| v.number_within(least, most)) {
        *to = read;
    }
}

fn span(table: &Table<'_>, key: &Spelling, (least, most): (f64, f64), to: &mut Hours) {
    if let Some(read) = key.get(table).and_then(|r| r.within(least, most)) {
        *to = Hours::from_h(read.value);
    }
}

fn step(table: &Table<'_>, key: &Spelling, to: &mut Kelvins) {
    let (least, most) = DIFFERENCE_K;
    if let Some(read) = key.get(table).and_then(|r| r.within(least, most)) {
        *to = Kelvins::from_k(read.value);
    }
}

fn level(table: &Table<'_>, key: &Spelling, to: &mut Celsius) {
    let (least, most) = INSTRUMENT_C;
    if let Some(read) = key.get(table).and_then(|r| r.within(least, most)) {
        *to = Celsius::from_c(read.value);
    }
}
