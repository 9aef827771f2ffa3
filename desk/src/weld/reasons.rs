//! Why a quick answer differs from the one before: from what was changed and from what the model computed, in plain
//! sentences. Nothing is said to follow from a change that the numbers do not show.

use cycle::at_rest::AtRest;
use job::plan::Prepared;
use job::rest_numbers::Shown;
use serde::{Deserialize, Serialize};

/// What a comparison needs to know of an answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Facts {
    /// Middles of the turns, ascending, in mm.
    turns_mm: Vec<f64>,
    /// Mean standoff in mm.
    standoff_mm: f64,
    frequency_hz: f64,
    set_point_c: f64,
    blanket_mm: f64,
    /// On both sides together, in mm.
    blanket_reach_mm: f64,
    coldest_c: f64,
    coldest_axial_mm: f64,
    /// The place of the coldest in words.
    coldest_place: String,
    /// Hottest of the pipe beyond the soak band.
    beyond_c: f64,
    /// Where, in words.
    beyond_place: String,
    /// Power into the metal in W.
    metal_w: f64,
    current_a: f64,
    voltage_v: f64,
    outside_less_bore_k: f64,
}

/// Shorter than this is no change of a length, in mm.
const SAME_MM: f64 = 1.0;
/// Less than this is no change of a temperature, in K.
const SAME_K: f64 = 0.5;
/// Less than this part is no change of current or power.
const SAME_PART: f64 = 0.005;
/// More sentences than this nobody reads.
const MOST: usize = 3;

impl Facts {
    /// Of an answer.
    pub fn of(prepared: &Prepared, rested: &AtRest, shown: &Shown) -> Facts {
        let turns = &rested.coil.turns;
        let mut turns_mm: Vec<f64> = turns.iter().map(|turn| turn.axial.mm()).collect();
        turns_mm.sort_by(f64::total_cmp);
        let standoffs: f64 = turns.iter().map(|turn| turn.standoff.mm()).sum();
        let coldest = &rested.soak_coldest;
        let setup = &prepared.setup;
        Facts {
            turns_mm,
            standoff_mm: standoffs / turns.len().max(1) as f64,
            frequency_hz: rested.frequency_hz,
            set_point_c: setup.programme.set_point.c(),
            blanket_mm: setup.blanket.thickness.mm(),
            blanket_reach_mm: setup.blanket.reach.iter().map(|reach| reach.mm()).sum(),
            coldest_c: coldest.temperature_c,
            coldest_axial_mm: coldest.axial_mm,
            coldest_place: shown.place(coldest.axial_mm, coldest.depth_mm, rested.walls_mm[0]),
            beyond_c: rested.beyond_hottest.temperature_c,
            beyond_place: shown.along(rested.beyond_hottest.axial_mm),
            metal_w: rested.metal_power_w,
            current_a: rested.current_rms_a,
            voltage_v: rested.voltage_rms_v,
            outside_less_bore_k: rested.surface_to_bore.difference_k,
        }
    }

    fn span_mm(&self) -> f64 {
        match (self.turns_mm.first(), self.turns_mm.last()) {
            (Some(first), Some(last)) => last - first,
            _ => 0.0,
        }
    }

    /// Heat in the metal by the square of the current, in ohm: what an ampere brings.
    fn metal_ohm(&self) -> f64 {
        self.metal_w / (self.current_a * self.current_a).max(f64::MIN_POSITIVE)
    }

    fn nearest_turn_mm(&self, axial_mm: f64) -> f64 {
        let far = self.turns_mm.iter().map(|turn| (turn - axial_mm).abs());
        far.fold(f64::INFINITY, f64::min)
    }
}

