//! How the heat of a given surface field follows temperature: as sqrt(rho mu), equation (1) of
//! `docs/theory/coupling.md`.

use crate::section::{Curie, Metal, Permeability};
use crate::table::Table;

/// sqrt(resistivity times relative permeability) of one metal.
#[derive(Clone, Debug)]
pub struct DepthLaw {
    resistivity_ohm_m: Table,
    permeability: Permeability,
}

impl DepthLaw {
    /// The law of a metal, if it conducts.
    pub fn new(metal: &Metal) -> Option<DepthLaw> {
        metal
            .resistivity_ohm_m
            .clone()
            .map(|resistivity_ohm_m| DepthLaw {
                resistivity_ohm_m,
                permeability: metal.permeability.clone(),
            })
    }

    /// Effective permeability at a peak field strength in A/m, at the reference temperature.
    pub fn effective(&self, field_a_m: f64) -> f64 {
        match &self.permeability {
            Permeability::Constant(value) => *value,
            Permeability::Saturating { effective, .. } => effective.at(field_a_m),
        }
    }

    /// sqrt(rho mu) and its slope with temperature, from the effective permeability at the reference temperature.
    pub fn root_and_slope(&self, effective: f64, temperature_c: f64) -> (f64, f64) {
        let (resistivity, resistivity_slope) =
            self.resistivity_ohm_m.value_and_slope(temperature_c);
        let (fade, fade_slope) = self
            .curie()
            .map_or((1.0, 0.0), |curie| fade_and_slope(&curie, temperature_c));
        let relative = 1.0 + (effective - 1.0) * fade;
        let root = (resistivity * relative).sqrt();
        let slope = resistivity_slope * relative + resistivity * (effective - 1.0) * fade_slope;
        (root, 0.5 * slope / root)
    }

    /// The Curie point in degrees Celsius.
    pub fn curie_c(&self) -> Option<f64> {
        self.curie().map(|curie| curie.point_c)
    }

    fn curie(&self) -> Option<Curie> {
        match &self.permeability {
            Permeability::Constant(_) => None,
            Permeability::Saturating { curie, .. } => *curie,
        }
    }
}

/// [`Curie::fade`] and its slope.
fn fade_and_slope(curie: &Curie, temperature_c: f64) -> (f64, f64) {
    let range_k = curie.point_c - curie.reference_c;
    let way = (temperature_c - curie.reference_c) / range_k;
    if way <= 0.0 {
        return (1.0, 0.0);
    }
    if way >= 1.0 {
        return (0.0, 0.0);
    }
    let power = libm::pow(way, curie.exponent);
    (1.0 - power, -curie.exponent * power / way / range_k)
}

#[cfg(test)]
mod tests {
    use super::DepthLaw;
    use crate::section::{Curie, Metal, Permeability};
    use crate::table::Table;

    #[test]
    fn the_slope_is_that_of_the_root() {
        let law = DepthLaw::new(&Metal {
            resistivity_ohm_m: Table::new(&[(20.0, 1.7e-7), (800.0, 1.1e-6)]),
            permeability: Permeability::Saturating {
                effective: Table::new(&[(0.0, 900.0), (1e4, 160.0)]).expect("ascending"),
                curie: Some(Curie {
                    point_c: 750.0,
                    exponent: 2.0,
                    reference_c: 20.0,
                }),
            },
            conductivity_w_mk: Table::constant(40.0),
            heat_content_j_m3: Table::constant(0.0),
        })
        .expect("it conducts");
        let effective = law.effective(5e3);
        for t in [100.0, 600.0, 740.0, 760.0] {
            let (root, slope) = law.root_and_slope(effective, t);
            let [before, after] = [t - 1e-3, t + 1e-3].map(|t| law.root_and_slope(effective, t).0);
            let measured = (after - before) / 2e-3;
            assert!(
                (slope - measured).abs() < 1e-5 * root,
                "{slope} is not {measured} at {t} C"
            );
        }
    }
}
