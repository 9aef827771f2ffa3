//! The edges of a section file: pieces of boundary and what acts there.

use field::section::Point;
use materials::Property;

use super::super::problem::{Blanket, Convection, Edge, Heat, Radiation};
use super::{law, own_name, temperature};
use crate::toml_reader::{Table, Value};

/// Keys of heat that may stand together on one edge, and those that stand alone.
const ALONE: [&str; 2] = ["temperature_c", "blanket"];
const TOGETHER: [&str; 3] = ["heat_flux_w_m2", "convection", "radiation"];

/// Every `[[edge]]`.
pub fn read(root: &Table<'_>, heat: Option<Heat>) -> Vec<Edge> {
    let mut edges: Vec<Edge> = Vec::new();
    for table in root.tables("edge") {
        let taken = edges.iter().filter_map(|other| other.name.as_deref());
        let name = table.get("name").map(|_| own_name(&table, "edge", taken));
        edges.push(edge(&table, name, heat));
    }
    edges
}

fn edge(table: &Table<'_>, name: Option<String>, heat: Option<Heat>) -> Edge {
    let number = |key| table.get(key).and_then(|value: Value<'_>| value.number());
    let edge = Edge {
        name,
        from_m: end(table, "from_m"),
        to_m: end(table, "to_m"),
        tangential_field_a_m_peak: number("tangential_field_a_m_peak"),
        heat_flux_w_m2: number("heat_flux_w_m2"),
        temperature_c: table
            .get("temperature_c")
            .and_then(|value| held(&value, heat)),
        convection: inner(table, "convection", convection),
        radiation: inner(table, "radiation", radiation),
        blanket: inner(table, "blanket", blanket),
        line: table.line(),
    };
    together(table);
    table.finish();
    edge
}

fn end(table: &Table<'_>, key: &'static str) -> Point {
    let value = table.need(key, "a point [u, v] in meters");
    value
        .and_then(|value| value.exactly::<2>())
        .unwrap_or_default()
}

fn inner<T>(table: &Table<'_>, key: &'static str, read: fn(&Table<'_>) -> Option<T>) -> Option<T> {
    let inner = table.get(key)?.table()?;
    let read = read(&inner);
    inner.finish();
    read
}

/// Notes keys that may not stand beside each other.
fn together(table: &Table<'_>) {
    let mut alone = ALONE.iter().filter_map(|key| Some((*key, table.get(key)?)));
    let Some((first, value)) = alone.next() else {
        return;
    };
    let beside = TOGETHER
        .iter()
        .copied()
        .filter(|key| table.get(key).is_some());
    let others: Vec<&str> = alone.map(|(key, _)| key).chain(beside).collect();
    if !others.is_empty() {
        let found = format!("{first} beside {}", others.join(" and "));
        value.fault(
            found,
            format!("{first} alone; or {} together", TOGETHER.join(", ")),
            None,
        );
    }
}

/// A temperature that is held: one, or a course that covers the run.
fn held(value: &Value<'_>, heat: Option<Heat>) -> Option<Vec<(f64, f64)>> {
    let course = law::temperature_in_time(value)?;
    let (Some(first), Some(last), true) = (course.first(), course.last(), course.len() > 1) else {
        return Some(course);
    };
    let covers = format!("a course from {} s to {} s", first.0, last.0);
    match heat.map(|heat| heat.end_s) {
        Some(None) => value.fault(
            covers,
            "one temperature, as the steady state is asked for",
            None,
        ),
        Some(Some(end_s)) if first.0 > 0.0 || last.0 < end_s => {
            value.fault(
                covers,
                format!("a course from 0 s to end_s, {end_s} s"),
                None,
            );
        }
        _ => {}
    }
    Some(course)
}

fn convection(table: &Table<'_>) -> Option<Convection> {
    let w_m2k = transfer(table, "w_m2k");
    let ambient_c = ambient(table);
    Some(Convection {
        w_m2k: w_m2k?,
        ambient_c: ambient_c?,
    })
}

fn radiation(table: &Table<'_>) -> Option<Radiation> {
    let emissivity = emissivity(table);
    let ambient_c = ambient(table);
    Some(Radiation {
        emissivity: emissivity?,
        ambient_c: ambient_c?,
    })
}

fn blanket(table: &Table<'_>) -> Option<Blanket> {
    let above_zero = |key, allowed| {
        table
            .need(key, allowed)
            .and_then(|value| value.number_above(0.0))
    };
    let thickness_m = above_zero("thickness_m", "a thickness in meters");
    let density_kg_m3 = above_zero("density_kg_m3", "a density in kg/m3");
    let specific_heat_j_kgk = above_zero("specific_heat_j_kgk", "a specific heat in J/(kg K)");
    let conductivity_w_mk = table
        .need("conductivity_w_mk", "a number or a table over temperature")
        .and_then(|value| law::read(&value, Some(Property::Conductivity)));
    let outside = table.need(
        "then",
        "{ convection_w_m2k = ..., emissivity = ..., ambient_c = ... }",
    );
    let (convection_w_m2k, emissivity, ambient_c) = outside_of(&outside?.table()?)?;
    Some(Blanket {
        thickness_m: thickness_m?,
        conductivity_w_mk: conductivity_w_mk?,
        density_kg_m3: density_kg_m3?,
        specific_heat_j_kgk: specific_heat_j_kgk?,
        convection_w_m2k,
        emissivity,
        ambient_c,
    })
}

fn outside_of(table: &Table<'_>) -> Option<(f64, f64, f64)> {
    let convection_w_m2k = transfer(table, "convection_w_m2k");
    let emissivity = emissivity(table);
    let ambient_c = ambient(table);
    table.finish();
    Some((convection_w_m2k?, emissivity?, ambient_c?))
}

fn transfer(table: &Table<'_>, key: &'static str) -> Option<f64> {
    let value = table.need(key, "a heat transfer coefficient in W/(m2 K)");
    value.and_then(|value| value.number_within(0.0, f64::INFINITY))
}

fn emissivity(table: &Table<'_>) -> Option<f64> {
    let value = table.need("emissivity", "an emissivity from 0 to 1");
    value.and_then(|value| value.number_within(0.0, 1.0))
}

fn ambient(table: &Table<'_>) -> Option<f64> {
    let value = table.need("ambient_c", "a temperature in °C");
    value.and_then(|value| temperature(&value))
}
