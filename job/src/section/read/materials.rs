//! The materials of a section file.

use ::materials::Property;
use field::section::Curie;

use super::super::problem::{Law, Magnetization, Material};
use super::{law, temperature};
use crate::toml_reader::{Table, Value};

/// Every `[material.name]`.
pub fn read(root: &Table<'_>) -> Vec<Material> {
    let tables = root.named_tables("material");
    tables
        .iter()
        .map(|(name, table)| material(name, table))
        .collect()
}

fn material(name: &str, table: &Table<'_>) -> Material {
    let of = |key, property| {
        table
            .get(key)
            .map(|value| law::read(&value, property).unwrap_or_else(unread))
    };
    let material = Material {
        name: name.to_owned(),
        resistivity_ohm_m: of("resistivity_ohm_m", None),
        magnetization: magnetization(table).unwrap_or(Magnetization::Constant(1.0)),
        curie: table.get("curie").and_then(|value| curie(&value.table()?)),
        conductivity_w_mk: of("conductivity_w_mk", Some(Property::Conductivity)),
        specific_heat_j_kgk: of("specific_heat_j_kgk", Some(Property::SpecificHeat)),
        density_kg_m3: table
            .get("density_kg_m3")
            .map(|value| value.number_above(0.0).unwrap_or(1.0)),
        line: table.line(),
    };
    table.finish();
    material
}

/// What stands for a law that is there but cannot be read, so that it is not also called missing.
fn unread() -> Law {
    Law {
        points: vec![(0.0, 1.0)],
        line: 1,
    }
}

/// The magnetic law; `None` where nothing is said of it or what is said is faulty.
fn magnetization(table: &Table<'_>) -> Option<Magnetization> {
    let keys = ["relative_permeability", "magnetisation", "magnetization"];
    let (key, value) = table.one_of(&keys, false)?;
    if key == "relative_permeability" {
        return Some(Magnetization::Constant(permeability(&value)?));
    }
    let table = value.table()?;
    let form = table.need("form", "\"froehlich\", \"arctan\" or \"table\"");
    let form = form.and_then(|form| form.word_of(&["froehlich", "arctan", "table"]));
    let read = match form? {
        0 => saturating(&table).map(|(saturation_t, initial_permeability)| {
            Magnetization::Froehlich {
                saturation_t,
                initial_permeability,
            }
        }),
        1 => saturating(&table).map(
            |(saturation_t, initial_permeability)| Magnetization::Arctan {
                saturation_t,
                initial_permeability,
            },
        ),
        _ => tabulated(&table).map(Magnetization::Table),
    };
    table.finish();
    read
}

fn permeability(value: &Value<'_>) -> Option<f64> {
    value.number_within(1.0, f64::INFINITY)
}

fn saturating(table: &Table<'_>) -> Option<(f64, f64)> {
    let saturation = table.need("saturation_t", "the saturation polarization in T");
    let initial = table.need(
        "initial_permeability",
        "the relative permeability at vanishing field",
    );
    let saturation_t = saturation.and_then(|value| value.number_above(0.0));
    let initial_permeability = initial.and_then(|value| value.number_above(1.0));
    Some((saturation_t?, initial_permeability?))
}

fn tabulated(table: &Table<'_>) -> Option<Vec<(f64, f64)>> {
    let strengths = table.need("h_a_m", "field strengths in A/m, ascending from 0 up");
    let permeabilities = table.need("relative_permeability", "as many relative permeabilities");
    let strength_rows = strengths.and_then(|value| value.list())?;
    let permeability_value = permeabilities?;
    let permeability_rows = permeability_value.list()?;
    if strength_rows.len() != permeability_rows.len() || strength_rows.is_empty() {
        let found = format!(
            "{} beside {} field strengths",
            permeability_rows.len(),
            strength_rows.len()
        );
        permeability_value.fault(found, "as many of both, at least one", None);
        return None;
    }
    let strengths: Vec<_> = strength_rows
        .iter()
        .map(|row| row.number_within(0.0, f64::INFINITY))
        .collect();
    let values: Vec<_> = permeability_rows.iter().map(permeability).collect();
    let points: Vec<(f64, f64)> = strengths
        .into_iter()
        .zip(values)
        .map(|(h, mu)| Some((h?, mu?)))
        .collect::<Option<_>>()?;
    law::ascending(&strength_rows, points.iter().map(|point| point.0)).then_some(points)
}

fn curie(table: &Table<'_>) -> Option<Curie> {
    let point = table.need("point_c", "the Curie point in °C");
    let exponent = table.need("exponent", "a number above 0");
    let reference = table.need(
        "reference_c",
        "the temperature in °C of the stated permeability",
    );
    let point_c = point.as_ref().and_then(temperature);
    let exponent = exponent.and_then(|value| value.number_above(0.0));
    let reference_c = reference.and_then(|value| temperature(&value));
    table.finish();
    let curie = Curie {
        point_c: point_c?,
        exponent: exponent?,
        reference_c: reference_c?,
    };
    if curie.point_c <= curie.reference_c {
        point?.fault(
            format!("{}", curie.point_c),
            format!("above reference_c, {}", curie.reference_c),
            None,
        );
        return None;
    }
    Some(curie)
}
