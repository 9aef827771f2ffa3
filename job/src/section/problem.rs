//! A section problem as its file states it, with every name looked up and every number checked.

use field::section::{Conductor, Curie, Outer, Point, Symmetry};

/// One two-dimensional problem: what there is, what acts on it, what is asked and what is expected.
#[derive(Clone, Debug)]
pub struct SectionProblem {
    /// The file, as its reader called it.
    pub file: String,
    /// What the problem is, in a line.
    pub title: String,
    /// Where it and its expected values come from.
    pub source: String,
    /// Why its expectations are known not to hold; `None` for a problem that should hold.
    pub known_wrong: Option<String>,
    /// How the section continues out of its plane.
    pub symmetry: Symmetry,
    /// What lies beyond the bodies.
    pub outer: Outer,
    /// Frequency in Hz; `None` where only heat is asked for.
    pub frequency_hz: Option<f64>,
    /// Temperature in °C of every body of a problem without heat.
    pub temperature_c: f64,
    /// The materials.
    pub materials: Vec<Material>,
    /// The bodies.
    pub bodies: Vec<SectionBody>,
    /// The coils.
    pub coils: Vec<Coil>,
    /// What acts on pieces of boundary.
    pub edges: Vec<Edge>,
    /// How temperature is asked for; `None` where only the field is.
    pub heat: Option<Heat>,
    /// The asked and expected values.
    pub rows: Vec<Row>,
}

/// A material: laws over temperature, `None` where the file leaves one out.
#[derive(Clone, Debug)]
pub struct Material {
    /// Its name in the file.
    pub name: String,
    /// Resistivity in ohm meters; `None` for an insulator.
    pub resistivity_ohm_m: Option<Law>,
    /// Magnetic law.
    pub magnetization: Magnetization,
    /// How the permeability fades with temperature.
    pub curie: Option<Curie>,
    /// Thermal conductivity in W/(m K).
    pub conductivity_w_mk: Option<Law>,
    /// Specific heat in J/(kg K).
    pub specific_heat_j_kgk: Option<Law>,
    /// Density in kg/m3.
    pub density_kg_m3: Option<f64>,
    /// The line of the file where it begins.
    pub line: usize,
}

/// A property over temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Law {
    /// (temperature in °C, value), ascending; a single point for a value that holds at every temperature.
    pub points: Vec<(f64, f64)>,
    /// The line of the file that states it.
    pub line: usize,
}

/// The magnetic law of a material.
#[derive(Clone, Debug, PartialEq)]
pub enum Magnetization {
    /// The same relative permeability at every field strength.
    Constant(f64),
    /// B = mu0 H + Bs H / (Hc + |H|) with Hc = Bs / (mu0 (mu_i - 1)).
    Froehlich {
        /// Saturation polarization Bs in T.
        saturation_t: f64,
        /// Relative permeability mu_i at vanishing field.
        initial_permeability: f64,
    },
    /// B = mu0 H + (2 Bs / pi) atan(pi (mu_i - 1) mu0 H / (2 Bs)).
    Arctan {
        /// Saturation polarization Bs in T.
        saturation_t: f64,
        /// Relative permeability mu_i at vanishing field.
        initial_permeability: f64,
    },
    /// Effective relative permeability over the peak of the local field strength in A/m; the last value is held.
    Table(Vec<(f64, f64)>),
}

/// A body of one material.
#[derive(Clone, Debug)]
pub struct SectionBody {
    /// Its name.
    pub name: String,
    /// Its material, by number.
    pub material: usize,
    /// Its corners in meters, counter-clockwise.
    pub polygon: Vec<Point>,
    /// [u1, u2, v1, v2] in meters where the file states a rectangle.
    pub rectangle_m: Option<[f64; 4]>,
    /// The line of the file where it begins.
    pub line: usize,
}

/// A circuit: conductors in series.
#[derive(Clone, Debug)]
pub struct Coil {
    /// Its name.
    pub name: String,
    /// Peak current in A.
    pub current_a_peak: f64,
    /// Its conductors.
    pub conductors: Vec<Conductor>,
    /// The line of the file where it begins.
    pub line: usize,
}

/// A straight piece of boundary and what acts there.
#[derive(Clone, Debug, Default)]
pub struct Edge {
    /// Its name, where it has one.
    pub name: Option<String>,
    /// Where it begins, in meters.
    pub from_m: Point,
    /// Where it ends, in meters.
    pub to_m: Point,
    /// Peak field strength in A/m along it, from its begin to its end.
    pub tangential_field_a_m_peak: Option<f64>,
    /// Heat into the body in W/m2.
    pub heat_flux_w_m2: Option<f64>,
    /// Its temperature: (time in s, °C), a single point for one that stays.
    pub temperature_c: Option<Vec<(f64, f64)>>,
    /// Heat lost to a fluid.
    pub convection: Option<Convection>,
    /// Heat lost by radiation.
    pub radiation: Option<Radiation>,
    /// A blanket that lies on it.
    pub blanket: Option<Blanket>,
    /// The line of the file where it begins.
    pub line: usize,
}

/// Heat lost to a fluid: `w_m2k` times the difference to `ambient_c`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Convection {
    /// Heat transfer coefficient in W/(m2 K).
    pub w_m2k: f64,
    /// Temperature of the fluid in °C.
    pub ambient_c: f64,
}

/// Heat lost by radiation to surroundings that enclose the surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Radiation {
    /// Emissivity from 0 to 1.
    pub emissivity: f64,
    /// Temperature of the surroundings in °C.
    pub ambient_c: f64,
}

