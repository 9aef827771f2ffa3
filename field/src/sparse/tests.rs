//! What a factorization promises.

use faer::prelude::Solve;
use faer::sparse::{SparseColMat, Triplet};
use num_complex::Complex64;

use super::{Factor, Number, Pattern, Symbolic};
use crate::FieldError;

/// Residual of a backward stable solve: a few hundred roundings (Higham 2002, chapter 9).
const RESIDUAL: f64 = 1e-13;

/// Digits left by two different orders of elimination of matrices with a condition number below 1e6.
const SAME_SOLUTION: f64 = 1e-9;

/// Numbers between -1 and 1 that look random (Knuth's linear congruence).
struct Noise(u64);

impl Noise {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (self.0 >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    }

    fn below(&mut self, limit: usize) -> usize {
        ((0.5 * (self.next() + 1.0)) * limit as f64) as usize % limit
    }
}

/// Elements of six unknowns strung along a wide grid, as triangles of a mesh are.
fn grid_elements(columns: u32, rows: u32) -> Vec<[u32; 6]> {
    let node = |i: u32, j: u32| j * columns + i;
    (0..rows - 2)
        .step_by(2)
        .flat_map(|j| (0..columns - 2).step_by(2).map(move |i| (i, j)))
        .flat_map(|(i, j)| {
            let lower = [
                node(i, j),
                node(i + 2, j),
                node(i, j + 2),
                node(i + 1, j),
                node(i + 1, j + 1),
                node(i, j + 1),
            ];
            let upper = [
                node(i + 2, j + 2),
                node(i, j + 2),
                node(i + 2, j),
                node(i + 1, j + 2),
                node(i + 1, j + 1),
                node(i + 2, j + 1),
            ];
            [lower, upper]
        })
        .collect()
}

struct Problem {
    pattern: Pattern,
    elements: Vec<[u32; 6]>,
}

fn problem(columns: u32, rows: u32) -> Problem {
    let elements = grid_elements(columns, rows);
    let unknowns = (columns * rows) as usize;
    let pattern = Pattern::new(unknowns, elements.iter().map(|e| e.as_slice()));
    Problem { pattern, elements }
}

/// Sum over elements of v v^T with random v, plus a small positive diagonal: positive definite.
fn positive_definite(problem: &Problem, noise: &mut Noise) -> Vec<f64> {
    let mut values = semidefinite(problem, noise);
    for i in 0..problem.pattern.unknowns() {
        values[problem.pattern.diagonal(i)] += 1e-3;
    }
    values
}

fn semidefinite(problem: &Problem, noise: &mut Noise) -> Vec<f64> {
    let mut values = vec![0.0; problem.pattern.len()];
    for element in &problem.elements {
        for _ in 0..3 {
            let v = [(); 6].map(|_| noise.next());
            for a in 0..6 {
                for b in 0..=a {
                    values[problem.pattern.id(element[a] as usize, element[b] as usize)] +=
                        v[a] * v[b];
                }
            }
        }
    }
    values
}

fn complex(problem: &Problem, noise: &mut Noise) -> Vec<Complex64> {
    let real = positive_definite(problem, noise);
    let imaginary = semidefinite(problem, noise);
    real.iter()
        .zip(&imaginary)
        .map(|(&re, &im)| Complex64::new(re, im))
        .collect()
}

fn residual<T: Number>(pattern: &Pattern, values: &[T], x: &[T], b: &[T]) -> f64 {
    let mut product = vec![T::ZERO; x.len()];
    pattern.multiply(values, x, &mut product);
    let size = |v: &[T]| v.iter().map(|value| value.magnitude()).fold(0.0, f64::max);
    let rest: Vec<T> = product.iter().zip(b).map(|(&p, &q)| p - q).collect();
    let row = size(values) * size(x);
    size(&rest) / (size(b) + row)
}

fn dense_oracle<T: Number>(pattern: &Pattern, values: &[T], b: &[T]) -> Vec<T> {
    let n = pattern.unknowns();
    let mut triplets = Vec::new();
    for column in 0..n {
        for (id, row) in pattern.column(column) {
            triplets.push(Triplet::new(row, column, values[id]));
            if row != column {
                triplets.push(Triplet::new(column, row, values[id]));
            }
        }
    }
    let matrix =
        SparseColMat::<usize, T>::try_new_from_triplets(n, n, &triplets).expect("valid places");
    let rhs = faer::Mat::from_fn(n, 1, |i, _| b[i]);
    let x = matrix.sp_lu().expect("regular").solve(&rhs);
    (0..n).map(|i| x[(i, 0)]).collect()
}

fn check_against_lu<T: Number>(problem: &Problem, values: &[T], b: &[T]) {
    let factor = Factor::new(&Symbolic::new(&problem.pattern), values).expect("regular");
    let mut x = b.to_vec();
    factor.solve_in_place(&mut x);
    let found = residual(&problem.pattern, values, &x, b);
    assert!(found < RESIDUAL, "residual {found:e}");
    let expected = dense_oracle(&problem.pattern, values, b);
    let size = expected
        .iter()
        .map(|value| value.magnitude())
        .fold(0.0, f64::max);
    for (i, (&got, &want)) in x.iter().zip(&expected).enumerate() {
        assert!(
            (got - want).magnitude() < SAME_SOLUTION * size,
            "unknown {i}: {got:?}, LU says {want:?}"
        );
    }
}

