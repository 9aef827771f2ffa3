//! View factors between rings on the inside of a straight cylinder and its open ends.
//!
//! All follow from the factor between two equal parallel discs on one axis: what passes one cross section and not the
//! next has met the wall between (Howell, catalog of configuration factors, C-40 and C-77 type; Siegel & Howell 1992;
//! surroundings.md eq. 6 and 7). The factors of a ring sum to one by construction.

/// Factor between two equal coaxial discs a distance apart (Howell C-40; surroundings.md eq. 6).
pub fn disc_to_disc(distance_m: f64, radius_m: f64) -> f64 {
    let x = 0.5 * distance_m.abs() / radius_m;
    // The difference of near-equal numbers far away is written as a quotient.
    let root = (x * x + 1.0).sqrt();
    let gap = root - x;
    gap * gap
}

/// Factors of rings that fill a cylinder between the places of `cuts_m` (ascending, one more than rings).
#[derive(Clone, Debug)]
pub struct RingFactors {
    /// Row i, column j: the part of what ring i sends out that meets ring j.
    pub between: Vec<Vec<f64>>,
    /// The part of what ring i sends out that leaves through the lower end and through the upper end.
    pub to_ends: Vec<[f64; 2]>,
}

/// Computes the factors of all rings (surroundings.md eq. 7).
pub fn ring_factors(cuts_m: &[f64], radius_m: f64) -> RingFactors {
    let rings = cuts_m.len().saturating_sub(1);
    let disc = |i: usize, j: usize| disc_to_disc(cuts_m[i] - cuts_m[j], radius_m);
    // Disc area over ring area.
    let openness = |i: usize| radius_m / (2.0 * (cuts_m[i + 1] - cuts_m[i]));
    let factor = |i: usize, j: usize| match i == j {
        true => 1.0 - 2.0 * openness(i) * (1.0 - disc(i, i + 1)),
        false => {
            let crossed = disc(i, j + 1) + disc(i + 1, j) - disc(i, j) - disc(i + 1, j + 1);
            openness(i) * crossed.max(0.0)
        }
    };
    let end = |i: usize, cut: usize| openness(i) * (disc(i, cut) - disc(i + 1, cut)).abs();
    RingFactors {
        between: (0..rings)
            .map(|i| (0..rings).map(|j| factor(i, j)).collect())
            .collect(),
        to_ends: (0..rings).map(|i| [end(i, 0), end(i, rings)]).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::{disc_to_disc, ring_factors};

    // Howell, catalog of configuration factors, inside of a cylinder to its base, radius 1, height 0.5: 0.390
    // (worked in the public documentation of an equation solver by integrating the element factor B-53).
    #[test]
    fn the_inside_of_a_cylinder_sees_its_base() {
        let factors = ring_factors(&[0.0, 0.5], 1.0);
        assert!((factors.to_ends[0][0] - 0.390).abs() < 5e-4);
    }

    // The element-to-element kernel 1 - (2 X^3 + 3 X) / (2 (X^2 + 1)^1.5), X = distance / diameter (Buckley 1927;
    // Howell), is the limit of thin rings.
    #[test]
    fn thin_rings_follow_the_kernel_of_ring_elements() {
        let (radius, width) = (0.2, 1e-3);
        let cuts: Vec<f64> = (0..400).map(|i| f64::from(i) * width).collect();
        let factors = ring_factors(&cuts, radius);
        for away in [10_usize, 50, 150] {
            let x = away as f64 * width / (2.0 * radius);
            let kernel = 1.0 - (2.0 * x.powi(3) + 3.0 * x) / (2.0 * (x * x + 1.0).powf(1.5));
            let expected = kernel * width / (2.0 * radius);
            assert!((factors.between[100][100 + away] / expected - 1.0).abs() < 1e-3);
        }
    }

    #[test]
    fn what_a_ring_sends_out_arrives_somewhere() {
        let factors = ring_factors(&[-1.0, -0.3, -0.1, 0.0, 0.02, 0.5, 2.0], 0.15);
        for (row, ends) in factors.between.iter().zip(&factors.to_ends) {
            let sum = row.iter().sum::<f64>() + ends[0] + ends[1];
            assert!((sum - 1.0).abs() < 1e-12);
            assert!(row.iter().all(|part| *part >= 0.0));
        }
        assert!(disc_to_disc(0.0, 0.15) == 1.0);
    }
}
