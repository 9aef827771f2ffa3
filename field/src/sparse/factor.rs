//! The multifrontal factorization A = L D L^T without pivoting.

use super::dense::{factor_panel, left_over};
use super::symbolic::{Front, Plan};
use super::{Number, Symbolic};
use crate::FieldError;

/// A pivot smaller than this share of its diagonal entry is what rounding leaves of a zero: n eps for the largest
/// matrices in use here.
const SINGULAR_SHARE: f64 = 1e-13;

/// The factors L and D of a symmetric matrix, real or complex (symmetric, not Hermitian).
///
/// Without pivoting this is backward stable where Re A is positive definite and Im A positive semidefinite:
/// `docs/theory/factorization.md`, section 2. Other matrices may be refused or lose digits; check the residual.
#[derive(Clone, Debug)]
pub struct Factor<T> {
    pub(super) symbolic: Symbolic,
    /// The panels of all supernodes, each column-major, one after another.
    pub(super) panels: Vec<T>,
}

impl<T: Number> Factor<T> {
    /// Factors the matrix whose values are given by the ids of the analyzed pattern.
    ///
    /// # Errors
    /// [`FieldError::Singular`] where a pivot vanishes.
    pub fn new(symbolic: &Symbolic, values: &[T]) -> Result<Factor<T>, FieldError> {
        let mut factor = Factor {
            symbolic: symbolic.clone(),
            panels: vec![T::ZERO; symbolic.plan.stored],
        };
        factor.eliminate(values)?;
        Ok(factor)
    }

    /// Factors other values of the same pattern, in the memory of this factor.
    ///
    /// # Errors
    /// [`FieldError::Singular`] where a pivot vanishes; the factor is then of no use.
    pub fn renew(&mut self, values: &[T]) -> Result<(), FieldError> {
        self.panels.fill(T::ZERO);
        self.eliminate(values)
    }

    fn eliminate(&mut self, values: &[T]) -> Result<(), FieldError> {
        let symbolic = self.symbolic.clone();
        let plan = &*symbolic.plan;
        let mut updates = Updates::new(plan.fronts.len());
        let mut scratch = Vec::new();
        for (number, front) in plan.fronts.iter().enumerate() {
            let end = front.offset + front.width * front.height;
            let panel = &mut self.panels[front.offset..end];
            for &(id, target) in &front.sources {
                panel[target as usize] += values[id as usize];
            }
            for &child in &front.children {
                add_to_panel(
                    &plan.fronts[child as usize],
                    updates.of(child),
                    front,
                    panel,
                );
            }
            let smallest = smallest_pivots(plan, front, values);
            factor_panel(panel, front.height, &smallest, &mut scratch)
                .map_err(|found| singular(plan, front.first + found.column, found.pivot, values))?;
            let mut update = updates.recycled(front.below.len());
            left_over(panel, front.height, &mut update, &mut scratch);
            for &child in &front.children {
                add_to_update(
                    &plan.fronts[child as usize],
                    updates.of(child),
                    front,
                    &mut update,
                );
                updates.give_back(child);
            }
            updates.put(number, update);
        }
        Ok(())
    }
}

fn smallest_pivots<T: Number>(plan: &Plan, front: &Front, values: &[T]) -> Vec<f64> {
    plan.diagonal[front.first..front.first + front.width]
        .iter()
        .map(|&id| SINGULAR_SHARE * values[id as usize].magnitude())
        .collect()
}

fn singular<T: Number>(plan: &Plan, place: usize, pivot: f64, values: &[T]) -> FieldError {
    let unknown = plan.place.iter().position(|&at| at as usize == place);
    FieldError::Singular {
        unknown: unknown.unwrap_or(place),
        pivot,
        diagonal: values[plan.diagonal[place] as usize].magnitude(),
    }
}

/// How many columns of what a child left over belong to its parent's panel.
fn columns_in_panel(child: &Front, parent: &Front) -> usize {
    child
        .in_parent
        .partition_point(|&at| (at as usize) < parent.width)
}

/// Adds the first columns of what a child left over to its parent's panel.
fn add_to_panel<T: Number>(child: &Front, from: &[T], parent: &Front, panel: &mut [T]) {
    for column in 0..columns_in_panel(child, parent) {
        let begin = child.in_parent[column] as usize * parent.height;
        add_column(
            child,
            from,
            column,
            &mut panel[begin..begin + parent.height],
            0,
        );
    }
}

/// Adds the other columns to what the parent itself leaves over.
fn add_to_update<T: Number>(child: &Front, from: &[T], parent: &Front, update: &mut [T]) {
    let rows = parent.below.len();
    for column in columns_in_panel(child, parent)..child.below.len() {
        let begin = (child.in_parent[column] as usize - parent.width) * rows;
        add_column(
            child,
            from,
            column,
            &mut update[begin..begin + rows],
            parent.width,
        );
    }
}

/// Adds the lower part of a column to one of the parent's, whose first row is `above` in the parent's panel.
fn add_column<T: Number>(child: &Front, from: &[T], column: usize, target: &mut [T], above: usize) {
    let size = child.below.len();
    let source = &from[column * size + column..(column + 1) * size];
    for (&row, &value) in child.in_parent[column..].iter().zip(source) {
        target[row as usize - above] += value;
    }
}

/// What finished supernodes leave to their parents, in recycled memory.
struct Updates<T> {
    waiting: Vec<Vec<T>>,
    spare: Vec<Vec<T>>,
}

impl<T: Number> Updates<T> {
    fn new(fronts: usize) -> Updates<T> {
        Updates {
            waiting: vec![Vec::new(); fronts],
            spare: Vec::new(),
        }
    }

    /// A square to be written over: what is in it has no meaning.
    fn recycled(&mut self, rows: usize) -> Vec<T> {
        let mut update = self.spare.pop().unwrap_or_default();
        update.resize(rows * rows, T::ZERO);
        update
    }

    fn put(&mut self, front: usize, update: Vec<T>) {
        self.waiting[front] = update;
    }

    fn of(&self, front: u32) -> &[T] {
        &self.waiting[front as usize]
    }

    fn give_back(&mut self, front: u32) {
        self.spare
            .push(std::mem::take(&mut self.waiting[front as usize]));
    }
}
