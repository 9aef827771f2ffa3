//! What a surface outside gives off to air, wind and surroundings, over its temperature.

use field::table::Table;
use libm::pow;
use materials::Air;
use quantity::OutOfRange;
use rules::weld::Orientation;

use super::convection::{cross_flow, horizontal_cylinder, together, vertical_plate};

/// Stefan-Boltzmann constant in W/(m2 K4) (CODATA 2018, exact).
pub const STEFAN_BOLTZMANN_W_M2K4: f64 = 5.670_374_419e-8;

/// Standard acceleration of gravity in m/s2 (definition).
const GRAVITY_M_S2: f64 = 9.806_65;

/// The zero of the Celsius scale in kelvins (definition, ITS-90).
pub const ZERO_CELSIUS_K: f64 = 273.15;

/// Spacing of the tables: the loss bends so slowly that straight lines between are good to 0.1 % above 100 °C.
const TABLE_STEP_K: f64 = 10.0;

/// A cylindrical surface in air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutsideSurface {
    /// Its diameter in m.
    pub diameter_m: f64,
    /// Its length along the axis in m; counts where the axis is vertical.
    pub length_m: f64,
    /// Direction of the axis.
    pub orientation: Orientation,
    /// Emissivity.
    pub emissivity: f64,
    /// Temperature of air and surroundings in °C.
    pub ambient_c: f64,
    /// Wind across the axis in m/s.
    pub wind_m_s: f64,
}

impl OutsideSurface {
    /// Heat given off in W/m2 at a surface temperature in °C, by convection and radiation (surroundings.md eq. 5).
    ///
    /// # Errors
    /// [`OutOfRange`] where the air's properties are not known at the film temperature.
    pub fn loss_w_m2(&self, air: &Air, surface_c: f64) -> Result<f64, OutOfRange> {
        let convection = self.coefficient_w_m2k(air, surface_c)? * (surface_c - self.ambient_c);
        let radiation = self.emissivity
            * STEFAN_BOLTZMANN_W_M2K4
            * (pow(surface_c + ZERO_CELSIUS_K, 4.0) - pow(self.ambient_c + ZERO_CELSIUS_K, 4.0));
        Ok(convection + radiation)
    }

    /// Mean heat transfer coefficient of convection in W/(m2 K), with the air's properties at the film temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] where the air's properties are not known at the film temperature.
    pub fn coefficient_w_m2k(&self, air: &Air, surface_c: f64) -> Result<f64, OutOfRange> {
        let film_c = 0.5 * (surface_c + self.ambient_c);
        let conductivity = air.conductivity.at_c(film_c)?;
        let viscosity = air.kinematic_viscosity.at_c(film_c)?;
        let prandtl = air.prandtl.at_c(film_c)?;
        let buoyancy = GRAVITY_M_S2
            * air.expansion.at_c(film_c)?
            * (surface_c - self.ambient_c).abs()
            * prandtl
            / (viscosity * viscosity);
        // Each Nusselt number is over its own length; both are brought to the diameter before they are added.
        let free = match self.orientation {
            Orientation::Horizontal => {
                horizontal_cylinder(buoyancy * pow(self.diameter_m, 3.0), prandtl)
            }
            Orientation::Vertical => {
                let over_height = vertical_plate(buoyancy * pow(self.length_m, 3.0), prandtl);
                over_height * self.diameter_m / self.length_m
            }
        };
        let reynolds = self.wind_m_s * self.diameter_m / viscosity;
        let forced = match reynolds * prandtl > 0.2 {
            true => cross_flow(reynolds, prandtl),
            false => 0.0,
        };
        Ok(together(free, forced) * conductivity / self.diameter_m)
    }

    /// The loss in W/m2 as a table over the surface temperature in °C between two temperatures.
    ///
    /// # Errors
    /// [`OutOfRange`] where the air's properties are not known at the film temperature.
    pub fn table(&self, air: &Air, from_c: f64, to_c: f64) -> Result<Table, OutOfRange> {
        let steps = libm::ceil((to_c - from_c) / TABLE_STEP_K).max(1.0);
        let mut points = Vec::new();
        let mut step = 0.0;
        while step <= steps {
            let surface_c = from_c + (to_c - from_c) * step / steps;
            points.push((surface_c, self.loss_w_m2(air, surface_c)?));
            step += 1.0;
        }
        Ok(Table::new(&points).unwrap_or_else(|| Table::constant(0.0)))
    }
}

#[cfg(test)]
mod tests {
    use materials::air;
    use rules::weld::Orientation;

    use super::OutsideSurface;

    fn pipe() -> OutsideSurface {
        OutsideSurface {
            diameter_m: 0.1,
            length_m: 1.0,
            orientation: Orientation::Horizontal,
            emissivity: 0.85,
            ambient_c: 23.0,
            wind_m_s: 0.0,
        }
    }

    // Incropera, Fundamentals of Heat and Mass Transfer, steam pipe of 0.1 m at 165 °C in a room at 23 °C (from memory):
    // Nu 23.3 with a conductivity of 0.0313 W/(m K), so 7.29 W/(m2 K) by convection; radiation at 0.85 brings 441 W/m.
    #[test]
    fn a_steam_pipe_in_a_room() {
        let coefficient = pipe().coefficient_w_m2k(air(), 165.0).expect("in range");
        assert!((coefficient - 7.29).abs() < 0.1, "{coefficient}");
        let loss_w_m =
            pipe().loss_w_m2(air(), 165.0).expect("in range") * std::f64::consts::PI * 0.1;
        assert!((loss_w_m - 766.0).abs() < 8.0, "{loss_w_m}");
    }

    #[test]
    fn nothing_is_lost_at_the_temperature_of_the_air_and_wind_takes_more() {
        assert!(pipe().loss_w_m2(air(), 23.0).expect("in range").abs() < 1e-9);
        let windy = OutsideSurface {
            wind_m_s: 3.0,
            ..pipe()
        };
        let still = pipe().loss_w_m2(air(), 300.0).expect("in range");
        assert!(windy.loss_w_m2(air(), 300.0).expect("in range") > 1.2 * still);
    }

    #[test]
    fn a_table_follows_the_law_between_its_points() {
        let table = pipe().table(air(), 0.0, 800.0).expect("in range");
        let exact = pipe().loss_w_m2(air(), 415.0).expect("in range");
        assert!((table.at(415.0) / exact - 1.0).abs() < 1e-3);
    }
}
