//! Reading the temperatures that matter from those of all nodes.

use rules::thermocouple::{Face, Place, Role, Thermocouple};

use crate::controller::Readings;
use crate::error::CycleError;
use crate::joint::JointSection;
use crate::outcome::{Difference, Frame, Profile, Spot, ThroughWall};
use crate::setup::Setup;
use crate::surface_lines::SurfaceLine;

/// Places along the soak band at which outside and bore are compared.
const COMPARED: usize = 13;

/// Points through the wall in a profile.
const WALL_POINTS: usize = 11;

/// A node counts as inside the soak band up to this beyond its edge, in m.
const EDGE_M: f64 = 1e-9;

/// What is read, and where.
#[derive(Clone, Debug)]
pub struct Watch {
    /// The outside.
    pub outside: SurfaceLine,
    /// The bore.
    pub bore: SurfaceLine,
    thermocouples: Vec<Thermocouple>,
    neighbors_m: Vec<f64>,
    soak_half_m: f64,
    /// Nodes of the soak band with place along the pipe and depth in m.
    soak_nodes: Vec<(u32, f64, f64)>,
    joint: JointSection,
}

/// What one look at the joint says.
#[derive(Clone, Debug, Default)]
pub struct Look {
    /// Thermocouples in the order of the setup, in °C.
    pub thermocouples_c: Vec<f64>,
    /// Hottest place of the soak band.
    pub soak_hottest: Spot,
    /// Coldest place of the soak band.
    pub soak_coldest: Spot,
    /// Hottest place of outside and bore from the edges of the soak band outward: there the heat arises and there it is
    /// seen.
    pub beyond_hottest: Spot,
    /// Outside and bore at the weld center in °C.
    pub weld_c: [f64; 2],
    /// Outside minus bore where they differ most within the soak band; the time is left at zero.
    pub surface_to_bore: Difference,
    /// Hottest place of each neighbor in °C.
    pub neighbors_c: Vec<f64>,
}

impl Watch {
    /// Prepares reading. `metal_nodes` are the nodes of the metal with their places (r, z) in m.
    ///
    /// # Errors
    /// [`CycleError::NoControl`] without a fitted control thermocouple on the outside of the soak band; thermocouples
    /// and neighbors beyond the modeled pipe.
    pub fn new(
        setup: &Setup,
        joint: &JointSection,
        outside: SurfaceLine,
        bore: SurfaceLine,
        metal_nodes: &[(u32, [f64; 2])],
    ) -> Result<Watch, CycleError> {
        let thermocouples = setup.thermocouples.clone();
        if !thermocouples.iter().any(is_control) {
            return Err(CycleError::NoControl);
        }
        for thermocouple in &thermocouples {
            let what = format!("place of thermocouple {}", thermocouple.name);
            inside(&what, thermocouple.axial.mm(), joint)?;
        }
        let soak_half_m = 0.5 * setup.soak_band.m();
        let soak_nodes = metal_nodes
            .iter()
            .filter(|(_, place)| place[1].abs() <= soak_half_m + EDGE_M)
            .map(|&(node, [r, z])| (node, z, joint.outside_radius_m(z) - r))
            .collect();
        Ok(Watch {
            outside,
            bore,
            thermocouples,
            neighbors_m: setup
                .neighbors
                .iter()
                .map(|neighbor| neighbor.axial.m())
                .collect(),
            soak_half_m,
            soak_nodes,
            joint: joint.clone(),
        })
    }

    /// Looks at the joint through the temperatures of all nodes in °C.
    pub fn look(&self, nodal_c: &[f64]) -> Look {
        let (soak_coldest, soak_hottest) = self.soak_extremes(nodal_c);
        Look {
            thermocouples_c: self
                .thermocouples
                .iter()
                .map(|t| self.read(t, nodal_c))
                .collect(),
            soak_hottest,
            soak_coldest,
            beyond_hottest: self.beyond_hottest(nodal_c),
            weld_c: [self.outside.at(0.0, nodal_c), self.bore.at(0.0, nodal_c)],
            surface_to_bore: self.surface_to_bore(nodal_c),
            neighbors_c: self
                .neighbors_m
                .iter()
                .map(|&z| self.at_neighbor_c(z, nodal_c))
                .collect(),
        }
    }

