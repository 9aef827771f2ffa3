//! Turns that lie within the blanket instead of on it: how hot their surroundings are.
//!
//! Heat goes straight through the blanket, at rest and as through a plate, with its conductivity over temperature; its
//! outside gives off what the model of the outside says (docs/theory/surroundings.md). Round a pipe the blanket is a
//! little cooler than a plate at the same depth, so the answer is on the safe side.

use materials::air;

use crate::error::CycleError;
use crate::joint::JointSection;
use crate::laws::law;
use crate::setup::{Coil, Setup};
use crate::surroundings::outside::OutsideSurface;

/// A turn counts as inside where its underside lies deeper than this, in mm: layers give by as much.
const DEEPER_MM: f64 = 1.0;

/// Halvings of the interval in which a temperature is sought: far below a hundredth of a kelvin.
const HALVINGS: usize = 40;

/// Steps over which conductivity is summed.
const STEPS: usize = 64;

/// A turn within the blanket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnInBlanket {
    /// Its number in the coil, from 1.
    pub number: usize,
    /// From the weld center in mm.
    pub axial_mm: f64,
    /// From the metal to the underside of the cable, in mm.
    pub standoff_mm: f64,
    /// Temperature of the blanket at the underside of the cable in °C; a cable that is cooled is itself cooler.
    pub surroundings_c: f64,
}

/// Every turn that lies within the blanket, where the metal under it is as hot as `outside_c` says of a place in mm.
///
/// # Errors
/// Properties of blanket or air asked for outside their range.
pub fn turns_in_blanket(
    setup: &Setup,
    coil: &Coil,
    joint: &JointSection,
    outside_c: &dyn Fn(f64) -> f64,
) -> Result<Vec<TurnInBlanket>, CycleError> {
    let thickness_mm = setup.blanket.thickness.mm();
    let [first, second] = setup.blanket.reach.map(|reach| reach.mm());
    let inside = coil.turns.iter().enumerate().filter(|(_, turn)| {
        turn.standoff.mm() < thickness_mm - DEEPER_MM
            && (-first..=second).contains(&turn.axial.mm())
    });
    inside
        .map(|(index, turn)| {
            let metal_c = outside_c(turn.axial.mm());
            let depth_m = turn.standoff.m();
            Ok(TurnInBlanket {
                number: index + 1,
                axial_mm: turn.axial.mm(),
                standoff_mm: turn.standoff.mm(),
                surroundings_c: within(setup, joint, turn.axial.m(), metal_c, depth_m)?,
            })
        })
        .collect()
}

/// Temperature in °C within the blanket at a depth above the metal.
fn within(
    setup: &Setup,
    joint: &JointSection,
    axial_m: f64,
    metal_c: f64,
    depth_m: f64,
) -> Result<f64, CycleError> {
    let ambient_c = setup.surroundings.ambient.c();
    if metal_c <= ambient_c {
        return Ok(metal_c);
    }
    let conductivity = law(&setup.blanket.material.conductivity)?;
    let thickness_m = setup.blanket.thickness.m();
    let surface = OutsideSurface {
        diameter_m: 2.0 * (joint.outside_radius_m(axial_m) + thickness_m),
        length_m: joint.lengths_m[0] + joint.lengths_m[1],
        orientation: setup.joint.orientation,
        emissivity: crate::assumptions::blanket_surface().emissivity.value,
        ambient_c,
        wind_m_s: setup.surroundings.wind_m_s,
    };
    let given_off =
        surface
            .table(air(), ambient_c, metal_c)
            .map_err(|cause| CycleError::Property {
                doing: "asking how hot the surroundings of a turn are".into(),
                detail: cause.to_string(),
            })?;
    // What is conducted between two temperatures, in W/m.
    let conducted = |from_c: f64| -> f64 {
        let step_k = (metal_c - from_c) / STEPS as f64;
        (0..STEPS)
            .map(|i| conductivity.at(from_c + (i as f64 + 0.5) * step_k) * step_k)
            .sum()
    };
    let face_c = sought([ambient_c, metal_c], |c| {
        conducted(c) - thickness_m * given_off.at(c)
    });
    let flux_w_m2 = given_off.at(face_c);
    Ok(sought([face_c, metal_c], |c| {
        conducted(c) - depth_m * flux_w_m2
    }))
}

/// Where a falling function passes zero.
fn sought([mut low, mut high]: [f64; 2], of: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if of(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