#[test]
fn real_matrices_solve_as_by_sparse_lu() {
    for (columns, rows) in [(3, 3), (5, 21), (31, 41)] {
        let mut noise = Noise(7);
        let problem = problem(columns, rows);
        let values = positive_definite(&problem, &mut noise);
        let b: Vec<f64> = (0..problem.pattern.unknowns())
            .map(|_| noise.next())
            .collect();
        check_against_lu(&problem, &values, &b);
    }
}

#[test]
fn complex_symmetric_matrices_solve_as_by_sparse_lu() {
    for (columns, rows) in [(3, 3), (7, 55), (41, 31)] {
        let mut noise = Noise(11);
        let problem = problem(columns, rows);
        let values = complex(&problem, &mut noise);
        let b: Vec<Complex64> = (0..problem.pattern.unknowns())
            .map(|_| Complex64::new(noise.next(), noise.next()))
            .collect();
        check_against_lu(&problem, &values, &b);
    }
}

#[test]
fn any_pattern_of_elements_may_come() {
    let mut noise = Noise(3);
    for unknowns in [1, 2, 17, 160] {
        let elements: Vec<[u32; 6]> = (0..unknowns / 2)
            .map(|_| [(); 6].map(|_| noise.below(unknowns) as u32))
            .collect();
        let distinct: Vec<Vec<u32>> = elements
            .iter()
            .map(|e| {
                let mut e = e.to_vec();
                e.sort_unstable();
                e.dedup();
                e
            })
            .collect();
        let pattern = Pattern::new(unknowns, distinct.iter().map(|e| e.as_slice()));
        let mut values: Vec<f64> = (0..pattern.len()).map(|_| noise.next()).collect();
        (0..unknowns).for_each(|i| values[pattern.diagonal(i)] = 100.0);
        let b: Vec<f64> = (0..unknowns).map(|_| noise.next()).collect();
        let mut x = b.clone();
        Factor::new(&Symbolic::new(&pattern), &values)
            .expect("diagonally dominant")
            .solve_in_place(&mut x);
        assert!(residual(&pattern, &values, &x, &b) < RESIDUAL);
    }
}

#[test]
fn several_right_hand_sides_solve_as_one_by_one() {
    let mut noise = Noise(5);
    let problem = problem(21, 21);
    let values = complex(&problem, &mut noise);
    let factor = Factor::new(&Symbolic::new(&problem.pattern), &values).expect("regular");
    let n = problem.pattern.unknowns();
    let sides: Vec<Complex64> = (0..3 * n)
        .map(|_| Complex64::new(noise.next(), noise.next()))
        .collect();
    let mut together = sides.clone();
    factor.solve_several_in_place(&mut together, 3);
    for (side, found) in sides.chunks(n).zip(together.chunks(n)) {
        let mut alone = side.to_vec();
        factor.solve_in_place(&mut alone);
        assert!(
            alone
                .iter()
                .zip(found)
                .all(|(a, b)| (a - b).magnitude() < 1e-10)
        );
    }
}

#[test]
fn a_factor_renewed_is_a_new_factor() {
    let mut noise = Noise(13);
    let problem = problem(15, 15);
    let (first, second) = (
        positive_definite(&problem, &mut noise),
        positive_definite(&problem, &mut noise),
    );
    let symbolic = Symbolic::new(&problem.pattern);
    let mut renewed = Factor::new(&symbolic, &first).expect("regular");
    renewed.renew(&second).expect("regular");
    let fresh = Factor::new(&symbolic, &second).expect("regular");
    let mut x: Vec<f64> = (0..problem.pattern.unknowns())
        .map(|_| noise.next())
        .collect();
    let mut y = x.clone();
    renewed.solve_in_place(&mut x);
    fresh.solve_in_place(&mut y);
    assert_eq!(x, y);
}

/// The Laplacian of a chain without a fixed end: constants are in its kernel.
#[test]
fn a_singular_matrix_is_refused_with_both_numbers() {
    let elements: Vec<[u32; 2]> = (0..499).map(|i| [i, i + 1]).collect();
    let pattern = Pattern::new(500, elements.iter().map(|e| e.as_slice()));
    let mut values = vec![0.0; pattern.len()];
    for element in &elements {
        let [i, j] = element.map(|at| at as usize);
        values[pattern.diagonal(i)] += 3.7;
        values[pattern.diagonal(j)] += 3.7;
        values[pattern.id(i, j)] -= 3.7;
    }
    let error = Factor::new(&Symbolic::new(&pattern), &values).expect_err("singular");
    assert!(
        matches!(error, FieldError::Singular { pivot, diagonal, .. } if pivot < 1e-12 && diagonal > 3.0)
    );
    assert!(error.to_string().contains("pivot"), "{error}");
}

#[test]
fn not_a_number_is_refused() {
    let pattern = Pattern::new(2, [[0u32, 1]].iter().map(|e| e.as_slice()));
    assert!(Factor::new(&Symbolic::new(&pattern), &[1.0, f64::NAN, 1.0]).is_err());
}
