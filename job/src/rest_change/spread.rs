//! How much of the pipe the coil heats: what the hot pipe gives off, and how far the turns reach.

use super::facts::Facts;
use super::ways::{farther, hotter, longer, thicker, way};
use crate::rest_numbers::Shown;

/// Power into the metal: at rest it is what the pipe gives off.
pub(super) fn metal(before: &Facts, now: &Facts, shown: &Shown) -> String {
    let by = way(now.metal_w - before.metal_w, 0.0);
    let [was, is] = [before, now].map(|facts| shown.length(facts.hot_mm));
    let hot = way(now.hot_mm - before.hot_mm, 0.0);
    let more = if by > 0 { "more" } else { "less" };
    let same_level = before.halfway_c == now.halfway_c;
    let why = match () {
        () if hotter(before, now) == by => format!("at this set point it gives off {more}"),
        () if thicker(before, now) == -by => format!("through this blanket it gives off {more}"),
        () if hot == by && was != is && same_level => format!(
            "{more} of it is hot: {is} are hotter than {} (halfway to the set point), before {was}{}",
            shown.degree_words(now.halfway_c),
            spread(before, now, by)
        ),
        () => format!("it gives off a little {more}"),
    };
    format!("at rest the metal takes what the pipe gives off, and {why}")
}

/// What made more or less of the pipe hot, as far as it was changed and goes that way.
fn spread(before: &Facts, now: &Facts, by: i8) -> &'static str {
    match by {
        1 if farther(before, now) == 1 => ", for turns farther off heat more of it",
        -1 if farther(before, now) == -1 => ", for turns nearer to it heat less of it",
        1 if longer(before, now) == 1 => ", for the coil is longer",
        -1 if longer(before, now) == -1 => ", for the coil is shorter",
        _ => "",
    }
}

/// How far the turns reach: to half a pitch beyond the last turn that counts, on the side where that is less.
pub(super) fn reach(before: &Facts, now: &Facts, shown: &Shown) -> String {
    let [was, is] = [before, now].map(|facts| shown.along(facts.last_turn_mm));
    let rule = "on each side the coil heats to half a pitch beyond its last turn; where it reaches less far";
    let last = match was == is {
        true => format!("that turn lies {is}, as before, and the pitch is another"),
        false => format!("that turn lies {is}, before {was}"),
    };
    let gap = now.gap_mm.map_or(String::new(), |mm| {
        format!(
            "; the next turn lies {} farther out, a gap too wide to count as heated",
            shown.length(mm)
        )
    });
    format!("{rule}, {last}{gap}")
}
