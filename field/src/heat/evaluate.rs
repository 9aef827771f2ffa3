//! The heat stored and the heat flowing at given temperatures (docs/theory/heat.md, equations 2 to 8).

use super::boundary::{Law, Loss};
use super::element::shapes_at_points;
use super::model::{HeatElement, Model, State};
use super::source::Source;
use crate::element::{PAIRS, POINTS};

/// What acts on the section from outside the laws of its boundaries.
#[derive(Clone, Copy)]
pub struct Conditions<'a> {
    /// Heat set free inside.
    pub source: &'a dyn Source,
    /// Ambient temperature of radiation in degrees Celsius at each of [`Model::exchanges`].
    pub radiation_ambient_c: &'a [f64],
}

/// Heat stored and flowing, by unknown and in total.
#[derive(Clone, Debug, Default)]
pub struct Evaluation {
    /// Heat content of each unknown in J.
    pub content_j: Vec<f64>,
    /// Heat that flows to each unknown in W, given temperatures not yet kept up.
    pub inflow_w: Vec<f64>,
    /// Change of each unknown's source with its temperature in W/K.
    source_slope_w_k: Vec<f64>,
    /// Heat from the source in W.
    pub source_w: f64,
    /// Heat through boundaries of given flux and to the surroundings in W, positive inwards.
    pub boundary_w: f64,
}

/// A matrix to be made along with an evaluation: content * d(content)/dT - flow * d(inflow)/dT.
pub struct Jacobian<'a> {
    /// By the ids of the pattern.
    pub values: &'a mut [f64],
    pub content: f64,
    pub flow: f64,
}

impl Model {
    /// Evaluates at a time and temperatures.
    pub(super) fn evaluate(
        &self,
        time_s: f64,
        temperature_c: &[f64],
        conditions: &Conditions<'_>,
        found: &mut Evaluation,
        mut jacobian: Option<Jacobian<'_>>,
    ) {
        self.conduct(temperature_c, found, jacobian.as_mut());
        self.exchange(time_s, temperature_c, conditions, found, jacobian);
    }

    /// Begins an evaluation: what is stored and conducted, whatever acts from outside.
    pub(super) fn conduct(
        &self,
        temperature_c: &[f64],
        found: &mut Evaluation,
        mut jacobian: Option<&mut Jacobian<'_>>,
    ) {
        found.reset(self.unknowns());
        if let Some(jacobian) = &mut jacobian {
            jacobian.values.fill(0.0);
        }
        let shapes = shapes_at_points();
        for element in &self.elements {
            self.add_element(
                element,
                &shapes,
                temperature_c,
                found,
                jacobian.as_deref_mut(),
            );
        }
        self.add_blankets(temperature_c, found, jacobian);
    }

    /// Completes an evaluation: sources, given fluxes and the surroundings.
    pub(super) fn exchange(
        &self,
        time_s: f64,
        temperature_c: &[f64],
        conditions: &Conditions<'_>,
        found: &mut Evaluation,
        mut jacobian: Option<Jacobian<'_>>,
    ) {
        self.add_source(time_s, temperature_c, conditions, found, jacobian.as_mut());
        self.add_fluxes(time_s, found);
        self.add_losses(temperature_c, conditions, found, jacobian.as_mut());
        if let Some(jacobian) = jacobian {
            self.hold_fixed(jacobian.values);
        }
    }

    fn add_element(
        &self,
        element: &HeatElement,
        shapes: &[[f64; 6]; POINTS],
        temperature_c: &[f64],
        found: &mut Evaluation,
        jacobian: Option<&mut Jacobian<'_>>,
    ) {
        let laws = &self.laws[element.body as usize];
        let t = element
            .unknowns
            .map(|unknown| temperature_c[unknown as usize]);
        let (mut content, mut inflow) = ([0.0; 6], [0.0; 6]);
        let (mut capacity_j_k, mut conductivity) = ([0.0; POINTS], [0.0; POINTS]);
        for q in 0..POINTS {
            let (volume_m3, [gu, gv]) =
                (element.element.volume_m3[q], &element.element.gradients[q]);
            let (stored, slope) = laws.heat_content_j_m3.at(dot(&shapes[q], &t));
            let (k, _) = laws.conductivity_w_mk.at(dot(&shapes[q], &t));
            (capacity_j_k[q], conductivity[q]) = (volume_m3 * slope, volume_m3 * k);
            let (du, dv) = (conductivity[q] * dot(gu, &t), conductivity[q] * dot(gv, &t));
            for i in 0..6 {
                content[i] += volume_m3 * stored * shapes[q][i];
                inflow[i] -= du * gu[i] + dv * gv[i];
            }
        }
        for (i, &unknown) in element.unknowns.iter().enumerate() {
            found.content_j[unknown as usize] += content[i];
            found.inflow_w[unknown as usize] += inflow[i];
        }
        if let Some(jacobian) = jacobian {
            let capacity = capacity_j_k.map(|value| jacobian.content * value);
            let conductance = conductivity.map(|value| jacobian.flow * value);
            let matrix = element_matrix(element, shapes, &capacity, &conductance);
            for (&id, value) in element.pairs.iter().zip(matrix) {
                jacobian.values[id as usize] += value;
            }
        }
    }

