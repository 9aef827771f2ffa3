//! What made a place hotter or colder. The control thermocouples hold the weld at the set point; how far another place lies
//! above or below it goes with where along the pipe the heat of the coil arises.

use super::facts::{Facts, Place};
use super::ways::{SAME_MM, amperes, hotter, kilowatts, percent, thicker, way};
use crate::rest_numbers::Shown;

/// How far from the weld heat still counts for it, in mm: our choice, near how far it spreads along a pipe under a blanket.
const SIDE_MM: f64 = 203.2;

/// How far around a place its own heat is counted, in mm: our choice.
const AROUND_MM: f64 = 50.8;

/// Less than this is no change of a heat, in percent.
const SAME_PERCENT: f64 = 1.0;

/// A place nearer than this to the weld is at it, in mm.
const AT_THE_WELD_MM: f64 = 5.0;

/// Two answers, the one before first.
type Pair<'a> = [&'a Facts; 2];

/// Why the coldest changed by what is told: it falls where it is now, and rises where it was.
pub(super) fn coldest(pair: Pair, by: f64, shown: &Shown) -> String {
    let places = pair.map(|facts| &facts.coldest);
    level(places[usize::from(by < 0.0)], pair, by, shown)
}

/// Why a hottest place changed by what is told: it rises where it is now, and falls where it was.
pub(super) fn hottest(places: [&Place; 2], pair: Pair, by: f64, shown: &Shown) -> String {
    level(places[usize::from(by > 0.0)], pair, by, shown)
}

/// Why outside and bore lie farther apart or less: with the heat that enters there.
pub(super) fn outside_less_bore(pair: Pair, by: f64, shown: &Shown) -> Option<String> {
    let places = pair.map(|facts| &facts.outside_less_bore);
    let way = way(by, 0.0);
    let why = around(places[usize::from(by > 0.0)], pair, way, shown)?;
    let enters = if way > 0 { "more" } else { "less" };
    Some(format!("{enters} heat enters there: {why}"))
}

fn level(at: &Place, pair: Pair, by: f64, shown: &Shown) -> String {
    let ([before, now], way) = (pair, way(by, 0.0));
    if hotter(before, now) == way {
        return "every temperature goes with the set point".to_owned();
    }
    sides(at, pair, way, shown)
        .or_else(|| at_the_weld(at, pair, way, shown))
        .or_else(|| around(at, pair, way, shown))
        .or_else(|| blanket(before, now, way))
        .unwrap_or_else(|| "the heat arises a little differently along the pipe".to_owned())
}

/// More heat on one side of the weld than on the other makes that side the hotter. Told alike for every place, so that it
/// is read once.
fn sides(at: &Place, pair: Pair, way: i8, shown: &Shown) -> Option<String> {
    if at.axial_mm.abs() < AT_THE_WELD_MM {
        return None;
    }
    let half_mm = 0.5 * SIDE_MM;
    let left = pair.map(|facts| facts.heat_within_w(-half_mm, half_mm));
    let right = pair.map(|facts| facts.heat_within_w(half_mm, half_mm));
    let more = 100.0 * ((right[1] - left[1]) - (right[0] - left[0])) / (right[0] + left[0]);
    let on_its_side = more * at.axial_mm.signum();
    (self::way(on_its_side, SAME_PERCENT) == way).then(|| {
        let [hotter, colder] = if more > 0.0 { ["right", "left"] } else { ["left", "right"] };
        let [left_turns, right_turns] = [0, 1].map(|side| turns_of_side(pair, side));
        format!(
            "left of the weld the coil now heats the pipe with {}{left_turns}, right of it with {}{right_turns}, each up to {} \
             out: the {hotter} gets hotter, the {colder} colder",
            before_and_now(left),
            before_and_now(right),
            shown.length(SIDE_MM)
        )
    })
}

/// The turns of a side, where there are more or fewer.
fn turns_of_side(pair: Pair, side: usize) -> String {
    let [was, is] = pair.map(|facts| facts.turns_by_side()[side]);
    match was == is {
        true => String::new(),
        false => format!(" by {is} turns instead of {was}"),
    }
}

/// Heat that arises at the weld has to flow out along the pipe: the less of it, the less the pipe falls off to its sides.
fn at_the_weld(at: &Place, pair: Pair, way: i8, shown: &Shown) -> Option<String> {
    if at.axial_mm.abs() < AT_THE_WELD_MM {
        return None;
    }
    let heat = pair.map(|facts| facts.heat_within_w(0.0, AROUND_MM));
    let less = percent(heat[0], heat[1]);
    (self::way(-less, SAME_PERCENT) == way).then(|| {
        let (what, falls) = match less < 0.0 {
            true => ("less", "less steeply"),
            false => ("more", "more steeply"),
        };
        format!(
            "{what} heat arises at the weld itself, {} within {} of its center, so {what} has to flow out along the pipe, and \
             the pipe falls off {falls} from the weld",
            before_and_now(heat),
            shown.length(AROUND_MM)
        )
    })
}

/// The heat around a place, where it went the way of what is told.
fn around(at: &Place, pair: Pair, way: i8, shown: &Shown) -> Option<String> {
    let heat = pair.map(|facts| facts.heat_within_w(at.axial_mm, AROUND_MM));
    (self::way(percent(heat[0], heat[1]), SAME_PERCENT) == way).then(|| {
        format!(
            "within {} of that place the coil heats the pipe with {}{}",
            shown.length(AROUND_MM),
            before_and_now(heat),
            shared(at, pair, heat, way, shown)
        )
    })
}

/// What made it so: the current, or the share of the field that reaches the place.
fn shared(at: &Place, pair: Pair, [was_w, is_w]: [f64; 2], way: i8, shown: &Shown) -> String {
    let [was_a, is_a] = pair.map(amperes);
    let square = percent(was_a.powi(2), is_a.powi(2));
    let share = percent(was_w / was_a.powi(2), is_w / is_a.powi(2));
    let goes = |percent: f64| self::way(percent, SAME_PERCENT) == way;
    if goes(square) && (!goes(share) || square.abs() > share.abs()) {
        return format!(", for the turns carry {is_a:.0} A instead of {was_a:.0} A");
    }
    let [was_mm, is_mm] = pair.map(|facts| facts.nearest_turn_mm(at.axial_mm));
    let [was, is] = [was_mm, is_mm].map(|mm| match mm < SAME_MM {
        true => "right over it".to_owned(),
        false => format!("{} from it", shown.length(mm)),
    });
    if self::way(was_mm - is_mm, SAME_MM) == way && is != was {
        return format!(", for the nearest turn lies {is}, before {was}");
    }
    let more = if way > 0 { "more" } else { "less" };
    format!(
        ", for the same current heats it {:.0} % {more}",
        share.abs()
    )
}

fn blanket(before: &Facts, now: &Facts, way: i8) -> Option<String> {
    let lets = if way > 0 { "less" } else { "more" };
    (thicker(before, now) == way).then(|| format!("the blanket lets {lets} of the heat out"))
}

fn before_and_now([was_w, is_w]: [f64; 2]) -> String {
    format!(
        "{:.2} kW (before {:.2} kW)",
        kilowatts(is_w),
        kilowatts(was_w)
    )
}
