//! The magnetic field outside as it is solved with the work in the coil: the turns and the currents in the work together.
//!
//! Inside the far circle of the mesh it is that of the elements; beyond, that of the dipole which the circle sees (field,
//! equation 15): coil and induced currents have one moment there. The leads are not in the section; they are added by Biot
//! and Savart, size to size, as if both pointed the same way.
//!
//! The elements of a plan grow with the distance from the metal, so the field of one is known to a tenth, and the distance
//! at which it passes a level to four hundredths: that is how closely the closed forms below are met.

use field::eddy::{Problem, Solution};

use crate::stray_field::{Line, Lines, Path, Vector, distances_at_m, places_m, tesla_on};

/// The field per ampere along the lines on which a person walks away: the largest of all states that were solved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WithWork {
    /// The lines, in the order of [`Lines::all`].
    lines: Vec<AlongLine>,
}

/// A line with the field at the places of [`places_m`].
#[derive(Clone, Debug, PartialEq)]
struct AlongLine {
    line: Line,
    tesla_per_a: Vec<f64>,
}

impl WithWork {
    /// Lines along which nothing is solved yet.
    pub fn new(lines: &Lines) -> WithWork {
        let along = |line: Line| AlongLine {
            line,
            tesla_per_a: vec![0.0; places_m().count()],
        };
        WithWork {
            lines: lines.all().map(along).collect(),
        }
    }

    /// Takes a state of the joint: where its field is larger than that of all before, it counts.
    pub fn add(&mut self, problem: &Problem, solution: &Solution) {
        let Some(current_a) = solution.circuits.first().map(|one| one.current_a.norm()) else {
            return;
        };
        if current_a <= 0.0 {
            return;
        }
        for line in &mut self.lines {
            for (kept, distance_m) in line.tesla_per_a.iter_mut().zip(places_m()) {
                let at = on(line.line, distance_m);
                let found = peak_t(problem, solution, at).map_or(0.0, |peak| peak / current_a);
                *kept = kept.max(found);
            }
        }
    }

    /// Whether any state was solved.
    pub fn is_solved(&self) -> bool {
        let mut all = self.lines.iter().flat_map(|line| &line.tesla_per_a);
        all.any(|tesla| *tesla > 0.0)
    }

    /// The field in T per ampere at a distance along one line, without the leads; none where the line is none of these.
    pub fn tesla_per_a(&self, line: Line, distance_m: f64) -> Option<f64> {
        let solved = self.lines.iter().find(|one| one.line == line)?;
        Some(solved.at(distance_m))
    }

    /// The distances in m along one line beyond which coil, work and leads together stay below each level in T; the levels
    /// ascend. None where the line is none of these.
    pub fn distances_m(
        &self,
        line: Line,
        leads: &[Path],
        current_a: f64,
        levels_t: &[f64],
    ) -> Option<Vec<f64>> {
        let solved = self.lines.iter().find(|one| one.line == line)?;
        let tesla = |distance_m: f64| {
            current_a * solved.at(distance_m) + tesla_on(leads, line, current_a, distance_m)
        };
        Some(distances_at_m(tesla, levels_t))
    }
}

impl AlongLine {
    /// Between two places by powers of the distance, as fields fall.
    fn at(&self, distance_m: f64) -> f64 {
        let known: Vec<(f64, f64)> = places_m().zip(self.tesla_per_a.iter().copied()).collect();
        let Some(pair) = known.windows(2).find(|pair| distance_m >= pair[1].0) else {
            return known.last().map_or(0.0, |last| last.1);
        };
        let [(far_m, far_t), (near_m, near_t)] = [pair[0], pair[1]];
        if far_t <= 0.0 || near_t <= 0.0 {
            return far_t.max(near_t);
        }
        let part = libm::log(distance_m / near_m) / libm::log(far_m / near_m);
        near_t * libm::pow(far_t / near_t, part)
    }
}

fn on((from, along): Line, distance_m: f64) -> Vector {
    [0, 1, 2].map(|axis| from[axis] + along[axis] * distance_m)
}

