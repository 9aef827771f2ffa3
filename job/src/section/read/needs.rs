//! What a problem needs as a whole before it can be solved.

use field::section::{Outer, Symmetry};

use super::super::problem::{Edge, Material, SectionProblem};
use crate::toml_reader::{Faults, Table};

/// Net current of a planar section in open space, in parts of the currents that flow, that rounding may leave.
const NET_CURRENT_ROUNDING: f64 = 1e-9;

/// Notes what is missing or does not go together.
pub fn check(root: &Table<'_>, problem: &SectionProblem, faults: &Faults) {
    if problem.frequency_hz.is_none() && problem.heat.is_none() {
        let allowed = "frequency_hz for a field, [heat] for temperatures, or both";
        root.note(
            "neither frequency_hz nor [heat]".into(),
            allowed.into(),
            None,
        );
    }
    if problem.frequency_hz.is_none() && !problem.coils.is_empty() {
        root.note(
            "a coil without frequency_hz".into(),
            "frequency_hz = a frequency in Hz".into(),
            None,
        );
    }
    bodies(root, problem);
    if problem.frequency_hz.is_some() {
        field(root, problem, faults);
    }
    if problem.heat.is_some() {
        heat(root, problem, faults);
    }
    if problem.rows.is_empty() && root.get("expect").is_none() && root.get("ask").is_none() {
        root.note(
            "nothing that is asked".into(),
            "one or more [[ask]] or [[expect]]".into(),
            None,
        );
    }
}

/// Coils may stand alone in open space; everything else needs a body.
fn bodies(root: &Table<'_>, problem: &SectionProblem) {
    let coils_alone =
        !problem.coils.is_empty() && problem.outer == Outer::Far && problem.heat.is_none();
    if problem.bodies.is_empty() && !coils_alone {
        let allowed = "one or more [[body]], or coils alone in open space";
        root.note("no body".into(), allowed.into(), None);
    }
}

fn field(root: &Table<'_>, problem: &SectionProblem, faults: &Faults) {
    let driven = problem
        .edges
        .iter()
        .find(|edge| edge.tangential_field_a_m_peak.is_some());
    if driven.is_none() && problem.coils.is_empty() {
        let allowed = "a [[coil]], or an [[edge]] with tangential_field_a_m_peak";
        root.note("a field that nothing drives".into(), allowed.into(), None);
    }
    if let (Some(edge), Outer::Far) = (driven, problem.outer) {
        let allowed = "outer = \"natural\" with tangential_field_a_m_peak";
        faults.note_line(
            edge.line,
            "edge",
            "a prescribed field in open space",
            allowed,
            None,
        );
    }
    if (problem.symmetry, problem.outer) == (Symmetry::Planar, Outer::Far) {
        net_current(problem, faults);
    }
}

/// Open space round a planar section is only closed by currents that return within it.
fn net_current(problem: &SectionProblem, faults: &Faults) {
    let conductors = problem.coils.iter().flat_map(|coil| {
        coil.conductors
            .iter()
            .map(|conductor| conductor.turns * coil.current_a_peak)
    });
    let net_a: f64 = conductors.clone().sum();
    let all_a: f64 = conductors.map(f64::abs).sum();
    if net_a.abs() > NET_CURRENT_ROUNDING * all_a {
        let allowed = "turns whose currents add up to 0 in a planar section in open space";
        let hint = "add the conductors that carry the current back, with negative turns";
        let line = problem.coils[0].line;
        faults.note_line(
            line,
            "coil",
            format!("a net current of {net_a} A"),
            allowed,
            Some(hint.into()),
        );
    }
}

fn heat(root: &Table<'_>, problem: &SectionProblem, faults: &Faults) {
    let transient = problem.heat.is_some_and(|heat| heat.end_s.is_some());
    for body in &problem.bodies {
        let Some(material) = problem.materials.get(body.material) else {
            continue;
        };
        for key in missing_for_heat(material, transient) {
            let place = format!("material.{}", material.name);
            let allowed = format!(
                "{key}, as [heat] asks for the temperature of body {:?}",
                body.name
            );
            faults.note_line(
                material.line,
                &place,
                format!("no key {key}"),
                allowed,
                None,
            );
        }
    }
    let bound = |edge: &Edge| {
        let losing =
            edge.convection.is_some() || edge.radiation.is_some() || edge.blanket.is_some();
        losing || edge.temperature_c.is_some()
    };
    if !transient && !problem.edges.iter().any(bound) {
        let allowed =
            "an edge with temperature_c, convection, radiation or blanket, or [heat] with end_s";
        root.note(
            "a steady state that nothing holds".into(),
            allowed.into(),
            None,
        );
    }
}

/// What a material lacks for heat. An insulator without any property of heat is air and takes no part in it.
fn missing_for_heat(material: &Material, transient: bool) -> impl Iterator<Item = &'static str> {
    let conductivity = material.conductivity_w_mk.is_some();
    let specific_heat = material.specific_heat_j_kgk.is_some();
    let density = material.density_kg_m3.is_some();
    let air = material.resistivity_ohm_m.is_none() && !(conductivity || specific_heat || density);
    let given = [
        ("conductivity_w_mk", conductivity),
        ("specific_heat_j_kgk", specific_heat || !transient),
        ("density_kg_m3", density || !transient),
    ];
    let missing = given.into_iter().filter(move |(_, there)| !there && !air);
    missing.map(|(key, _)| key)
}
