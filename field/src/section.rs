//! What is solved: bodies, windings and the kind of space round them, in the plane of the section.

use crate::table::Table;

/// A point of the section in metres: (r, z) when axisymmetric, (x, y) when planar.
pub type Point = [f64; 2];

/// How the section continues out of its plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Symmetry {
    /// Turned about the axis r = 0; results are for the whole turn.
    Axisymmetric,
    /// Straight; results are for one metre of depth.
    Planar,
}

/// What lies beyond the bodies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outer {
    /// Open space; the solver chooses the size of the air that it meshes.
    Far,
    /// Nothing: the bodies fill the domain and what is not prescribed on its boundary is natural.
    Natural,
}

/// One section: every number that the geometry needs.
#[derive(Clone, Debug)]
pub struct Section {
    /// How it continues out of the plane.
    pub symmetry: Symmetry,
    /// What lies beyond the bodies.
    pub outer: Outer,
    /// The bodies; they may touch along whole edges or parts of edges, never overlap.
    pub bodies: Vec<Body>,
    /// The windings, one circuit each.
    pub windings: Vec<Winding>,
}

/// A region of one metal.
#[derive(Clone, Debug)]
pub struct Body {
    /// Its name, for messages only.
    pub name: String,
    /// Its corners in metres, counter-clockwise, without the first one repeated.
    pub polygon: Vec<Point>,
    /// What it is made of.
    pub metal: Metal,
}

/// The laws of a metal that the solvers need, as tables over temperature in degrees Celsius.
#[derive(Clone, Debug)]
pub struct Metal {
    /// Electrical resistivity in ohm metres; `None` for air and other insulators.
    pub resistivity_ohm_m: Option<Table>,
    /// Relative permeability.
    pub permeability: Permeability,
    /// Thermal conductivity in W/(m K).
    pub conductivity_w_mk: Table,
    /// Heat content in J/m3 over temperature, strictly ascending (the integral of density times specific heat).
    pub heat_content_j_m3: Table,
}

/// Relative permeability of a metal.
#[derive(Clone, Debug)]
pub enum Permeability {
    /// The same at every field and temperature.
    Constant(f64),
    /// mu_r = 1 + (effective(|H|) - 1) * fade(T).
    Saturating {
        /// Effective relative permeability over the peak |H| in A/m at the reference temperature.
        effective: Table,
        /// How it fades towards the Curie point; `None` when it does not.
        curie: Option<Curie>,
    },
}

/// Fading of permeability: fade(T) = max(0, 1 - ((T - reference)/(point - reference))^exponent), 1 below the reference.
#[derive(Clone, Copy, Debug)]
pub struct Curie {
    /// The Curie point in degrees Celsius.
    pub point_c: f64,
    /// The exponent of the law.
    pub exponent: f64,
    /// The temperature at which the permeability is the tabulated one.
    pub reference_c: f64,
}

impl Curie {
    /// The share of magnetization that is left at a temperature.
    pub fn fade(&self, temperature_c: f64) -> f64 {
        let way = (temperature_c - self.reference_c) / (self.point_c - self.reference_c);
        (1.0 - libm::pow(way.max(0.0), self.exponent)).max(0.0)
    }
}

impl Permeability {
    /// Effective relative permeability at a peak field strength in A/m and a temperature
    /// (docs/theory/eddy-currents.md, equation 9).
    pub fn relative(&self, field_a_m: f64, temperature_c: f64) -> f64 {
        match self {
            Permeability::Constant(value) => *value,
            Permeability::Saturating { effective, curie } => {
                let fade = curie.map_or(1.0, |curie| curie.fade(temperature_c));
                1.0 + (effective.at(field_a_m) - 1.0) * fade
            }
        }
    }
}

impl Metal {
    /// Electrical conductivity in S/m at a temperature; zero in insulators.
    pub fn conductivity_s_m(&self, temperature_c: f64) -> f64 {
        self.resistivity_ohm_m
            .as_ref()
            .map_or(0.0, |law| 1.0 / law.at(temperature_c))
    }
}

/// One circuit: conductors in series that carry the same current.
#[derive(Clone, Debug)]
pub struct Winding {
    /// Its name, for messages only.
    pub name: String,
    /// Its conductors.
    pub conductors: Vec<Conductor>,
}

/// A conductor cut by the section, with uniform current density.
#[derive(Clone, Copy, Debug)]
pub struct Conductor {
    /// Its outline.
    pub shape: Shape,
    /// Turns that it stands for; negative where the current runs the other way.
    pub turns: f64,
}

/// The outline of a conductor.
#[derive(Clone, Copy, Debug)]
pub enum Shape {
    /// A round conductor.
    Circle {
        /// Centre.
        center_m: Point,
        /// Radius in metres.
        radius_m: f64,
    },
    /// A rectangle with sides along the axes.
    Rectangle {
        /// Lower left corner.
        min_m: Point,
        /// Upper right corner.
        max_m: Point,
    },
}

impl Shape {
    /// Its middle.
    pub fn center_m(&self) -> Point {
        match *self {
            Shape::Circle { center_m, .. } => center_m,
            Shape::Rectangle { min_m, max_m } => {
                [0.5 * (min_m[0] + max_m[0]), 0.5 * (min_m[1] + max_m[1])]
            }
        }
    }

    /// Lower left and upper right corner of the box around it.
    pub fn bounds_m(&self) -> [Point; 2] {
        match *self {
            Shape::Circle {
                center_m: [u, v],
                radius_m,
            } => [[u - radius_m, v - radius_m], [u + radius_m, v + radius_m]],
            Shape::Rectangle { min_m, max_m } => [min_m, max_m],
        }
    }

    /// Distance from a place to its middle (circle), or to where its field comes from (rectangle: half a width
    /// beneath the outline).
    pub fn distance_m(&self, [u, v]: Point) -> f64 {
        let outside = |x: f64, low: f64, high: f64| (low - x).max(x - high).max(0.0);
        match *self {
            Shape::Circle { center_m, .. } => libm::hypot(u - center_m[0], v - center_m[1]),
            Shape::Rectangle { min_m, max_m } => {
                let gap_m = libm::hypot(
                    outside(u, min_m[0], max_m[0]),
                    outside(v, min_m[1], max_m[1]),
                );
                gap_m + self.half_width_m()
            }
        }
    }

    /// Its radius, or half the smaller side.
    pub fn half_width_m(&self) -> f64 {
        let [low, high] = self.bounds_m();
        0.5 * (high[0] - low[0]).min(high[1] - low[1])
    }
}
