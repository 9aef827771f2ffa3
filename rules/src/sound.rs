//! Whether a value can be one at all: finite, positive, its ends in order.

use crate::formula::{HoldTime, Rate, Width};
use crate::row::Value;

impl Value {
    /// What is unsound in the value, if anything.
    pub fn unsound(&self) -> Option<String> {
        match self {
            Value::HoldRange { min, max } => range(*min, *max),
            Value::HoldTime(hold) => time(hold),
            Value::HeatingRate(rate) | Value::CoolingRate(rate) => speed(rate),
            Value::LowerHold { decrease, hold } => {
                positive("decrease", *decrease).or_else(|| time(hold))
            }
            Value::HeatingSpread { spread, within_mm } => {
                positive("spread", *spread).or_else(|| positive("within_mm", *within_mm))
            }
            Value::HoldSpread(number)
            | Value::Hardness(number)
            | Value::LowerCritical(number)
            | Value::BelowLowerCritical(number)
            | Value::NarrowestRange(number)
            | Value::BelowTempering(number) => positive("the value", *number),
            Value::Composition {
                percent_at_least,
                percent_at_most,
            } => {
                let ends = percent_at_least.values().chain(percent_at_most.values());
                let none = percent_at_least.is_empty() && percent_at_most.is_empty();
                ends.into_iter()
                    .find_map(|end| positive("a content", *end))
                    .or_else(|| none.then(|| "no element".into()))
            }
            Value::Harmful { from_c, to_c, .. } => range(Some(*from_c), Some(*to_c)),
            Value::Band(band) => {
                let widths = [&band.soak, &band.heated, &band.gradient_control];
                widths.into_iter().flatten().find_map(width)
            }
            Value::Question(words) | Value::Advice(words) | Value::Always(words) => {
                words.trim().is_empty().then(|| "no words".into())
            }
            Value::GoverningThickness(_)
            | Value::RateThickness(_)
            | Value::Exemption { .. }
            | Value::Override(_)
            | Value::LowerCriticalFormula(_)
            | Value::UpperCriticalFormula(_)
            | Value::Thermocouples(_)
            | Value::Preheat(_)
            | Value::BakeOut(_)
            | Value::TimeTemperature(_) => None,
            Value::Exposure(level) => positive(
                "the level",
                level.microtesla.or(level.microtesla_hz).unwrap_or(0.0),
            ),
        }
    }
}

fn positive(what: &str, value: f64) -> Option<String> {
    (!(value.is_finite() && value > 0.0)).then(|| format!("{what} {value}, which is not positive"))
}

fn not_negative(what: &str, value: f64) -> Option<String> {
    (!(value.is_finite() && value >= 0.0)).then(|| format!("{what} {value}, which is negative"))
}

fn range(min: Option<f64>, max: Option<f64>) -> Option<String> {
    match (min, max) {
        (None, None) => Some("a range without an end".into()),
        (Some(min), Some(max)) if min >= max => Some(format!(
            "a range from {min} to {max}, which does not ascend"
        )),
        _ => [min, max]
            .into_iter()
            .flatten()
            .find_map(|end| positive("an end of", end)),
    }
}

fn time(hold: &HoldTime) -> Option<String> {
    let none = hold.minutes + hold.adds_minutes + hold.at_least_minutes == 0.0;
    not_negative("minutes", hold.minutes)
        .or_else(|| not_negative("beyond_mm", hold.beyond_mm))
        .or_else(|| positive("each_mm", hold.each_mm))
        .or_else(|| not_negative("adds_minutes", hold.adds_minutes))
        .or_else(|| not_negative("at_least_minutes", hold.at_least_minutes))
        .or_else(|| none.then(|| "a hold of no time".into()))
}

fn speed(rate: &Rate) -> Option<String> {
    let floor = rate.floor.filter(|floor| *floor >= rate.cap);
    not_negative("above_c", rate.above_c)
        .or_else(|| positive("cap", rate.cap))
        .or_else(|| rate.factor.and_then(|factor| positive("factor", factor)))
        .or_else(|| floor.map(|floor| format!("floor {floor}, which is not below the cap")))
}

fn width(width: &Width) -> Option<String> {
    not_negative("add_mm", width.add_mm)
        .or_else(|| not_negative("times_thickness", width.times_thickness))
        .or_else(|| not_negative("times_root_rt", width.times_root_rt))
}
