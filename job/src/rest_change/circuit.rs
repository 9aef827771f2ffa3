//! What made current, voltage, losses and power move: only what the numbers show, computed from the digits that are told,
//! so that a reader finds the same.

use super::facts::Facts;
use super::ways::{amperes, farther, faster, kilowatts, longer, more_turns, percent, way};

/// The least change that is given as a reason, in percent: less is within what the digits that are told can carry.
const TELLING_PERCENT: f64 = 1.0;

fn tells(percent: f64) -> i8 {
    way(percent, TELLING_PERCENT - f64::EPSILON)
}

fn words(percent: f64) -> String {
    let more = if percent > 0.0 { "more" } else { "less" };
    format!("{:.0} % {more}", percent.abs())
}

/// Current: what an ampere heats, and what the metal takes.
pub(super) fn current(before: &Facts, now: &Facts) -> Option<String> {
    let per_square = |facts: &Facts| kilowatts(facts.metal_w) / amperes(facts).powi(2);
    let coupling = percent(per_square(before), per_square(now));
    let power = percent(kilowatts(before.metal_w), kilowatts(now.metal_w));
    let took = format!("the metal takes {} power", words(power));
    let heats = format!(
        "{}the same current heats the metal {} (heat goes with the square of the current)",
        coupled(before, now, tells(coupling)),
        words(coupling)
    );
    match (tells(coupling), tells(power)) {
        (0, 0) => slightly(amperes(now) - amperes(before)),
        (0, _) => Some(took),
        (_, 0) => Some(heats),
        // Less heat from an ampere and more heat that is wanted go the same way.
        (by_field, by_power) if by_field != by_power => Some(format!("{heats}, and {took}")),
        _ => Some(format!("{heats}, though {took}")),
    }
}

/// A change that is less than a percent of everything it comes from.
fn slightly(by: f64) -> Option<String> {
    let heats = |more: &str| format!("the same current heats the metal a little {more}");
    match way(by, 0.0) {
        0 => None,
        1 => Some(heats("less")),
        _ => Some(heats("more")),
    }
}

/// What made the same current heat more or less, as far as it was changed and goes that way.
fn coupled(before: &Facts, now: &Facts, by: i8) -> String {
    let reasons = [
        (farther(before, now) * by == -1).then_some(match by {
            -1 => "turns farther from the metal pass less of their field into it",
            _ => "turns nearer to the metal pass more of their field into it",
        }),
        (more_turns(before, now) * by == 1).then_some(match by {
            1 => "more turns make more field",
            _ => "fewer turns make less field",
        }),
        (faster(before, now) * by == 1).then_some(match by {
            1 => "at the higher frequency the current in the metal runs in a thinner skin",
            _ => "at the lower frequency the current in the metal runs in a thicker skin",
        }),
        (more_turns(before, now) == 0 && longer(before, now) * by == -1).then_some(match by {
            -1 => "turns farther apart add less to each other's field",
            _ => "turns closer together add more to each other's field",
        }),
    ];
    leading(&reasons)
}

/// Reasons before what follows from them.
fn leading(reasons: &[Option<&str>]) -> String {
    let all: Vec<&str> = reasons.iter().flatten().copied().collect();
    match all.is_empty() {
        true => String::new(),
        false => format!("{}: ", all.join(" and ")),
    }
}

/// Loss in cable and leads: the square of the current, and what the cable resists.
pub(super) fn lost(before: &Facts, now: &Facts) -> Option<String> {
    // The resistance from all digits: the two of a small loss would not carry it.
    let resists = |facts: &Facts| facts.lost_w / facts.current_a.powi(2);
    let resistance = percent(resists(before), resists(now));
    let square = percent(amperes(before).powi(2), amperes(now).powi(2));
    let [was, is] = [before, now].map(amperes);
    let by_current = format!(
        "it goes with the square of the current, and {is:.0} A against {was:.0} A makes it {}",
        words(square)
    );
    let by_cable = format!(
        "cable and leads resist {}{}",
        words(resistance),
        resisted(before, now, tells(resistance))
    );
    match (tells(square), tells(resistance)) {
        (0, 0) => None,
        (_, 0) => Some(by_current),
        (0, _) => Some(by_cable),
        (square, resists) if square == resists => Some(format!("{by_current}, and {by_cable}")),
        _ => Some(format!("{by_current}, though {by_cable}")),
    }
}

/// What made the cable resist more or less, as far as it was changed and goes that way.
fn resisted(before: &Facts, now: &Facts, by: i8) -> &'static str {
    match by {
        _ if more_turns(before, now) == by && by > 0 => ", for there is more cable",
        _ if more_turns(before, now) == by && by < 0 => ", for there is less cable",
        _ if farther(before, now) == by && by > 0 => ", for each turn is longer",
        _ if farther(before, now) == by && by < 0 => ", for each turn is shorter",
        _ if faster(before, now) == by => ", at this frequency",
        _ => "",
    }
}

/// Power of the source: what goes into the metal and what is lost on the way.
pub(super) fn source(before: &Facts, now: &Facts) -> Option<String> {
    let by = |was: f64, is: f64| kilowatts(is) - kilowatts(was);
    let told = |kw: f64, what: &str| {
        let more = if kw > 0.0 { "more" } else { "less" };
        (kw.abs() > 0.005).then(|| format!("{:.2} kW {more} {what}", kw.abs()))
    };
    let parts: Vec<String> = [
        told(by(before.metal_w, now.metal_w), "into the metal"),
        told(by(before.lost_w, now.lost_w), "lost in cable and leads"),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}

/// Voltage: the current, and what an ampere takes.
pub(super) fn voltage(before: &Facts, now: &Facts) -> Option<String> {
    let per_ampere = |facts: &Facts| facts.voltage_v.round() / amperes(facts);
    let current = percent(amperes(before), amperes(now));
    let taken = percent(per_ampere(before), per_ampere(now));
    let by_current = format!("{} current", words(current));
    let by_field = format!(
        "{}each ampere takes {} voltage",
        linked(before, now, tells(taken)),
        words(taken)
    );
    match (tells(current), tells(taken)) {
        (0, 0) => {
            let by = now.voltage_v.round() - before.voltage_v.round();
            let goes = by * (amperes(now) - amperes(before)) > 0.0;
            goes.then(|| "it goes with the current".to_owned())
        }
        (_, 0) => Some(by_current),
        (0, _) => Some(by_field),
        (current, taken) if current == taken => {
            Some(format!("{by_field}, and there is {by_current}"))
        }
        _ => Some(format!("{by_field}, though there is {by_current}")),
    }
}

/// What made an ampere take more or less voltage, as far as it was changed and goes that way.
fn linked(before: &Facts, now: &Facts, by: i8) -> String {
    let reasons = [
        (farther(before, now) * by == 1).then_some(match by {
            1 => "there is more field in the wider gap between turns and metal",
            _ => "there is less field in the narrower gap between turns and metal",
        }),
        (more_turns(before, now) * by == 1).then_some(match by {
            1 => "more turns stand in each other's field",
            _ => "fewer turns stand in each other's field",
        }),
        (faster(before, now) * by == 1).then_some("the voltage of a coil goes with its frequency"),
        (more_turns(before, now) == 0 && longer(before, now) * by == -1).then_some(match by {
            -1 => "turns farther apart stand in less of each other's field",
            _ => "turns closer together stand in more of each other's field",
        }),
    ];
    leading(&reasons)
}