/// Peak flux density in T, of both components with their own phases; over the peak current it is what rms is over rms.
fn peak_t(problem: &Problem, solution: &Solution, [x, y, z]: Vector) -> Option<f64> {
    let place = [libm::hypot(x, y), z];
    let [u, v] = solution.flux_density_t(problem, place)?;
    Some(libm::sqrt(u.norm_sqr() + v.norm_sqr()))
}

#[cfg(test)]
mod tests {
    use field::eddy::{Drive, Problem, Solves, State, Temperature, mesh_settings};
    use field::section::{
        Body, Conductor, Metal, Outer, Permeability, Section, Shape, Symmetry, Winding,
    };
    use field::table::Table;
    use num_complex::Complex64;

    use super::WithWork;
    use crate::stray_field::{Lines, Path, lines, tesla_on};

    /// Derivatives of quadratic elements that grow towards the far circle, and beyond it only the dipole.
    const FIELD_SHARE: f64 = 0.1;
    /// A field that falls with the third power: a third of that, and what several turns add to a dipole.
    const DISTANCE_SHARE: f64 = 0.04;

    fn metal(resistivity_ohm_m: Option<f64>, permeability: f64) -> Metal {
        let constant = |value: f64| Table::constant(value);
        Metal {
            resistivity_ohm_m: resistivity_ohm_m.map(constant),
            permeability: Permeability::Constant(permeability),
            conductivity_w_mk: constant(40.0),
            heat_content_j_m3: Table::new(&[(0.0, 0.0), (1000.0, 3.8e9)]).expect("ascending"),
        }
    }

    /// A pipe or rod within these radii, of this half length, and loops round it.
    fn section(
        metal: Metal,
        [bore_m, outside_m]: [f64; 2],
        half_m: f64,
        loops: &[[f64; 2]],
    ) -> Section {
        let polygon = vec![
            [bore_m, -half_m],
            [outside_m, -half_m],
            [outside_m, half_m],
            [bore_m, half_m],
        ];
        let conductors = loops.iter().map(|center_m| Conductor {
            shape: Shape::Circle {
                center_m: *center_m,
                radius_m: 0.003,
            },
            turns: 1.0,
        });
        Section {
            symmetry: Symmetry::Axisymmetric,
            outer: Outer::Far,
            bodies: vec![Body {
                name: "work".into(),
                polygon,
                metal,
            }],
            windings: vec![Winding {
                name: "coil".into(),
                conductors: conductors.collect(),
            }],
        }
    }

    fn solved(section: &Section, frequency_hz: f64, lines: &Lines) -> WithWork {
        let mut stray = WithWork::new(lines);
        add(&mut stray, section, frequency_hz);
        stray
    }

    fn add(stray: &mut WithWork, section: &Section, frequency_hz: f64) {
        let drive = Drive {
            frequency_hz,
            currents_a: vec![Complex64::new(300.0, 0.0)],
            edges: Vec::new(),
        };
        let settings = mesh_settings(section, &drive, [20.0, 20.0]);
        let problem = Problem::new(section, &settings).expect("a section");
        let uniform = Temperature::Uniform(20.0);
        let solution = problem
            .solve(&mut State::default(), &drive, uniform, Solves::SETTLED)
            .expect("a field");
        stray.add(&problem, &solution);
    }

    fn turns(loops: &[[f64; 2]]) -> Vec<Path> {
        let turns = loops
            .iter()
            .map(|[radius_m, axial_m]| Path::turn(*radius_m, *axial_m));
        turns.collect()
    }

