//! The coil in its place: where each turn lies, how long the cable is, and what its own resistance is.

use std::f64::consts::PI;

use field::section::{Conductor, Shape, Winding};
use materials::{Cable, MaterialError};

use crate::closed_forms::ring::{Ring, series_inductance_h};
use crate::error::CycleError;
use crate::joint::JointSection;
use crate::setup::{Coil, Turn};

/// Turns may touch, not overlap; so much overlap is rounding.
const TOUCHING_M: f64 = 1e-6;

/// The coil round a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedCoil {
    /// Center line of each turn, in the order of the coil.
    pub rings: Vec<Ring>,
    /// Radius of the pipe surface under each turn in m.
    pub surface_m: Vec<f64>,
    /// Radius of the bundle of copper in m: where the current flows.
    pub bundle_radius_m: f64,
    /// Outside radius of the cable in m.
    pub cable_radius_m: f64,
}

/// Puts a coil round a joint: the center of a turn lies at pipe radius + standoff + cable radius.
///
/// # Errors
/// Turns that overlap, lie inside the metal or beyond the modeled pipe, and a coil without turns.
pub fn place(coil: &Coil, cable: &Cable, joint: &JointSection) -> Result<PlacedCoil, CycleError> {
    let cable_radius_m = 0.5e-3 * cable.outside_diameter_mm.value;
    let surface_m: Vec<f64> = coil
        .turns
        .iter()
        .map(|turn| highest_under(joint, turn, cable_radius_m))
        .collect();
    let rings: Vec<Ring> = coil
        .turns
        .iter()
        .zip(&surface_m)
        .map(|(turn, surface)| Ring {
            radius_m: surface + turn.standoff.m() + cable_radius_m,
            axial_m: turn.axial.m(),
        })
        .collect();
    check_turns(coil, joint, &rings, cable_radius_m)?;
    Ok(PlacedCoil {
        rings,
        surface_m,
        bundle_radius_m: 0.5e-3 * cable.bundle_diameter_mm.value,
        cable_radius_m,
    })
}

/// The cable lies on the highest point of the surface beneath its width.
fn highest_under(joint: &JointSection, turn: &Turn, cable_radius_m: f64) -> f64 {
    [-1.0, 0.0, 1.0]
        .map(|part| joint.outside_radius_m(turn.axial.m() + part * cable_radius_m))
        .into_iter()
        .fold(0.0, f64::max)
}

fn check_turns(
    coil: &Coil,
    joint: &JointSection,
    rings: &[Ring],
    cable_radius_m: f64,
) -> Result<(), CycleError> {
    let refuse = |what: &str, given: f64, [least, most]: [f64; 2], hint: &str| {
        Err(CycleError::OutOfRange {
            what: what.into(),
            given,
            least,
            most,
            unit: "mm",
            hint: hint.into(),
        })
    };
    if rings.is_empty() {
        return Err(CycleError::OutOfRange {
            what: "number of turns".into(),
            given: 0.0,
            least: 1.0,
            most: f64::INFINITY,
            unit: "turns",
            hint: "give the turns, or leave the coil out and let it be proposed".into(),
        });
    }
    for turn in &coil.turns {
        if turn.standoff.mm() < 0.0 {
            let hint = "the cable lies outside the pipe";
            return refuse("standoff of a turn", turn.standoff.mm(), [0.0, 1e3], hint);
        }
        let [below, above] = joint.lengths_m.map(|m| m * 1e3);
        if turn.axial.mm() < -below || turn.axial.mm() > above {
            let hint =
                "every turn lies over the pipe: check the turns and the lengths of the sides";
            return refuse("place of a turn", turn.axial.mm(), [-below, above], hint);
        }
    }
    for (index, ring) in rings.iter().enumerate() {
        for other in &rings[index + 1..] {
            let apart_m = libm::hypot(ring.radius_m - other.radius_m, ring.axial_m - other.axial_m);
            if apart_m < 2.0 * cable_radius_m - TOUCHING_M {
                let hint = "turns lie side by side: widen the pitch or take a thinner cable";
                let least = 2e3 * cable_radius_m;
                return refuse(
                    "distance of two turns",
                    tenths(apart_m * 1e3),
                    [
                        tenths(least),
                        tenths(1e3 * joint.lengths_m.iter().sum::<f64>()),
                    ],
                    hint,
                );
            }
        }
    }
    Ok(())
}

impl PlacedCoil {
    /// The coil as a winding of the section: a round conductor a turn.
    pub fn winding(&self) -> Winding {
        Winding {
            name: "coil".into(),
            conductors: self
                .shapes()
                .map(|shape| Conductor { shape, turns: 1.0 })
                .collect(),
        }
    }

    /// The outlines of the copper.
    pub fn shapes(&self) -> impl Iterator<Item = Shape> + '_ {
        self.rings.iter().map(|ring| Shape::Circle {
            center_m: [ring.radius_m, ring.axial_m],
            radius_m: self.bundle_radius_m,
        })
    }

    /// Length of cable in the turns, in m.
    pub fn length_m(&self) -> f64 {
        self.rings.iter().map(|ring| 2.0 * PI * ring.radius_m).sum()
    }

    /// Inductance in H of the coil without the joint (circuit.md eq. 4).
    pub fn inductance_in_air_h(&self) -> f64 {
        series_inductance_h(&self.rings, self.bundle_radius_m)
    }

    /// Resistance in ohm of the cable itself at a frequency in Hz and a temperature of its copper in °C.
    ///
    /// The strands of a turn lie in the field of its neighbors and of the currents in the joint. Both are taken as
    /// straight conductors, the joint as a mirror that returns the whole current: cold steel and shallow currents come
    /// near to that, a hot joint returns less, so the estimate is high (circuit.md eq. 8).
    ///
    /// # Errors
    /// The range of the resistivity of copper.
    pub fn resistance_ohm(
        &self,
        cable: &Cable,
        frequency_hz: f64,
        copper_c: f64,
    ) -> Result<f64, MaterialError> {
        let direct_ohm_m = cable.direct_resistance_ohm_m(copper_c)?;
        let mut total_ohm = 0.0;
        for (index, ring) in self.rings.iter().enumerate() {
            let factor = cable.alternating_factor(frequency_hz, self.field_at(index), copper_c)?;
            total_ohm += direct_ohm_m * factor * 2.0 * PI * ring.radius_m;
        }
        Ok(total_ohm)
    }

    /// Field strength at a turn per ampere in the coil, made by all but the turn itself, in 1/m.
    fn field_at(&self, index: usize) -> f64 {
        let here = self.rings[index];
        let mut field = [0.0, 0.0];
        let mut add = |current: f64, radius_m: f64, axial_m: f64| {
            let (dr, dz) = (here.radius_m - radius_m, here.axial_m - axial_m);
            let part = current / (2.0 * PI * (dr * dr + dz * dz));
            field[0] -= part * dz;
            field[1] += part * dr;
        };
        for (other, ring) in self.rings.iter().enumerate() {
            if other != index {
                add(1.0, ring.radius_m, ring.axial_m);
            }
            let mirrored_m = 2.0 * self.surface_m[other] - ring.radius_m;
            add(-1.0, mirrored_m, ring.axial_m);
        }
        libm::hypot(field[0], field[1])
    }
}
/// Numbers of a message are read to a tenth.
fn tenths(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}
