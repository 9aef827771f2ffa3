//! Setups of an invented trade: small pipes and short programmes, so that a run takes about a second.

use std::ops::ControlFlow;

use std::sync::LazyLock;
use std::time::Duration;

use cycle::outcome::Outcome;
use cycle::plan::{Accuracy, outcome};
use cycle::practice::practice;
use cycle::setup::{
    BoreEnd, Coil, Joint, Leads, PowerSource, Programme, Setup, Side, Surroundings, Turn, Wrap,
};
use quantity::{Celsius, Hours, KelvinsPerHour, Millimeters, Units};
use rules::thermocouple::{Face, Place, Role, Thermocouple};
use rules::weld::Orientation;

pub fn mm(value: f64) -> Millimeters {
    Millimeters::from_mm(value)
}

pub fn side(outside_mm: f64, wall_mm: f64, metal: &str) -> Side {
    Side {
        outside_diameter: mm(outside_mm),
        wall: mm(wall_mm),
        transition: None,
        length: mm(1500.0),
        bore_end: BoreEnd::Closed,
        metal: materials::metal(metal).expect("known").clone(),
    }
}

pub fn thermocouple(
    name: &str,
    role: Role,
    face: Face,
    axial_mm: f64,
    place: Place,
) -> Thermocouple {
    Thermocouple {
        name: name.into(),
        role,
        face,
        axial: mm(axial_mm),
        clock: 12.0,
        place,
        reason: "test".into(),
        fitted: face == Face::Outside,
    }
}

/// Turns at an even pitch about the weld.
pub fn coil(turns: usize, pitch_mm: f64, standoff_mm: f64) -> Coil {
    let first_mm = -0.5 * pitch_mm * (turns as f64 - 1.0);
    let turn = |i: usize| Turn {
        axial: mm(first_mm + pitch_mm * i as f64),
        standoff: mm(standoff_mm),
    };
    Coil {
        turns: (0..turns).map(turn).collect(),
    }
}

/// A pipe of carbon steel, 219.1 x 12.7 mm, six turns on 38 mm of blanket, an able source, a short programme.
pub fn small() -> Setup {
    let pipe = side(219.1, 12.7, "carbon steel");
    let cable = materials::cable("liquid-cooled cable")
        .expect("known")
        .clone();
    Setup {
        joint: Joint {
            sides: [pipe.clone(), pipe],
            cap_width: mm(16.0),
            orientation: Orientation::Horizontal,
        },
        surroundings: Surroundings {
            ambient: Celsius::from_c(20.0),
            wind_m_s: 0.0,
        },
        blanket: Wrap {
            material: materials::blankets()[0].clone(),
            thickness: mm(38.0),
            reach: [mm(250.0), mm(250.0)],
        },
        cable: cable.clone(),
        coil: Some(coil(6, 40.0, 38.0)),
        leads: Leads {
            length: mm(5000.0),
            spacing: mm(40.0),
            cable,
        },
        source: PowerSource {
            name: "a source of 35 kW".into(),
            power_kw: 35.0,
            current_rms_a: 400.0,
            voltage_rms_v: 700.0,
            frequency_range_hz: [5e3, 30e3],
            working_frequency_hz: Some(8e3),
        },
        programme: Programme {
            start: Celsius::from_c(20.0),
            threshold: Celsius::from_c(315.0),
            free_heating_rate: KelvinsPerHour::from_k_h(600.0),
            heating_rate: KelvinsPerHour::from_k_h(335.0),
            set_point: Celsius::from_c(620.0),
            hold_range: [Celsius::from_c(595.0), Celsius::from_c(650.0)],
            hold_time: Hours::from_h(0.25),
            cooling_rate: KelvinsPerHour::from_k_h(335.0),
            controlled_down_to: Celsius::from_c(480.0),
        },
        thermocouples: vec![
            thermocouple("TC1", Role::Control, Face::Outside, 0.0, Place::SoakBand),
            thermocouple("TC2", Role::Monitor, Face::Outside, -20.0, Place::SoakBand),
            thermocouple("TC3", Role::Monitor, Face::Outside, 20.0, Place::SoakBand),
            thermocouple(
                "TC4",
                Role::Monitor,
                Face::Outside,
                110.0,
                Place::HeatedBandEdge,
            ),
            thermocouple("P1", Role::Monitor, Face::Bore, 0.0, Place::SoakBand),
        ],
        soak_band: mm(42.0),
        heated_band: mm(220.0),
        neighbors: Vec::new(),
        recording_interval: Duration::from_secs(60),
        units: Units::Si,
    }
}

/// The same pipe of 9Cr-1Mo-V held above its Curie point, with a source that can.
pub fn through_the_curie_point() -> Setup {
    let mut setup = small();
    let pipe = side(219.1, 12.7, "SA-335 P91");
    setup.joint.sides = [pipe.clone(), pipe];
    setup.programme.set_point = Celsius::from_c(760.0);
    setup.programme.hold_range = [Celsius::from_c(740.0), Celsius::from_c(775.0)];
    setup.programme.controlled_down_to = Celsius::from_c(600.0);
    setup.source.power_kw = 60.0;
    setup.source.current_rms_a = 700.0;
    setup.cable.max_current_a_rms.value = 700.0;
    setup
}

/// The plan of [`small`], made once.
pub fn small_plan() -> &'static Outcome {
    static PLAN: LazyLock<Outcome> = LazyLock::new(|| run(&small()));
    &PLAN
}

/// Runs a setup that has its coil and frequency.
pub fn run(setup: &Setup) -> Outcome {
    run_at(setup, &Accuracy::plan())
}

pub fn run_at(setup: &Setup, accuracy: &Accuracy) -> Outcome {
    let coil = setup.coil.as_ref().expect("a coil");
    let frequency_hz = setup.source.working_frequency_hz.expect("a frequency");
    outcome(setup, coil, frequency_hz, accuracy, practice(), &mut |_| {
        ControlFlow::Continue(())
    })
    .expect("a plan")
}

/// Readings of a channel over the scans, in °C.
pub fn channel(outcome: &Outcome, name: &str) -> Vec<f64> {
    let index = outcome
        .channels
        .iter()
        .position(|c| c.name == name)
        .expect("a channel");
    outcome
        .scans
        .iter()
        .map(|scan| {
            scan.readings[index]
                .expect("a prediction never falls silent")
                .c()
        })
        .collect()
}
