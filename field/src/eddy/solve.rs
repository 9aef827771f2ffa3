//! Solving while permeability follows the field: equation (11) of docs/theory/eddy-currents.md.

use num_complex::Complex64;

use super::boundary::add_edge_load;
use super::drive::{Drive, Solves, Temperature};
use super::frozen::{Frozen, weighted};
use super::problem::Problem;
use super::solution::{Effort, Solution};
use super::surface_fields_a_m;
use crate::element::POINTS;
use crate::error::FieldError;
use crate::permeability::VACUUM_PERMEABILITY_H_M;
use crate::section::{Permeability, Symmetry};

/// Exponent of the step from the old permeability to the one at the new field; 1.0 to 1.2 converge fastest.
const STEP: f64 = 1.2;
/// Currents of a planar section must add up to zero within this share of their sizes.
const CURRENTS_CANCEL: f64 = 1e-6;

/// Power fed in and heat set free agree within this share of the apparent power; larger differences come from a
/// broken mesh, not from rounding.
const IMBALANCE: f64 = 1e-8;

/// What one solve hands to the next: the field strength from which permeability is taken.
#[derive(Clone, Debug, Default)]
pub struct State {
    /// Peak field strength at the points of every active triangle in A/m; empty before the first solve.
    pub(crate) field_a_m: Vec<[f64; POINTS]>,
}

impl State {
    /// Foresees the field after all currents change by one factor: where metal saturates it follows the current.
    pub fn scale(&mut self, factor: f64) {
        self.field_a_m
            .iter_mut()
            .flatten()
            .for_each(|field| *field *= factor);
    }
}

impl Problem {
    /// Solves for the field of a drive at given temperatures, starting from a state and leaving it for the next time.
    ///
    /// # Errors
    /// A frequency or temperature that is not a fit number, lists of the wrong length, edges that are not there,
    /// planar currents that do not return, and a solution that is too inaccurate.
    pub fn solve(
        &self,
        state: &mut State,
        drive: &Drive,
        temperature: Temperature,
        solves: Solves,
    ) -> Result<Solution, FieldError> {
        self.check(drive, temperature)?;
        let load = self.load(drive)?;
        if state.field_a_m.len() != self.active.len() {
            state.field_a_m = self.first_guess(drive);
        }
        let (change, most) = match solves {
            _ if !self.saturates() => (0.0, 1),
            Solves::Exactly(count) => (0.0, count),
            Solves::Until { change, most } => (change, most),
        };
        let mut relative = self.permeability_of(state, temperature);
        let (mut count, mut last_w) = (0, None);
        loop {
            let frozen = self.frozen(drive.frequency_hz, temperature, relative)?;
            let (potential, residual) = frozen.solve(self, &load)?;
            state.field_a_m = self.field_strengths_a_m(&frozen, &potential);
            let power_w: f64 = frozen.body_power_w(self, &potential).iter().sum();
            let changed =
                last_w.map(|last_w: f64| (power_w - last_w).abs() / power_w.max(f64::MIN_POSITIVE));
            count += 1;
            if count >= most || changed.is_some_and(|changed| changed <= change) {
                let effort = Effort {
                    solves: count,
                    residual,
                    last_change: changed.unwrap_or(0.0),
                };
                let solution = Solution::new(self, drive, &load, frozen, potential, state, effort);
                return balanced(solution);
            }
            last_w = Some(power_w);
            relative = self.next_permeability(&frozen, state, temperature);
        }
    }

    /// The permeability at the field strengths of a state.
    pub(crate) fn permeability_of(
        &self,
        state: &State,
        temperature: Temperature,
    ) -> Vec<[f64; POINTS]> {
        let of = |(number, element): (usize, &super::active::Active)| {
            let law = &self.section.bodies[element.body as usize]
                .metal
                .permeability;
            let field_a_m = state.field_a_m.get(number).copied().unwrap_or_default();
            let temperatures_c = element.temperatures_c(&self.shapes, temperature);
            std::array::from_fn(|q| law.relative(field_a_m[q], temperatures_c[q]))
        };
        self.active.iter().enumerate().map(of).collect()
    }

    /// mu_old^(1-t) mu(H)^t with H from the last solve.
    fn next_permeability(
        &self,
        frozen: &Frozen,
        state: &State,
        temperature: Temperature,
    ) -> Vec<[f64; POINTS]> {
        let wanted = self.permeability_of(state, temperature);
        let step = |(old, wanted): (&[f64; POINTS], [f64; POINTS])| {
            std::array::from_fn(|q| {
                (wanted[q] * libm::pow(wanted[q] / old[q], STEP - 1.0)).max(1.0)
            })
        };
        frozen
            .relative_permeability
            .iter()
            .zip(wanted)
            .map(step)
            .collect()
    }

