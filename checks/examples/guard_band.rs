//! Computes `checks/data/guard-band.toml`: by how much noise alone lifts the steepest slope of a ramp.
//!
//! Straight ramps with normal noise are read by the checker itself (filter, window, slope), many times; the quantile of
//! (steepest slope found − true slope), in standard deviations of one least-squares slope, is the overread.
//! `cargo run --release -p checks --example guard_band > checks/data/guard-band.toml`

use std::time::Duration;

use checks::{ChannelUse, Checker, Definitions};
use quantity::{Celsius, Hours, KelvinsPerHour, Millimeters, Status};
use readings::Scan;
use rules::requirement::{Clause, GoverningThickness, Level, Limit, LimitKind, Requirement};
use rules::thermocouple::{Face, Place, Role};
use rules::weld::{CodeEdition, Purpose};

const RUNS: usize = 4_000;
const QUANTILE: f64 = 0.995;
const READINGS_A_WINDOW: usize = 60;
const TRUE_K_H: f64 = 15.0;
const NOISE_K: f64 = 1.0;
const SEED: u64 = 20_260_101;

fn main() {
    let mut noise = Noise { state: SEED };
    println!("# Overread of the steepest 60-min slope of a ramp through noise alone.");
    println!(
        "# What: (steepest slope found - true slope) / standard deviation of one least-squares slope of white noise."
    );
    println!(
        "# Quantile {QUANTILE} of {RUNS} ramps; {READINGS_A_WINDOW} readings a window, running median of 5 as defined"
    );
    println!("# in filter/1, normal noise, no rounding. Seed {SEED}. Unit: 1. Status: computed.");
    println!(
        "# Source: checks/examples/guard_band.rs; nothing else. Range: ramps of 1 to 32 windows."
    );
    println!("overread = [");
    for windows in [1, 2, 4, 8, 16, 32] {
        println!(
            "    {{ windows = {windows}, sigmas = {:.2} }},",
            overread(windows, &mut noise)
        );
    }
    println!("]");
}

fn overread(windows: usize, noise: &mut Noise) -> f64 {
    let mut over: Vec<f64> = (0..RUNS).map(|_| one_ramp(windows, noise)).collect();
    over.sort_by(f64::total_cmp);
    over[(QUANTILE * RUNS as f64) as usize]
}

/// Overread of one ramp in standard deviations of a slope.
fn one_ramp(windows: usize, noise: &mut Noise) -> f64 {
    let definitions = Definitions {
        rate_windows_beside: Vec::new(),
        evidence_reach: Hours::from_min(5.0),
        ..Definitions::default()
    };
    let mut checker = Checker::new(&requirement(), &[channel()], definitions);
    for reading in 0..=windows * READINGS_A_WINDOW {
        let hours = reading as f64 / READINGS_A_WINDOW as f64;
        let value_c = 100.0 + TRUE_K_H * hours + NOISE_K * noise.normal();
        checker.push(&Scan {
            elapsed: Duration::from_secs_f64(hours * 3600.0),
            readings: vec![Some(Celsius::from_c(value_c))],
        });
    }
    let findings = checker.findings();
    let found = findings.table[0].rates[0].steepest.expect("a ramp");
    (found.k_h() - TRUE_K_H) / slope_sigma_k_h()
}

fn slope_sigma_k_h() -> f64 {
    let mean = READINGS_A_WINDOW as f64 / 2.0;
    let squares: f64 = (0..=READINGS_A_WINDOW)
        .map(|i| ((i as f64 - mean) / READINGS_A_WINDOW as f64).powi(2))
        .sum();
    NOISE_K / squares.sqrt()
}

/// Uniform numbers by splitmix64 (Steele, Lea and Flood 2014), normal ones by Box and Muller (1958); both from memory.
struct Noise {
    state: u64,
}

impl Noise {
    fn uniform(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

fn channel() -> ChannelUse {
    ChannelUse {
        name: "TC1".into(),
        role: Role::Control,
        face: Face::Outside,
        axial: Millimeters::from_mm(0.0),
        place: Place::SoakBand,
        fitted: true,
    }
}

fn requirement() -> Requirement {
    let clause = Clause {
        document: "none".into(),
        clause: "none".into(),
        status: Status::Estimate,
        note: None,
    };
    Requirement {
        purpose: Purpose::StressRelief,
        code: CodeEdition {
            code: "none".into(),
            edition: "none".into(),
        },
        governing_thickness: GoverningThickness {
            thickness: Millimeters::from_mm(25.0),
            reason: "none".into(),
            clause: clause.clone(),
        },
        standing: None,
        limits: vec![Limit {
            kind: LimitKind::HeatingRate {
                above: Celsius::from_c(0.0),
                rate: KelvinsPerHour::from_k_h(TRUE_K_H),
            },
            level: Level::Code,
            clause,
            reason: "none".into(),
        }],
        remarks: Vec::new(),
    }
}
