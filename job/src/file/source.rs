//! The source.

use cycle::setup::PowerSource;

use crate::toml_reader::Table;

use super::measure::{current, frequency, power, voltage};

/// Frequencies in Hz for which the model is meant.
const FREQUENCY_HZ: (f64, f64) = (50.0, 200_000.0);

/// Reads `[source]`.
pub(crate) fn read(root: &Table<'_>) -> Option<PowerSource> {
    let allowed = "a table with power, current, voltage and frequencies";
    let table = root.need("source", allowed).and_then(|v| v.table())?;
    let name = table
        .get("name")
        .and_then(|v| v.text())
        .unwrap_or("source")
        .to_owned();
    let power_kw = power!("power")
        .need(&table)
        .and_then(|r| r.within(0.1, 5000.0))
        .map(|r| r.value);
    let current_a = current!("current")
        .need(&table)
        .and_then(|r| r.within(1.0, 20_000.0))
        .map(|r| r.value);
    let voltage_v = voltage!("voltage")
        .need(&table)
        .and_then(|r| r.within(1.0, 10_000.0))
        .map(|r| r.value);
    let within =
        |r: super::measure::Read<'_>| r.within(FREQUENCY_HZ.0, FREQUENCY_HZ.1).map(|r| r.value);
    let lowest = frequency!("frequency_min").need(&table).and_then(within);
    let highest_read = frequency!("frequency_max").need(&table);
    let highest = highest_read.clone().and_then(within);
    let working_read = frequency!("working_frequency").get(&table);
    let range = lowest.zip(highest);
    if let (Some((least, most)), Some(at)) = (range, &highest_read)
        && most < least
    {
        at.at.fault(
            at.found(),
            format!("frequency_min or more ({least} Hz)"),
            None,
        );
    }
    let working = working_read.and_then(|r| match range {
        Some((least, most)) if least <= most => r.within(least, most),
        _ => Some(r),
    });
    table.finish();
    Some(PowerSource {
        name,
        power_kw: power_kw?,
        current_rms_a: current_a?,
        voltage_rms_v: voltage_v?,
        frequency_range_hz: [lowest?, highest?],
        working_frequency_hz: working.map(|r| r.value),
    })
}
