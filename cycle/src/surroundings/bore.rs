//! Heat in the bore: to its air by a stated coefficient, and by radiation from ring to ring and through the ends.

use rules::weld::Orientation;

use super::outside::{STEFAN_BOLTZMANN_W_M2K4, ZERO_CELSIUS_K};
use super::view::{RingFactors, ring_factors};
use crate::practice::{BoreAir, BorePractice};
use crate::setup::BoreEnd;

/// Reflections are followed until what falls in changes by less than this part; each round shrinks the rest by the
/// reflectivity (0.1 to 0.5).
const SETTLED: f64 = 1e-7;
const MOST_REFLECTIONS: usize = 60;

/// A node of the mesh on the bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoreNode {
    /// Distance along the pipe from the weld center in m.
    pub axial_m: f64,
    /// Emissivity of the metal there.
    pub emissivity: f64,
}

/// The bore as rings that exchange heat.
#[derive(Clone, Debug)]
pub struct Bore {
    nodes: Vec<BoreNode>,
    widths_m: Vec<f64>,
    factors: RingFactors,
    ends: [BoreEnd; 2],
    covered_m: [f64; 2],
    ambient_c: f64,
    air: BoreAir,
}

impl Bore {
    /// Rings round nodes that ascend along the pipe, between the two cuts of the model.
    ///
    /// `radius_m` is the mean radius of the bore: the view factors are those of a straight cylinder. `covered_m` is
    /// the part under the blanket, from and to.
    pub fn new(
        nodes: Vec<BoreNode>,
        radius_m: f64,
        ends: [BoreEnd; 2],
        covered_m: [f64; 2],
        ambient_c: f64,
        air: BoreAir,
    ) -> Bore {
        let mut cuts_m: Vec<f64> = nodes.first().map(|node| node.axial_m).into_iter().collect();
        cuts_m.extend(
            nodes
                .windows(2)
                .map(|pair| 0.5 * (pair[0].axial_m + pair[1].axial_m)),
        );
        cuts_m.extend(nodes.last().map(|node| node.axial_m));
        Bore {
            widths_m: cuts_m.windows(2).map(|pair| pair[1] - pair[0]).collect(),
            factors: ring_factors(&cuts_m, radius_m),
            nodes,
            ends,
            covered_m,
            ambient_c,
            air,
        }
    }

    /// Heat transfer coefficient to the bore air in W/(m2 K).
    pub fn coefficient_w_m2k(&self) -> f64 {
        self.air.coefficient.value
    }

    /// Temperature of the bore air in °C, from the temperatures of the nodes (surroundings.md eq. 8).
    pub fn air_c(&self, temperatures_c: &[f64]) -> f64 {
        let (mut sum, mut width_m) = (0.0, 0.0);
        for ((node, width), temperature_c) in
            self.nodes.iter().zip(&self.widths_m).zip(temperatures_c)
        {
            if self.is_covered(node) {
                sum += width * temperature_c;
                width_m += width;
            }
        }
        let mean_c = if width_m > 0.0 {
            sum / width_m
        } else {
            self.ambient_c
        };
        self.ambient_c + self.air.warmth.value * (mean_c - self.ambient_c)
    }

    /// The temperature in °C of black surroundings that stand for radiation from ring to ring and for the warmth of the
    /// bore air, for each node: with `coefficient` times the excess over ambient it gives the loss (surroundings.md
    /// eq. 9 and 10). Beyond the blanket the air is as warm as the wall: nothing passes there.
    pub fn radiation_ambient_c(&self, temperatures_c: &[f64]) -> Vec<f64> {
        let under_c = self.air_c(temperatures_c);
        self.irradiation_w_m2(temperatures_c)
            .into_iter()
            .zip(&self.nodes)
            .zip(temperatures_c)
            .map(|((falls_in, node), &own_c)| {
                let air_c = if self.is_covered(node) {
                    under_c
                } else {
                    own_c
                };
                let warm_w_m2 = self.coefficient_w_m2k() * (air_c - self.ambient_c);
                let black_w_m2 = (falls_in + warm_w_m2 / node.emissivity).max(0.0);
                (black_w_m2 / STEFAN_BOLTZMANN_W_M2K4).sqrt().sqrt() - ZERO_CELSIUS_K
            })
            .collect()
    }