/// Up to three sentences on what made the difference; none where nothing changed.
pub fn reasons(before: &Facts, now: &Facts, shown: &Shown) -> Vec<String> {
    if before == now {
        return Vec::new();
    }
    let all = [
        set_point(before, now, shown),
        standoff(before, now, shown),
        one_taken(before, now, shown),
        count(before, now),
        one_moved(before, now, shown),
        span(before, now, shown),
        moved(before, now, shown),
        frequency(before, now, shown),
        blanket(before, now, shown),
        reach(before, now, shown),
    ];
    let mut said: Vec<String> = all.into_iter().flatten().take(MOST).collect();
    let differs = (now.coldest_c - before.coldest_c).abs() > SAME_K
        || changed_part(before.metal_w, now.metal_w).abs() > SAME_PART;
    if said.is_empty() && differs {
        said.push("Turns, standoff, frequency and blanket are as before; the difference comes from what else was changed in the job.".to_owned());
    }
    said
}

fn set_point(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let by_k = now.set_point_c - before.set_point_c;
    (by_k.abs() > SAME_K).then(|| {
        let way = if by_k > 0.0 { "higher" } else { "lower" };
        format!(
            "The set point is {} {way}: every temperature goes with it.",
            shown.difference_words(by_k)
        )
    })
}

/// Turns of `from` that are not in `into`, in mm.
fn gone(from: &Facts, into: &Facts) -> Vec<f64> {
    let stays = |turn: &f64| {
        into.turns_mm
            .iter()
            .any(|one| (one - turn).abs() <= SAME_MM)
    };
    let all = from.turns_mm.iter().copied();
    all.filter(|turn| !stays(turn)).collect()
}

/// The one turn that was moved while all others stayed: its place before and now, in mm.
fn only_one_moved(before: &Facts, now: &Facts) -> Option<(f64, f64)> {
    let is_one = before.turns_mm.len() == now.turns_mm.len() && before.turns_mm.len() > 1;
    match (&gone(before, now)[..], &gone(now, before)[..]) {
        ([was], [is]) if is_one => Some((*was, *is)),
        _ => None,
    }
}

fn one_moved(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let (was_mm, is_mm) = only_one_moved(before, now)?;
    let is_outward = is_mm.abs() > was_mm.abs();
    let way = if is_outward { "away from" } else { "toward" };
    let cold = shown_change(before.coldest_c, now.coldest_c, shown);
    // Near the weld that side loses what the turn takes along; elsewhere only the current changes.
    let is_its_side = |facts: &Facts| facts.coldest_axial_mm * was_mm > 0.0;
    let near = match is_outward {
        true if cold < 0.0 && is_its_side(now) => " Near the weld that side is heated less.",
        false if cold > 0.0 && is_its_side(before) => " Near the weld that side is heated more.",
        _ => "",
    };
    let [was, is] = [was_mm, is_mm].map(|mm| shown.along(mm).replace(" from the weld", ""));
    Some(format!(
        "One turn was moved {way} the weld, from {was} to {is}.{near} {}{}{}",
        coldest(before, now, shown),
        beyond(before, now, shown),
        others_carry(before, now)
    ))
}

/// The one turn that was taken away while all others stayed: where it was, in mm.
fn only_one_taken(before: &Facts, now: &Facts) -> Option<f64> {
    match gone(before, now)[..] {
        [taken] if now.turns_mm.len() + 1 == before.turns_mm.len() => Some(taken),
        _ => None,
    }
}

fn one_taken(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    Some(format!(
        "The turn {} was taken away.{} {}{}",
        shown.along(only_one_taken(before, now)?),
        others_carry(before, now),
        coldest(before, now, shown),
        beyond(before, now, shown)
    ))
}

/// That the current rose or fell, where it shows: the control thermocouples are held at the set point.
fn others_carry(before: &Facts, now: &Facts) -> String {
    let [was, is] = [before, now].map(|facts| facts.current_a.round());
    match was == is {
        true => String::new(),
        false => format!(
            " To hold the control thermocouples at the set point the other turns carry {is:.0} A, against {was:.0} A, and heat the \
             pipe under them {}.",
            if is > was { "more" } else { "less" }
        ),
    }
}

