//! The equations with every material frozen: factored once, solved for any number of sources.

use num_complex::Complex64;

use super::active::FIXED;
use super::drive::Temperature;
use super::problem::Problem;
use super::source::Source;
use crate::element::{POINTS, rule};
use crate::error::FieldError;
use crate::permeability::VACUUM_PERMEABILITY_H_M;
use crate::sparse::Factor;

/// A solution is refined once when its residual is above this share of the load, and refused when it stays there.
/// Power is good to the same share; far below what the mesh leaves.
const RESIDUAL: f64 = 1e-10;

/// Factored equations; potentials of several sources may be added up.
pub struct Frozen {
    values: Vec<Complex64>,
    factor: Factor<Complex64>,
    pub(crate) angular_frequency: f64,
    pub(crate) conductivity_s_m: Vec<[f64; POINTS]>,
    pub(crate) relative_permeability: Vec<[f64; POINTS]>,
}

impl Problem {
    /// Assembles and factors the equations for given permeabilities at the points of the active triangles.
    pub(crate) fn frozen(
        &self,
        frequency_hz: f64,
        temperature: Temperature,
        relative_permeability: Vec<[f64; POINTS]>,
    ) -> Result<Frozen, FieldError> {
        let angular_frequency = 2.0 * std::f64::consts::PI * frequency_hz;
        let mut values: Vec<Complex64> = self.base.iter().map(|&value| value.into()).collect();
        let mut conductivity_s_m = Vec::with_capacity(self.active.len());
        for (element, relative) in self.active.iter().zip(&relative_permeability) {
            let metal = &self.section.bodies[element.body as usize].metal;
            let sigma = element
                .temperatures_c(&self.shapes, temperature)
                .map(|t| metal.conductivity_s_m(t));
            let reluctivity = relative.map(|mu| 1.0 / (VACUUM_PERMEABILITY_H_M * mu));
            element.add_stiffness(reluctivity, |entry, value| values[entry].re += value);
            element.add_mass(
                &self.shapes,
                sigma.map(|s| angular_frequency * s),
                |entry, value| {
                    values[entry].im += value;
                },
            );
            conductivity_s_m.push(sigma);
        }
        let factor = Factor::new(&self.symbolic, &values)?;
        Ok(Frozen {
            values,
            factor,
            angular_frequency,
            conductivity_s_m,
            relative_permeability,
        })
    }

    /// Factors the equations at constant permeability and temperature, or with permeability as a state left it.
    ///
    /// # Errors
    /// [`FieldError::Singular`] where the section gives no unique field.
    pub fn freeze(
        &self,
        state: &super::State,
        frequency_hz: f64,
        temperature: Temperature,
    ) -> Result<Frozen, FieldError> {
        let permeability = self.permeability_of(state, temperature);
        self.frozen(frequency_hz, temperature, permeability)
    }
}

impl Problem {
    /// Conductivity inside an active triangle, by barycentric coordinates: the plane through its
    /// values at the outer three points.
    pub(crate) fn conductivity_inside<'a>(
        &'a self,
        frozen: &'a Frozen,
        active: usize,
    ) -> impl Fn([f64; 3]) -> f64 + 'a {
        let sigma = &frozen.conductivity_s_m[active];
        let mean = sigma[..3].iter().sum::<f64>() / 3.0;
        let inner = 1.0 - 3.0 * rule()[0].0[1];
        move |at| {
            let slope = |i: usize| (sigma[i] - mean) * (at[i] - 1.0 / 3.0) / inner;
            mean + (0..3).map(slope).sum::<f64>()
        }
    }
}

impl Frozen {
    /// The potential of one ampere in a source, at every node, in Wb/m.
    ///
    /// # Errors
    /// [`FieldError::ResidualTooLarge`].
    pub fn potential(
        &self,
        problem: &Problem,
        source: &Source,
    ) -> Result<Vec<Complex64>, FieldError> {
        let mut load = vec![Complex64::ZERO; problem.space.nodes.len()];
        source
            .weights
            .iter()
            .for_each(|&(node, weight)| load[node as usize] += weight);
        Ok(self.solve(problem, &load)?.0)
    }

