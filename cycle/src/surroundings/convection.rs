//! Convection to air by published correlations, as Nusselt numbers.

use libm::{cbrt, pow};

/// Free convection at a horizontal cylinder, Rayleigh number over the diameter, up to 1e12
/// (Churchill & Chu 1975, Int. J. Heat Mass Transfer 18, 1049; surroundings.md eq. 1).
pub fn horizontal_cylinder(rayleigh: f64, prandtl: f64) -> f64 {
    let fluid = pow(1.0 + pow(0.559 / prandtl, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.60 + 0.387 * pow(rayleigh.max(0.0), 1.0 / 6.0) / fluid;
    root * root
}

/// Free convection at a vertical plate or a thick vertical cylinder, Rayleigh number over the height
/// (Churchill & Chu 1975, Int. J. Heat Mass Transfer 18, 1323; surroundings.md eq. 2).
pub fn vertical_plate(rayleigh: f64, prandtl: f64) -> f64 {
    let fluid = pow(1.0 + pow(0.492 / prandtl, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.825 + 0.387 * pow(rayleigh.max(0.0), 1.0 / 6.0) / fluid;
    root * root
}

/// Wind across a cylinder, Reynolds number over the diameter, Re Pr above 0.2
/// (Churchill & Bernstein 1977, J. Heat Transfer 99, 300; surroundings.md eq. 3).
pub fn cross_flow(reynolds: f64, prandtl: f64) -> f64 {
    let fluid = pow(1.0 + pow(0.4 / prandtl, 2.0 / 3.0), 0.25);
    let turbulent = pow(1.0 + pow(reynolds / 282_000.0, 5.0 / 8.0), 0.8);
    0.3 + 0.62 * reynolds.sqrt() * cbrt(prandtl) / fluid * turbulent
}

/// Free and forced convection together, by the sum of cubes (Churchill 1977, AIChE J. 23, 10; surroundings.md eq. 4).
pub fn together(free: f64, forced: f64) -> f64 {
    cbrt(free * free * free + forced * forced * forced)
}

#[cfg(test)]
mod tests {
    use super::{cross_flow, horizontal_cylinder, together, vertical_plate};

    // Incropera, Fundamentals of Heat and Mass Transfer, glass-door screen (Gr 2.63e9, Pr 0.69): Nu 147, as checked in
    // the public documentation of the open library `ht`, which gives 139.13 for a horizontal cylinder there.
    #[test]
    fn free_convection_of_a_worked_example() {
        let rayleigh = 0.69 * 2.63e9;
        assert!((vertical_plate(rayleigh, 0.69) - 147.161_852_237_706).abs() < 1e-6);
        assert!((horizontal_cylinder(rayleigh, 0.69) - 139.134_939_700_736).abs() < 1e-6);
    }

    // Incropera, Fundamentals of Heat and Mass Transfer, cylinder in a wind tunnel (Re 6071, Pr 0.70): 40.6.
    #[test]
    fn forced_convection_of_a_worked_example() {
        assert!((cross_flow(6071.0, 0.7) - 40.6).abs() < 0.05);
    }

    #[test]
    fn the_stronger_of_two_flows_rules() {
        assert!((together(10.0, 0.0) - 10.0).abs() < 1e-12);
        assert!(together(10.0, 10.0) < 12.7);
    }
}
