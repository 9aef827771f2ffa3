//! The weld itself, the air round it, the cycle as asked for.

use std::time::Duration;

use cycle::setup::{Neighbor, Surroundings};
use jiff::Timestamp;
use quantity::{Celsius, Hours, KelvinsPerHour, Millimeters};
use rules::weld::Orientation;
use toml::de::DeValue;

use crate::model::CycleWish;
use crate::toml_reader::{Table, Value};

use super::choices::CHOICES;
use super::measure::{Read, length, rate, speed, temperature, time};
use super::places::Silent;

/// The words of `orientation`.
pub(crate) const ORIENTATIONS: &[&str] = &["horizontal", "vertical"];

/// Air temperatures in °C at which anyone works.
const AMBIENT_C: (f64, f64) = (-40.0, 60.0);

/// Winds in m/s up to a gale; nobody heats in more.
const WIND_M_S: (f64, f64) = (0.0, 20.0);

/// Rates in K/h at which thick metal can be heated at all.
const RATE_K_H: (f64, f64) = (1.0, 5000.0);

/// Temperatures in °C of heat treatment.
const TREATMENT_C: (f64, f64) = (20.0, 1100.0);

/// What `[weld]` says: cap width in mm and orientation.
pub(crate) struct WeldRead {
    pub cap_width_mm: Option<f64>,
    pub orientation: Option<Orientation>,
    pub ended: Option<Timestamp>,
}

/// The same for a weld of which only the needs are asked: its axis matters only where it goes round a pipe.
pub(crate) fn weld_for_need(root: &Table<'_>, form: rules::joint::JointForm) -> WeldRead {
    if form.is_girth() {
        return weld(root);
    }
    let Some(table) = root.get("weld").and_then(|v| v.table()) else {
        return WeldRead {
            cap_width_mm: Some(0.0),
            orientation: None,
            ended: None,
        };
    };
    let cap = length!("cap_width")
        .get(&table)
        .map(|r| r.within(0.0, 300.0));
    let orientation = table
        .get("orientation")
        .and_then(|v| v.word_of(ORIENTATIONS));
    let ended = table.get("ended").and_then(|v| moment(&v));
    table.finish();
    WeldRead {
        ended,
        cap_width_mm: cap.map_or(Some(0.0), |read| read.map(|r| r.value)),
        orientation: orientation.map(|word| [Orientation::Horizontal, Orientation::Vertical][word]),
    }
}

pub(crate) fn weld(root: &Table<'_>) -> WeldRead {
    let nothing = WeldRead {
        cap_width_mm: None,
        orientation: None,
        ended: None,
    };
    let Some(table) = root
        .need("weld", "a table with cap_width and orientation")
        .and_then(|v| v.table())
    else {
        return nothing;
    };
    let cap = length!("cap_width")
        .need(&table)
        .and_then(|r| r.within(1.0, 300.0));
    let orientation = table
        .need("orientation", "\"horizontal\"")
        .and_then(|v| v.word_of(ORIENTATIONS));
    let ended = table.get("ended").and_then(|v| moment(&v));
    table.finish();
    WeldRead {
        ended,
        cap_width_mm: cap.map(|r| r.value),
        orientation: orientation.map(|word| [Orientation::Horizontal, Orientation::Vertical][word]),
    }
}

/// A date with time of day and zone, as a text or as TOML writes it.
fn moment(value: &Value<'_>) -> Option<Timestamp> {
    let read = match (value.as_text(), value.raw()) {
        (Some(text), _) => text.trim().parse().ok(),
        (None, DeValue::Datetime(written)) => written.to_string().parse().ok(),
        _ => None,
    };
    if read.is_none() {
        let hint = "the zone is never guessed: +01:00 for Berlin in winter, Z for UTC".into();
        value.fault(
            value.to_string(),
            "a date with time of day and zone, \"2026-03-04T15:20+01:00\"",
            Some(hint),
        );
    }
    read
}

