//! What stands against a coil although it holds the set point: each with what it would need and what to change.

use cycle::outcome::Limit;

use crate::at_rest::Rested;
use crate::foreseen::{in_blanket_words, worst_in_blanket};
use crate::model::Job;
use crate::rest_numbers::Shown;

/// Worst first; empty where nothing does.
pub fn stands_against(job: &Job, rested: &Rested) -> Vec<String> {
    let all = [
        in_blanket(job, rested),
        too_much(rested),
        uneven(job, rested),
        beyond(job, rested),
        beside_blanket(job, rested),
    ];
    all.into_iter().flatten().collect()
}

/// Turns that lie within the blanket where it is hotter than the cable bears.
fn in_blanket(job: &Job, rested: &Rested) -> Option<String> {
    let inside = &rested.at_rest.turns_in_blanket;
    let worst = worst_in_blanket(inside)?;
    let bears_c = job.cable.max_cable_temperature_c.value;
    (worst.surroundings_c > bears_c).then(|| {
        let words = in_blanket_words(inside, worst, &rested.prepared.setup, job.units);
        format!("Do not wind it so: {words}.")
    })
}

/// More current than source and cable give.
fn too_much(rested: &Rested) -> Option<String> {
    let (asked_a, allowed_a) = (
        rested.at_rest.current_rms_a,
        rested.at_rest.allowed_current_rms_a,
    );
    (asked_a > allowed_a).then(|| {
        let change = match rested.at_rest.limited_by {
            Limit::Current | Limit::Cable => {
                "More turns, or turns nearer to the pipe, take less current"
            }
            Limit::Voltage => "Fewer turns, a lower frequency or shorter leads take less voltage",
            Limit::Power => {
                "A thicker blanket keeps more of the heat, and a larger source gives more"
            }
        };
        format!(
            "The set point can’t be held so: it takes {asked_a:.0} A, and {} allows {allowed_a:.0} A. {change}.",
            rested.at_rest.limited_by.words()
        )
    })
}

/// A soak band that leaves the hold range while the control thermocouple is at the set point.
fn uneven(job: &Job, rested: &Rested) -> Option<String> {
    let shown = Shown(job.units);
    let [low_c, high_c] = rested
        .prepared
        .setup
        .programme
        .hold_range
        .map(|limit| limit.c());
    let (cold, hot) = (&rested.at_rest.soak_coldest, &rested.at_rest.soak_hottest);
    let [cold_wall, hot_wall, _] = rested.at_rest.walls_mm;
    let place = [(cold, cold_wall), (hot, hot_wall)]
        .map(|(spot, wall_mm)| shown.place(spot.axial_mm, spot.depth_mm, wall_mm));
    let is_cold = cold.temperature_c < low_c;
    let is_hot = hot.temperature_c > high_c;
    let colder = format!(
        "{} stays at {}, at least {} is asked for",
        place[0],
        shown.degree_words(cold.temperature_c),
        shown.degree_words(low_c)
    );
    let hotter = format!(
        "{} reaches {}, at most {} is allowed",
        place[1],
        shown.degree_words(hot.temperature_c),
        shown.degree_words(high_c)
    );
    let (found, change) = match (is_cold, is_hot) {
        (true, true) => (
            format!("{colder}, and {hotter}"),
            "Move turns from where it is hot to where it is cold",
        ),
        (true, false) => (
            colder,
            "Move turns outwards or towards that place, or let the plan propose them",
        ),
        (false, true) => (
            hotter,
            "Move turns away from that place, or let the plan propose them",
        ),
        (false, false) => return None,
    };
    Some(format!(
        "With the control thermocouple at the set point, {found}. {change}."
    ))
}

/// Metal beyond the soak band above the upper end of the hold, which no thermocouple may pass at any time.
fn beyond(job: &Job, rested: &Rested) -> Option<String> {
    let shown = Shown(job.units);
    let [_, high] = rested.prepared.setup.programme.hold_range;
    let hottest = &rested.at_rest.beyond_hottest;
    let place = shown.place(
        hottest.axial_mm,
        hottest.depth_mm,
        rested.at_rest.walls_mm[2],
    );
    (hottest.temperature_c > high.c()).then(|| {
        format!(
            "The pipe beyond the soak band gets too hot: {place}, {}, at most {} is allowed. Open the turns there, or bring \
             them nearer to the weld.",
            shown.degree_words(hottest.temperature_c),
            shown.degree_words(high.c())
        )
    })
}

/// Turns that lie beyond the blanket, over bare pipe.
fn beside_blanket(job: &Job, rested: &Rested) -> Option<String> {
    let shown = Shown(job.units);
    let [first, second] = rested.prepared.setup.blanket.reach;
    let beside = |axial_mm: f64| axial_mm > second.mm() || -axial_mm > first.mm();
    let mut turns = rested.at_rest.coil.turns.iter().enumerate();
    let (index, turn) = turns.find(|(_, turn)| beside(turn.axial.mm()))?;
    let reach = if turn.axial.mm() < 0.0 { first } else { second };
    Some(format!(
        "Turn {} lies beside the blanket, {}: the blanket ends {} from it, and the pipe under the turn is bare. Wrap further, or \
         bring the turn back.",
        index + 1,
        shown.along(turn.axial.mm()),
        shown.length(reach.mm())
    ))
}
