//! The multifrontal factorization A = L D L^T without pivoting.

use super::dense::{factor_panel, subtract_from_update};
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
            let mut update = updates.fresh(front.below.len());
            for &child in &front.children {
                let from = updates.take(child);
                extend_add(
                    &plan.fronts[child as usize],
                    &from,
                    front,
                    panel,
                    &mut update,
                );
                updates.give_back(from);
            }
            let smallest = smallest_pivots(plan, front, values);
            factor_panel(panel, front.height, &smallest, &mut scratch)
                .map_err(|found| singular(plan, front.first + found.column, found.pivot, values))?;
            subtract_from_update(panel, front.height, &mut update, &mut scratch);
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

/// Adds what a child left over to its parent's panel and to what the parent itself will leave over.
fn extend_add<T: Number>(
    child: &Front,
    from: &[T],
    parent: &Front,
    panel: &mut [T],
    update: &mut [T],
) {
    let size = child.below.len();
    let rows_left = parent.below.len();
    for (column, &at) in child.in_parent.iter().enumerate() {
        let source = &from[column * size + column..(column + 1) * size];
        let rows = &child.in_parent[column..];
        let at = at as usize;
        let (target, above) = if at < parent.width {
            (&mut panel[at * parent.height..(at + 1) * parent.height], 0)
        } else {
            let begin = (at - parent.width) * rows_left;
            (&mut update[begin..begin + rows_left], parent.width)
        };
        for (&row, &value) in rows.iter().zip(source) {
            target[row as usize - above] += value;
        }
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

    fn fresh(&mut self, rows: usize) -> Vec<T> {
        let mut update = self.spare.pop().unwrap_or_default();
        update.clear();
        update.resize(rows * rows, T::ZERO);
        update
    }

    fn put(&mut self, front: usize, update: Vec<T>) {
        self.waiting[front] = update;
    }

    fn take(&mut self, front: u32) -> Vec<T> {
        std::mem::take(&mut self.waiting[front as usize])
    }

    fn give_back(&mut self, update: Vec<T>) {
        self.spare.push(update);
    }
}
