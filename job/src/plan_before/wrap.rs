//! What was changed in the wrap and the programme from one plan to the next, in words.

use quantity::{Celsius, Hours, Kelvins, Millimeters, Units};

use super::file::{Coil, Wrap};
use super::turns;
use crate::sheet::words::trimmed;
use crate::wording::{difference, length, temperature};

/// Each change: what, how it is now and how it was.
pub(super) fn changes(before: &Wrap, now: &Wrap, units: Units) -> Vec<String> {
    let (were, are) = (told(before, units), told(now, units));
    let changed = were.iter().zip(&are).filter(|(was, is)| was != is);
    let told = changed.map(|((what, was), (_, is))| format!("{what} {is}, was {was}"));
    turns::changes(&before.coil.turns, &now.coil.turns, units)
        .into_iter()
        .chain(told)
        .collect()
}

/// Everything that can be changed, with its words.
fn told(wrap: &Wrap, units: Units) -> Vec<(&'static str, String)> {
    let long = |mm: f64| length(Millimeters::from_mm(mm), units);
    let thick = |mm: f64| thick(mm, units);
    let (coil, blanket, source) = (&wrap.coil, &wrap.blanket, &wrap.source);
    let mut told = vec![
        ("standoff", standoff(coil, units)),
        (
            "cable",
            format!("{} of {}", coil.cable, thick(coil.cable_diameter_mm)),
        ),
        ("leads", long(coil.lead_length_mm)),
        (
            "blanket",
            format!("{} of {}", thick(blanket.thickness_mm), blanket.material),
        ),
        (
            "reach of the blanket",
            format!(
                "{} and {}",
                long(blanket.reach_mm[0]),
                long(blanket.reach_mm[1])
            ),
        ),
        ("frequency", format!("{:.1} kHz", source.frequency_hz / 1e3)),
        (
            "source",
            format!(
                "{:.0} kW, {:.0} A, {:.0} V",
                source.power_kw, source.current_a, source.voltage_v
            ),
        ),
    ];
    told.extend(programme(wrap, units));
    told
}

fn programme(wrap: &Wrap, units: Units) -> [(&'static str, String); 7] {
    let programme = &wrap.programme;
    let at = |c: f64| temperature(Celsius::from_c(c), units);
    let rate = |k_h: f64| format!("{}/h", difference(Kelvins::from_k(k_h), units));
    let [low_c, high_c] = programme.hold_range_c;
    [
        ("set point", at(programme.set_point_c)),
        ("hold range", format!("{} to {}", at(low_c), at(high_c))),
        ("hold time", Hours::from_h(programme.hold_time_h).words()),
        (
            "heating rate below the threshold",
            rate(programme.free_heating_rate_k_h),
        ),
        (
            "heating rate",
            format!(
                "{} above {}",
                rate(programme.heating_rate_k_h),
                at(programme.threshold_c)
            ),
        ),
        ("cooling rate", rate(programme.cooling_rate_k_h)),
        (
            "controlled cooling down to",
            at(programme.controlled_down_to_c),
        ),
    ]
}

/// One standoff, or from the least to the most.
fn standoff(coil: &Coil, units: Units) -> String {
    let all = || coil.turns.iter().map(|turn| turn.standoff_mm);
    let words = |mm: f64| thick(mm, units);
    let least = words(all().fold(f64::INFINITY, f64::min));
    let most = words(all().fold(f64::NEG_INFINITY, f64::max));
    match () {
        () if coil.turns.is_empty() => "none".to_owned(),
        () if least == most => least,
        () => format!("{least} to {most}"),
    }
}

/// A thickness without zeros that say nothing.
fn thick(mm: f64, units: Units) -> String {
    let (number, unit) = units.of(mm, "mm");
    let digits = match units {
        Units::Si => 1,
        Units::Us => 3,
    };
    format!("{} {unit}", trimmed(number, digits))
}
