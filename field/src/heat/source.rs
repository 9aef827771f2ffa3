//! Heat set free inside the metal.

/// Heat that comes from elsewhere, such as the currents of a coil.
pub trait Source {
    /// Adds to each unknown's load in W at a time, and to `slope_w_k` how that load changes with the unknown's own
    /// temperature.
    fn add(&self, time_s: f64, temperature_c: &[f64], heat_w: &mut [f64], slope_w_k: &mut [f64]);
}

/// No heat.
#[derive(Clone, Copy, Debug)]
pub struct NoSource;

impl Source for NoSource {
    fn add(&self, _: f64, _: &[f64], _: &mut [f64], _: &mut [f64]) {}
}

/// The same heat at all times: a load in W for each unknown.
#[derive(Clone, Debug)]
pub struct SteadySource(pub Vec<f64>);

impl Source for SteadySource {
    fn add(&self, _: f64, _: &[f64], heat_w: &mut [f64], _: &mut [f64]) {
        for (sum, &load) in heat_w.iter_mut().zip(&self.0) {
            *sum += load;
        }
    }
}
