//! The shapes of a problem: outlines, overlaps, conductors, edges and points, each fault at its line.

use field::mesh::{check as check_section, covers, lies_in};
use field::section::{Body, Metal, Outer, Permeability, Section, Symmetry, Winding};
use field::table::Table;

use super::super::problem::{Asked, SectionProblem};
use crate::toml_reader::Faults;

/// Notes every shape that cannot be.
pub fn check(problem: &SectionProblem, faults: &Faults) {
    let bodies: Vec<(usize, Body)> = problem
        .bodies
        .iter()
        .filter(|body| !body.polygon.is_empty())
        .map(|body| (body.line, outline_of(problem, body)))
        .collect();
    let sound = outlines(problem, &bodies, faults);
    overlaps(problem, &sound, faults);
    conductors(problem, &sound, faults);
    let section = section(
        problem,
        sound.iter().map(|(_, body)| body.clone()).collect(),
        Vec::new(),
    );
    if sound.len() == problem.bodies.len() {
        edges(problem, &section, faults);
        points(problem, &section, faults);
    }
}

/// A body for the questions of this file: only whether it conducts matters of its material.
fn outline_of(problem: &SectionProblem, body: &super::super::problem::SectionBody) -> Body {
    let conducts = problem
        .materials
        .get(body.material)
        .is_some_and(|material| material.resistivity_ohm_m.is_some());
    Body {
        name: body.name.clone(),
        polygon: body.polygon.clone(),
        metal: Metal {
            resistivity_ohm_m: conducts.then(|| Table::constant(1.0)),
            permeability: Permeability::Constant(1.0),
            conductivity_w_mk: Table::constant(1.0),
            heat_content_j_m3: Table::constant(1.0),
        },
    }
}

fn section(problem: &SectionProblem, bodies: Vec<Body>, windings: Vec<Winding>) -> Section {
    Section {
        symmetry: problem.symmetry,
        outer: problem.outer,
        bodies,
        windings,
    }
}

/// Checks each body alone; those that are sound come back.
fn outlines(
    problem: &SectionProblem,
    bodies: &[(usize, Body)],
    faults: &Faults,
) -> Vec<(usize, Body)> {
    let mut sound = Vec::new();
    for (line, body) in bodies {
        // A body alone in open space has no air to mesh, and none is meshed here.
        match check_section(&section(problem, vec![body.clone()], Vec::new())) {
            Ok(()) => sound.push((*line, body.clone())),
            Err(error) => {
                faults.note_line(*line, "body", error.to_string(), "a simple polygon", None)
            }
        }
    }
    sound
}

fn overlaps(problem: &SectionProblem, bodies: &[(usize, Body)], faults: &Faults) {
    for (number, (line, body)) in bodies.iter().enumerate() {
        for (_, other) in &bodies[..number] {
            let pair = section(problem, vec![other.clone(), body.clone()], Vec::new());
            if let Err(error) = check_section(&pair) {
                faults.note_line(
                    *line,
                    "body",
                    error.to_string(),
                    "bodies that touch at most",
                    None,
                );
            }
        }
    }
}

fn conductors(problem: &SectionProblem, bodies: &[(usize, Body)], faults: &Faults) {
    for coil in &problem.coils {
        for (number, conductor) in coil.conductors.iter().enumerate() {
            let winding = Winding {
                name: coil.name.clone(),
                conductors: vec![*conductor],
            };
            let alone = section(problem, Vec::new(), vec![winding.clone()]);
            let with_bodies = bodies
                .iter()
                .map(|(_, body)| section(problem, vec![body.clone()], vec![winding.clone()]));
            let complaint = std::iter::once(Section {
                outer: Outer::Far,
                ..alone
            })
            .chain(with_bodies)
            .find_map(|section| check_section(&section).err());
            if let Some(error) = complaint {
                let place = format!("coil {:?} conductors[{}]", coil.name, number + 1);
                faults.note_line(
                    coil.line,
                    &place,
                    error.to_string(),
                    "conductors in air",
                    None,
                );
            }
        }
    }
}

fn edges(problem: &SectionProblem, section: &Section, faults: &Faults) {
    for edge in &problem.edges {
        let [from, to] = [edge.from_m, edge.to_m];
        if !covers(section, from, to) {
            let found = format!(
                "no outline from ({}, {}) m to ({}, {}) m",
                from[0], from[1], to[0], to[1]
            );
            let allowed = "a straight piece of the outlines of the bodies";
            faults.note_line(edge.line, "edge", found, allowed, None);
        }
        let on_axis = problem.symmetry == Symmetry::Axisymmetric && from[0] == 0.0 && to[0] == 0.0;
        if on_axis {
            faults.note_line(
                edge.line,
                "edge",
                "an edge on the axis",
                "edges with an area",
                None,
            );
        }
    }
}

fn points(problem: &SectionProblem, section: &Section, faults: &Faults) {
    for row in &problem.rows {
        let Asked::Temperature { point_m } = row.asked else {
            continue;
        };
        if !section.bodies.iter().any(|body| lies_in(body, point_m)) {
            let found = format!(
                "a point outside every body, ({}, {}) m",
                point_m[0], point_m[1]
            );
            faults.note_line(
                row.line,
                "point_m",
                found,
                "a point in a body or on its outline",
                None,
            );
        }
    }
}
