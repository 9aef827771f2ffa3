//! Everything about heat that stays the same while time goes on.

use super::boundary::{Boundary, Law};
use super::element::Element;
use super::layout::{Cell, NONE};
use super::lookup::Lookup;
use super::probe::Probe;
use crate::FieldError;
use crate::element::PAIRS;
use crate::section::Point;
use crate::sparse::{Pattern, Symbolic};
use crate::table::Table;

/// A section prepared for heat: elements, boundaries and the matrix pattern.
#[derive(Clone, Debug)]
pub struct Model {
    pub(super) elements: Vec<HeatElement>,
    pub(super) laws: Vec<MetalLaws>,
    pub(super) boundaries: Vec<Boundary>,
    /// Unknowns of given temperature, each with its boundary.
    pub(super) fixed: Vec<Fixed>,
    pub(super) fluxes: Vec<FluxPoint>,
    pub(super) exchanges: Vec<Exchange>,
    pub(super) cells: Vec<Cell>,
    pub(super) cell_ids: Vec<u32>,
    /// Conductivity of the blanket of each boundary.
    pub(super) blanket_conductivity: Vec<Option<Lookup>>,
    /// Ids of all pairs that touch an unknown of given temperature.
    pub(super) fixed_pairs: Vec<u32>,
    pub(super) pattern: Pattern,
    pub(super) symbolic: Symbolic,
    pub(super) places_m: Vec<Point>,
    pub(super) nodes: Nodes,
}

/// Temperatures at one time.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Time in seconds.
    pub time_s: f64,
    /// Temperature of each unknown in degrees Celsius.
    pub temperature_c: Vec<f64>,
    /// Heat in W that flows in at each node of given temperature, so that its temperature is what it is.
    pub reaction_w: Vec<f64>,
}

/// A point that gives off heat to the surroundings: on the metal, or on the outside of its blanket.
#[derive(Clone, Copy, Debug)]
pub struct Exchange {
    /// The unknown.
    pub unknown: u32,
    /// Its area in m2.
    pub area_m2: f64,
    /// Where on the metal it is, in meters.
    pub place_m: Point,
    /// The boundary that it belongs to, by number.
    pub boundary: u32,
}

#[derive(Clone, Debug)]
pub struct HeatElement {
    pub unknowns: [u32; 6],
    pub pairs: [u32; PAIRS],
    pub body: u16,
    pub element: Element,
}

#[derive(Clone, Debug)]
pub struct MetalLaws {
    pub conductivity_w_mk: Lookup,
    pub heat_content_j_m3: Lookup,
}

#[derive(Clone, Copy, Debug)]
pub struct Fixed {
    pub unknown: u32,
    pub boundary: u32,
}

#[derive(Clone, Copy, Debug)]
pub struct FluxPoint {
    pub unknown: u32,
    pub area_m2: f64,
    pub boundary: u32,
}

#[derive(Clone, Debug)]
pub struct Nodes {
    pub unknown_of_node: Vec<u32>,
    pub node_of_unknown: Vec<u32>,
}

impl Model {
    /// How many unknowns there are: nodes of the metal, then cells of blankets.
    pub fn unknowns(&self) -> usize {
        self.pattern.unknowns()
    }

    /// The nodes of the space that carry the first unknowns, in their order.
    pub fn nodes(&self) -> &[u32] {
        &self.nodes.node_of_unknown
    }

    /// The unknown of a node of the space, if it takes part in heat.
    pub fn unknown_of_node(&self, node: u32) -> Option<u32> {
        Some(self.nodes.unknown_of_node[node as usize]).filter(|&unknown| unknown != NONE)
    }

    /// The same temperature everywhere, at time zero.
    pub fn uniform(&self, temperature_c: f64) -> State {
        State {
            time_s: 0.0,
            temperature_c: vec![temperature_c; self.unknowns()],
            reaction_w: vec![0.0; self.fixed.len()],
        }
    }

    /// The points that give off heat, in the order of [`super::Conditions::radiation_ambient_c`].
    pub fn exchanges(&self) -> &[Exchange] {
        &self.exchanges
    }

    /// The laws, in the order given.
    pub fn boundaries(&self) -> &[Boundary] {
        &self.boundaries
    }

    /// The ambient temperature of radiation that the laws state for each exchange, in degrees Celsius.
    pub fn radiation_ambient_c(&self) -> Vec<f64> {
        self.exchanges
            .iter()
            .map(|exchange| self.loss_of(exchange.boundary).ambient_c())
            .collect()
    }

    /// Prepares reading the temperature at a point of the metal.
    ///
    /// # Errors
    /// [`FieldError::OutsideMetal`] where no metal is.
    pub fn probe(&self, place_m: Point) -> Result<Probe, FieldError> {
        Probe::new(&self.elements, &self.places_m, place_m)
    }

    /// Times in seconds at which a law over time has a corner, ascending.
    pub fn knots_s(&self) -> Vec<f64> {
        let mut knots: Vec<f64> = self
            .boundaries
            .iter()
            .filter_map(|b| schedule(&b.law))
            .flat_map(knots_of)
            .collect();
        knots.sort_by(f64::total_cmp);
        knots.dedup();
        knots
    }
}

fn schedule(law: &Law) -> Option<&Table> {
    match law {
        Law::Temperature(table) | Law::Flux(table) => Some(table),
        _ => None,
    }
}

fn knots_of(table: &Table) -> Vec<f64> {
    table.points().map(|(time_s, _)| time_s).collect()
}