    fn is_covered(&self, node: &BoreNode) -> bool {
        (self.covered_m[0]..=self.covered_m[1]).contains(&node.axial_m)
    }

    /// Radiation that falls on each node in W/m2, with all reflections (gray and diffuse walls, black ends).
    fn irradiation_w_m2(&self, temperatures_c: &[f64]) -> Vec<f64> {
        let end_nodes_c = [temperatures_c.first(), temperatures_c.last()];
        let ends = [0, 1].map(|end| match self.ends[end] {
            BoreEnd::Open => black(self.ambient_c),
            // A closed end far away or a plug takes the temperature of the wall beside it.
            BoreEnd::Closed | BoreEnd::Plugged => {
                black(end_nodes_c[end].copied().unwrap_or(self.ambient_c))
            }
        });
        let own: Vec<f64> = temperatures_c.iter().map(|&c| black(c)).collect();
        let through_ends: Vec<f64> = self
            .factors
            .to_ends
            .iter()
            .map(|part| part[0] * ends[0] + part[1] * ends[1])
            .collect();
        let mut falls_in = own.clone();
        for _ in 0..MOST_REFLECTIONS {
            let leaves: Vec<f64> = self
                .nodes
                .iter()
                .zip(&own)
                .zip(&falls_in)
                .map(|((node, own), arrived)| {
                    node.emissivity * own + (1.0 - node.emissivity) * arrived
                })
                .collect();
            let mut change = 0.0_f64;
            for ((arrived, row), ends) in falls_in
                .iter_mut()
                .zip(&self.factors.between)
                .zip(&through_ends)
            {
                let next = ends + row.iter().zip(&leaves).map(|(f, j)| f * j).sum::<f64>();
                change = change.max((next / *arrived - 1.0).abs());
                *arrived = next;
            }
            if change < SETTLED {
                break;
            }
        }
        falls_in
    }
}

/// What a black body radiates at a temperature in °C, in W/m2.
fn black(temperature_c: f64) -> f64 {
    let square = (temperature_c + ZERO_CELSIUS_K) * (temperature_c + ZERO_CELSIUS_K);
    STEFAN_BOLTZMANN_W_M2K4 * square * square
}

/// The stated numbers for a bore by its ends and the direction of the pipe.
pub fn bore_air(practice: &BorePractice, ends: [BoreEnd; 2], orientation: Orientation) -> &BoreAir {
    let open = ends.iter().filter(|end| **end == BoreEnd::Open).count();
    match (open, orientation) {
        (2, Orientation::Horizontal) => &practice.open_horizontal,
        (2, Orientation::Vertical) => &practice.open_vertical,
        (1, _) => &practice.half_open,
        _ if ends.contains(&BoreEnd::Closed) => &practice.closed,
        _ => &practice.plugged,
    }
}

#[cfg(test)]
mod tests {
    use rules::weld::Orientation;

    use super::{Bore, BoreNode, bore_air};
    use crate::practice::practice;
    use crate::setup::BoreEnd;
    use crate::surroundings::outside::STEFAN_BOLTZMANN_W_M2K4;

    fn bore(ends: [BoreEnd; 2]) -> Bore {
        let nodes = (0..81)
            .map(|i| BoreNode {
                axial_m: -1.0 + 0.025 * f64::from(i),
                emissivity: 0.8,
            })
            .collect();
        let air = bore_air(&practice().bore, ends, Orientation::Horizontal).clone();
        Bore::new(nodes, 0.15, ends, [-0.3, 0.3], 20.0, air)
    }

