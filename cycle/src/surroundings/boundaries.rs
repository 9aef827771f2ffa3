//! The laws of heat on the outlines of the joint.

use field::heat::{Blanket, Boundary, Convection, Law, Loss, Radiation};
use materials::air;
use quantity::OutOfRange;

use super::outside::OutsideSurface;
use crate::error::CycleError;
use crate::joint::JointSection;
use crate::laws::law;
use crate::setup::Setup;
use crate::surface_lines::Pieces;

/// Cells across the blanket: with four the error is below half a kelvin (docs/theory/heat.md, section 4).
const BLANKET_CELLS: usize = 4;

/// The laws of a joint, and which of them is the bore.
#[derive(Clone, Debug)]
pub struct Boundaries {
    /// The laws, for the heat solver.
    pub laws: Vec<Boundary>,
    /// Number of the law of the bore, by side, where the side has one.
    pub bore: [Option<usize>; 2],
}

/// Makes the laws between two temperatures in °C.
///
/// `bore_w_m2k` is the coefficient to the bore air; the warmth of that air comes in through the ambient temperature of
/// radiation, which the caller keeps up to date.
///
/// # Errors
/// Properties asked for outside their range.
pub fn boundaries(
    setup: &Setup,
    joint: &JointSection,
    pieces: &Pieces,
    bore_w_m2k: f64,
    range_c: [f64; 2],
) -> Result<Boundaries, CycleError> {
    let mut laws = Vec::new();
    let mut bore = [None, None];
    for side in [0, 1] {
        if !pieces.covered[side].is_empty() {
            let law = Law::Blanket(blanket(setup, joint, side, range_c)?);
            laws.push(Boundary {
                pieces: pieces.covered[side].clone(),
                law,
            });
        }
        if !pieces.bare[side].is_empty() {
            let emissivity = setup.joint.sides[side].metal.emissivity.value;
            let radius_m = joint.outside_radius_m(end_m(joint, side));
            let law = Law::Loss(outside(setup, joint, radius_m, emissivity, range_c)?);
            laws.push(Boundary {
                pieces: pieces.bare[side].clone(),
                law,
            });
        }
        if !pieces.bore[side].is_empty() {
            bore[side] = Some(laws.len());
            let law = Law::Loss(bore_loss(setup, side, bore_w_m2k));
            laws.push(Boundary {
                pieces: pieces.bore[side].clone(),
                law,
            });
        }
    }
    Ok(Boundaries { laws, bore })
}

fn end_m(joint: &JointSection, side: usize) -> f64 {
    [-1.0, 1.0][side] * joint.lengths_m[side]
}

fn blanket(
    setup: &Setup,
    joint: &JointSection,
    side: usize,
    range_c: [f64; 2],
) -> Result<Blanket, CycleError> {
    let wrap = &setup.blanket;
    let emissivity = crate::assumptions::blanket_surface().emissivity.value;
    let middle_m = [-0.5, 0.5][side] * wrap.reach[side].m();
    let radius_m = joint.outside_radius_m(middle_m) + wrap.thickness.m();
    Ok(Blanket {
        thickness_m: wrap.thickness.m(),
        cells: BLANKET_CELLS,
        conductivity_w_mk: law(&wrap.material.conductivity)?,
        heat_capacity_j_m3k: wrap.material.density_kg_m3.value
            * wrap.material.specific_heat_j_kgk.value,
        outside: outside(setup, joint, radius_m, emissivity, range_c)?,
    })
}

fn outside(
    setup: &Setup,
    joint: &JointSection,
    radius_m: f64,
    emissivity: f64,
    [from_c, to_c]: [f64; 2],
) -> Result<Loss, CycleError> {
    let surface = OutsideSurface {
        diameter_m: 2.0 * radius_m,
        length_m: joint.lengths_m[0] + joint.lengths_m[1],
        orientation: setup.joint.orientation,
        emissivity,
        ambient_c: setup.surroundings.ambient.c(),
        wind_m_s: setup.surroundings.wind_m_s,
    };
    let table = surface
        .table(air(), from_c, to_c)
        .map_err(|cause: OutOfRange| CycleError::Property {
            doing: "making the table of heat given off outside".into(),
            detail: cause.to_string(),
        })?;
    Ok(Loss {
        tabulated_w_m2: Some(table),
        ..Loss::default()
    })
}

fn bore_loss(setup: &Setup, side: usize, bore_w_m2k: f64) -> Loss {
    let ambient_c = setup.surroundings.ambient.c();
    let emissivity = setup.joint.sides[side].metal.emissivity.value;
    Loss {
        convection: Some(Convection {
            w_m2k: bore_w_m2k,
            ambient_c,
        }),
        radiation: Some(Radiation {
            emissivity,
            ambient_c,
        }),
        ..Loss::default()
    }
}
