//! What a plan assumes, each with its source, and what it leaves out.

use materials::{Edge, Metal, Property, Ranged, Surface};
use quantity::{Source, Status};

use crate::joint::JointSection;
use crate::outcome::Assumption;
use crate::practice::{Habit, Practice};
use crate::setup::Setup;
use crate::surroundings::bore::bore_air;

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
    list.extend(habits.map(habit));
    if joint.tapered {
        list.push(habit(&practice.taper));
    }
    list.extend(own_choices(joint));
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
    let hold_c = setup.programme.set_point.c();
    let properties = [
        (Property::Conductivity, 1.0, "W/(m K)"),
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
            [Ok(low), Ok(high)] => Some(format!(
                "{} to {} {unit}",
                three_digits(low),
                three_digits(high)
            )),
            _ => None,
        };
        list.push(from_source(
            format!("{} of {} at {hold_c:.0} °C", property.words(), metal.name),
            format!("{} {unit}", three_digits(value)),
            spread,
            &curve.source,
        ));
    }
    list.push(ranged(
        &format!("emissivity of {}", metal.name),
        &metal.emissivity,
        "",
    ));
    if let Some(magnetization) = &metal.magnetization {
        let name = &metal.name;
        list.push(ranged(
            &format!("saturation of {name}"),
            &magnetization.saturation_t,
            "T",
        ));
        list.push(ranged(
            &format!("initial permeability of {name}"),
            &magnetization.initial_permeability,
            "",
        ));
        list.push(ranged(
            &format!("Curie point of {name}"),
            &magnetization.curie.point_c,
            "°C",
        ));
        list.push(ranged(
            &format!("exponent of the fall of permeability of {name} towards the Curie point"),
            &magnetization.curie.exponent,
            "",
        ));
    }
}

/// Three digits are more than any property of a metal at hand is known to.
fn three_digits(value: f64) -> String {
    let before = value.abs().max(f64::MIN_POSITIVE).log10().floor();
    let decimals = (2.0 - before).clamp(0.0, 9.0) as usize;
    format!("{value:.decimals$}")
}

fn add_blanket(list: &mut Vec<Assumption>, setup: &Setup) {
    let blanket = &setup.blanket.material;
    let mean_c = 0.5 * (setup.programme.set_point.c() + setup.surroundings.ambient.c());
    if let Ok(value) = blanket.conductivity.at_c(mean_c) {
        let edges =
            [Edge::Low, Edge::High].map(|edge| blanket.at_edge(edge).conductivity.at_c(mean_c));
        let spread = match edges {
            [Ok(low), Ok(high)] => Some(format!(
                "{} to {} W/(m K)",
                three_digits(low),
                three_digits(high)
            )),
            _ => None,
        };
        let text = format!("thermal conductivity of {} at {mean_c:.0} °C", blanket.name);
        list.push(from_source(
            text,
            format!("{} W/(m K)", three_digits(value)),
            spread,
            &blanket.conductivity.source,
        ));
    }
    list.push(ranged(
        "emissivity of the blanket's outside",
        &blanket_surface().emissivity,
        "",
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
            format!("{} {unit}", number.value),
            None,
            &number.source,
        ));
    }
    list.push(ranged(
        "loss of the cable beyond ideal strands, as a factor",
        &cable.workmanship,
        "",
    ));
}

/// What the model itself chooses.
fn own_choices(joint: &JointSection) -> Vec<Assumption> {
    let ends = format!(
        "{:.0} mm and {:.0} mm from the weld no heat passes: neighbors are shown hotter than they become",
        joint.lengths_m[0] * 1e3,
        joint.lengths_m[1] * 1e3
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

fn habit(habit: &Habit) -> Assumption {
    from_source(
        habit.text.clone(),
        format!("{} {}", habit.value, unit_text(&habit.unit))
            .trim_end()
            .to_string(),
        Some(
            format!("{} to {} {}", habit.low, habit.high, unit_text(&habit.unit))
                .trim_end()
                .to_string(),
        ),
        &habit.source,
    )
}

fn unit_text(unit: &str) -> &str {
    if unit == "1" { "" } else { unit }
}

fn ranged(text: &str, number: &Ranged, unit: &str) -> Assumption {
    from_source(
        text.into(),
        format!("{} {unit}", number.value).trim_end().to_string(),
        Some(
            format!("{} to {} {unit}", number.low, number.high)
                .trim_end()
                .to_string(),
        ),
        &number.source,
    )
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
