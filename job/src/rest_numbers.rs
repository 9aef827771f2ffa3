//! The quick answer in numbers, as the desk shows them and the command prints them.

use cycle::at_rest::AtRest;
use cycle::outcome::Spot;
use quantity::{Celsius, Units};
use serde::Serialize;

use crate::plan::Prepared;

/// A number with its name.
#[derive(Clone, Debug, Serialize)]
pub struct RestNumber {
    /// What it is.
    pub name: &'static str,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Digits behind the point.
    pub digits: usize,
    /// Where, or what limits it.
    pub beside: String,
    /// Why it needs a look, in words, where it does.
    pub look: Option<String>,
}

/// The numbers of everything at rest at the set point.
pub fn numbers(units: Units, prepared: &Prepared, rested: &AtRest) -> Vec<RestNumber> {
    let [low, high] = prepared.setup.programme.hold_range;
    let (coldest, hottest) = (&rested.soak_coldest, &rested.soak_hottest);
    let degrees = |c: f64| match units {
        Units::Si => (c, "°C"),
        Units::Us => (Celsius::from_c(c).f(), "°F"),
    };
    let difference = |k: f64| match units {
        Units::Si => (k, "K"),
        Units::Us => (1.8 * k, "°F"),
    };
    let number =
        |name, (value, unit): (f64, &'static str), digits, beside: String, look| RestNumber {
            name,
            value,
            unit,
            digits,
            beside,
            look,
        };
    let below = (coldest.temperature_c < low.c()).then(|| "below the hold range".to_owned());
    let above = (hottest.temperature_c > high.c()).then(|| "above the hold range".to_owned());
    let kilowatts = |w: f64| (w / 1e3, "kW");
    let reserve = |percent: f64| (percent < 0.0).then(|| "the source is short".to_owned());
    let [power, current, voltage] = rested.reserves_percent;
    vec![
        number(
            "Coldest of the soak band",
            degrees(coldest.temperature_c),
            0,
            place(coldest, units),
            below,
        ),
        number(
            "Hottest of the soak band",
            degrees(hottest.temperature_c),
            0,
            place(hottest, units),
            above,
        ),
        number(
            "Spread in the soak band",
            difference(hottest.temperature_c - coldest.temperature_c),
            0,
            String::new(),
            None,
        ),
        number(
            "Outside less bore",
            difference(rested.surface_to_bore.difference_k),
            0,
            along(rested.surface_to_bore.axial_mm, units),
            None,
        ),
        number(
            "Power into the metal",
            kilowatts(rested.metal_power_w),
            1,
            String::new(),
            None,
        ),
        number(
            "Lost in cable and leads",
            kilowatts(rested.coil_loss_w + rested.leads_loss_w),
            2,
            String::new(),
            None,
        ),
        number(
            "Power out of the source",
            kilowatts(rested.source_power_w()),
            1,
            reserve_words(power),
            reserve(power),
        ),
        number(
            "Current",
            (rested.current_rms_a, "A"),
            0,
            reserve_words(current),
            reserve(current),
        ),
        number(
            "Voltage",
            (rested.voltage_rms_v, "V"),
            0,
            reserve_words(voltage),
            reserve(voltage),
        ),
    ]
}

fn reserve_words(percent: f64) -> String {
    format!("{percent:.0} % in reserve")
}

fn place(spot: &Spot, units: Units) -> String {
    let depth = match units {
        Units::Si => format!("{:.0} mm deep", spot.depth_mm),
        Units::Us => format!("{:.2} in deep", spot.depth_mm / 25.4),
    };
    format!("{}, {depth}", along(spot.axial_mm, units))
}

fn along(mm: f64, units: Units) -> String {
    match units {
        Units::Si => format!("{mm:+.0} mm from the weld"),
        Units::Us => format!("{:+.1} in from the weld", mm / 25.4),
    }
}
