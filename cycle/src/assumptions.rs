//! What a plan assumes, each with its source, and what it leaves out.

use materials::{Edge, Metal, Property, Ranged, Surface};
use quantity::{Celsius, Millimeters, Source, Status, Units};

use crate::joint::JointSection;
use crate::outcome::Assumption;
use crate::practice::{Habit, Practice};
use crate::setup::Setup;
use crate::surroundings::bore::bore_air;
use crate::words::{length, quantity, temperature, three_digits};

/// The unit of conductivities of heat.
const CONDUCTIVITY: &str = "W/(m K)";

/// The outside of a blanket as a radiating surface.
pub fn blanket_surface() -> &'static Surface {
    materials::surface("ceramic fiber blanket").expect("a surface of the materials room")
}

/// Everything that a setup makes the plan assume.
pub fn assumptions(setup: &Setup, practice: &Practice, joint: &JointSection) -> Vec<Assumption> {
    let mut list = Vec::new();
    let [first, second] = &setup.joint.sides;
    add_metal(&mut list, &first.metal, setup);
    if second.metal != first.metal {
        add_metal(&mut list, &second.metal, setup);
    }
    add_blanket(&mut list, setup);
    add_cable(&mut list, setup);
    let air = bore_air(
        &practice.bore,
        [first.bore_end, second.bore_end],
        setup.joint.orientation,
    );
    let habits = [
        &air.coefficient,
        &air.warmth,
        &practice.rate_margin,
        &practice.hold_margin_min,
    ];
    let units = setup.units;
    list.extend(habits.map(|one| habit(one, units)));
    if joint.tapered {
        list.push(habit(&practice.taper, units));
    }
    list.extend(own_choices(joint, units));
    list
}

/// What the model leaves out.
pub fn not_modeled() -> Vec<String> {
    [
        "differences round the pipe: 12 and 6 o'clock are equal in the model; buoyancy makes the top hotter, mostly inside large lying pipe",
        "the turns as a helix and their crossings: each turn is a ring",
        "hysteresis loss: a few percent of the eddy-current loss below the Curie point, nothing above it",
        "steel near coil and leads, clamps, supports and scaffolding",
        "cables on the blanket as cover or as cooling, and their own temperature",
        "rain, sun, gaps and wet blankets",
        "contents of the pipe, vapor, and air that is driven through it",
        "heat of transformation beyond what the specific heat holds, and weld metal other than its pipe side",
        "the weld cap and root as shapes",
        "a real controller: readings are followed to a tenth of a kelvin",
        "stress, distortion and what the heat does to strength and hardness",
    ]
    .map(str::to_string)
    .to_vec()
}

fn add_metal(list: &mut Vec<Assumption>, metal: &Metal, setup: &Setup) {
    let (hold_c, units) = (setup.programme.set_point.c(), setup.units);
    let at_hold = temperature(setup.programme.set_point, units);
    let properties = [
        (Property::Conductivity, 1.0, CONDUCTIVITY),
        (Property::SpecificHeat, 1.0, "J/(kg K)"),
        (Property::Resistivity, 1e8, "µΩ cm"),
    ];
    for (property, factor, unit) in properties {
        let curve = metal.curve(property);
        let at = |metal: &Metal| {
            metal
                .curve(property)
                .at_c(hold_c)
                .map(|value| value * factor)
        };
        let Ok(value) = at(metal) else { continue };
        let edges = [Edge::Low, Edge::High].map(|edge| at(&metal.at_edge(property, edge)));
        let spread = match edges {
            [Ok(low), Ok(high)] => Some(between(low, high, unit, units)),
            _ => None,
        };
        list.push(from_source(
            format!("{} of {} at {at_hold}", property.words(), metal.name),
            measured(value, unit, units),
            spread,
            &curve.source,
        ));
    }
    list.push(ranged(
        &format!("emissivity of {}", metal.name),
        &metal.emissivity,
        "",
        units,
    ));
    if let Some(magnetization) = &metal.magnetization {
        let name = &metal.name;
        list.push(ranged(
            &format!("saturation of {name}"),
            &magnetization.saturation_t,
            "T",
            units,
        ));
        list.push(ranged(
            &format!("initial permeability of {name}"),
            &magnetization.initial_permeability,
            "",
            units,
        ));
        list.push(ranged(
            &format!("Curie point of {name}"),
            &magnetization.curie.point_c,
            "°C",
            units,
        ));
        list.push(ranged(
            &format!("exponent of the fall of permeability of {name} towards the Curie point"),
            &magnetization.curie.exponent,
            "",
            units,
        ));
    }
}

