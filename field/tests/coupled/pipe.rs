//! A heated pipe: the section of the reference case `d1-open`, or a smaller one.

use std::sync::Arc;

use field::coupled::{Run, Settings, Setup};
use field::eddy::{self, Drive, Problem};
use field::heat::{
    Blanket, Boundary, Convection, Law, Loss, Model, Probe, Radiation, pieces_between,
};
use field::section::{
    Body, Conductor, Curie, Metal, Outer, Permeability, Section, Shape, Symmetry, Winding,
};
use field::table::Table;
use num_complex::Complex64;

pub const FREQUENCY_HZ: f64 = 8000.0;

/// A pipe with its coil and its losses, ready to run.
pub struct Pipe {
    pub problem: Arc<Problem>,
    pub model: Arc<Model>,
    pub inner_m: f64,
    pub outer_m: f64,
}

fn table(points: &[(f64, f64)]) -> Table {
    Table::new(points).expect("ascending")
}

/// Specific heat of carbon steel in J/(kg K): EN 1993-1-2:2005, clause 3.4.1.2.
fn specific_heat(t: f64) -> f64 {
    match t {
        t if t < 600.0 => 425.0 + 0.773 * t - 1.69e-3 * t * t + 2.22e-6 * t * t * t,
        t if t < 735.0 => 666.0 + 13_002.0 / (738.0 - t),
        t if t < 900.0 => 545.0 + 17_820.0 / (t - 731.0),
        _ => 650.0,
    }
}

/// Heat content from 20 C in steps of 0.25 K, the specific heat summed between by the midpoint rule.
fn heat_content() -> Table {
    let mut points = vec![(20.0, 0.0)];
    let mut content = 0.0;
    for step in 0..4720 {
        let from = 20.0 + 0.25 * f64::from(step);
        let inside = (0..20).map(|k| from + 0.25 * (f64::from(k) + 0.5) / 20.0);
        content += 7850.0 * 0.25 / 20.0 * inside.map(specific_heat).sum::<f64>();
        points.push((from + 0.25, content));
    }
    table(&points)
}

/// The steel of `d1-open`: thermal data of EN 1993-1-2 (clauses 3.4.1.2 and 3.4.1.3), the rest defined by the case.
fn steel() -> Metal {
    let resistivity = [
        (20.0, 1.69e-7),
        (100.0, 2.19e-7),
        (200.0, 2.92e-7),
        (400.0, 4.87e-7),
        (600.0, 7.58e-7),
        (700.0, 9.25e-7),
        (800.0, 1.094e-6),
        (1000.0, 1.167e-6),
        (1200.0, 1.219e-6),
    ];
    let effective = [
        (0.0, 1000.0),
        (200.0, 899.832),
        (500.0, 783.754),
        (1000.0, 647.121),
        (2000.0, 482.779),
        (3000.0, 386.684),
        (5000.0, 278.189),
        (7500.0, 207.000),
        (10_000.0, 165.295),
        (15_000.0, 118.296),
        (20_000.0, 92.3759),
        (30_000.0, 64.5029),
        (40_000.0, 49.7171),
        (60_000.0, 34.2758),
        (100_000.0, 21.3827),
    ];
    Metal {
        resistivity_ohm_m: Some(table(&resistivity)),
        permeability: Permeability::Saturating {
            effective: table(&effective),
            curie: Some(Curie {
                point_c: 750.0,
                exponent: 2.0,
                reference_c: 20.0,
            }),
        },
        conductivity_w_mk: table(&[
            (20.0, 53.334),
            (800.0, 27.36),
            (800.1, 27.3),
            (1200.0, 27.3),
        ]),
        heat_content_j_m3: heat_content(),
    }
}

