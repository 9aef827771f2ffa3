//! The dense work inside one supernode: a panel of tall columns with a square on top.

use faer::linalg::matmul::matmul;
use faer::linalg::matmul::triangular::{self, BlockStructure};
use faer::{Accum, MatMut, MatRef, Par};

use super::Number;

/// Below this width columns are eliminated one by one: a call of a dense kernel would cost more.
const NARROW: usize = 4;

/// A pivot too small to divide by.
#[derive(Debug, PartialEq)]
pub struct ZeroPivot {
    /// Column of the panel.
    pub column: usize,
    /// Its magnitude.
    pub pivot: f64,
}

/// Factors a panel of `height` rows in place: L below the diagonal, D on it. `smallest` is the least magnitude of
/// each pivot that is accepted.
///
/// Columns are halved until they are narrow; the right half takes L_left (D L_left^T) off before its own turn.
pub fn factor_panel<T: Number>(
    panel: &mut [T],
    height: usize,
    smallest: &[f64],
    scratch: &mut Vec<T>,
) -> Result<(), ZeroPivot> {
    factor_columns(panel, height, 0, smallest, scratch)
}

/// As [`factor_panel`], for columns whose diagonal begins in row `top`.
fn factor_columns<T: Number>(
    columns: &mut [T],
    height: usize,
    top: usize,
    smallest: &[f64],
    scratch: &mut Vec<T>,
) -> Result<(), ZeroPivot> {
    let width = smallest.len();
    if width <= NARROW {
        return eliminate(columns, height, top, smallest);
    }
    let half = width / 2;
    let (left, right) = columns.split_at_mut(half * height);
    factor_columns(left, height, top, &smallest[..half], scratch)?;
    let middle = top + half;
    scale_rows(left, height, top, middle..top + width, scratch);
    let lower =
        MatRef::from_column_major_slice_with_stride(&left[middle..], height - middle, half, height);
    let scaled = MatRef::from_column_major_slice(scratch, half, width - half);
    let rest = MatMut::from_column_major_slice_with_stride_mut(
        &mut right[middle..],
        height - middle,
        width - half,
        height,
    );
    matmul(rest, Accum::Add, lower, scaled, T::ZERO - T::ONE, Par::Seq);
    factor_columns(right, height, middle, &smallest[half..], scratch).map_err(|found| ZeroPivot {
        column: found.column + half,
        ..found
    })
}

/// Eliminates column after column.
fn eliminate<T: Number>(
    columns: &mut [T],
    height: usize,
    top: usize,
    smallest: &[f64],
) -> Result<(), ZeroPivot> {
    for (column, &least) in smallest.iter().enumerate() {
        let diagonal = top + column;
        let (before, own) = columns.split_at_mut(column * height);
        let own = &mut own[diagonal..height];
        for (earlier, other) in before.chunks_exact(height).enumerate() {
            let factor = other[diagonal] * other[top + earlier];
            for (mine, &its) in own.iter_mut().zip(&other[diagonal..]) {
                *mine -= factor * its;
            }
        }
        let pivot = own[0].magnitude();
        if pivot.is_nan() || pivot <= least {
            return Err(ZeroPivot { column, pivot });
        }
        let inverse = T::ONE / own[0];
        own[1..].iter_mut().for_each(|value| *value *= inverse);
    }
    Ok(())
}

/// D L^T for some rows of factored columns, column-major, one column for each row.
fn scale_rows<T: Number>(
    columns: &[T],
    height: usize,
    top: usize,
    rows: std::ops::Range<usize>,
    scaled: &mut Vec<T>,
) {
    let width = columns.len() / height;
    scaled.clear();
    scaled.resize(width * rows.len(), T::ZERO);
    for (k, column) in columns.chunks_exact(height).enumerate() {
        let pivot = column[top + k];
        for (target, &value) in scaled[k..]
            .iter_mut()
            .step_by(width)
            .zip(&column[rows.clone()])
        {
            *target = pivot * value;
        }
    }
}

/// Writes -L D L^T of the rows below the square over the lower half of `update`: what this supernode leaves over.
pub fn left_over<T: Number>(panel: &[T], height: usize, update: &mut [T], scratch: &mut Vec<T>) {
    let width = panel.len() / height;
    let rows = height - width;
    if rows == 0 {
        return;
    }
    scale_rows(panel, height, 0, width..height, scratch);
    triangular::matmul(
        MatMut::from_column_major_slice_mut(update, rows, rows),
        BlockStructure::TriangularLower,
        Accum::Replace,
        MatRef::from_column_major_slice_with_stride(&panel[width..], rows, width, height),
        BlockStructure::Rectangular,
        MatRef::from_column_major_slice(scratch, width, rows),
        BlockStructure::Rectangular,
        T::ZERO - T::ONE,
        Par::Seq,
    );
}