    /// Work that neither conducts nor is magnetic is air: the law of Biot and Savart holds, near and far.
    #[test]
    fn with_work_that_is_none_the_solved_field_is_that_of_biot_and_savart() {
        let loops: Vec<[f64; 2]> = (0..6)
            .map(|turn| [0.193, 0.03 * f64::from(turn) - 0.075])
            .collect();
        let paths = turns(&loops);
        let lines = lines(&paths, paths.len());
        let work = section(metal(None, 1.0), [0.144, 0.162], 0.5, &loops);
        let stray = solved(&work, 9000.0, &lines);
        for line in lines.all() {
            for distance_m in [0.1, 0.2, 0.4, 0.8, 1.6, 3.0] {
                let found = stray.tesla_per_a(line, distance_m).expect("a line of it");
                let wanted = tesla_on(&paths, line, 1.0, distance_m);
                assert!(
                    (found / wanted - 1.0).abs() < FIELD_SHARE,
                    "{line:?} {distance_m} m: {found:e} for {wanted:e}"
                );
            }
            let levels = [27e-6, 100e-6];
            let found = stray.distances_m(line, &[], 300.0, &levels).expect("known");
            let wanted = crate::stray_field::distances_m(&paths, line, 300.0, &levels);
            for (found, wanted) in found.iter().zip(&wanted) {
                assert!(
                    (found / wanted - 1.0).abs() < DISTANCE_SHARE,
                    "{found} {wanted}"
                );
            }
        }
    }

    /// A loop of 60 mm radius round an endless rod of 50 mm: C. V. Dodd & W. E. Deeds, J. Appl. Phys. 39 (1968) 2829, the
    /// vector potential of a coil round a rod, its curl in the plane of the loop at 80, 100 and 150 mm from the axis, in T
    /// per A. Without the rod the same integral gave the law of Biot and Savart to one part in ten thousand.
    #[test]
    fn round_a_rod_the_field_outside_is_that_of_dodd_and_deeds() {
        let aluminum = (2.82e-8, 1.0, 20e3, [3.7347e-6, 1.03244e-6, 1.78647e-7]);
        let steel = (2.5e-7, 100.0, 20e3, [5.02304e-6, 1.56224e-6, 3.03584e-7]);
        let slow = (2.5e-7, 100.0, 2e3, [6.58256e-6, 2.32836e-6, 5.28535e-7]);
        let paths = turns(&[[0.06, 0.0]]);
        let lines = lines(&paths, 1);
        for (resistivity, permeability, frequency_hz, wanted) in [aluminum, steel, slow] {
            let work = metal(Some(resistivity), permeability);
            let rod = section(work, [0.0, 0.05], 0.6, &[[0.06, 0.0]]);
            let stray = solved(&rod, frequency_hz, &lines);
            let from_m = -lines.beside.0[0];
            for (radius_m, wanted) in [0.08, 0.1, 0.15].into_iter().zip(wanted) {
                let found = stray.tesla_per_a(lines.beside, radius_m - from_m);
                let found = found.expect("beside the coil");
                assert!(
                    (found / wanted - 1.0).abs() < FIELD_SHARE,
                    "{radius_m} m: {found:e} for {wanted:e}"
                );
                // Nonmagnetic metal pushes the field back; steel, slowly enough, draws more of it through itself.
                let in_air = tesla_on(&paths, lines.beside, 1.0, radius_m - from_m);
                assert_eq!(found > in_air, frequency_hz < 10e3, "{found:e} {in_air:e}");
            }
        }
    }

    #[test]
    fn of_several_states_the_larger_field_counts() {
        let paths = turns(&[[0.06, 0.0]]);
        let lines = lines(&paths, 1);
        let rod = |permeability: f64| {
            let work = metal(Some(2.5e-7), permeability);
            section(work, [0.0, 0.05], 0.3, &[[0.06, 0.0]])
        };
        let (hot, cold) = (
            solved(&rod(1.0), 2e3, &lines),
            solved(&rod(100.0), 2e3, &lines),
        );
        let mut both = hot.clone();
        add(&mut both, &rod(100.0), 2e3);
        let at = |stray: &WithWork| {
            stray
                .distances_m(lines.beside, &[], 300.0, &[27e-6])
                .expect("known")[0]
        };
        assert_eq!(at(&both), at(&hot).max(at(&cold)));
        assert!(at(&cold) > at(&hot));
        assert!(!WithWork::new(&lines).is_solved() && both.is_solved());
        let elsewhere = ([0.0; 3], [1.0, 0.0, 0.0]);
        assert!(both.tesla_per_a(elsewhere, 1.0).is_none());
    }
}