    /// The potential of a load on the nodes, and the residual that is left.
    pub(crate) fn solve(
        &self,
        problem: &Problem,
        load: &[Complex64],
    ) -> Result<(Vec<Complex64>, f64), FieldError> {
        let mut rhs = vec![Complex64::ZERO; problem.unknowns()];
        for (&unknown, &value) in problem
            .unknowns
            .iter()
            .zip(load)
            .filter(|(unknown, _)| **unknown != FIXED)
        {
            rhs[unknown as usize] = value;
        }
        let size = norm(&rhs).max(f64::MIN_POSITIVE);
        let mut solution = rhs.clone();
        self.factor.solve_in_place(&mut solution);
        let mut left = self.residual(problem, &rhs, &solution);
        if norm(&left) > RESIDUAL * size {
            self.factor.solve_in_place(&mut left);
            solution.iter_mut().zip(&left).for_each(|(x, dx)| *x += dx);
            left = self.residual(problem, &rhs, &solution);
        }
        let residual = norm(&left) / size;
        if residual > RESIDUAL || residual.is_nan() {
            return Err(FieldError::ResidualTooLarge {
                residual,
                allowed: RESIDUAL,
            });
        }
        let at = |&unknown: &u32| {
            if unknown == FIXED {
                Complex64::ZERO
            } else {
                solution[unknown as usize]
            }
        };
        Ok((problem.unknowns.iter().map(at).collect(), residual))
    }

    fn residual(
        &self,
        problem: &Problem,
        rhs: &[Complex64],
        solution: &[Complex64],
    ) -> Vec<Complex64> {
        let mut product = vec![Complex64::ZERO; rhs.len()];
        problem
            .pattern
            .multiply(&self.values, solution, &mut product);
        rhs.iter().zip(product).map(|(b, ax)| b - ax).collect()
    }

    /// Loss density at the points of every active triangle: equation (12).
    pub(crate) fn loss_w_m3(
        &self,
        problem: &Problem,
        potential: &[Complex64],
    ) -> Vec<[f64; POINTS]> {
        let factor = 0.5 * self.angular_frequency * self.angular_frequency;
        let of = |(element, sigma): (&super::active::Active, &[f64; POINTS])| {
            let own = element.nodes.map(|node| potential[node as usize]);
            std::array::from_fn(|q| {
                factor * sigma[q] * weighted(&problem.shapes.at[q], &own).norm_sqr()
            })
        };
        problem
            .active
            .iter()
            .zip(&self.conductivity_s_m)
            .map(of)
            .collect()
    }

    /// Heat set free in every body by a potential, in watts.
    pub fn body_power_w(&self, problem: &Problem, potential: &[Complex64]) -> Vec<f64> {
        body_power_w(problem, &self.loss_w_m3(problem, potential))
    }
}

pub(crate) fn body_power_w(problem: &Problem, loss_w_m3: &[[f64; POINTS]]) -> Vec<f64> {
    let mut power_w = vec![0.0; problem.section.bodies.len()];
    for (element, loss) in problem.active.iter().zip(loss_w_m3) {
        let own: f64 = loss
            .iter()
            .zip(element.volume_m3)
            .map(|(loss, volume)| loss * volume)
            .sum();
        power_w[element.body as usize] += own;
    }
    power_w
}

/// Sum of values times weights.
pub(crate) fn weighted(weights: &[f64; 6], values: &[Complex64; 6]) -> Complex64 {
    weights
        .iter()
        .zip(values)
        .map(|(&weight, value)| value * weight)
        .sum()
}

fn norm(vector: &[Complex64]) -> f64 {
    vector.iter().map(Complex64::norm_sqr).sum::<f64>().sqrt()
}