/// A property with the digits to which it is known.
fn measured(value: f64, unit: &str, units: Units) -> String {
    let (value, unit) = units.of(value, unit);
    format!("{} {unit}", three_digits(value))
}

/// From one end to the other; the unit stands with the value.
fn between(low: f64, high: f64, unit: &str, units: Units) -> String {
    let [low, high] = [low, high].map(|end| three_digits(units.of(end, unit).0));
    format!("{low} to {high}")
}

fn add_blanket(list: &mut Vec<Assumption>, setup: &Setup) {
    let (blanket, units) = (&setup.blanket.material, setup.units);
    let mean_c = 0.5 * (setup.programme.set_point.c() + setup.surroundings.ambient.c());
    if let Ok(value) = blanket.conductivity.at_c(mean_c) {
        let edges =
            [Edge::Low, Edge::High].map(|edge| blanket.at_edge(edge).conductivity.at_c(mean_c));
        let spread = match edges {
            [Ok(low), Ok(high)] => Some(between(low, high, CONDUCTIVITY, units)),
            _ => None,
        };
        let at_mean = temperature(Celsius::from_c(mean_c), units);
        list.push(from_source(
            format!("thermal conductivity of {} at {at_mean}", blanket.name),
            measured(value, CONDUCTIVITY, units),
            spread,
            &blanket.conductivity.source,
        ));
    }
    list.push(ranged(
        "emissivity of the blanket's outside",
        &blanket_surface().emissivity,
        "",
        units,
    ));
}

fn add_cable(list: &mut Vec<Assumption>, setup: &Setup) {
    let cable = &setup.cable;
    let numbers = [
        ("copper area of the cable", &cable.copper_area_mm2, "mm²"),
        (
            "strand diameter of the cable",
            &cable.strand_diameter_mm,
            "mm",
        ),
        (
            "diameter of the cable's bundle",
            &cable.bundle_diameter_mm,
            "mm",
        ),
        (
            "current that the cable bears",
            &cable.max_current_a_rms,
            "A rms",
        ),
        (
            "temperature of the cable's copper",
            &cable.max_cable_temperature_c,
            "°C",
        ),
    ];
    for (text, number, unit) in numbers {
        list.push(from_source(
            text.into(),
            quantity(number.value, unit, setup.units),
            None,
            &number.source,
        ));
    }
    list.push(ranged(
        "loss of the cable beyond ideal strands, as a factor",
        &cable.workmanship,
        "",
        setup.units,
    ));
}

/// What the model itself chooses.
fn own_choices(joint: &JointSection, units: Units) -> Vec<Assumption> {
    let [first, second] = joint
        .lengths_m
        .map(|m| length(Millimeters::from_m(m), units));
    let ends = format!(
        "{first} and {second} from the weld no heat passes: neighbors are shown hotter than they become"
    );
    let own = |text: &str, value: &str| {
        Assumption {
        text: text.into(),
        value: value.into(),
        spread: None,
        status: Status::Estimate,
        source: "our choice, explained in the theory of circuit and surroundings that comes with the program".into(),
    }
    };
    vec![
        own(
            "tuning of the source",
            "it gives its rated current and voltage at every phase of the load",
        ),
        own(
            "loss of the cable in the field of its neighbors",
            "the joint mirrors the whole current: high rather than low",
        ),
        own("ends of the model", &ends),
        own(
            "radiation in the bore",
            "gray straight cylinder of the mean bore; open ends see the ambient",
        ),
    ]
}

fn habit(habit: &Habit, units: Units) -> Assumption {
    from_source(
        habit.text.clone(),
        quantity(habit.value, &habit.unit, units),
        Some(spread(habit.low, habit.high, &habit.unit, units)),
        &habit.source,
    )
}

fn ranged(text: &str, number: &Ranged, unit: &str, units: Units) -> Assumption {
    from_source(
        text.into(),
        quantity(number.value, unit, units),
        Some(spread(number.low, number.high, unit, units)),
        &number.source,
    )
}

/// From one end to the other; the unit stands with the value.
fn spread(low: f64, high: f64, unit: &str, units: Units) -> String {
    let number = |end: f64| {
        let words = quantity(end, unit, units);
        words.split(' ').next().unwrap_or_default().to_owned()
    };
    format!("{} to {}", number(low), number(high))
}

fn from_source(text: String, value: String, spread: Option<String>, source: &Source) -> Assumption {
    Assumption {
        text,
        value,
        spread,
        status: source.status,
        source: match &source.note {
            Some(note) => format!("{} ({note})", source.citation),
            None => source.citation.clone(),
        },
    }
}
