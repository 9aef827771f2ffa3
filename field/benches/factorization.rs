//! The factorization against the sparse LU of the linear algebra library, on matrices of a real section.
//!
//! `cargo bench -p field` prints the ratio of the two first, then a table of each part.

use std::time::Instant;

use divan::Bencher;
use faer::prelude::Solve;
use faer::sparse::linalg::solvers::{Lu, SymbolicLu};
use faer::sparse::{SparseColMat, Triplet};
use field::eddy::{self, Drive};
use field::element::{Triangle, depth_m, rule, shapes};
use field::mesh::{self, Mesh, Region};
use field::section::{
    Body, Conductor, Metal, Outer, Permeability, Section, Shape, Symmetry, Winding,
};
use field::space::Space;
use field::sparse::{Factor, Pattern, Symbolic};
use field::table::Table;
use num_complex::Complex64;

const FREQUENCY_HZ: f64 = 8000.0;
const VACUUM_RELUCTIVITY_M_H: f64 = 795_774.715;

/// Meshes of about 5 000 and 18 000 unknowns, by how much finer than usual.
const FINENESS: [f64; 2] = [0.9, 0.37];

/// A pipe of 323.9 x 17.5 mm with eight turns.
fn section() -> Section {
    let metal = Metal {
        resistivity_ohm_m: Some(Table::constant(5e-7)),
        permeability: Permeability::Constant(60.0),
        conductivity_w_mk: Table::constant(45.0),
        heat_content_j_m3: Table::constant(0.0),
    };
    let turn = |number: i32| Conductor {
        shape: Shape::Circle {
            center_m: [0.193, 0.02 * (f64::from(number) - 3.5)],
            radius_m: 0.006,
        },
        turns: 1.0,
    };
    let polygon = vec![
        [0.14445, -0.6],
        [0.16195, -0.6],
        [0.16195, 0.6],
        [0.14445, 0.6],
    ];
    Section {
        symmetry: Symmetry::Axisymmetric,
        outer: Outer::Far,
        bodies: vec![Body {
            name: "pipe".into(),
            polygon,
            metal,
        }],
        windings: vec![Winding {
            name: "coil".into(),
            conductors: (0..8).map(turn).collect(),
        }],
    }
}

fn mesh_of(fineness: f64) -> Mesh {
    let section = section();
    let drive = Drive {
        frequency_hz: FREQUENCY_HZ,
        currents_a: vec![Complex64::ONE],
        edges: Vec::new(),
    };
    let mut settings = eddy::mesh_settings(&section, &drive, [20.0, 20.0]);
    settings.surface_spacing *= fineness;
    settings.air_size *= fineness;
    settings.growth = 1.0 + (settings.growth - 1.0) * fineness;
    for body in &mut settings.bodies {
        body.first_layer_m = body.first_layer_m.map(|first_m| fineness * first_m);
        body.largest_size_m *= fineness;
    }
    mesh::build(&section, &settings).expect("a sensible section")
}

/// A matrix of the kind that the field solves: stiffness everywhere, j times a mass in the metal.
struct Matrix {
    pattern: Pattern,
    symbolic: Symbolic,
    values: Vec<Complex64>,
    same_for_lu: SparseColMat<usize, Complex64>,
}

fn matrix(fineness: f64) -> Matrix {
    let mesh = mesh_of(fineness);
    let space = Space::new(&mesh);
    let pattern = Pattern::new(
        space.nodes.len(),
        space.elements.iter().map(|element| element.as_slice()),
    );
    let mut values = vec![Complex64::ZERO; pattern.len()];
    for (number, nodes) in space.elements.iter().enumerate() {
        let triangle =
            Triangle::new(mesh.triangles[number].map(|corner| mesh.points[corner as usize]));
        let (relative, conductivity_s_m) = match mesh.regions[number] {
            Region::Body(_) => (60.0, 2e6),
            Region::Air => (1.0, 0.0),
        };
        let omega = 2.0 * std::f64::consts::PI * FREQUENCY_HZ;
        for (at, share) in rule() {
            let place = triangle.place(at);
            let volume_m3 = share * triangle.area_m2() * depth_m(Symmetry::Axisymmetric, place);
            let (n, [u, v]) = (shapes(at), triangle.gradients(at));
            for i in 0..6 {
                for j in 0..=i {
                    // The term of 1 / r^2 keeps the matrix definite, as the hoop term of the field does.
                    let stiffness = u[i] * u[j] + v[i] * v[j] + n[i] * n[j] / (place[0] * place[0]);
                    let id = pattern.id(nodes[i] as usize, nodes[j] as usize);
                    values[id] += volume_m3
                        * Complex64::new(
                            VACUUM_RELUCTIVITY_M_H / relative * stiffness,
                            omega * conductivity_s_m * n[i] * n[j],
                        );
                }
            }
        }
    }
    let symbolic = Symbolic::new(&pattern);
    let same_for_lu = both_triangles(&pattern, &values);
    Matrix {
        pattern,
        symbolic,
        values,
        same_for_lu,
    }
}

