//! A predicted cycle drawn with a ruler, so that what is judged is known by construction; no physics here.

use std::time::Duration;

use cycle::outcome::{
    Effort, Energy, NeighborOutcome, Outcome, Snapshot, SoakVerdict, SourceVerdict, Spot,
    SurfaceToBore,
};
use cycle::setup::{Coil, Turn};
use job::Job;
use job::plan::{Plan, Prepared, judged, prepared};
use quantity::{Celsius, Millimeters};
use readings::{Channel, Scan};

const CARBON: &str = include_str!("../../../jobs/carbon-steel-line.toml");

pub fn job() -> Job {
    job::read(CARBON, "carbon-steel-line.toml").expect("a demo")
}

/// Turns 40 mm apart over the whole heated band.
pub fn wide_coil(prepared: &Prepared) -> Coil {
    coil(prepared.bands.heated.width.mm())
}

pub fn coil(width_mm: f64) -> Coil {
    let count = (width_mm / 40.0).ceil() as i32;
    let turn = |i: i32| Turn {
        axial: Millimeters::from_mm(40.0 * (f64::from(i) - 0.5 * f64::from(count - 1))),
        standoff: Millimeters::from_mm(50.8),
    };
    Coil {
        turns: (0..count).map(turn).collect(),
    }
}

/// Everything as it should be: 200 K/h up, hold at the set point a tenth longer than asked, 200 K/h down.
pub fn good_outcome(prepared: &Prepared) -> Outcome {
    let programme = &prepared.programme;
    let set_c = programme.set_point.c();
    let up_h = (set_c - programme.start.c()) / 200.0;
    let hold_h = 1.1 * programme.hold_time.h();
    let end_h = up_h + hold_h + (set_c - programme.controlled_down_to.c()) / 200.0;
    let at = |h: f64| {
        let up = programme.start.c() + 200.0 * h;
        let down = set_c - 200.0 * (h - up_h - hold_h).max(0.0);
        Celsius::from_c(up.min(down))
    };
    let thermocouples = &prepared.setup.thermocouples;
    let scans = (0..=(end_h * 60.0) as u64)
        .map(|minute| Scan {
            elapsed: Duration::from_secs(60 * minute),
            readings: thermocouples
                .iter()
                .map(|_| Some(at(minute as f64 / 60.0)))
                .collect(),
        })
        .collect();
    let spot = Spot {
        temperature_c: set_c,
        axial_mm: 10.0,
        depth_mm: 17.0,
    };
    Outcome {
        channels: thermocouples
            .iter()
            .map(|t| Channel {
                name: t.name.clone(),
            })
            .collect(),
        scans,
        history: Vec::new(),
        stages: Vec::new(),
        energy: Energy::default(),
        profiles: Vec::new(),
        frames: Vec::new(),
        surface_to_bore: SurfaceToBore::default(),
        soak: SoakVerdict {
            inside_whole_hold: true,
            hold_from_s: Some(up_h * 3600.0),
            hold_to_s: Some((up_h + hold_h) * 3600.0),
            time_inside_h: hold_h,
            coldest: spot,
            hottest: spot,
            ..SoakVerdict::default()
        },
        beyond: Default::default(),
        neighbors: vec![NeighborOutcome {
            name: "flange with gasket face".into(),
            axial_mm: 863.6,
            highest_c: 90.0,
            time_s: 3600.0,
            limit_c: Some(204.4),
        }],
        source: SourceVerdict {
            enough: true,
            first_shortfall: None,
            largest_power_w: 20e3,
            largest_current_rms_a: 200.0,
            largest_voltage_rms_v: 400.0,
            power_reserve_percent: 40.0,
            current_reserve_percent: 42.0,
            voltage_reserve_percent: 43.0,
        },
        snapshot: Snapshot::default(),
        circuit: Vec::new(),
        stray: Default::default(),
        frequency_hz: 9000.0,
        assumptions: Vec::new(),
        cautions: Vec::new(),
        not_modeled: Vec::new(),
        effort: Effort::default(),
    }
}

/// The plan of a cycle that is good but for what `spoil` does to it.
pub fn plan_with(spoil: impl FnOnce(&Prepared, &mut Outcome, &mut Coil)) -> Plan {
    let job = job();
    let prepared = prepared(&job).expect("the rules know it");
    let mut outcome = good_outcome(&prepared);
    let mut coil = wide_coil(&prepared);
    spoil(&prepared, &mut outcome, &mut coil);
    judged(&job, prepared, coil, None, outcome).expect("a plan")
}