/// A pipe from -half to half with eight turns in series, 31 mm off its surface, 20 mm apart.
fn section(inner_m: f64, outer_m: f64, half_m: f64, turns: i32) -> Section {
    let conductor = |turn: i32| Conductor {
        shape: Shape::Circle {
            center_m: [
                outer_m + 0.031,
                0.02 * (f64::from(turn) - 0.5 * f64::from(turns - 1)),
            ],
            radius_m: 0.006,
        },
        turns: 1.0,
    };
    let polygon = vec![
        [inner_m, -half_m],
        [outer_m, -half_m],
        [outer_m, half_m],
        [inner_m, half_m],
    ];
    Section {
        symmetry: Symmetry::Axisymmetric,
        outer: Outer::Far,
        bodies: vec![Body {
            name: "pipe".into(),
            polygon,
            metal: steel(),
        }],
        windings: vec![Winding {
            name: "coil".into(),
            conductors: (0..turns).map(conductor).collect(),
        }],
    }
}

fn blanket() -> Blanket {
    let conductivity = [
        (20.0, 0.08),
        (200.0, 0.08),
        (400.0, 0.12),
        (600.0, 0.16),
        (800.0, 0.2),
        (1000.0, 0.25),
    ];
    Blanket {
        thickness_m: 0.025,
        cells: 4,
        conductivity_w_mk: table(&conductivity),
        heat_capacity_j_m3k: 128.0 * 1000.0,
        outside: Loss {
            convection: Some(Convection {
                w_m2k: 8.0,
                ambient_c: 20.0,
            }),
            radiation: Some(Radiation {
                emissivity: 0.9,
                ambient_c: 20.0,
            }),
            tabulated_w_m2: None,
        },
    }
}

impl Pipe {
    /// The pipe of the reference case.
    pub fn d1() -> Pipe {
        Pipe::new(
            &section(0.14445, 0.16195, 0.6, 8),
            Law::Blanket(blanket()),
            [0.14445, 0.16195, 0.6],
        )
    }

    /// A short thin tube that comes to rest soon: bare, in a strong wind.
    pub fn small() -> Pipe {
        let wind = Law::Loss(Loss {
            convection: Some(Convection {
                w_m2k: 200.0,
                ambient_c: 20.0,
            }),
            ..Loss::default()
        });
        Pipe::new(&section(0.026, 0.030, 0.05, 2), wind, [0.026, 0.030, 0.05])
    }

    fn new(section: &Section, outside: Law, [inner_m, outer_m, half_m]: [f64; 3]) -> Pipe {
        let drive = Drive {
            frequency_hz: FREQUENCY_HZ,
            currents_a: vec![Complex64::new(300.0, 0.0)],
            edges: Vec::new(),
        };
        let settings = eddy::mesh_settings(section, &drive, [20.0, 800.0]);
        let problem = Problem::new(section, &settings).expect("a sensible section");
        let pieces = |radius_m: f64| {
            pieces_between(
                section,
                problem.mesh(),
                [radius_m, -half_m],
                [radius_m, half_m],
            )
            .expect("a side")
        };
        let still_air = Loss {
            convection: Some(Convection {
                w_m2k: 5.0,
                ambient_c: 20.0,
            }),
            ..Loss::default()
        };
        let boundaries = vec![
            Boundary {
                pieces: pieces(inner_m),
                law: Law::Loss(still_air),
            },
            Boundary {
                pieces: pieces(outer_m),
                law: outside,
            },
        ];
        let model = Model::new(section, problem.mesh(), problem.space(), boundaries)
            .expect("sensible laws");
        Pipe {
            problem: Arc::new(problem),
            model: Arc::new(model),
            inner_m,
            outer_m,
        }
    }

    pub fn setup() -> Setup {
        Setup {
            frequency_hz: FREQUENCY_HZ,
            shares: vec![Complex64::ONE],
            edges: Vec::new(),
            elsewhere_c: 20.0,
        }
    }

    pub fn run(&self, settings: Settings, initial_c: f64) -> Run {
        let initial = self.model.uniform(initial_c);
        Run::new(
            self.problem.clone(),
            self.model.clone(),
            Pipe::setup(),
            settings,
            initial,
        )
    }

    pub fn probe(&self, place_m: [f64; 2]) -> Probe {
        self.model.probe(place_m).expect("inside the pipe")
    }
}
