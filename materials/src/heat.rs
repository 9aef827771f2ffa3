//! Heat content: the integral of the specific heat.

use quantity::Curve;

/// Largest spacing of a heat-content curve: straight lines between its points then follow the integral closely.
const STEP_K: f64 = 1.0;

/// The temperature at which heat content is zero.
pub(crate) const REFERENCE_C: f64 = 20.0;

/// Heat in J/m³ above 20 °C: density times the integral of the specific heat, exact at each point.
///
/// The density is that of the cold metal at every temperature, because the volume of a section does not change either.
pub fn heat_content(specific_heat: &Curve, density_kg_m3: f64) -> Curve {
    let fine = refined(&specific_heat.points);
    let mut heat_j_kg = 0.0;
    let mut points = vec![(fine[0].0, 0.0)];
    for pair in fine.windows(2) {
        heat_j_kg += 0.5 * (pair[0].1 + pair[1].1) * (pair[1].0 - pair[0].0);
        points.push((pair[1].0, heat_j_kg));
    }
    let mut curve = Curve {
        property: "heat content above 20 °C".into(),
        unit: "J/m3".into(),
        points,
        source: specific_heat.source.clone(),
    };
    let at_reference = curve.at_c(REFERENCE_C).unwrap_or(0.0);
    for point in &mut curve.points {
        point.1 = (point.1 - at_reference) * density_kg_m3;
    }
    curve
}

/// Points with more points on their straight lines, so that no step is longer than [`STEP_K`].
fn refined(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut fine = vec![points[0]];
    for pair in points.windows(2) {
        let ((from, low), (to, high)) = (pair[0], pair[1]);
        let steps = libm::ceil((to - from) / STEP_K).max(1.0);
        let mut step = 1.0;
        while step < steps {
            let part = step / steps;
            fine.push((from + part * (to - from), low + part * (high - low)));
            step += 1.0;
        }
        fine.push((to, high));
    }
    fine
}

#[cfg(test)]
mod tests {
    use quantity::{Curve, Source, Status};

    use super::heat_content;

    #[test]
    fn a_rising_specific_heat_is_integrated_exactly() {
        let specific_heat = Curve {
            property: "specific heat".into(),
            unit: "J/(kg K)".into(),
            points: vec![(0.0, 400.0), (100.0, 500.0)],
            source: Source {
                citation: "test".into(),
                status: Status::Computed,
                note: None,
            },
        };
        let heat = heat_content(&specific_heat, 2.0);
        let between_20_and_80 = 2.0 * 60.0 * 450.0;
        assert!((heat.at_c(80.0).expect("inside") - between_20_and_80).abs() < 1e-6);
        assert!(heat.at_c(20.0).expect("inside").abs() < 1e-9);
    }
}