    #[test]
    fn an_even_closed_bore_gives_back_what_it_sends_out() {
        let bore = bore([BoreEnd::Plugged; 2]);
        let even = vec![600.0; 81];
        let black = STEFAN_BOLTZMANN_W_M2K4 * 873.15_f64.powi(4);
        for falls_in in bore.irradiation_w_m2(&even) {
            assert!((falls_in / black - 1.0).abs() < 1e-6);
        }
    }

    // Two long radiating walls at one temperature with an open end: the exchange must conserve energy, so what leaves
    // through the ends is what the walls lose (a balance, no published value needed).
    #[test]
    fn what_the_wall_loses_leaves_through_the_ends() {
        let bore = bore([BoreEnd::Open; 2]);
        let temperatures_c: Vec<f64> = (0..81)
            .map(|i| 20.0 + 600.0 * (-((f64::from(i) - 40.0) / 10.0).powi(2)).exp())
            .collect();
        let black = |c: f64| STEFAN_BOLTZMANN_W_M2K4 * (c + 273.15).powi(4);
        let falls_in = bore.irradiation_w_m2(&temperatures_c);
        let (mut lost, mut out) = (0.0, 0.0);
        for i in 0..81 {
            let area = bore.widths_m[i];
            let net = 0.8 * (black(temperatures_c[i]) - falls_in[i]);
            let leaves = 0.8 * black(temperatures_c[i]) + 0.2 * falls_in[i];
            let ends = bore.factors.to_ends[i][0] + bore.factors.to_ends[i][1];
            lost += area * net;
            out += area * ends * (leaves - black(20.0));
        }
        assert!((lost / out - 1.0).abs() < 1e-5, "{lost} {out}");
    }

    #[test]
    fn the_hot_part_loses_and_its_cooler_neighbors_gain() {
        let bore = bore([BoreEnd::Closed; 2]);
        let temperatures_c: Vec<f64> = (0..81)
            .map(|i: i32| if (i - 40).abs() < 10 { 600.0 } else { 100.0 })
            .collect();
        let black = |c: f64| STEFAN_BOLTZMANN_W_M2K4 * (c + 273.15_f64).powi(4);
        let falls_in = bore.irradiation_w_m2(&temperatures_c);
        assert!(falls_in[40] < black(600.0));
        assert!(falls_in[28] > black(100.0));
    }

    #[test]
    fn the_equivalent_surroundings_give_the_same_loss() {
        let bore = bore([BoreEnd::Open; 2]);
        let temperatures_c: Vec<f64> = (0..81).map(|i| 100.0 + 6.0 * f64::from(i)).collect();
        let black = |c: f64| STEFAN_BOLTZMANN_W_M2K4 * (c + 273.15).powi(4);
        let falls_in = bore.irradiation_w_m2(&temperatures_c);
        let stands_for = bore.radiation_ambient_c(&temperatures_c);
        let h = bore.coefficient_w_m2k();
        let air_c = bore.air_c(&temperatures_c);
        for i in 0..81 {
            let t = temperatures_c[i];
            let own_air_c = if bore.is_covered(&bore.nodes[i]) {
                air_c
            } else {
                t
            };
            let direct = h * (t - own_air_c) + 0.8 * (black(t) - falls_in[i]);
            let through_law = h * (t - 20.0) + 0.8 * (black(t) - black(stands_for[i]));
            assert!((direct - through_law).abs() < 1e-6 * direct.abs().max(1.0));
        }
    }

    #[test]
    fn a_closed_bore_keeps_warmer_air_than_an_open_one() {
        let even = vec![600.0; 81];
        let open = bore([BoreEnd::Open; 2]).air_c(&even);
        let closed = bore([BoreEnd::Closed; 2]).air_c(&even);
        assert!(open < closed && closed < 600.0);
    }
}