/// A blanket on a surface.
#[derive(Clone, Debug)]
pub struct Blanket {
    /// Thickness in meters.
    pub thickness_m: f64,
    /// Thermal conductivity in W/(m K).
    pub conductivity_w_mk: Law,
    /// Density in kg/m3.
    pub density_kg_m3: f64,
    /// Specific heat in J/(kg K).
    pub specific_heat_j_kgk: f64,
    /// Heat transfer coefficient at its outside in W/(m2 K).
    pub convection_w_m2k: f64,
    /// Emissivity of its outside.
    pub emissivity: f64,
    /// Temperature of what is round it, in °C.
    pub ambient_c: f64,
}

/// How temperature is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heat {
    /// Temperature of everything at the start, in °C; where a steady state is sought, the first guess.
    pub initial_c: f64,
    /// When the run ends, in s; `None` for the steady state.
    pub end_s: Option<f64>,
}

/// One asked value and, in a reference case, what is expected.
#[derive(Clone, Debug)]
pub struct Row {
    /// What is asked.
    pub asked: Asked,
    /// When, in s; `None` for a state that does not change, or the end of a run.
    pub time_s: Option<f64>,
    /// What is expected, where something is.
    pub expected: Option<Expectation>,
    /// The line of the file where it begins.
    pub line: usize,
}

/// A quantity of the solved section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asked {
    /// Ohmic loss in a body in W (per meter of depth when planar).
    Power {
        /// The body, by number.
        body: usize,
    },
    /// Resistance that a coil presents, in ohms: the loss of all bodies over half the squared peak current.
    Resistance {
        /// The coil, by number.
        coil: usize,
    },
    /// Reactance that a coil presents, in ohms.
    Reactance {
        /// The coil, by number.
        coil: usize,
    },
    /// Reactance over angular frequency, in henries.
    Inductance {
        /// The coil, by number.
        coil: usize,
    },
    /// Ohmic loss integrated through a body, per area of one of its sides, in W/m2.
    Flux {
        /// The body, by number.
        body: usize,
        /// The side of its rectangle.
        side: RectangleSide,
        /// The coordinate along that side in meters.
        at_m: f64,
    },
    /// Temperature at a point in °C.
    Temperature {
        /// The point.
        point_m: Point,
    },
    /// Heat that enters through a named edge, in W (per meter of depth when planar).
    HeatFlow {
        /// The edge, by number.
        edge: usize,
    },
}

/// A side of a rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RectangleSide {
    /// Where u is smallest.
    U1,
    /// Where u is largest.
    U2,
    /// Where v is smallest.
    V1,
    /// Where v is largest.
    V2,
}

/// A value that the computed one is held against.
#[derive(Clone, Debug, PartialEq)]
pub struct Expectation {
    /// The value.
    pub value: f64,
    /// How far the computed one may be from it.
    pub allowed: f64,
    /// The same in percent of the value, where the file says so and it is that which counts.
    pub allowed_percent: Option<f64>,
    /// Why that far.
    pub because: String,
}

impl Law {
    /// The lowest and highest temperature in °C at which it holds; `None` where it holds at every one.
    pub fn range_c(&self) -> Option<(f64, f64)> {
        match self.points.as_slice() {
            [first, .., last] => Some((first.0, last.0)),
            _ => None,
        }
    }
}

impl Asked {
    /// The quantity in the words of the file.
    pub fn quantity(&self) -> &'static str {
        match self {
            Asked::Power { .. } => "power_w",
            Asked::Resistance { .. } => "resistance_ohm",
            Asked::Reactance { .. } => "reactance_ohm",
            Asked::Inductance { .. } => "inductance_h",
            Asked::Flux { .. } => "flux_w_m2",
            Asked::Temperature { .. } => "temperature_c",
            Asked::HeatFlow { .. } => "heat_flow_w",
        }
    }

    /// The name of the body, coil or edge that is asked about.
    pub fn of<'p>(&self, problem: &'p SectionProblem) -> Option<&'p str> {
        match *self {
            Asked::Power { body } | Asked::Flux { body, .. } => Some(&problem.bodies[body].name),
            Asked::Resistance { coil } | Asked::Reactance { coil } | Asked::Inductance { coil } => {
                Some(&problem.coils[coil].name)
            }
            Asked::HeatFlow { edge } => problem.edges[edge].name.as_deref(),
            Asked::Temperature { .. } => None,
        }
    }
}

impl RectangleSide {
    /// It in the words of the file.
    pub fn word(self) -> &'static str {
        RectangleSide::WORDS[self as usize]
    }

    /// The sides in the words of the file.
    pub const WORDS: [&'static str; 4] = ["u1", "u2", "v1", "v2"];

    /// All sides, in the order of [`RectangleSide::WORDS`].
    pub const ALL: [RectangleSide; 4] = [
        RectangleSide::U1,
        RectangleSide::U2,
        RectangleSide::V1,
        RectangleSide::V2,
    ];

    /// Its begin and its end on a rectangle [u1, u2, v1, v2], along the ascending coordinate.
    pub fn ends(self, [u1, u2, v1, v2]: [f64; 4]) -> [Point; 2] {
        match self {
            RectangleSide::U1 => [[u1, v1], [u1, v2]],
            RectangleSide::U2 => [[u2, v1], [u2, v2]],
            RectangleSide::V1 => [[u1, v1], [u2, v1]],
            RectangleSide::V2 => [[u1, v2], [u2, v2]],
        }
    }
}
