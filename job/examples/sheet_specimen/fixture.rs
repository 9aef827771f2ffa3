//! A plan whose requirement, bands and thermocouples are real and whose prediction is invented by smooth formulas.

use std::time::Duration;

use checks::{ChannelUse, Checker, Findings, Verdict};
use cycle::assumptions::{assumptions, not_modeled};
use cycle::outcome::*;
use cycle::setup::{Coil, Setup, Turn, Wrap};
use job::foreseen::{About, Foreseen};
use job::sheet::PlanSheet;
use job::{Job, Taken};
use quantity::{Celsius, Millimeters};
use readings::{Channel, Scan};
use report::Paper;
use rules::band::Bands;
use rules::requirement::Requirement;

/// Everything that the sheet is made of.
pub struct Invented {
    job: Job,
    requirement: Requirement,
    bands: Bands,
    setup: Setup,
    coil: Coil,
    outcome: Outcome,
    findings: Findings,
    foreseen: Vec<Foreseen>,
    taken: Vec<Taken>,
}

impl Invented {
    /// From the text of a job file.
    pub fn of(text: &str, name: &str) -> Result<Invented, Box<dyn std::error::Error>> {
        let job = job::read(text, name)?;
        let requirement = rules::requirement(&job.weld)?;
        let bands = rules::bands(&job.weld, &requirement)?;
        let (programme, mut taken) = job::programme::programme(&job, &requirement);
        taken.extend(job.taken.clone());
        let half = 0.5 * bands.gradient_control.width.mm();
        let setup = Setup {
            joint: job.joint.clone(),
            surroundings: job.surroundings,
            blanket: Wrap {
                material: job.blanket.material.clone(),
                thickness: job.blanket.thickness,
                reach: [0, 1]
                    .map(|i| Millimeters::from_mm(half.min(job.joint.sides[i].length.mm()))),
            },
            cable: job.cable.clone(),
            coil: None,
            leads: job.leads.clone(),
            source: job.source.clone(),
            programme,
            thermocouples: match &job.thermocouples {
                Some(given) => given.clone(),
                None => rules::layout(&job.weld, &bands)?,
            },
            soak_band: bands.soak.width,
            heated_band: bands.heated.width,
            neighbors: job.neighbors.clone(),
            recording_interval: job.cycle.recording_interval,
        };
        let coil = coil(&setup);
        let outcome = outcome(&setup, &coil);
        let channels: Vec<ChannelUse> = setup.thermocouples.iter().map(ChannelUse::from).collect();
        let mut checker = Checker::new(&requirement, &channels, job.reading.clone());
        outcome.scans.iter().for_each(|scan| checker.push(scan));
        let findings = checker.findings();
        Ok(Invented {
            job,
            requirement,
            bands,
            setup,
            coil,
            outcome,
            findings,
            foreseen: foreseen(),
            taken,
        })
    }

    /// By reference, for this paper.
    pub fn plan(&self, paper: Paper) -> PlanSheet<'_> {
        PlanSheet {
            job: &self.job,
            requirement: &self.requirement,
            bands: &self.bands,
            setup: &self.setup,
            coil: &self.coil,
            proposal: None,
            outcome: &self.outcome,
            findings: &self.findings,
            foreseen: &self.foreseen,
            taken: &self.taken,
            made: "A specimen with invented numbers",
            paper,
        }
    }
}

fn foreseen() -> Vec<Foreseen> {
    let one = |about, verdict, says: &str, remedy: Option<&str>| Foreseen {
        about,
        verdict,
        says: says.into(),
        remedy: remedy.map(str::to_string),
        severity: 0.1,
    };
    let bore = "the bore is 8 K below the range for 12 min";
    vec![
        one(
            About::SoakBand,
            Verdict::NotMet,
            bore,
            Some("close the ends of the bore"),
        ),
        one(
            About::Source,
            Verdict::Met,
            "follows the program throughout",
            None,
        ),
    ]
}

fn coil(setup: &Setup) -> Coil {
    let pitch = (setup.heated_band.mm() / 22.0).max(30.0);
    let turns = (setup.heated_band.mm() / pitch).round().max(4.0) as usize;
    let first = -0.5 * pitch * (turns - 1) as f64;
    let turn = |index: usize| Turn {
        axial: Millimeters::from_mm(first + pitch * index as f64),
        standoff: setup.blanket.thickness,
    };
    Coil {
        turns: (0..turns).map(turn).collect(),
    }
}