    fn add_blankets(
        &self,
        t: &[f64],
        found: &mut Evaluation,
        mut jacobian: Option<&mut Jacobian<'_>>,
    ) {
        for (cell, &id) in self.cells.iter().zip(&self.cell_ids) {
            let (inner, outer) = (cell.inner as usize, cell.outer as usize);
            let conductance_w_k = self.cell_conductance_w_k(cell, t);
            let outward_w = conductance_w_k * (t[inner] - t[outer]);
            found.inflow_w[inner] -= outward_w;
            found.inflow_w[outer] += outward_w;
            for (end, capacity_j_k) in [
                (inner, cell.capacities_j_k[0]),
                (outer, cell.capacities_j_k[1]),
            ] {
                found.content_j[end] += capacity_j_k * t[end];
                if let Some(jacobian) = &mut jacobian {
                    jacobian.values[self.pattern.diagonal(end)] +=
                        jacobian.content * capacity_j_k + jacobian.flow * conductance_w_k;
                }
            }
            if let Some(jacobian) = &mut jacobian {
                jacobian.values[id as usize] -= jacobian.flow * conductance_w_k;
            }
        }
    }

    fn cell_conductance_w_k(&self, cell: &super::layout::Cell, t: &[f64]) -> f64 {
        let mean_c = 0.5 * (t[cell.inner as usize] + t[cell.outer as usize]);
        let conductivity = self.blanket_conductivity[cell.boundary as usize].as_ref();
        cell.shape_m * conductivity.map_or(0.0, |law| law.at(mean_c).0)
    }

    fn add_source(
        &self,
        time_s: f64,
        t: &[f64],
        conditions: &Conditions<'_>,
        found: &mut Evaluation,
        jacobian: Option<&mut Jacobian<'_>>,
    ) {
        let before: f64 = found.inflow_w.iter().sum();
        conditions
            .source
            .add(time_s, t, &mut found.inflow_w, &mut found.source_slope_w_k);
        found.source_w = found.inflow_w.iter().sum::<f64>() - before;
        if let Some(jacobian) = jacobian {
            // A rising source would take away from the diagonal, and with it the positive definite matrix.
            for (unknown, &slope) in found
                .source_slope_w_k
                .iter()
                .enumerate()
                .filter(|(_, slope)| **slope < 0.0)
            {
                jacobian.values[self.pattern.diagonal(unknown)] -= jacobian.flow * slope;
            }
        }
    }

    fn add_fluxes(&self, time_s: f64, found: &mut Evaluation) {
        for point in &self.fluxes {
            if let Law::Flux(flux_w_m2) = &self.boundaries[point.boundary as usize].law {
                let heat_w = point.area_m2 * flux_w_m2.at(time_s);
                found.inflow_w[point.unknown as usize] += heat_w;
                found.boundary_w += heat_w;
            }
        }
    }

    fn add_losses(
        &self,
        t: &[f64],
        conditions: &Conditions<'_>,
        found: &mut Evaluation,
        mut jacobian: Option<&mut Jacobian<'_>>,
    ) {
        for (exchange, &ambient_c) in self.exchanges.iter().zip(conditions.radiation_ambient_c) {
            let unknown = exchange.unknown as usize;
            let (flux_w_m2, slope) = self
                .loss_of(exchange.boundary)
                .flux_and_slope(t[unknown], ambient_c);
            found.inflow_w[unknown] -= exchange.area_m2 * flux_w_m2;
            found.boundary_w -= exchange.area_m2 * flux_w_m2;
            if let Some(jacobian) = &mut jacobian {
                jacobian.values[self.pattern.diagonal(unknown)] +=
                    jacobian.flow * exchange.area_m2 * slope.max(0.0);
            }
        }
    }

