//! The limits that owner and procedure set themselves.

use std::collections::BTreeMap;

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};
use rules::requirement::Level;
use rules::weld::OwnLimits;

use crate::toml_reader::{Table, Value};

use super::measure::{Read, difference, rate, temperature, time};

/// Where each own limit stands.
pub(crate) type OwnPlaces<'a> = BTreeMap<(Level, &'static str), Value<'a>>;

/// Reads `[limits.owner]` and `[limits.procedure]`, in this order.
pub(crate) fn read<'a>(root: &Table<'a>) -> ([OwnLimits; 2], OwnPlaces<'a>) {
    let mut places = OwnPlaces::new();
    let Some(table) = root.get("limits").and_then(|v| v.table()) else {
        return ([OwnLimits::default(), OwnLimits::default()], places);
    };
    let mut of = |key: &'static str, level: Level| {
        let own = table.get(key).and_then(|v| v.table());
        own.map(|own| one(&own, level, &mut places))
            .unwrap_or_default()
    };
    let read = [of("owner", Level::Owner), of("procedure", Level::Procedure)];
    table.finish();
    (read, places)
}

/// The limits of a cycle card.
pub(crate) fn of_card(card: &Table<'_>) -> OwnLimits {
    own(card, Level::Procedure, &mut OwnPlaces::new())
}

fn one<'a>(table: &Table<'a>, level: Level, places: &mut OwnPlaces<'a>) -> OwnLimits {
    let limits = own(table, level, places);
    table.finish();
    limits
}

fn own<'a>(table: &Table<'a>, level: Level, places: &mut OwnPlaces<'a>) -> OwnLimits {
    let mut keep = |key: &'static str, read: Option<Read<'a>>| {
        let read = read?;
        places.insert((level, key), read.at.clone());
        Some(read.value)
    };
    let hold_min = keep("hold_min", temperature!("hold_min").get(table));
    let hold_max = keep("hold_max", temperature!("hold_max").get(table));
    let hold_time = keep("hold_time", time!("hold_time").get(table));
    let heating_rate = keep("heating_rate", rate!("heating_rate").get(table));
    let cooling_rate = keep("cooling_rate", rate!("cooling_rate").get(table));
    let rate_threshold = keep("rate_threshold", temperature!("rate_threshold").get(table));
    let spread = keep("spread", difference!("spread").get(table));
    let document = table
        .get("document")
        .and_then(|v| v.text())
        .map(str::to_owned);
    OwnLimits {
        document,
        hold_min: hold_min.map(Celsius::from_c),
        hold_max: hold_max.map(Celsius::from_c),
        hold_time: hold_time.map(Hours::from_h),
        heating_rate: heating_rate.map(KelvinsPerHour::from_k_h),
        cooling_rate: cooling_rate.map(KelvinsPerHour::from_k_h),
        rate_threshold: rate_threshold.map(Celsius::from_c),
        spread: spread.map(Kelvins::from_k),
    }
}
