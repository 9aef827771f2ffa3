//! What a setup must be for the model to hold; what is not is refused with both numbers.

use crate::error::CycleError;
use crate::setup::{PowerSource, Programme, Setup};

/// Temperatures that the model covers, in °C: the trade and the data end there.
const TEMPERATURES_C: [f64; 2] = [-40.0, 1000.0];

/// A set point lies at least so far above the start, in K.
const LEAST_RISE_K: f64 = 10.0;

/// The end of controlled cooling lies at least so far above the air, in K: nearer it takes days.
const LEAST_ABOVE_AIR_K: f64 = 15.0;

/// Rates in K/h, holds in h, lengths in mm that are not a slip of the pen.
const RATES_K_H: [f64; 2] = [1.0, 5000.0];
const HOLDS_H: [f64; 2] = [0.0, 200.0];
const BLANKETS_MM: [f64; 2] = [3.0, 300.0];
const REACHES_MM: [f64; 2] = [10.0, 1e4];
const LONGEST_MM: f64 = 1e6;
const BANDS_MM: [f64; 2] = [1.0, 2e4];

/// Air temperature in °C and wind in m/s that the correlations and their data cover.
const AMBIENT_C: [f64; 2] = [-40.0, 60.0];
const WIND_M_S: [f64; 2] = [0.0, 30.0];

/// Checks a setup, its joint apart.
///
/// # Errors
/// The first value out of its range.
pub fn check(setup: &Setup) -> Result<(), CycleError> {
    check_programme(&setup.programme, setup.surroundings.ambient.c())?;
    check_surroundings(setup)?;
    check_bands(setup)?;
    check_source(&setup.source)
}

fn check_programme(programme: &Programme, ambient_c: f64) -> Result<(), CycleError> {
    let ordered =
        "the programme rises from the start to the set point and falls to the end of control";
    let [coldest, hottest] = TEMPERATURES_C;
    let set_point = programme.set_point.c();
    let start = programme.start.c();
    let end = programme.controlled_down_to.c();
    let range = programme.hold_range.map(|limit| limit.c());
    in_range(
        "set point",
        set_point,
        [coldest + LEAST_RISE_K, hottest],
        "°C",
        ordered,
    )?;
    in_range(
        "start temperature",
        start,
        [coldest, set_point - LEAST_RISE_K],
        "°C",
        ordered,
    )?;
    let least_end = ambient_c + LEAST_ABOVE_AIR_K;
    let above_air = "it lies above the air and below the set point";
    in_range(
        "end of controlled cooling",
        end,
        [least_end, set_point],
        "°C",
        above_air,
    )?;
    in_range(
        "set point",
        set_point,
        range,
        "°C",
        "it lies in the hold range",
    )?;
    in_range(
        "hold time",
        programme.hold_time.h(),
        HOLDS_H,
        "h",
        "give the hold in hours",
    )?;
    let rates = [
        ("heating rate", programme.heating_rate),
        (
            "heating rate below the threshold",
            programme.free_heating_rate,
        ),
        ("cooling rate", programme.cooling_rate),
    ];
    for (what, rate) in rates {
        let hint = "rates are positive; below the threshold give what source and joint bear";
        in_range(what, rate.k_h(), RATES_K_H, "K/h", hint)?;
    }
    Ok(())
}

fn check_surroundings(setup: &Setup) -> Result<(), CycleError> {
    let ambient = setup.surroundings.ambient.c();
    let wind = setup.surroundings.wind_m_s;
    let thickness = setup.blanket.thickness.mm();
    in_range(
        "ambient temperature",
        ambient,
        AMBIENT_C,
        "°C",
        "data of air end there",
    )?;
    in_range("wind", wind, WIND_M_S, "m/s", "no wrap stays on in more")?;
    in_range(
        "blanket thickness",
        thickness,
        BLANKETS_MM,
        "mm",
        "of all layers together",
    )?;
    for reach in setup.blanket.reach {
        let hint = "from the weld center to each side";
        in_range("reach of the blanket", reach.mm(), REACHES_MM, "mm", hint)?;
    }
    Ok(())
}

fn check_bands(setup: &Setup) -> Result<(), CycleError> {
    let (soak, heated) = (setup.soak_band.mm(), setup.heated_band.mm());
    in_range("soak band", soak, BANDS_MM, "mm", "give full widths in mm")?;
    in_range(
        "heated band",
        heated,
        [soak, BANDS_MM[1]],
        "mm",
        "it holds the soak band",
    )?;
    for side in &setup.joint.sides {
        let hint = "the soak band must fit on the pipe";
        in_range(
            "length of a side",
            side.length.mm(),
            [0.5 * soak, LONGEST_MM],
            "mm",
            hint,
        )?;
    }
    Ok(())
}

fn check_source(source: &PowerSource) -> Result<(), CycleError> {
    in_range(
        "power of the source",
        source.power_kw,
        [0.1, 1e4],
        "kW",
        "its rated power",
    )?;
    let terminals = "rms at its terminals";
    in_range(
        "current of the source",
        source.current_rms_a,
        [1.0, 1e5],
        "A",
        terminals,
    )?;
    in_range(
        "voltage of the source",
        source.voltage_rms_v,
        [1.0, 1e5],
        "V",
        terminals,
    )?;
    let [low, high] = source.frequency_range_hz;
    let hint = "the lower end comes first; induction heating of pipe works from 50 Hz to 500 kHz";
    in_range(
        "lowest frequency of the source",
        low,
        [50.0, high.min(5e5)],
        "Hz",
        hint,
    )
}

/// Checks a working frequency.
///
/// # Errors
/// A frequency outside the range of the source.
pub fn check_frequency(setup: &Setup, frequency_hz: f64) -> Result<(), CycleError> {
    let hint = "it lies in the range of the source";
    in_range(
        "working frequency",
        frequency_hz,
        setup.source.frequency_range_hz,
        "Hz",
        hint,
    )
}

fn in_range(
    what: &str,
    given: f64,
    [least, most]: [f64; 2],
    unit: &'static str,
    hint: &str,
) -> Result<(), CycleError> {
    // NaN lies nowhere.
    if (least..=most).contains(&given) {
        return Ok(());
    }
    Err(CycleError::OutOfRange {
        what: what.into(),
        given,
        least,
        most,
        unit,
        hint: hint.into(),
    })
}