/// Times in h at which the stages end.
fn ends_h(setup: &Setup) -> [f64; 4] {
    let p = &setup.programme;
    let free = (p.threshold.c() - p.start.c()).max(0.0) / p.free_heating_rate.k_h();
    let heating = free + (p.set_point.c() - p.threshold.c()) / (0.95 * p.heating_rate.k_h());
    let hold = heating + 0.3 + p.hold_time.h();
    let cooled =
        hold + (p.set_point.c() - p.controlled_down_to.c()) / (0.95 * p.cooling_rate.k_h());
    [free, heating, hold, cooled]
}

fn control_c(setup: &Setup, hours: f64) -> f64 {
    let p = &setup.programme;
    let [free, heating, hold, _] = ends_h(setup);
    if hours < free {
        p.start.c() + (p.threshold.c() - p.start.c()) * hours / free
    } else if hours < heating {
        p.threshold.c() + (p.set_point.c() - p.threshold.c()) * (hours - free) / (heating - free)
    } else if hours < hold {
        p.set_point.c()
    } else {
        p.set_point.c() - 0.95 * p.cooling_rate.k_h() * (hours - hold)
    }
}

fn at(setup: &Setup, hours: f64, axial_mm: f64, depth_mm: f64) -> f64 {
    let ambient = setup.surroundings.ambient.c();
    let width = 0.9 * setup.heated_band.mm();
    let share = (-(axial_mm / width).powi(2) * 2.0).exp();
    ambient + (control_c(setup, hours) - ambient) * share * (1.0 - 0.0006 * depth_mm)
}

fn power_w(setup: &Setup, hours: f64) -> f64 {
    let [free, heating, hold, _] = ends_h(setup);
    let full = 900.0 * setup.source.power_kw;
    if hours < free {
        full * (0.6 + 0.4 * hours / free)
    } else if hours < heating {
        full * (0.8 + 0.05 * (3.0 * hours).sin())
    } else if hours < hold {
        0.3 * full
    } else {
        0.1 * full
    }
}

fn outcome(setup: &Setup, coil: &Coil) -> Outcome {
    let [free, heating, hold, cooled] = ends_h(setup);
    let wall = setup.joint.sides[0].wall.mm();
    let step_s = setup.recording_interval.as_secs().max(30);
    let scans = (0..=(cooled * 3600.0) as u64 / step_s).map(|i| scan(setup, i * step_s, wall));
    let moment = |i: usize| moment(setup, cooled * i as f64 / 400.0);
    let stage = |stage, from: f64, to: f64| StageSpan {
        stage,
        from_s: 3600.0 * from,
        to_s: 3600.0 * to,
        from_c: control_c(setup, from),
        to_c: control_c(setup, to),
    };
    let spot = |hours: f64, axial_mm: f64, depth_mm: f64| Spot {
        temperature_c: at(setup, hours, axial_mm, depth_mm),
        axial_mm,
        depth_mm,
    };
    let half = 0.5 * setup.soak_band.mm();
    Outcome {
        channels: setup
            .thermocouples
            .iter()
            .map(|t| Channel {
                name: t.name.clone(),
            })
            .collect(),
        scans: scans.collect(),
        history: (0..=400).map(moment).collect(),
        stages: vec![
            stage(Stage::FreeHeating, 0.0, free),
            stage(Stage::Heating, free, heating),
            stage(Stage::Hold, heating, hold),
            stage(Stage::Cooling, hold, cooled),
        ],
        energy: Energy {
            source_kwh: 92.4,
            metal_kwh: 80.1,
            coil_kwh: 10.2,
            leads_kwh: 2.1,
            given_off_kwh: 41.3,
            stored_kwh: 38.8,
        },
        profiles: [
            ("threshold", free),
            ("end of heating", heating),
            ("end of the hold", hold),
        ]
        .map(|(name, hours)| profile(setup, name, hours, wall))
        .to_vec(),
        surface_to_bore: SurfaceToBore {
            heating: Difference {
                difference_k: 23.0,
                time_s: 3600.0 * heating,
                axial_mm: 0.0,
            },
            hold: Difference {
                difference_k: 6.0,
                time_s: 3600.0 * heating,
                axial_mm: half,
            },
        },
        soak: SoakVerdict {
            inside_whole_hold: false,
            hold_from_s: Some(3600.0 * heating),
            hold_to_s: Some(3600.0 * hold),
            time_inside_h: hold - heating - 0.2,
            coldest: spot(heating, half, wall),
            coldest_time_s: 3600.0 * heating,
            hottest: spot(heating, 0.0, 0.0),
            hottest_time_s: 3600.0 * heating,
            lag_s: Some(720.0),
        },
        neighbors: setup
            .neighbors
            .iter()
            .map(|n| NeighborOutcome {
                name: n.name.clone(),
                axial_mm: n.axial.mm(),
                highest_c: 171.0,
                time_s: 3600.0 * hold,
                limit_c: n.limit.map(Celsius::c),
            })
            .collect(),
        source: SourceVerdict {
            enough: true,
            first_shortfall: None,
            largest_power_w: 0.9 * 1e3 * setup.source.power_kw,
            largest_current_rms_a: 322.0,
            largest_voltage_rms_v: 548.0,
            power_reserve_percent: 10.0,
            current_reserve_percent: 8.0,
            voltage_reserve_percent: 21.0,
        },
        snapshot: snapshot(setup, coil, heating),
        circuit: circuit(),
        frequency_hz: 9_800.0,
        assumptions: assumptions(setup, cycle::practice::practice()),
        cautions: vec![
            "The bore is open and cannot be reached: nobody reads how hot it is.".into(),
        ],
        not_modeled: not_modeled(),
        effort: Effort {
            field_unknowns: 18_000,
            heat_unknowns: 6_400,
            field_updates: 21,
            field_solves: 63,
            heat_steps: 412,
            heat_tries: 455,
            worst_residual: 3e-13,
            worst_balance: 2e-4,
            worst_prediction_percent: 1.4,
            energy_error_percent: 0.03,
        },
    }
}