    /// Hottest control thermocouple in °C.
    pub fn look_at_control(&self, nodal_c: &[f64]) -> f64 {
        let control = self.thermocouples.iter().filter(|t| is_control(t));
        control
            .map(|t| self.read(t, nodal_c))
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// What the controller goes by.
    pub fn readings(&self, look: &Look) -> Readings {
        let all = |wanted: &dyn Fn(&Thermocouple) -> bool| {
            let own = self.thermocouples.iter().zip(&look.thermocouples_c);
            own.filter(|(t, _)| wanted(t)).fold(
                (f64::INFINITY, f64::NEG_INFINITY),
                |(low, high), (_, &c)| (low.min(c), high.max(c)),
            )
        };
        let (coldest_c, hottest_c) = all(&is_control);
        let (judged_coldest_c, judged_hottest_c) = all(&is_judged);
        Readings {
            coldest_c,
            hottest_c,
            judged_coldest_c,
            judged_hottest_c,
        }
    }

    /// Mean of the control thermocouples in °C.
    pub fn control_c(&self, look: &Look) -> f64 {
        let own = self.thermocouples.iter().zip(&look.thermocouples_c);
        let (sum, count) = own
            .filter(|(t, _)| is_control(t))
            .fold((0.0, 0.0), |(sum, count), (_, c)| (sum + c, count + 1.0));
        sum / count
    }

    /// Temperatures along the pipe and through the wall at an instant.
    pub fn profile(
        &self,
        name: &str,
        time_s: f64,
        nodal_c: &[f64],
        probe: &dyn Fn([f64; 2]) -> f64,
    ) -> Profile {
        let through = |z: f64| {
            let (outside_m, bore_m) = (self.joint.outside_radius_m(z), self.joint.bore_radius_m(z));
            let point = |step: usize| {
                let depth_m = (outside_m - bore_m) * step as f64 / (WALL_POINTS - 1) as f64;
                (depth_m * 1e3, probe([outside_m - depth_m, z]))
            };
            ThroughWall {
                axial_mm: z * 1e3,
                points: (0..WALL_POINTS).map(point).collect(),
            }
        };
        Profile {
            name: name.into(),
            time_s,
            outside: along(&self.outside, nodal_c),
            bore: along(&self.bore, nodal_c),
            through_wall: [-self.soak_half_m, 0.0, self.soak_half_m]
                .map(through)
                .into(),
        }
    }

    /// Temperatures along the pipe at an instant.
    pub fn frame(&self, time_s: f64, nodal_c: &[f64]) -> Frame {
        Frame {
            time_s,
            outside: along(&self.outside, nodal_c),
            bore: along(&self.bore, nodal_c),
        }
    }

    fn read(&self, thermocouple: &Thermocouple, nodal_c: &[f64]) -> f64 {
        let line = match thermocouple.face {
            Face::Outside => &self.outside,
            Face::Bore => &self.bore,
        };
        line.at(thermocouple.axial.m(), nodal_c)
    }

    /// A neighbor is as hot as the hottest of outside and bore where it begins.
    fn at_neighbor_c(&self, axial_m: f64, nodal_c: &[f64]) -> f64 {
        self.outside
            .at(axial_m, nodal_c)
            .max(self.bore.at(axial_m, nodal_c))
    }

    fn soak_extremes(&self, nodal_c: &[f64]) -> (Spot, Spot) {
        let spot = |temperature_c: f64, z: f64, depth_m: f64| Spot {
            temperature_c,
            axial_mm: z * 1e3,
            depth_mm: depth_m * 1e3,
        };
        let edges = [-self.soak_half_m, self.soak_half_m]
            .into_iter()
            .flat_map(|z| {
                let wall_m = self.joint.outside_radius_m(z) - self.joint.bore_radius_m(z);
                [
                    spot(self.outside.at(z, nodal_c), z, 0.0),
                    spot(self.bore.at(z, nodal_c), z, wall_m),
                ]
            });
        let nodes = self
            .soak_nodes
            .iter()
            .map(|&(node, z, depth_m)| spot(nodal_c[node as usize], z, depth_m.max(0.0)));
        let mut spots = edges.chain(nodes);
        let first = spots.next().unwrap_or_default();
        spots.fold((first, first), |(cold, hot), next| {
            (
                if next.temperature_c < cold.temperature_c {
                    next
                } else {
                    cold
                },
                if next.temperature_c > hot.temperature_c {
                    next
                } else {
                    hot
                },
            )
        })
    }

    /// Hottest of outside and bore from the edges of the soak band outward; the edges count, or the place would wander
    /// with the nodes of the mesh.
    fn beyond_hottest(&self, nodal_c: &[f64]) -> Spot {
        let lines = [(&self.outside, false), (&self.bore, true)];
        let spots = lines.into_iter().flat_map(|(line, is_bore)| {
            let nodes = line.nodes().into_iter();
            let beyond = nodes.filter(|(z, _)| z.abs() > self.soak_half_m + EDGE_M);
            let edges = [-self.soak_half_m, self.soak_half_m].map(|z| (z, line.at(z, nodal_c)));
            let all = beyond
                .map(|(z, node)| (z, nodal_c[node as usize]))
                .chain(edges);
            all.map(move |(z, temperature_c)| (z, temperature_c, is_bore))
        });
        let hottest = spots.max_by(|one, other| one.1.total_cmp(&other.1));
        hottest.map_or_else(Spot::default, |(z, temperature_c, is_bore)| {
            let wall_m = self.joint.outside_radius_m(z) - self.joint.bore_radius_m(z);
            Spot {
                temperature_c,
                axial_mm: z * 1e3,
                depth_mm: if is_bore { wall_m * 1e3 } else { 0.0 },
            }
        })
    }

    fn surface_to_bore(&self, nodal_c: &[f64]) -> Difference {
        (0..COMPARED)
            .map(|step| self.soak_half_m * (2.0 * step as f64 / (COMPARED - 1) as f64 - 1.0))
            .map(|z| Difference {
                difference_k: self.outside.at(z, nodal_c) - self.bore.at(z, nodal_c),
                time_s: 0.0,
                axial_mm: z * 1e3,
            })
            .fold(Difference::default(), |most, next| {
                if next.difference_k.abs() > most.difference_k.abs() {
                    next
                } else {
                    most
                }
            })
    }
}

/// The controller follows it.
pub fn is_control(thermocouple: &Thermocouple) -> bool {
    thermocouple.fitted
        && thermocouple.role == Role::Control
        && thermocouple.face == Face::Outside
        && thermocouple.place == Place::SoakBand
}

/// The hold is judged by it.
fn is_judged(thermocouple: &Thermocouple) -> bool {
    thermocouple.fitted && thermocouple.role != Role::Spare && thermocouple.place == Place::SoakBand
}

fn inside(what: &str, given: f64, joint: &JointSection) -> Result<(), CycleError> {
    let [least, most] = [-1e3 * joint.lengths_m[0], 1e3 * joint.lengths_m[1]];
    if (least..=most).contains(&given) {
        return Ok(());
    }
    Err(CycleError::OutOfRange {
        what: what.into(),
        given,
        least,
        most,
        unit: "mm",
        hint: "it must sit on the modeled pipe: check its place and the lengths of the sides"
            .into(),
    })
}

/// Place in mm and temperature of every node of a line.
fn along(line: &SurfaceLine, nodal_c: &[f64]) -> Vec<(f64, f64)> {
    line.nodes()
        .into_iter()
        .map(|(z, node)| (z * 1e3, nodal_c[node as usize]))
        .collect()
}