/// What became of the coldest place.
fn coldest(before: &Facts, now: &Facts, shown: &Shown) -> String {
    let by = shown_change(before.coldest_c, now.coldest_c, shown);
    let place = &now.coldest_place;
    let moved = (now.coldest_axial_mm - before.coldest_axial_mm).abs() > 5.0;
    let was = if moved {
        format!(" (before: {})", before.coldest_place)
    } else {
        String::new()
    };
    if by == 0.0 {
        return format!("The coldest place of the soak band, {place}{was}, reads as before.");
    }
    let way = if by > 0.0 { "rises" } else { "falls" };
    format!(
        "The coldest place of the soak band, {place}{was}, {way} by {}.",
        in_words(by, shown)
    )
}

/// What became of the pipe beyond the soak band, where it shows.
fn beyond(before: &Facts, now: &Facts, shown: &Shown) -> String {
    let by = shown_change(before.beyond_c, now.beyond_c, shown);
    let words = in_words(by, shown);
    match by {
        more if more > 0.0 => format!(
            " Beyond the soak band the pipe is {words} hotter where it is hottest, {}.",
            now.beyond_place
        ),
        less if less < 0.0 => format!(
            " Beyond the soak band the pipe is {words} cooler where it is hottest, {}.",
            now.beyond_place
        ),
        _ => String::new(),
    }
}

/// By how many of the degrees that are shown a temperature changed, so that a reader finds the same beside it.
fn shown_change(before_c: f64, now_c: f64, shown: &Shown) -> f64 {
    let [before, now] = [before_c, now_c].map(|c| shown.degrees(c).0.round());
    now - before
}

/// Such a change without its sign.
fn in_words(by: f64, shown: &Shown) -> String {
    format!("{:.0} {}", by.abs(), shown.difference(0.0).1)
}

fn span(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let by_mm = now.span_mm() - before.span_mm();
    let [was, is] = [before, now].map(|facts| shown.length(facts.span_mm()));
    let is_told = by_mm.abs() > SAME_MM && was != is && only_one_moved(before, now).is_none();
    is_told.then(|| {
        let long = if by_mm > 0.0 { "longer" } else { "shorter" };
        format!(
            "The coil is {long} than before, {is} against {was} from first to last turn. {}{}",
            coldest(before, now, shown),
            beyond(before, now, shown)
        )
    })
}

fn count(before: &Facts, now: &Facts) -> Option<String> {
    let (was, is) = (before.turns_mm.len(), now.turns_mm.len());
    (was != is && only_one_taken(before, now).is_none()).then(|| {
        let way = if is > was { "More turns" } else { "Fewer turns" };
        let (less, more) = (now.current_a < before.current_a, now.voltage_v > before.voltage_v);
        // What the count does alone; where current and voltage went another way, it is not their reason.
        let why = match (is > was, less, more) {
            (true, true, true) => "the same field takes less current and more voltage",
            (false, false, false) => "the same field takes more current and less voltage",
            _ => "what else was changed does more to current and voltage",
        };
        format!(
            "{way}, {is} against {was}: {why}. Current {:.0} A against {:.0} A, voltage {:.0} V against {:.0} V.",
            now.current_a, before.current_a, now.voltage_v, before.voltage_v
        )
    })
}

/// Turns moved within the same span.
fn moved(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let same_count = before.turns_mm.len() == now.turns_mm.len();
    let same_span = (now.span_mm() - before.span_mm()).abs() <= SAME_MM;
    let pairs = before.turns_mm.iter().zip(&now.turns_mm);
    let most_mm = pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    let is_told = same_count && same_span && most_mm > SAME_MM;
    (is_told && only_one_moved(before, now).is_none()).then(|| {
        let at = before.coldest_axial_mm;
        let [was, is] = [before, now].map(|facts| facts.nearest_turn_mm(at));
        let risen_k = shown_change(before.coldest_c, now.coldest_c, shown);
        // The nearest turn is a reason only where it came nearer and the place warmer, or the other way round.
        let explains = (was - is).abs() >= SAME_MM && (was - is) * risen_k > 0.0;
        let near = match explains {
            true => format!(
                "the nearest to where it was coldest is now {} from it, against {}",
                shown.length(is),
                shown.length(was)
            ),
            false => "and the heat along the pipe with them, while the set point holds the control thermocouples".to_owned(),
        };
        format!("Turns were moved, {near}. {}", coldest(before, now, shown))
    })
}

