//! A wall of several metals in series, by finite volumes through its thickness.
//!
//! Hydrogen goes from layer to layer with equal concentration on both sides of the seam; what a metal dissolves more than
//! its neighbor is not counted. Crank and Nicolson in time, begun with implicit steps.

use quantity::{Hours, Millimeters};

use super::wall::Left;
use crate::fault::RuleError;
use crate::time_temperature::bad_measure;

/// One layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Thickness.
    pub thickness: Millimeters,
    /// Diffusion coefficient in m²/s.
    pub m2_s: f64,
    /// Share of the first content that it holds at the start; 1 in the metal that is baked.
    pub first_content: f64,
}

/// A wall of layers from the inner to the outer face.
#[derive(Clone, Debug, PartialEq)]
pub struct Layers {
    layers: Vec<Layer>,
    inner_free: bool,
    outer_free: bool,
}

/// Cells of each layer.
const CELLS: usize = 60;

/// Steps of time.
const STEPS: usize = 600;

/// First steps that are fully implicit, so that the jump at a free face does not ring.
const IMPLICIT_STEPS: usize = 6;

/// A cell in SI units.
struct Cell {
    width_m: f64,
    m2_s: f64,
    layer: usize,
}

impl Layers {
    /// A wall with faces that let hydrogen out or not.
    ///
    /// # Errors
    /// [`crate::fault::RuleFault::BadMeasure`] for every layer that cannot be, and where nothing can get out.
    pub fn new(
        layers: Vec<Layer>,
        inner_free: bool,
        outer_free: bool,
    ) -> Result<Layers, RuleError> {
        let mut faults = Vec::new();
        for layer in &layers {
            for (what, value, unit) in [
                ("thickness of a layer", layer.thickness.mm(), "mm"),
                ("diffusion coefficient of a layer", layer.m2_s, "m²/s"),
            ] {
                if !(value.is_finite() && value > 0.0) {
                    faults
                        .extend(bad_measure(what, value, unit, "it must be more than zero").faults);
                }
            }
        }
        if layers.is_empty() || !(inner_free || outer_free) {
            faults.extend(
                bad_measure(
                    "number of free faces",
                    0.0,
                    "",
                    "hydrogen needs a layer and a face to leave by",
                )
                .faults,
            );
        }
        match faults.is_empty() {
            true => Ok(Layers {
                layers,
                inner_free,
                outer_free,
            }),
            false => Err(RuleError { faults }),
        }
    }

    /// What is left of the first content after a time, layer by layer: the mean and the most at one place.
    pub fn left_after(&self, time: Hours) -> Vec<Left> {
        let cells = self.cells();
        let step_s = time.s().max(0.0) / STEPS as f64;
        let mut content: Vec<f64> = cells
            .iter()
            .map(|cell| self.layers[cell.layer].first_content)
            .collect();
        for step in 0..STEPS {
            let implicit = if step < IMPLICIT_STEPS { 1.0 } else { 0.5 };
            self.step(&cells, &mut content, step_s, implicit);
        }
        (0..self.layers.len())
            .map(|layer| left_in(&cells, &content, layer))
            .collect()
    }

    fn cells(&self) -> Vec<Cell> {
        let of_layer = |(index, layer): (usize, &Layer)| {
            let (width_m, m2_s) = (layer.thickness.m() / CELLS as f64, layer.m2_s);
            (0..CELLS).map(move |_| Cell {
                width_m,
                m2_s,
                layer: index,
            })
        };
        self.layers.iter().enumerate().flat_map(of_layer).collect()
    }

    /// Conductance in m/s of each seam: before the first cell, between cells, behind the last.
    fn conductances(&self, cells: &[Cell]) -> Vec<f64> {
        let half = |cell: &Cell| 0.5 * cell.width_m / cell.m2_s;
        let face = |free: bool, cell: &Cell| if free { 1.0 / half(cell) } else { 0.0 };
        let mut seams = vec![face(self.inner_free, &cells[0])];
        seams.extend(
            cells
                .windows(2)
                .map(|pair| 1.0 / (half(&pair[0]) + half(&pair[1]))),
        );
        seams.push(face(self.outer_free, &cells[cells.len() - 1]));
        seams
    }

    fn step(&self, cells: &[Cell], content: &mut [f64], step_s: f64, implicit: f64) {
        let seams = self.conductances(cells);
        let flow = |content: &[f64], cell: usize| {
            let here = content[cell];
            let left = if cell == 0 { 0.0 } else { content[cell - 1] };
            let right = content.get(cell + 1).copied().unwrap_or(0.0);
            seams[cell] * (left - here) + seams[cell + 1] * (right - here)
        };
        let known: Vec<f64> = (0..cells.len())
            .map(|cell| {
                content[cell]
                    + (1.0 - implicit) * step_s / cells[cell].width_m * flow(content, cell)
            })
            .collect();
        solve(cells, &seams, implicit * step_s, known, content);
    }
}

/// The three-diagonal system by Thomas' elimination.
fn solve(cells: &[Cell], seams: &[f64], step_s: f64, mut known: Vec<f64>, content: &mut [f64]) {
    let count = cells.len();
    let share = |cell: usize, seam: usize| step_s / cells[cell].width_m * seams[seam];
    let mut above = vec![0.0; count];
    for cell in 0..count {
        let (left, right) = (share(cell, cell), share(cell, cell + 1));
        let (before_above, before_known) = match cell {
            0 => (0.0, 0.0),
            _ => (above[cell - 1], known[cell - 1]),
        };
        let below = if cell == 0 { 0.0 } else { left };
        let pivot = 1.0 + left + right - below * before_above;
        above[cell] = right / pivot;
        known[cell] = (known[cell] + below * before_known) / pivot;
    }
    for cell in (0..count).rev() {
        let next = content.get(cell + 1).copied().unwrap_or(0.0);
        content[cell] = known[cell] + above[cell] * next;
    }
}

fn left_in(cells: &[Cell], content: &[f64], layer: usize) -> Left {
    let of_layer: Vec<f64> = cells
        .iter()
        .zip(content)
        .filter(|(cell, _)| cell.layer == layer)
        .map(|(_, c)| *c)
        .collect();
    Left {
        mean: of_layer.iter().sum::<f64>() / of_layer.len() as f64,
        slowest: of_layer.iter().copied().fold(0.0, f64::max),
    }
}
