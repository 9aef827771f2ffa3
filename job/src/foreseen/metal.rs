//! How hot the metal gets: the soak band with its bore, the pipe beyond it, the neighbors.

use checks::Verdict;
use cycle::outcome::{NeighborOutcome, Outcome};
use quantity::{Celsius, Kelvins, Units};

use super::{About, Foreseen, fine};
use crate::plan::Prepared;
use crate::sheet::words::{duration_h, moment_s};
use crate::wording::{difference, place, temperature};

/// The hold that counts is the one in which all of the band is inside; the band may come in later than the
/// thermocouples where the hold is long enough without that.
pub(super) fn soak_band(prepared: &Prepared, outcome: &Outcome, units: Units) -> Foreseen {
    let soak = &outcome.soak;
    let [low, high] = prepared.programme.hold_range;
    let range = format!(
        "{} to {}",
        temperature(low, units),
        temperature(high, units)
    );
    let asked_h = prepared.programme.hold_time.h();
    let asked = duration_h(asked_h);
    let (below_k, above_k) = (
        low.c() - soak.coldest.temperature_c,
        soak.hottest.temperature_c - high.c(),
    );
    if soak.inside_whole_hold {
        let says = format!(
            "inside {range} at all depths for the whole hold: {} to {}",
            temperature(Celsius::from_c(soak.coldest.temperature_c), units),
            temperature(Celsius::from_c(soak.hottest.temperature_c), units)
        );
        return fine(About::SoakBand, says);
    }
    if soak.hold_from_s.is_some() && above_k <= 0.0 && soak.time_inside_h >= asked_h {
        let lag = soak.lag_s.map_or(String::new(), |s| {
            format!(
                "; {} comes in last, {:.0} min after the control thermocouples",
                place(&soak.coldest, units),
                s / 60.0
            )
        });
        let says = format!(
            "inside {range} at all depths for {}, {asked} asked for{lag}",
            duration_h(soak.time_inside_h)
        );
        return fine(About::SoakBand, says);
    }
    let wrong = |says: String, remedy: &str, severity: f64| Foreseen {
        about: About::SoakBand,
        verdict: Verdict::NotMet,
        says,
        remedy: Some(remedy.to_owned()),
        severity,
    };
    if soak.hold_from_s.is_none() {
        let says = format!(
            "the hold never begins: the control thermocouples do not come into {range} together"
        );
        return wrong(
            says,
            "see what the source can do, and where the spread comes from",
            f64::INFINITY,
        );
    }
    let width_k = (high - low).k().max(1.0);
    if below_k >= above_k {
        let says = format!(
            "inside {range} for {} only, {asked} asked for: {} is {} too cold at {}",
            duration_h(soak.time_inside_h),
            place(&soak.coldest, units),
            difference(Kelvins::from_k(below_k), units),
            moment_s(soak.coldest_time_s)
        );
        let remedy = "plug the bore, heat a wider band, raise the set point inside the range, or hold longer and count \
                      from when the bore is in";
        return wrong(says, remedy, below_k / width_k);
    }
    let says = format!(
        "not inside {range}: {} is {} too hot at {}",
        place(&soak.hottest, units),
        difference(Kelvins::from_k(above_k), units),
        moment_s(soak.hottest_time_s)
    );
    wrong(
        says,
        "open the turns where it is hottest, or lower the set point",
        above_k / width_k,
    )
}

/// The upper end of the hold holds for every thermocouple at any time, so for the metal that has none as well.
pub(super) fn beyond(prepared: &Prepared, outcome: &Outcome, units: Units) -> Foreseen {
    let (hottest, time_s) = (&outcome.beyond.hottest, outcome.beyond.time_s);
    let [low, high] = prepared.programme.hold_range;
    let (reached, allowed) = (
        temperature(Celsius::from_c(hottest.temperature_c), units),
        temperature(high, units),
    );
    let over_k = hottest.temperature_c - high.c();
    if over_k <= 0.0 {
        let says = format!("reaches {reached} at most, {allowed} is allowed");
        return fine(About::Beyond, says);
    }
    Foreseen {
        about: About::Beyond,
        verdict: Verdict::NotMet,
        says: format!(
            "hotter than the {allowed} that no thermocouple may pass: {} reaches {reached} at {}",
            place(hottest, units),
            moment_s(time_s)
        ),
        remedy: Some("open the turns there, or bring them nearer to the weld".into()),
        severity: over_k / (high - low).k().max(1.0),
    }
}

/// A neighbor of which nobody says what it bears is no finding; it stands in the tables.
pub(super) fn neighbor(neighbor: &NeighborOutcome, units: Units) -> Option<Foreseen> {
    let limit_c = neighbor.limit_c?;
    let about = About::Neighbor(neighbor.name.clone());
    let reached = temperature(Celsius::from_c(neighbor.highest_c), units);
    let limit = temperature(Celsius::from_c(limit_c), units);
    let over_k = neighbor.highest_c - limit_c;
    if over_k <= 0.0 {
        return Some(fine(about, format!("reaches {reached}, bears {limit}")));
    }
    let says = format!(
        "reaches {reached} at {}, {} over the {limit} that it bears",
        moment_s(neighbor.time_s),
        difference(Kelvins::from_k(over_k), units)
    );
    Some(Foreseen {
        about,
        verdict: Verdict::NotMet,
        says,
        remedy: Some(
            "take its soft parts out, cool it, or shorten blanket and coil on that side".into(),
        ),
        severity: over_k / limit_c.max(50.0),
    })
}
