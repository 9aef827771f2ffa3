//! What was done to coil, blanket and set point from one quick answer to the next, in words.

use super::facts::Facts;
use crate::rest_numbers::Shown;

/// Shorter than this is no change of a length, in mm.
pub(super) const SAME_MM: f64 = 1.0;
/// A standoff or a blanket that changes by less has not changed, in mm.
const SAME_THICKNESS_MM: f64 = 0.2;
/// Less than this is no change of a temperature, in K.
const SAME_K: f64 = 0.5;
/// Less than this part is no change of a frequency.
const SAME_PART: f64 = 0.01;

/// Each change in a sentence; none where nothing of this was changed.
pub(super) fn done(before: &Facts, now: &Facts, shown: &Shown) -> Vec<String> {
    let all = [
        set_point(before, now, shown),
        turns(before, now, shown),
        standoff(before, now, shown),
        frequency(before, now),
        blanket(before, now, shown),
        reach(before, now, shown),
    ];
    let changes = all.into_iter().flatten();
    changes.chain(current(before, now, shown)).collect()
}

/// Which way a quantity went: up, down or nowhere.
pub(super) fn way(by: f64, least: f64) -> i8 {
    match by {
        more if more > least => 1,
        less if less < -least => -1,
        _ => 0,
    }
}

/// Whether the turns lie farther from the metal than before, or nearer.
pub(super) fn farther(before: &Facts, now: &Facts) -> i8 {
    way(now.standoff_mm - before.standoff_mm, SAME_THICKNESS_MM)
}

/// Whether the coil is longer than before, or shorter.
pub(super) fn longer(before: &Facts, now: &Facts) -> i8 {
    way(now.span_mm() - before.span_mm(), SAME_MM)
}

/// Whether the frequency is higher than before, or lower.
pub(super) fn faster(before: &Facts, now: &Facts) -> i8 {
    way(now.frequency_hz / before.frequency_hz - 1.0, SAME_PART)
}

/// Whether the blanket is thicker than before, or thinner.
pub(super) fn thicker(before: &Facts, now: &Facts) -> i8 {
    way(now.blanket_mm - before.blanket_mm, SAME_THICKNESS_MM)
}

/// Whether the set point is higher than before, or lower.
pub(super) fn hotter(before: &Facts, now: &Facts) -> i8 {
    way(now.set_point_c - before.set_point_c, SAME_K)
}

fn set_point(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let [was, is] = [before, now].map(|facts| shown.degree_words(facts.set_point_c));
    (hotter(before, now) != 0).then(|| format!("Set point {is}, against {was}."))
}

fn standoff(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let [was, is] = [before, now].map(|facts| shown.length(facts.standoff_mm));
    let told = match farther(before, now) {
        _ if was == is => return None,
        0 => return None,
        1 => "farther from",
        _ => "nearer to",
    };
    Some(format!(
        "The turns lie {told} the metal, {is} against {was}."
    ))
}

fn frequency(before: &Facts, now: &Facts) -> Option<String> {
    let [was, is] = [before, now].map(|facts| format!("{:.1} kHz", facts.frequency_hz / 1e3));
    (faster(before, now) != 0).then(|| format!("Frequency {is}, against {was}."))
}

fn blanket(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let [was, is] = [before, now].map(|facts| shown.length(facts.blanket_mm));
    (thicker(before, now) != 0).then(|| format!("Blanket {is} thick, against {was}."))
}

fn reach(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let [was, is] = [before, now].map(|facts| shown.length(facts.blanket_reach_mm));
    let by_mm = now.blanket_reach_mm - before.blanket_reach_mm;
    (way(by_mm, SAME_MM) != 0).then(|| format!("The blanket covers {is} of pipe, against {was}."))
}

/// What follows of itself: the controller holds the control thermocouples.
fn current(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let [was, is] = [before, now].map(|facts| format!("{:.0} A", facts.current_a));
    (was != is).then(|| {
        let set_point = shown.degree_words(now.set_point_c);
        format!(
            "To hold the control thermocouples at {set_point} the current goes from {was} to {is}."
        )
    })
}

/// Turns of `from` that are not in `into`, in mm.
fn gone(from: &Facts, into: &Facts) -> Vec<f64> {
    let stays = |turn: &f64| {
        let mut others = into.turns_mm.iter();
        others.any(|one| (one - turn).abs() <= SAME_MM)
    };
    let all = from.turns_mm.iter().copied();
    all.filter(|turn| !stays(turn)).collect()
}

fn turns(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let (taken, added) = (gone(before, now), gone(now, before));
    let counts = format!(
        "{} turns against {}",
        now.turns_mm.len(),
        before.turns_mm.len()
    );
    let at = |mm: f64| shown.along(mm);
    let short = |mm: f64| at(mm).replace(" from the weld", "");
    match (&taken[..], &added[..]) {
        ([], []) => None,
        ([was], []) => Some(format!("The turn {} was taken away: {counts}.", at(*was))),
        ([], [is]) => Some(format!("A turn was added {}: {counts}.", at(*is))),
        ([was], [is]) => {
            let way = if is.abs() > was.abs() {
                "away from"
            } else {
                "toward"
            };
            Some(format!(
                "One turn was moved {way} the weld, from {} to {}.",
                short(*was),
                short(*is)
            ))
        }
        _ => Some(many(before, now, taken.len(), &counts, shown)),
    }
}

/// Several turns at once: how many, and how long the coil is.
fn many(before: &Facts, now: &Facts, moved: usize, counts: &str, shown: &Shown) -> String {
    let first = match before.turns_mm.len() == now.turns_mm.len() {
        true => format!("{moved} of {} turns were moved", now.turns_mm.len()),
        false => counts.to_owned(),
    };
    let [was, is] = [before, now].map(|facts| shown.length(facts.span_mm()));
    match longer(before, now) {
        0 => format!("{first}, over the same {is} from first to last."),
        1 => format!("{first}, over a longer stretch: {is} from first to last, against {was}."),
        _ => format!("{first}, over a shorter stretch: {is} from first to last, against {was}."),
    }
}