/// That turns farther off heat more of the pipe, and nearer ones less, where the power shows it.
fn wider(before: &Facts, now: &Facts, by_mm: f64) -> String {
    let [was, is] = [before, now].map(|facts| kilowatts(facts.metal_w));
    let more_w = now.metal_w - before.metal_w;
    match by_mm > 0.0 {
        true if more_w > 0.0 && was != is => {
            format!(
                " Their field reaches farther along the pipe and heats more of it: {is} against {was}."
            )
        }
        false if more_w < 0.0 && was != is => {
            format!(
                " Their field reaches less far along the pipe and heats less of it: {is} against {was}."
            )
        }
        _ => String::new(),
    }
}

fn standoff(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let by_mm = now.standoff_mm - before.standoff_mm;
    let [was, is] = [before, now].map(|facts| shown.length(facts.standoff_mm));
    (by_mm.abs() > 0.2 && was != is).then(|| {
        let ohm = changed_part(before.metal_ohm(), now.metal_ohm());
        let (way, coupling) = if by_mm > 0.0 {
            ("farther from", "poorer")
        } else {
            ("nearer to", "better")
        };
        let heat = format!(
            "the same current heats {:.0} % {}",
            100.0 * ohm.abs(),
            if ohm > 0.0 { "more" } else { "less" }
        );
        format!(
            "The turns lie {way} the metal, {is} against {was}: the coupling is {coupling}, {heat}, and the current goes from \
             {:.0} A to {:.0} A, the voltage from {:.0} V to {:.0} V.{}",
            before.current_a,
            now.current_a,
            before.voltage_v,
            now.voltage_v,
            wider(before, now, by_mm)
        )
    })
}

fn frequency(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    (changed_part(before.frequency_hz, now.frequency_hz).abs() > 0.01).then(|| {
        let (way, skin) = if now.frequency_hz > before.frequency_hz {
            ("higher", "thinner")
        } else {
            ("lower", "thicker")
        };
        format!(
            "The frequency is {way}, {:.1} kHz against {:.1} kHz: the current in the metal runs in a {skin} skin. Current \
             {:.0} A against {:.0} A, voltage {:.0} V against {:.0} V; outside less bore {} against {}.",
            now.frequency_hz / 1e3,
            before.frequency_hz / 1e3,
            now.current_a,
            before.current_a,
            now.voltage_v,
            before.voltage_v,
            shown.difference_words(now.outside_less_bore_k),
            shown.difference_words(before.outside_less_bore_k)
        )
    })
}

fn blanket(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    ((now.blanket_mm - before.blanket_mm).abs() > 0.2).then(|| {
        let thick = if now.blanket_mm > before.blanket_mm {
            "thicker"
        } else {
            "thinner"
        };
        format!(
            "The blanket is {thick}, {} against {}: the metal gives off {} against {}.",
            shown.length(now.blanket_mm),
            shown.length(before.blanket_mm),
            kilowatts(now.metal_w),
            kilowatts(before.metal_w)
        )
    })
}

fn reach(before: &Facts, now: &Facts, shown: &Shown) -> Option<String> {
    let by_mm = now.blanket_reach_mm - before.blanket_reach_mm;
    (by_mm.abs() > SAME_MM).then(|| {
        let far = if by_mm > 0.0 { "more" } else { "less" };
        format!(
            "The blanket covers {far} of the pipe, {} against {}. {}",
            shown.length(now.blanket_reach_mm),
            shown.length(before.blanket_reach_mm),
            coldest(before, now, shown)
        )
    })
}