fn both_triangles(pattern: &Pattern, values: &[Complex64]) -> SparseColMat<usize, Complex64> {
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
    SparseColMat::try_new_from_triplets(n, n, &triplets).expect("valid places")
}

fn symbolic_lu(matrix: &Matrix) -> SymbolicLu<usize> {
    SymbolicLu::try_new(matrix.same_for_lu.symbolic()).expect("enough memory")
}

fn main() {
    FINENESS
        .iter()
        .for_each(|&fineness| print_ratio(&matrix(fineness)));
    divan::main();
}

/// The best of a few runs of each, and their ratio.
fn print_ratio(matrix: &Matrix) {
    let best_ms = |work: &dyn Fn()| {
        let once = |_| {
            let begin = Instant::now();
            work();
            1e3 * begin.elapsed().as_secs_f64()
        };
        (0..7).map(once).fold(f64::INFINITY, f64::min)
    };
    let symbolic = symbolic_lu(matrix);
    let ours_ms =
        best_ms(&|| drop(Factor::new(&matrix.symbolic, &matrix.values).expect("regular")));
    let lu_ms = best_ms(&|| {
        drop(Lu::try_new_with_symbolic(
            symbolic.clone(),
            matrix.same_for_lu.as_ref(),
        ))
    });
    println!(
        "{} unknowns: LDL^T {ours_ms:.1} ms, sparse LU {lu_ms:.1} ms, ratio {:.1}; they differ by {:.0e}",
        matrix.pattern.unknowns(),
        lu_ms / ours_ms,
        difference(matrix, symbolic),
    );
}

/// How far the two solutions of one right-hand side lie apart, as a share.
fn difference(matrix: &Matrix, symbolic: SymbolicLu<usize>) -> f64 {
    let n = matrix.pattern.unknowns();
    let mut ours = vec![Complex64::ONE; n];
    Factor::new(&matrix.symbolic, &matrix.values)
        .expect("regular")
        .solve_in_place(&mut ours);
    let lu = Lu::try_new_with_symbolic(symbolic, matrix.same_for_lu.as_ref()).expect("regular");
    let theirs = lu.solve(faer::Mat::from_fn(n, 1, |_, _| Complex64::ONE));
    let largest = ours.iter().map(|value| value.norm()).fold(0.0, f64::max);
    (0..n)
        .map(|i| (ours[i] - theirs[(i, 0)]).norm())
        .fold(0.0, f64::max)
        / largest
}

#[divan::bench(args = FINENESS)]
fn symbolic_once_a_mesh(bencher: Bencher, fineness: f64) {
    let matrix = matrix(fineness);
    bencher.bench_local(|| Symbolic::new(&matrix.pattern));
}

#[divan::bench(args = FINENESS)]
fn complex_factor(bencher: Bencher, fineness: f64) {
    let matrix = matrix(fineness);
    bencher.bench_local(|| Factor::new(&matrix.symbolic, &matrix.values));
}

#[divan::bench(args = FINENESS)]
fn real_factor(bencher: Bencher, fineness: f64) {
    let matrix = matrix(fineness);
    let real: Vec<f64> = matrix.values.iter().map(|value| value.re).collect();
    bencher.bench_local(|| Factor::new(&matrix.symbolic, &real));
}

#[divan::bench(args = FINENESS)]
fn complex_solve(bencher: Bencher, fineness: f64) {
    let matrix = matrix(fineness);
    let factor = Factor::new(&matrix.symbolic, &matrix.values).expect("regular");
    let mut x = vec![Complex64::ONE; matrix.pattern.unknowns()];
    bencher.bench_local(|| factor.solve_in_place(&mut x));
}

#[divan::bench(args = FINENESS, sample_count = 10)]
fn sparse_lu(bencher: Bencher, fineness: f64) {
    let matrix = matrix(fineness);
    let symbolic = symbolic_lu(&matrix);
    bencher
        .bench_local(|| Lu::try_new_with_symbolic(symbolic.clone(), matrix.same_for_lu.as_ref()));
}