fn scan(setup: &Setup, time_s: u64, wall: f64) -> Scan {
    let hours = time_s as f64 / 3600.0;
    let read = |t: &rules::thermocouple::Thermocouple| {
        let depth = match t.face {
            rules::thermocouple::Face::Outside => 0.0,
            rules::thermocouple::Face::Bore => wall,
        };
        let round = 3.0 * (t.clock * std::f64::consts::PI / 6.0).cos();
        Some(Celsius::from_c(
            at(setup, hours, t.axial.mm(), depth) + round,
        ))
    };
    Scan {
        elapsed: Duration::from_secs(time_s),
        readings: setup.thermocouples.iter().map(read).collect(),
    }
}

fn moment(setup: &Setup, hours: f64) -> Moment {
    let [free, heating, hold, _] = ends_h(setup);
    let stage = match hours {
        h if h < free => Stage::FreeHeating,
        h if h < heating => Stage::Heating,
        h if h < hold => Stage::Hold,
        _ => Stage::Cooling,
    };
    let (power, control) = (power_w(setup, hours), control_c(setup, hours));
    let current = (power / 0.29).sqrt();
    let spot = Spot {
        temperature_c: control,
        axial_mm: 0.0,
        depth_mm: 0.0,
    };
    Moment {
        time_s: 3600.0 * hours,
        stage,
        set_point_c: control,
        control_c: control,
        control_coldest_c: control,
        control_hottest_c: control,
        metal_power_w: 0.85 * power,
        source_power_w: power,
        loss_w: 0.3 * power,
        current_rms_a: current,
        voltage_rms_v: 1.6 * current,
        resistance_ohm: 0.29,
        reactance_ohm: 1.57,
        frequency_hz: 9_800.0,
        weld_outside_c: control,
        weld_bore_c: control - 10.0,
        soak_hottest: spot,
        soak_coldest: spot,
        limited_by: None,
    }
}

fn profile(setup: &Setup, name: &str, hours: f64, wall: f64) -> Profile {
    let line = |depth: f64| {
        let places = (-100..=100).map(|i| 8.0 * f64::from(i));
        places.map(|x| (x, at(setup, hours, x, depth))).collect()
    };
    let half = 0.5 * setup.soak_band.mm();
    let through = [-half, 0.0, half].map(|axial_mm| ThroughWall {
        axial_mm,
        points: (0..=4)
            .map(|i| wall * f64::from(i) / 4.0)
            .map(|depth| (depth, at(setup, hours, axial_mm, depth)))
            .collect(),
    });
    Profile {
        name: name.into(),
        time_s: 3600.0 * hours,
        outside: line(0.0),
        bore: line(wall),
        through_wall: through.to_vec(),
    }
}