fn kilowatts(w: f64) -> String {
    format!("{:.1} kW", w / 1e3)
}

fn changed_part(before: f64, now: f64) -> f64 {
    now / before.abs().max(f64::MIN_POSITIVE) - 1.0
}

#[cfg(test)]
mod tests {
    use quantity::Units;

    use super::*;

    fn facts() -> Facts {
        Facts {
            turns_mm: vec![-100.0, 0.0, 100.0],
            standoff_mm: 50.0,
            frequency_hz: 5e3,
            set_point_c: 620.0,
            blanket_mm: 50.0,
            blanket_reach_mm: 600.0,
            coldest_c: 600.0,
            coldest_axial_mm: 60.0,
            coldest_place: "+60 mm from the weld, in the bore".to_owned(),
            beyond_c: 590.0,
            beyond_place: "+70 mm from the weld".to_owned(),
            metal_w: 6000.0,
            current_a: 100.0,
            voltage_v: 200.0,
            outside_less_bore_k: 3.0,
        }
    }

    fn told(now: &Facts) -> String {
        reasons(&facts(), now, &Shown(Units::Si)).join(" ")
    }

    #[test]
    fn a_shorter_coil_says_where_it_grew_colder_and_by_how_much() {
        let words = told(&Facts {
            turns_mm: vec![-80.0, 0.0, 80.0],
            coldest_c: 588.0,
            ..facts()
        });
        for part in [
            "shorter",
            "160 mm against 200 mm",
            "in the bore",
            "falls by 12 K",
        ] {
            assert!(words.contains(part), "{words}");
        }
    }

    #[test]
    fn one_turn_pulled_out_says_what_that_side_loses_and_never_more_than_the_numbers_show() {
        let pulled = |coldest_c: f64| {
            told(&Facts {
                turns_mm: vec![-100.0, 0.0, 160.0],
                coldest_c,
                beyond_c: 594.0,
                ..facts()
            })
        };
        let words = pulled(597.0);
        for part in [
            "One turn was moved away from the weld, from +100 mm to +160 mm.",
            "that side is heated less",
            "falls by 3 K",
            "4 K hotter where it is hottest, +70 mm from the weld",
        ] {
            assert!(words.contains(part), "{part}: {words}");
        }
        assert!(!words.contains("longer"), "{words}");
        let warmer = pulled(601.0);
        assert!(
            !warmer.contains("heated less") && warmer.contains("rises by 1 K"),
            "{warmer}"
        );
    }

    #[test]
    fn a_turn_taken_away_is_named_and_no_reason_claims_the_same_field() {
        let words = told(&Facts {
            turns_mm: vec![-100.0, 100.0],
            coldest_c: 603.0,
            current_a: 113.0,
            ..facts()
        });
        for part in [
            "The turn at the weld center was taken away.",
            "heat the pipe under them more",
            "carry 113 A, against 100 A",
            "rises by 3 K",
        ] {
            assert!(words.contains(part), "{part}: {words}");
        }
        assert!(!words.contains("same field"), "{words}");
    }

    #[test]
    fn what_reads_as_before_is_no_reason() {
        let words = told(&Facts {
            standoff_mm: 50.3,
            ..facts()
        });
        assert_eq!(words, "");
    }

    #[test]
    fn a_larger_standoff_says_that_the_coupling_is_poorer_and_the_current_rises() {
        let words = told(&Facts {
            standoff_mm: 70.0,
            current_a: 120.0,
            ..facts()
        });
        for part in ["farther", "poorer", "31 % less", "from 100 A to 120 A"] {
            assert!(words.contains(part), "{words}");
        }
    }

    #[test]
    fn nothing_changed_is_not_explained_and_what_is_unknown_is_said_to_be() {
        assert_eq!(told(&facts()), "");
        let words = told(&Facts {
            coldest_c: 590.0,
            ..facts()
        });
        assert!(words.contains("what else was changed"), "{words}");
    }
}