pub(crate) fn surroundings(root: &Table<'_>, silent: &Silent) -> Option<Surroundings> {
    let Some(table) = root.get("surroundings").and_then(|v| v.table()) else {
        silent.take(
            root,
            "surroundings",
            format!("still air; {}", CHOICES.ambient_c.words(root.units())),
        );
        return Some(Surroundings {
            ambient: Celsius::from_c(CHOICES.ambient_c.value),
            wind_m_s: 0.0,
        });
    };
    let ambient_c = temperature!("ambient").or(
        &table,
        silent,
        (
            CHOICES.ambient_c.value,
            CHOICES.ambient_c.words(table.units()),
        ),
        AMBIENT_C,
    );
    let wind_m_s = speed!("wind").or(&table, silent, (0.0, "still air".to_owned()), WIND_M_S);
    table.finish();
    Some(Surroundings {
        ambient: Celsius::from_c(ambient_c?),
        wind_m_s: wind_m_s?,
    })
}

/// Reads `[[neighbor]]`.
pub(crate) fn neighbors<'a>(root: &Table<'a>) -> (Vec<Neighbor>, Vec<Table<'a>>) {
    let tables = root.tables("neighbor");
    let one = |table: &Table<'_>| {
        let name = table
            .need("name", "\"coating\"")
            .and_then(|v| v.text())
            .map(str::to_owned);
        let axial = length!("axial").need(table);
        let most = temperature!("max")
            .get(table)
            .and_then(|r| r.within(0.0, 1000.0));
        table.finish();
        Some(Neighbor {
            name: name?,
            axial: Millimeters::from_mm(axial?.value),
            limit: most.map(|r| Celsius::from_c(r.value)),
        })
    };
    (tables.iter().filter_map(one).collect(), tables)
}

/// Reads `[cycle]`; the place of the set point comes back for later faults.
pub(crate) fn cycle<'a>(root: &Table<'a>, silent: &Silent) -> (CycleWish, Option<Value<'a>>) {
    let usual = &CHOICES.recording_interval_s;
    let usual_s = usual.value;
    let table = root.get("cycle").and_then(|v| v.table());
    let Some(table) = table else {
        silent.take(root, "cycle.recording_interval", usual.words(root.units()));
        return (
            CycleWish {
                set_point: None,
                start: None,
                free_heating_rate: None,
                heating_rate: None,
                cooling_rate: None,
                hold_time: None,
                controlled_down_to: None,
                recording_interval: Duration::from_secs_f64(usual_s),
            },
            None,
        );
    };
    let treatment = |r: Read<'a>| r.within(TREATMENT_C.0, TREATMENT_C.1);
    let k_h = |r: Read<'a>| {
        r.within(RATE_K_H.0, RATE_K_H.1)
            .map(|r| KelvinsPerHour::from_k_h(r.value))
    };
    let celsius = |r: Read<'a>| Celsius::from_c(r.value);
    let set_point = temperature!("set_point").get(&table).and_then(treatment);
    let interval_h = time!("recording_interval").or(
        &table,
        silent,
        (usual_s / 3600.0, usual.words(table.units())),
        (1.0 / 3600.0, 0.25),
    );
    let wish = CycleWish {
        start: temperature!("start")
            .get(&table)
            .and_then(|r| r.within(-40.0, 600.0))
            .map(celsius),
        free_heating_rate: rate!("free_heating_rate").get(&table).and_then(k_h),
        heating_rate: rate!("heating_rate").get(&table).and_then(k_h),
        cooling_rate: rate!("cooling_rate").get(&table).and_then(k_h),
        hold_time: time!("hold_time")
            .get(&table)
            .and_then(|r| r.within(0.05, 200.0))
            .map(|r| Hours::from_h(r.value)),
        controlled_down_to: temperature!("controlled_down_to")
            .get(&table)
            .and_then(treatment)
            .map(celsius),
        recording_interval: Duration::from_secs_f64(
            interval_h.map_or(usual_s, |h| (h * 3600.0).round()),
        ),
        set_point: set_point.clone().map(celsius),
    };
    table.finish();
    (wish, set_point.map(|r| r.at))
}