fn circuit() -> Vec<CircuitState> {
    [
        ("cold", 20.0, 0.29),
        ("400 °C", 400.0, 0.33),
        ("hold", 620.0, 0.31),
    ]
    .map(|(name, control_c, resistance_ohm)| CircuitState {
        name: name.into(),
        control_c,
        current_rms_a: 260.0,
        resistance_ohm,
        reactance_ohm: 1.57,
        metal_resistance_ohm: resistance_ohm - 0.04,
        coil_resistance_ohm: 0.032,
        leads_resistance_ohm: 0.008,
        leads_reactance_ohm: 0.2,
        quality: 1.57 / resistance_ohm,
        voltage_per_turn_rms_v: 38.0,
        allowed_current_rms_a: 322.0,
        limited_by: Limit::Power,
        metal_power_at_limit_w: 28_000.0,
        source_power_at_limit_w: 33_000.0,
    })
    .to_vec()
}

/// A grid of quadratic triangles over wall and air; the smooth field is made up.
fn snapshot(setup: &Setup, coil: &Coil, hours: f64) -> Snapshot {
    let outside = 0.5 * setup.joint.sides[0].outside_diameter.mm();
    let wall = setup.joint.sides[0].wall.mm();
    let cable = 0.5 * setup.cable.outside_diameter_mm.value;
    let reach = 1.3 * setup.blanket.reach[1].mm();
    let (columns, metal_rows, air_rows) = (60_usize, 6_usize, 8_usize);
    let radius = |row: usize| {
        let half_row = 0.5 * row as f64;
        if row <= 2 * metal_rows {
            outside - wall + wall * half_row / metal_rows as f64
        } else {
            outside + 120.0 * (half_row - metal_rows as f64) / air_rows as f64
        }
    };
    let across = 2 * columns + 1;
    let rows = 2 * (metal_rows + air_rows) + 1;
    let mut one = Snapshot {
        time_s: 3600.0 * hours,
        ..Snapshot::default()
    };
    for row in 0..rows {
        for column in 0..across {
            let (r, z) = (radius(row), reach * (column as f64 / columns as f64 - 1.0));
            one.nodes_mm.push([r, z]);
            let depth = outside - r;
            one.temperature_c
                .push((depth >= -1e-9).then(|| at(setup, hours, z, depth)));
            one.flux_wb.push(
                (-(z / 180.0).powi(2)).exp() * (r / outside).powi(2)
                    / (1.0 + ((r - outside) / 60.0).max(0.0)),
            );
        }
    }
    let node = |row: usize, column: usize| (row * across + column) as u32;
    for row in (0..rows - 2).step_by(2) {
        for column in (0..across - 2).step_by(2) {
            let n = |i: usize, j: usize| node(row + i, column + j);
            one.elements
                .push([n(0, 0), n(0, 2), n(2, 2), n(0, 1), n(1, 2), n(1, 1)]);
            one.elements
                .push([n(0, 0), n(2, 2), n(2, 0), n(1, 1), n(2, 1), n(1, 0)]);
            let metal = row < 2 * metal_rows;
            let (r, z) = (
                radius(row + 1),
                one.nodes_mm[node(row, column + 1) as usize][1],
            );
            let loss = if metal {
                4e6 * (-(outside - r) / 3.0).exp() * (-(z / 150.0).powi(6)).exp()
            } else {
                0.0
            };
            one.bodies.extend([metal.then_some(0), metal.then_some(0)]);
            one.loss_w_m3.extend([loss, loss]);
        }
    }
    let bore = outside - wall;
    one.metal_outlines_mm = vec![vec![
        [bore, -reach],
        [outside, -reach],
        [outside, reach],
        [bore, reach],
    ]];
    let (left, right) = (-setup.blanket.reach[0].mm(), setup.blanket.reach[1].mm());
    let top = outside + setup.blanket.thickness.mm();
    one.blanket_outline_mm = vec![[outside, left], [top, left], [top, right], [outside, right]];
    let turn = |t: &Turn| ([outside + t.standoff.mm() + cable, t.axial.mm()], cable);
    one.turns_mm = coil.turns.iter().map(turn).collect();
    one
}
