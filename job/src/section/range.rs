//! Watching that a run stays within its tables.

use field::heat::{Model, State};
use field::mesh::{Mesh, Region};
use field::space::Space;

use super::SectionError;
use super::problem::{Law, Material, SectionProblem};

/// A temperature counts as within a table up to this much beyond its ends: quadratic elements swing a little where
/// temperature is steep, by a share of the span of temperatures in a body, and a step in time has its own error.
const SWING_K: f64 = 0.5;
const SWING_SHARE: f64 = 0.02;

/// The laws of a run, and where each is needed.
pub(super) struct Watch<'a> {
    problem: &'a SectionProblem,
    limits: Vec<Limit>,
}

struct Limit {
    law: String,
    line: usize,
    range_c: (f64, f64),
    unknowns: Vec<u32>,
}

impl<'a> Watch<'a> {
    /// Every table of the bodies and blankets of a problem with heat; `with_field` where losses are computed, too.
    pub fn new(
        problem: &'a SectionProblem,
        (mesh, space): (&Mesh, &Space),
        model: &Model,
        with_field: bool,
    ) -> Watch<'a> {
        let mut limits = Vec::new();
        for (number, body) in problem.bodies.iter().enumerate() {
            let material = &problem.materials[body.material];
            let unknowns = unknowns_of(mesh, space, model, number);
            for (key, law) in laws(material, with_field) {
                let name = format!("{key} of material {:?}", material.name);
                limits.extend(limit(name, law, unknowns.clone()));
            }
        }
        Watch { problem, limits }
    }

    /// Adds the table of a blanket, by the unknowns of its outside and of the metal below it.
    pub fn add_blanket(&mut self, law: &Law, unknowns: Vec<u32>) {
        self.limits.extend(limit(
            "conductivity_w_mk of the blanket".into(),
            law,
            unknowns,
        ));
    }

    /// Holds the temperatures of a state against every table.
    ///
    /// # Errors
    /// [`SectionError::LeftRange`] with the first table that is left.
    pub fn check(&self, state: &State, when: &str) -> Result<(), SectionError> {
        for limit in &self.limits {
            let temperatures = limit
                .unknowns
                .iter()
                .map(|&unknown| state.temperature_c[unknown as usize]);
            let (coldest, hottest) = temperatures
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), t| {
                    (low.min(t), high.max(t))
                });
            let swing_k = SWING_K + SWING_SHARE * (hottest - coldest).max(0.0);
            let (lowest_c, highest_c) = limit.range_c;
            let below = coldest < lowest_c - swing_k;
            if below || hottest > highest_c + swing_k {
                return Err(SectionError::LeftRange {
                    file: self.problem.file.clone(),
                    line: limit.line,
                    law: limit.law.clone(),
                    lowest_c,
                    highest_c,
                    reached_c: if below { coldest } else { hottest },
                    when: when.to_owned(),
                });
            }
        }
        Ok(())
    }
}

/// Holds one temperature of all bodies against the tables of a field.
///
/// # Errors
/// [`SectionError::LeftRange`] with the first table that does not hold there.
pub(super) fn check_uniform(
    problem: &SectionProblem,
    temperature_c: f64,
) -> Result<(), SectionError> {
    for body in &problem.bodies {
        let material = &problem.materials[body.material];
        let Some(law) = &material.resistivity_ohm_m else {
            continue;
        };
        let outside = law
            .range_c()
            .filter(|(lowest, highest)| !(*lowest..=*highest).contains(&temperature_c));
        if let Some((lowest_c, highest_c)) = outside {
            return Err(SectionError::LeftRange {
                file: problem.file.clone(),
                line: law.line,
                law: format!("resistivity_ohm_m of material {:?}", material.name),
                lowest_c,
                highest_c,
                reached_c: temperature_c,
                when: "at temperature_c".into(),
            });
        }
    }
    Ok(())
}

fn limit(law: String, stated: &Law, unknowns: Vec<u32>) -> Option<Limit> {
    Some(Limit {
        law,
        line: stated.line,
        range_c: stated.range_c()?,
        unknowns,
    })
}

fn laws(material: &Material, with_field: bool) -> impl Iterator<Item = (&'static str, &Law)> {
    let resistivity = material.resistivity_ohm_m.as_ref().filter(|_| with_field);
    [
        ("resistivity_ohm_m", resistivity),
        ("conductivity_w_mk", material.conductivity_w_mk.as_ref()),
        ("specific_heat_j_kgk", material.specific_heat_j_kgk.as_ref()),
    ]
    .into_iter()
    .filter_map(|(key, law)| Some((key, law?)))
}

/// The unknowns of the nodes of a body, each once.
fn unknowns_of(mesh: &Mesh, space: &Space, model: &Model, body: usize) -> Vec<u32> {
    let own = mesh.regions.iter().zip(&space.elements);
    let mut unknowns: Vec<u32> = own
        .filter(|(region, _)| **region == Region::Body(body as u16))
        .flat_map(|(_, nodes)| nodes.iter().filter_map(|&node| model.unknown_of_node(node)))
        .collect();
    unknowns.sort_unstable();
    unknowns.dedup();
    unknowns
}