    /// What the surface of a boundary gives off.
    pub(super) fn loss_of(&self, boundary: u32) -> &Loss {
        match &self.boundaries[boundary as usize].law {
            Law::Loss(loss) => loss,
            Law::Blanket(blanket) => &blanket.outside,
            _ => unreachable!("only losses and blankets have exchanges"),
        }
    }

    /// Unknowns of given temperature keep it: their rows and columns become those of the unit matrix.
    fn hold_fixed(&self, values: &mut [f64]) {
        self.fixed_pairs
            .iter()
            .for_each(|&id| values[id as usize] = 0.0);
        self.fixed
            .iter()
            .for_each(|known| values[self.pattern.diagonal(known.unknown as usize)] = 1.0);
    }

    /// Sets the unknowns of given temperature to what it is at a time.
    pub(super) fn set_fixed(&self, time_s: f64, temperature_c: &mut [f64]) {
        for known in &self.fixed {
            if let Law::Temperature(table) = &self.boundaries[known.boundary as usize].law {
                temperature_c[known.unknown as usize] = table.at(time_s);
            }
        }
    }

    /// Heat in W that flows into the body through a boundary.
    ///
    /// Where the temperature is given it is the reaction of its nodes, which is more accurate than the gradient there
    /// (docs/theory/heat.md, equation 9); on a blanket, what passes from it into the metal.
    pub fn heat_flow_w(&self, boundary: usize, state: &State, conditions: &Conditions<'_>) -> f64 {
        let here = |number: u32| number as usize == boundary;
        let t = &state.temperature_c;
        let reactions = self
            .fixed
            .iter()
            .zip(&state.reaction_w)
            .filter(|(known, _)| here(known.boundary));
        let fluxes = self
            .fluxes
            .iter()
            .filter(|point| here(point.boundary))
            .map(|point| {
                let Law::Flux(flux_w_m2) = &self.boundaries[boundary].law else {
                    return 0.0;
                };
                point.area_m2 * flux_w_m2.at(state.time_s)
            });
        let bare = matches!(self.boundaries[boundary].law, Law::Loss(_));
        let losses = self
            .exchanges
            .iter()
            .zip(conditions.radiation_ambient_c)
            .filter(|(e, _)| bare && here(e.boundary));
        let blankets = self
            .cells
            .iter()
            .filter(|cell| cell.touches_metal && here(cell.boundary));
        reactions.map(|(_, heat_w)| heat_w).sum::<f64>() + fluxes.sum::<f64>()
            - losses
                .map(|(e, &ambient_c)| {
                    e.area_m2
                        * self
                            .loss_of(e.boundary)
                            .flux_and_slope(t[e.unknown as usize], ambient_c)
                            .0
                })
                .sum::<f64>()
            - blankets
                .map(|cell| {
                    self.cell_conductance_w_k(cell, t)
                        * (t[cell.inner as usize] - t[cell.outer as usize])
                })
                .sum::<f64>()
    }
}

impl Evaluation {
    pub(super) fn reset(&mut self, unknowns: usize) {
        for list in [
            &mut self.content_j,
            &mut self.inflow_w,
            &mut self.source_slope_w_k,
        ] {
            list.clear();
            list.resize(unknowns, 0.0);
        }
        (self.source_w, self.boundary_w) = (0.0, 0.0);
    }
}

fn dot(a: &[f64; 6], b: &[f64; 6]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Sum over the points of capacity N_i N_j + conductance (grad N_i . grad N_j).
fn element_matrix(
    element: &HeatElement,
    shapes: &[[f64; 6]; POINTS],
    capacity_j_k: &[f64; POINTS],
    conductance: &[f64; POINTS],
) -> [f64; PAIRS] {
    let mut matrix = [0.0; PAIRS];
    for q in 0..POINTS {
        let (n, [gu, gv]) = (&shapes[q], &element.element.gradients[q]);
        let mut pair = 0;
        for i in 0..6 {
            let (stored, u, v) = (
                capacity_j_k[q] * n[i],
                conductance[q] * gu[i],
                conductance[q] * gv[i],
            );
            for j in 0..=i {
                matrix[pair] += stored * n[j] + u * gu[j] + v * gv[j];
                pair += 1;
            }
        }
    }
    matrix
}
