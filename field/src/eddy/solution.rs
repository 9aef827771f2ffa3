//! A solved field, and what can be asked of it.

use num_complex::Complex64;

use super::drive::Drive;
use super::frozen::{Frozen, body_power_w};
use super::problem::Problem;
use super::solve::State;
use crate::element::POINTS;
use crate::section::Point;

/// A solved field.
pub struct Solution {
    /// Peak vector potential at every node in Wb/m (times r it draws the lines of flux, when axisymmetric).
    pub potential_wb_m: Vec<Complex64>,
    /// Heat set free in each body, in W (in W per meter of depth when planar).
    pub body_power_w: Vec<f64>,
    /// Each winding as a circuit.
    pub circuits: Vec<Circuit>,
    /// Active power that windings and edges feed in, in W; equals the loss of all bodies.
    pub source_power_w: f64,
    /// Apparent power that they feed in, in VA.
    pub apparent_power_va: f64,
    /// What the solution took, and how well it settled.
    pub effort: Effort,
    /// Loss density at the points of every active triangle in W/m3.
    pub(crate) loss_w_m3: Vec<[f64; POINTS]>,
    /// Peak field strength there in A/m.
    pub(crate) field_a_m: Vec<[f64; POINTS]>,
    /// Where each triangle of the mesh is among the active ones.
    pub(crate) active_of_triangle: Vec<Option<u32>>,
    /// The equations at their last permeabilities: for other sources as long as these hold.
    pub frozen: Frozen,
}

/// What a solution took, and how well it settled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effort {
    /// How often the equations were solved.
    pub solves: usize,
    /// Residual of the linear equations as a share of the load.
    pub residual: f64,
    /// Relative change of the total loss at the last solve; zero when there was only one.
    pub last_change: f64,
}

/// One winding as its terminals see it: uniform current in its conductors, heat of the work only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circuit {
    /// Peak current in A.
    pub current_a: Complex64,
    /// Peak flux linkage in Wb.
    pub linkage_wb: Complex64,
    /// Peak voltage in V, j w times the linkage.
    pub voltage_v: Complex64,
}

impl Circuit {
    /// Voltage over current in ohms; none without current. With several windings it includes what the others induce.
    pub fn impedance_ohm(&self) -> Option<Complex64> {
        (self.current_a != Complex64::ZERO).then(|| self.voltage_v / self.current_a)
    }

    /// In-phase part of linkage over current in henries: what reactance means in a coil.
    pub fn inductance_h(&self) -> Option<f64> {
        (self.current_a != Complex64::ZERO).then(|| (self.linkage_wb / self.current_a).re)
    }
}

impl Solution {
    pub(crate) fn new(
        problem: &Problem,
        drive: &Drive,
        load: &[Complex64],
        frozen: Frozen,
        potential: Vec<Complex64>,
        state: &State,
        effort: Effort,
    ) -> Solution {
        let loss_w_m3 = frozen.loss_w_m3(problem, &potential);
        let j_omega = Complex64::new(0.0, frozen.angular_frequency);
        let circuits = problem
            .sources
            .iter()
            .zip(&drive.currents_a)
            .map(|(source, &current_a)| {
                let linkage_wb = source.linkage_wb(&potential);
                Circuit {
                    current_a,
                    linkage_wb,
                    voltage_v: j_omega * linkage_wb,
                }
            })
            .collect();
        let fed: Complex64 = potential
            .iter()
            .zip(load)
            .map(|(a, load)| j_omega * a * load.conj())
            .sum();
        let mut active_of_triangle = vec![None; problem.mesh.triangles.len()];
        for (number, element) in problem.active.iter().enumerate() {
            active_of_triangle[element.triangle as usize] = Some(number as u32);
        }
        Solution {
            body_power_w: body_power_w(problem, &loss_w_m3),
            circuits,
            source_power_w: 0.5 * fed.re,
            apparent_power_va: 0.5 * fed.norm(),
            potential_wb_m: potential,
            effort,
            loss_w_m3,
            field_a_m: state.field_a_m.clone(),
            active_of_triangle,
            frozen,
        }
    }

    /// Power fed in minus heat set free, as a share of the apparent power: rounding, in a sound solution.
    pub fn imbalance(&self) -> f64 {
        let heat_w: f64 = self.body_power_w.iter().sum();
        (self.source_power_w - heat_w).abs() / self.apparent_power_va.max(f64::MIN_POSITIVE)
    }

    /// Heat that each node of the space gets from the currents, in W: the load vector of the loss, equation (14).
    /// Quadratic elements may give corners a little less than nothing.
    pub fn nodal_heat_w(&self, problem: &Problem) -> Vec<f64> {
        let mut heat_w = vec![0.0; problem.space.nodes.len()];
        for (element, loss) in problem.active.iter().zip(&self.loss_w_m3) {
            for ((loss, volume), shapes) in
                loss.iter().zip(element.volume_m3).zip(problem.shapes.at)
            {
                for (node, n) in element.nodes.into_iter().zip(shapes) {
                    heat_w[node as usize] += loss * volume * n;
                }
            }
        }
        heat_w
    }

    /// Peak field strength at each node of metal in A/m: the mean of the points around it; zero in the air.
    pub fn nodal_field_a_m(&self, problem: &Problem) -> Vec<f64> {
        let mut sums = vec![(0.0, 0.0); problem.space.nodes.len()];
        for (element, field) in problem.active.iter().zip(&self.field_a_m) {
            for ((field, volume), shapes) in
                field.iter().zip(element.volume_m3).zip(problem.shapes.at)
            {
                for (node, n) in element.nodes.into_iter().zip(shapes) {
                    let (sum, weight) = &mut sums[node as usize];
                    *sum += volume * n.abs() * field;
                    *weight += volume * n.abs();
                }
            }
        }
        sums.into_iter()
            .map(|(sum, weight)| if weight > 0.0 { sum / weight } else { 0.0 })
            .collect()
    }

    /// Places, loss densities in W/m3 and peak field strengths in A/m at the points of the rule, of one body.
    pub fn points<'a>(
        &'a self,
        problem: &'a Problem,
        body: usize,
    ) -> impl Iterator<Item = PointInMetal> + 'a {
        let own = problem
            .active
            .iter()
            .enumerate()
            .filter(move |(_, element)| element.body as usize == body);
        own.flat_map(move |(number, element)| {
            (0..POINTS).map(move |q| PointInMetal {
                place_m: element.nodes.iter().zip(problem.shapes.at[q]).fold(
                    [0.0, 0.0],
                    |sum, (&node, n)| {
                        let place = problem.space.nodes[node as usize];
                        [sum[0] + n * place[0], sum[1] + n * place[1]]
                    },
                ),
                volume_m3: element.volume_m3[q],
                loss_w_m3: self.loss_w_m3[number][q],
                field_a_m: self.field_a_m[number][q],
                relative_permeability: self.frozen.relative_permeability[number][q],
            })
        })
    }
}

/// The field at one point of the rule in metal.
#[derive(Clone, Copy, Debug)]
pub struct PointInMetal {
    /// Where.
    pub place_m: Point,
    /// Volume that the point stands for.
    pub volume_m3: f64,
    /// Loss density.
    pub loss_w_m3: f64,
    /// Peak field strength.
    pub field_a_m: f64,
    /// Effective relative permeability.
    pub relative_permeability: f64,
}
