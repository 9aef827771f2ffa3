//! Conduction at temperatures that were just evaluated: a step begins where the last one ended, and several steps may
//! be tried from one state.

use super::evaluate::{Conditions, Evaluation};
use super::model::Model;

/// The temperatures at the beginning and at the end of the last step, with what conduction does there.
#[derive(Clone, Debug, Default)]
pub struct Recall {
    known: [Known; 2],
}

#[derive(Clone, Debug, Default)]
struct Known {
    temperature_c: Vec<f64>,
    content_j: Vec<f64>,
    conducted_w: Vec<f64>,
}

impl Recall {
    /// As [`Model::evaluate`] without a matrix; conduction is looked up where these temperatures are known, else
    /// worked out. It is then known in the given place.
    pub fn evaluate(
        &mut self,
        model: &Model,
        at: (f64, &[f64]),
        conditions: &Conditions<'_>,
        found: &mut Evaluation,
        place: usize,
    ) {
        let (time_s, temperature_c) = at;
        match self
            .known
            .iter()
            .position(|known| known.temperature_c == temperature_c)
        {
            Some(other) => {
                found.reset(model.unknowns());
                found
                    .content_j
                    .copy_from_slice(&self.known[other].content_j);
                found
                    .inflow_w
                    .copy_from_slice(&self.known[other].conducted_w);
                self.known.swap(other, place);
            }
            None => {
                model.conduct(temperature_c, found, None);
                self.known[place] = Known {
                    temperature_c: temperature_c.to_vec(),
                    content_j: found.content_j.clone(),
                    conducted_w: found.inflow_w.clone(),
                };
            }
        }
        model.exchange(time_s, temperature_c, conditions, found, None);
    }
}
