//! What was done to coil, blanket and set point from one quick answer to the next, in words.

use super::facts::Facts;
use super::ways::{SAME_MM, farther, faster, hotter, longer, thicker, way};
use crate::rest_numbers::Shown;
use crate::turns_matched::Matched;

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

fn turns(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let (were, are) = (&before.turns_mm, &now.turns_mm);
    let matched = Matched::of(were, are);
    let counts = format!("{} turns against {}", are.len(), were.len());
    let at = |mm: f64| shown.along(mm);
    match (&matched.moved[..], &matched.taken[..], &matched.added[..]) {
        ([], [], []) => None,
        ([], [was], []) => Some(format!(
            "The turn {} was taken away: {counts}.",
            at(were[*was])
        )),
        ([], [], [is]) => Some(format!("A turn was added {}: {counts}.", at(are[*is]))),
        ([(was, is)], [], []) => Some(one_moved(were[*was], are[*is], shown)),
        _ => Some(many(before, now, matched.moved.len(), &counts, shown)),
    }
}

fn one_moved(was_mm: f64, is_mm: f64, shown: &Shown) -> String {
    let way = match is_mm.abs() > was_mm.abs() {
        true => "away from",
        false => "toward",
    };
    let [was, is] = [was_mm, is_mm].map(|mm| shown.along(mm).replace(" from the weld", ""));
    format!("One turn was moved {way} the weld, from {was} to {is}.")
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
