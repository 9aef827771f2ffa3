//! Solving with a factor: forward through L, through D, backward through L^T.

use faer::linalg::matmul::matmul;
use faer::linalg::triangular_solve::{
    solve_unit_lower_triangular_in_place, solve_unit_upper_triangular_in_place,
};
use faer::{Accum, MatMut, MatRef, Par};

use super::symbolic::Front;
use super::{Factor, Number};

impl<T: Number> Factor<T> {
    /// Replaces a right-hand side by the solution.
    pub fn solve_in_place(&self, rhs: &mut [T]) {
        self.solve_several_in_place(rhs, 1);
    }

    /// Replaces several right-hand sides, one after another in memory, by the solutions.
    pub fn solve_several_in_place(&self, rhs: &mut [T], count: usize) {
        let n = self.symbolic.unknowns();
        assert_eq!(
            rhs.len(),
            n * count,
            "{count} right-hand sides of {n} unknowns"
        );
        let plan = &*self.symbolic.plan;
        let mut x = vec![T::ZERO; rhs.len()];
        for (from, to) in rhs.chunks_exact(n).zip(x.chunks_exact_mut(n)) {
            plan.place
                .iter()
                .zip(from)
                .for_each(|(&at, &value)| to[at as usize] = value);
        }
        let mut work = Sides {
            x: &mut x,
            unknowns: n,
            count,
            below: vec![T::ZERO; plan.tallest_below * count],
        };
        plan.fronts
            .iter()
            .for_each(|front| work.forward(front, &self.panel(front)));
        plan.fronts
            .iter()
            .rev()
            .for_each(|front| work.backward(front, &self.panel(front)));
        for (to, from) in rhs.chunks_exact_mut(n).zip(x.chunks_exact(n)) {
            plan.place
                .iter()
                .zip(to)
                .for_each(|(&at, value)| *value = from[at as usize]);
        }
    }

    fn panel(&self, front: &Front) -> Panel<'_, T> {
        let end = front.offset + front.width * front.height;
        let values = &self.panels[front.offset..end];
        let (w, h) = (front.width, front.height);
        Panel {
            square: MatRef::from_column_major_slice_with_stride(values, w, w, h),
            lower: MatRef::from_column_major_slice_with_stride(
                &values[w.min(h - 1)..],
                h - w,
                w,
                h,
            ),
        }
    }
}

/// The two parts of a supernode's panel.
struct Panel<'a, T> {
    square: MatRef<'a, T>,
    lower: MatRef<'a, T>,
}

/// Right-hand sides on their way through the factor.
struct Sides<'a, T> {
    x: &'a mut [T],
    unknowns: usize,
    count: usize,
    below: Vec<T>,
}

impl<T: Number> Sides<'_, T> {
    /// x1 <- L11^-1 x1, x2 <- x2 - L21 x1.
    fn forward(&mut self, front: &Front, panel: &Panel<'_, T>) {
        let rows = front.below.len();
        let mut own = MatMut::from_column_major_slice_with_stride_mut(
            &mut self.x[front.first..],
            front.width,
            self.count,
            self.unknowns,
        );
        solve_unit_lower_triangular_in_place(panel.square, own.as_mut(), Par::Seq);
        if rows == 0 {
            return;
        }
        let below = &mut self.below[..rows * self.count];
        let product = MatMut::from_column_major_slice_mut(below, rows, self.count);
        matmul(
            product,
            Accum::Replace,
            panel.lower,
            own.as_ref(),
            T::ONE,
            Par::Seq,
        );
        for (values, x) in below
            .chunks_exact(rows)
            .zip(self.x.chunks_exact_mut(self.unknowns))
        {
            for (&row, &value) in front.below.iter().zip(values) {
                x[row as usize] -= value;
            }
        }
    }

    /// x1 <- L11^-T (D^-1 x1 - L21^T x2).
    fn backward(&mut self, front: &Front, panel: &Panel<'_, T>) {
        let rows = front.below.len();
        let below = &mut self.below[..rows * self.count];
        if rows > 0 {
            for (values, x) in below
                .chunks_exact_mut(rows)
                .zip(self.x.chunks_exact(self.unknowns))
            {
                front
                    .below
                    .iter()
                    .zip(values)
                    .for_each(|(&row, value)| *value = x[row as usize]);
            }
        }
        for x in self.x.chunks_exact_mut(self.unknowns) {
            for (k, value) in x[front.first..front.first + front.width]
                .iter_mut()
                .enumerate()
            {
                *value /= panel.square[(k, k)];
            }
        }
        let mut own = MatMut::from_column_major_slice_with_stride_mut(
            &mut self.x[front.first..],
            front.width,
            self.count,
            self.unknowns,
        );
        if rows > 0 {
            let known = MatRef::from_column_major_slice(below, rows, self.count);
            let minus = T::ZERO - T::ONE;
            matmul(
                own.as_mut(),
                Accum::Add,
                panel.lower.transpose(),
                known,
                minus,
                Par::Seq,
            );
        }
        solve_unit_upper_triangular_in_place(panel.square.transpose(), own, Par::Seq);
    }
}
