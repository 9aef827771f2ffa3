//! Welds for the tests.

use std::collections::BTreeMap;

use quantity::{Celsius, Millimeters, Units};
use rules::requirement::{Limit, LimitKind, Requirement};
use rules::weld::{CodeEdition, Orientation, OwnLimits, PNumber, Purpose, Side, Weld};

pub fn side(p_number: &str, group: u8, outside_diameter_mm: f64, wall_mm: f64) -> Side {
    Side {
        outside_diameter: Millimeters::from_mm(outside_diameter_mm),
        wall: Millimeters::from_mm(wall_mm),
        p_number: PNumber {
            number: p_number.into(),
            group: Some(group),
        },
        chemistry: BTreeMap::new(),
        tensile_strength_mpa: None,
        tempered_at: None,
        cladding: None,
    }
}

pub fn weld(code: &str, edition: &str, side: &Side) -> Weld {
    Weld {
        sides: [side.clone(), side.clone()],
        cap_width: Millimeters::from_mm(30.0),
        orientation: Orientation::Horizontal,
        purpose: Purpose::StressRelief,
        code: CodeEdition {
            code: code.into(),
            edition: edition.into(),
        },
        procedure: OwnLimits::default(),
        owner: OwnLimits::default(),
        welding: rules::welding::Welding::default(),
        confirmed: Vec::new(),
        units: Units::Si,
        joint: rules::joint::Joint::default(),
        answers: rules::answers::Answers::default(),
    }
}

/// A girth weld of P-1 Gr. 1 in a pipe of 457 mm.
pub fn carbon(code: &str, edition: &str, wall_mm: f64) -> Weld {
    weld(code, edition, &side("1", 1, 457.0, wall_mm))
}

pub fn need(weld: &Weld) -> Requirement {
    rules::requirement(weld).expect("a requirement")
}

pub fn hold_min_c(requirement: &Requirement) -> f64 {
    requirement.hold_min().expect("a lower end").c()
}

pub fn hold_minutes(requirement: &Requirement) -> f64 {
    requirement.hold_time().expect("a hold time").minutes()
}

pub fn heating_k_h(requirement: &Requirement) -> f64 {
    rate(requirement, |kind| match kind {
        LimitKind::HeatingRate { rate, .. } => Some(rate.k_h()),
        _ => None,
    })
}

pub fn cooling_k_h(requirement: &Requirement) -> f64 {
    rate(requirement, |kind| match kind {
        LimitKind::CoolingRate { rate, .. } => Some(rate.k_h()),
        _ => None,
    })
}

fn rate(requirement: &Requirement, of: fn(LimitKind) -> Option<f64>) -> f64 {
    let rates = requirement.limits.iter().filter_map(|limit| of(limit.kind));
    rates.reduce(f64::min).expect("a rate")
}

pub fn code_max_c(requirement: &Requirement) -> Option<f64> {
    limit_max(requirement, rules::requirement::Level::Code).map(|(c, _)| c)
}

pub fn limit_max(
    requirement: &Requirement,
    level: rules::requirement::Level,
) -> Option<(f64, &Limit)> {
    let of_level = requirement
        .limits
        .iter()
        .filter(|limit| limit.level == level);
    let ends = of_level.filter_map(|limit| match limit.kind {
        LimitKind::HoldMax(max) => Some((max.c(), limit)),
        _ => None,
    });
    ends.reduce(|kept, other| if other.0 < kept.0 { other } else { kept })
}

pub fn remarks(requirement: &Requirement) -> String {
    let texts: Vec<&str> = requirement
        .remarks
        .iter()
        .map(|remark| remark.text.as_str())
        .collect();
    texts.join("\n")
}

pub fn c(degrees: f64) -> Option<Celsius> {
    Some(Celsius::from_c(degrees))
}