    /// |H| = |B| / mu at the points of every active triangle, peak over a period of each component (equation 13).
    fn field_strengths_a_m(&self, frozen: &Frozen, potential: &[Complex64]) -> Vec<[f64; POINTS]> {
        let of = |(element, relative): (&super::active::Active, &[f64; POINTS])| {
            let own = element.nodes.map(|node| potential[node as usize]);
            std::array::from_fn(|q| {
                let [u, v] = &element.curls[q];
                let squared = weighted(u, &own).norm_sqr() + weighted(v, &own).norm_sqr();
                squared.sqrt() / (VACUUM_PERMEABILITY_H_M * relative[q])
            })
        };
        self.active
            .iter()
            .zip(&frozen.relative_permeability)
            .map(of)
            .collect()
    }

    fn saturates(&self) -> bool {
        let saturating =
            |permeability: &Permeability| matches!(permeability, Permeability::Saturating { .. });
        self.section
            .bodies
            .iter()
            .any(|body| saturating(&body.metal.permeability))
    }

    /// Every point of a body starts at the field that its surface would see.
    fn first_guess(&self, drive: &Drive) -> Vec<[f64; POINTS]> {
        let surface_a_m = surface_fields_a_m(&self.section, drive);
        self.active
            .iter()
            .map(|element| [surface_a_m[element.body as usize]; POINTS])
            .collect()
    }

    /// The load of a drive on every node.
    fn load(&self, drive: &Drive) -> Result<Vec<Complex64>, FieldError> {
        let mut load = vec![Complex64::ZERO; self.space.nodes.len()];
        for (source, current_a) in self.sources.iter().zip(&drive.currents_a) {
            for &(node, weight) in &source.weights {
                load[node as usize] += current_a * weight;
            }
        }
        for edge in &drive.edges {
            add_edge_load(
                self.section.symmetry,
                &self.mesh,
                &self.space,
                edge,
                &mut load,
            )?;
        }
        Ok(load)
    }

    fn check(&self, drive: &Drive, temperature: Temperature) -> Result<(), FieldError> {
        let frequency_hz = drive.frequency_hz;
        if !(frequency_hz > 0.0 && frequency_hz.is_finite()) {
            return Err(FieldError::OutOfRange {
                what: "frequency".into(),
                value: frequency_hz,
                lowest: f64::MIN_POSITIVE,
                highest: f64::MAX,
                unit: "Hz",
            });
        }
        let (got, need) = (drive.currents_a.len(), self.sources.len());
        if got != need {
            return Err(FieldError::WrongCount {
                what: "currents of windings".into(),
                got,
                need,
            });
        }
        if let Temperature::Nodal(nodal_c) = temperature {
            let (got, need) = (nodal_c.len(), self.space.nodes.len());
            if got != need {
                return Err(FieldError::WrongCount {
                    what: "temperatures of nodes".into(),
                    got,
                    need,
                });
            }
        }
        let open_plane =
            self.section.symmetry == Symmetry::Planar && self.mesh.far_circle.is_some();
        if open_plane {
            self.currents_return(drive)
        } else {
            Ok(())
        }
    }

    /// The far field of a plane is that of a dipole only when its currents add up to zero.
    fn currents_return(&self, drive: &Drive) -> Result<(), FieldError> {
        let carried = self.sources.iter().zip(&drive.currents_a);
        let net_a: Complex64 = carried
            .clone()
            .map(|(source, current)| current * source.net_turns)
            .sum();
        let all_a: f64 = carried
            .map(|(source, current)| current.norm() * source.total_turns)
            .sum();
        let fits = net_a.norm() <= CURRENTS_CANCEL * all_a;
        fits.then_some(()).ok_or(FieldError::CurrentsDoNotReturn {
            net_a: net_a.norm(),
        })
    }
}

/// Refuses a solution in which power fed in and heat set free differ.
fn balanced(solution: Solution) -> Result<Solution, FieldError> {
    let (fed_w, heat_w) = (solution.source_power_w, solution.body_power_w.iter().sum());
    let fits = solution.imbalance() <= IMBALANCE;
    fits.then_some(solution)
        .ok_or(FieldError::PowersDiffer { fed_w, heat_w })
}
