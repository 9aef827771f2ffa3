//! Thermocouples in one sentence.

use quantity::{Millimeters, Units};
use rules::thermocouple::{Role, Thermocouple};

use crate::sheet::words::{clock, tape_inches, whole_mm};

/// How many of each kind, and where.
pub(crate) fn thermocouples(all: &[Thermocouple], units: Units) -> Option<String> {
    let of = |role: Role| -> Vec<&Thermocouple> {
        let fitted = all.iter().filter(|one| one.role == role && one.fitted);
        fitted.collect()
    };
    let [control, monitor, spare] = [Role::Control, Role::Monitor, Role::Spare].map(of);
    let words = |name: &str, list: &[&Thermocouple]| {
        format!("{} {name} ({})", list.len(), places(list, units))
    };
    let beside = match spare.len() {
        1 => "it",
        _ => "the control thermocouples",
    };
    (!all.is_empty()).then(|| {
        format!(
            "Thermocouples (common practice, no source): {}; {}; {} spare beside {beside}.",
            words("control", &control),
            words("monitor", &monitor),
            spare.len(),
        )
    })
}

/// Clock positions, those away from the weld with how far they lie.
fn places(list: &[&Thermocouple], units: Units) -> String {
    let mut clocks: Vec<f64> = Vec::new();
    for one in list {
        if !clocks.contains(&one.clock) {
            clocks.push(one.clock);
        }
    }
    let at = |hours: f64| {
        let here = list.iter().filter(|one| one.clock == hours);
        let axial = axial(&here.map(|one| one.axial.mm()).collect::<Vec<_>>(), units);
        match axial.is_empty() {
            true => clock(hours),
            false => format!("{} at {axial}", clock(hours)),
        }
    };
    clocks.into_iter().map(at).collect::<Vec<_>>().join(", ")
}

/// Distances along the pipe; equal ones to either side stand once.
fn axial(all_mm: &[f64], units: Units) -> String {
    let unit = match units {
        Units::Si => "mm",
        Units::Us => "in",
    };
    let far = |mm: f64| match units {
        Units::Si => whole_mm(Millimeters::from_mm(mm)),
        Units::Us => tape_inches(Millimeters::from_mm(mm)),
    };
    let signed = |mm: f64| match mm > 0.0 {
        true => format!("+{}", far(mm)),
        false => far(mm),
    };
    let has = |mm: f64| all_mm.contains(&mm);
    let words: Vec<String> = all_mm
        .iter()
        .filter(|mm| **mm != 0.0 && !(**mm < 0.0 && has(-**mm)))
        .map(|mm| match has(-mm) {
            true => format!("±{}", far(mm.abs())),
            false => signed(*mm),
        })
        .collect();
    match (words.is_empty(), has(0.0)) {
        (true, _) => String::new(),
        (false, true) => format!("0, {} {unit}", words.join(", ")),
        (false, false) => format!("{} {unit}", words.join(", ")),
    }
}
