//! The heat of the currents between two solves of the field: equation (2) of `docs/theory/coupling.md`.

use super::depth::DepthLaw;
use super::settings::Settings;
use crate::heat::Source;

/// The nodal heat of the last field, and how it will change with time, temperature and current.
#[derive(Clone, Debug)]
pub struct Predictor {
    pub(super) time_s: f64,
    pub(super) current_a: f64,
    /// How long the drift is carried on, in seconds.
    pub(super) horizon_s: f64,
    pub(super) points: Vec<Point>,
    pub(super) laws: Vec<Option<DepthLaw>>,
}

/// A node that carries heat.
#[derive(Clone, Copy, Debug)]
pub struct Point {
    pub unknown: u32,
    pub body: u16,
    /// Heat at the last field in W: a load of quadratic elements, a little below zero at some corners.
    pub heat_w: f64,
    /// What the law of sqrt(rho mu) left over before the last field, in W/s.
    pub drift_w_s: f64,
    pub field_a_m: f64,
    pub temperature_c: f64,
    /// sqrt(rho mu) at the last field.
    pub root: f64,
}

/// The drift may add this share to the heat of a node, or take it away: two fields close in time give a drift that
/// must not be carried far.
const MOST_DRIFT: f64 = 0.3;

/// Around the Curie point permeability is lost within a few kelvin: how far below and above that begins.
const BELOW_CURIE_K: f64 = 50.0;
const ABOVE_CURIE_K: f64 = 10.0;

impl Predictor {
    /// The heat at another current.
    pub fn foresee(&self, current_a: f64) -> Foreseen<'_> {
        let ratio = current_a / self.current_a;
        let effective = |point: &Point| self.law(point).effective(point.field_a_m * ratio);
        Foreseen {
            predictor: self,
            square: ratio * ratio,
            effective: self.points.iter().map(effective).collect(),
        }
    }

    /// The total heat in W at a time, temperatures and current.
    pub fn power_w(&self, time_s: f64, temperature_c: &[f64], current_a: f64) -> f64 {
        let mut total_w = 0.0;
        self.foresee(current_a)
            .each(time_s, temperature_c, |_, heat_w, _| total_w += heat_w);
        total_w
    }

    /// The largest move of a temperature since the last field, over the move that asks for a new one.
    pub fn moved(&self, temperature_c: &[f64], settings: &Settings) -> f64 {
        let of = |point: &Point| {
            let now_c = temperature_c[point.unknown as usize];
            let (low, high) = (
                now_c.min(point.temperature_c),
                now_c.max(point.temperature_c),
            );
            let near =
                |curie_c: f64| high > curie_c - BELOW_CURIE_K && low < curie_c + ABOVE_CURIE_K;
            let allowed_k = match self.law(point).curie_c() {
                Some(curie_c) if near(curie_c) => settings.curie_change_k,
                _ => settings.field_change_k,
            };
            (high - low) / allowed_k
        };
        self.points.iter().map(of).fold(0.0, f64::max)
    }

    /// Adds the heat in W that the law of sqrt(rho mu) alone gives each unknown.
    pub(super) fn undrifted_w(&self, temperature_c: &[f64], current_a: f64, heat_w: &mut [f64]) {
        let at_its_time = self.foresee(current_a);
        at_its_time.each(self.time_s, temperature_c, |unknown, heat, _| {
            heat_w[unknown] += heat
        });
    }

    /// Takes over the drift of a field at the same time and another current.
    pub(super) fn take_drift(&mut self, other: &Predictor) {
        let square = (self.current_a / other.current_a).powi(2);
        let known = |point: &Point| {
            other
                .points
                .binary_search_by_key(&point.unknown, |other| other.unknown)
                .ok()
        };
        for point in &mut self.points {
            point.drift_w_s = known(point).map_or(0.0, |at| square * other.points[at].drift_w_s);
        }
        self.horizon_s = other.horizon_s;
    }

    fn law(&self, point: &Point) -> &DepthLaw {
        self.laws[point.body as usize]
            .as_ref()
            .expect("only metal that conducts carries heat")
    }
}

/// The heat of the currents at one current.
pub struct Foreseen<'a> {
    predictor: &'a Predictor,
    square: f64,
    /// Effective permeability of each point at this current and the reference temperature.
    effective: Vec<f64>,
}

impl Foreseen<'_> {
    /// Each point's unknown, heat in W, and the heat's slope with its own temperature in W/K.
    fn each(&self, time_s: f64, temperature_c: &[f64], mut visit: impl FnMut(usize, f64, f64)) {
        let later_s = (time_s - self.predictor.time_s).min(self.predictor.horizon_s);
        for (point, &effective) in self.predictor.points.iter().zip(&self.effective) {
            let unknown = point.unknown as usize;
            let most_w = MOST_DRIFT * point.heat_w.abs();
            let heat_w = point.heat_w + (point.drift_w_s * later_s).clamp(-most_w, most_w);
            let (root, slope) = self
                .predictor
                .law(point)
                .root_and_slope(effective, temperature_c[unknown]);
            let factor = heat_w * self.square / point.root;
            visit(unknown, factor * root, factor * slope);
        }
    }
}

impl Source for Foreseen<'_> {
    fn add(&self, time_s: f64, temperature_c: &[f64], heat_w: &mut [f64], slope_w_k: &mut [f64]) {
        self.each(time_s, temperature_c, |unknown, heat, slope| {
            heat_w[unknown] += heat;
            slope_w_k[unknown] += slope;
        });
    }
}
