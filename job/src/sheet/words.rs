//! How numbers are written on the sheet: the unit of the person first, the other beside it.

use quantity::{Celsius, Hours, KelvinsPerHour, Millimeters, Status, Units};
use report::Text;

/// Smallest part of an inch on a tape measure.
const TAPE_PARTS: f64 = 16.0;

/// A temperature in °C in the first unit.
pub(crate) fn first_c(value_c: f64, units: Units) -> String {
    match units {
        Units::Si => format!("{:.0} °C", signed(value_c)),
        Units::Us => format!("{:.0} °F", signed(Celsius::from_c(value_c).f())),
    }
}

/// A temperature in °C in both units.
pub(crate) fn both_c(value_c: f64, units: Units) -> String {
    let other = match units {
        Units::Si => Units::Us,
        Units::Us => Units::Si,
    };
    format!("{} ({})", first_c(value_c, units), first_c(value_c, other))
}

/// A difference in K in both units.
pub(crate) fn both_k(value_k: f64, units: Units) -> String {
    let (si, us) = (
        format!("{} K", short(value_k)),
        format!("{} °F", short(value_k * 1.8)),
    );
    pair(units, &si, &us)
}

/// A rate in both units.
pub(crate) fn both_rate(rate: KelvinsPerHour, units: Units) -> String {
    let (si, us) = (
        format!("{:.0} °C/h", rate.k_h()),
        format!("{:.0} °F/h", rate.f_h()),
    );
    pair(units, &si, &us)
}

/// A length along the pipe in both units, the inches as on a tape.
pub(crate) fn both_tape(length: Millimeters, units: Units) -> String {
    let (si, us) = (
        format!("{} mm", whole_mm(length)),
        format!("{} in", tape_inches(length)),
    );
    pair(units, &si, &us)
}

/// A dimension of the pipe in both units, the inches decimal.
pub(crate) fn both_dimension(length: Millimeters, units: Units) -> String {
    let (si, us) = (
        format!("{} mm", trimmed(length.mm(), 1)),
        format!("{} in", trimmed(length.inches(), 3)),
    );
    pair(units, &si, &us)
}

fn pair(units: Units, si: &str, us: &str) -> String {
    match units {
        Units::Si => format!("{si} ({us})"),
        Units::Us => format!("{us} ({si})"),
    }
}

/// Whole millimeters with a true minus sign.
pub(crate) fn whole_mm(length: Millimeters) -> String {
    minus(&format!("{:.0}", signed(length.mm())))
}

/// Inches and sixteenths, as a tape shows them.
pub(crate) fn tape_inches(length: Millimeters) -> String {
    let parts = (length.inches().abs() * TAPE_PARTS).round();
    let (whole, rest) = ((parts / TAPE_PARTS).floor(), parts % TAPE_PARTS);
    let sign = if length.mm() < 0.0 && parts > 0.0 {
        "−"
    } else {
        ""
    };
    if rest == 0.0 {
        return format!("{sign}{whole:.0}");
    }
    let (mut top, mut bottom) = (rest, TAPE_PARTS);
    while top % 2.0 == 0.0 {
        (top, bottom) = (top / 2.0, bottom / 2.0);
    }
    match whole {
        0.0 => format!("{sign}{top:.0}/{bottom:.0}"),
        _ => format!("{sign}{whole:.0} {top:.0}/{bottom:.0}"),
    }
}

/// A distance that is kept, never rounded down.
pub(crate) fn away_words(meters: f64, units: Units) -> String {
    let (number, unit) = units.of(meters, "m");
    format!("{:.1} {unit}", (10.0 * number).ceil() / 10.0)
}

/// A clock position, for example `12:00`.
pub fn clock(hours: f64) -> String {
    let minutes = (hours.rem_euclid(12.0) * 60.0).round() as u32 % 720;
    let hour = if minutes < 60 { 12 } else { minutes / 60 };
    format!("{hour}:{:02}", minutes % 60)
}

/// Hours as hours and minutes, for example `1 h 15 min`, in the notation of the findings.
pub(crate) fn duration_h(hours: f64) -> String {
    Hours::from_h(hours).words()
}

/// A time since the start in s, for example `3 h 5 min`.
pub(crate) fn moment_s(seconds: f64) -> String {
    duration_h(seconds / 3600.0)
}

/// A small amount with one decimal, a larger one without.
pub(crate) fn short(value: f64) -> String {
    let text = if value.abs() < 10.0 {
        format!("{:.1}", value)
    } else {
        format!("{:.0}", value)
    };
    minus(&text)
}

/// At most so many decimals, without trailing zeros.
pub(crate) fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    minus(text)
}

/// With a true minus sign.
pub(crate) fn minus(text: &str) -> String {
    text.replacen('-', "−", 1)
}

/// Zero without a sign, so that a rounded value never reads `-0`.
fn signed(value: f64) -> f64 {
    if value.abs() < 0.5 { 0.0 } else { value }
}

/// A frequency.
pub(crate) fn frequency(hertz: f64) -> String {
    if hertz < 1000.0 {
        format!("{hertz:.0} Hz")
    } else {
        format!("{} kHz", trimmed(hertz / 1000.0, 1))
    }
}

/// Appends the mark of a status where a reader must be told.
pub(crate) fn marked(text: Text, status: Status) -> Text {
    match explanation(status) {
        Some(explanation) => text.mark(status.words(), explanation),
        None => text,
    }
}

/// What the mark of a status says; `None` where the status needs no mark.
fn explanation(status: Status) -> Option<&'static str> {
    match status {
        Status::Verified | Status::Computed | Status::UserGiven => None,
        Status::CommonPractice => Some("A habit of the trade; no published source is known."),
        Status::FromMemory => Some(
            "The program has it from memory of the named document, unchecked. Read the clause.",
        ),
        Status::Estimate => Some("Estimated here; its spread stands with the assumptions."),
        Status::Unsure => Some("Sources disagree or the recollection is weak. Confirm before use."),
    }
}

#[cfg(test)]
mod tests {
    use quantity::Millimeters;

    use super::{clock, duration_h, tape_inches, whole_mm};

    #[test]
    fn a_tape_is_read_in_sixteenths() {
        let tape = |inches: f64| tape_inches(Millimeters::from_in(inches));
        assert_eq!(tape(1.5), "1 1/2");
        assert_eq!(tape(-3.4375), "−3 7/16");
        assert_eq!(tape(0.25), "1/4");
        assert_eq!(tape(2.99), "3");
        assert_eq!(tape(-0.001), "0");
    }

    #[test]
    fn positions_and_times_are_read_as_on_a_clock() {
        assert_eq!(clock(12.0), "12:00");
        assert_eq!(clock(0.25), "12:15");
        assert_eq!(clock(5.999), "6:00");
        assert_eq!(duration_h(1.9999), "2 h");
        assert_eq!(duration_h(1.76), "1 h 46 min");
        assert_eq!(whole_mm(Millimeters::from_mm(-0.2)), "0");
    }
}
