//! Hydrogen bake-out: times to the listed shares, holds in use with what they leave, metal that keeps its hydrogen.

use quantity::{Hours, Units};
use report::{Block, Note, Row, Text};
use rules::bake_out::{AfterHistory, BakeOut, ByCoefficient, HoldLeaves, OfWeld, TimeTo};

use super::{cited, table};
use crate::need::BakeOutNeed;
use crate::sheet::words::{both_c, marked, trimmed};

/// Everything on the bake-out of a weld.
pub(crate) fn bake_out(need: &BakeOutNeed, units: Units) -> Vec<Block> {
    let (weld, answer) = (&need.of_weld, &need.answer);
    let mut blocks = vec![Block::heading(2, heading(weld, answer, units))];
    blocks.extend(hopeless(answer));
    let Some(governing) = answer.governing.map(|index| &answer.by_coefficient[index]) else {
        return blocks;
    };
    blocks.push(Block::paragraph(counted(weld, answer, governing, units)));
    blocks.push(holds(&answer.holds, units));
    blocks
}

/// What was counted, by whose coefficient, and the times until each listed share is left.
fn counted(weld: &OfWeld, answer: &BakeOut, governing: &ByCoefficient, units: Units) -> Text {
    let words = Text::plain(format!(
        "Counted: {}. At {}, {} (",
        weld.wall_reason,
        both_c(weld.asked.temperature.c(), units),
        weld.temperature_reason
    ));
    let words = Text([words.0, cited(&weld.temperature_clause).0].concat());
    let range = answer
        .range_of_times()
        .map_or(String::new(), |(least, most)| {
            format!(" (they disagree: {} to {})", hours(least), hours(most))
        });
    let words = words.and(format!(
        "), by the slowest of the coefficients that hold there{range}, that of {} (",
        governing.metal
    ));
    let found = &governing.clause;
    let source = match found.clause.contains(&governing.metal) {
        true => marked(Text::plain(&found.document), found.status),
        false => cited(found),
    };
    Text(
        [
            words.0,
            source.and(format!("). {}", until(&answer.times))).0,
        ]
        .concat(),
    )
}

fn heading(weld: &OfWeld, answer: &BakeOut, units: Units) -> String {
    let governing = answer.governing.map(|index| &answer.by_coefficient[index]);
    let time = governing.and_then(|one| one.time);
    match time {
        _ if answer.governing.is_none() && !answer.hopeless.is_empty() => {
            "Hydrogen bake-out: refused".into()
        }
        Some(time) => format!(
            "Hydrogen bake-out, if done: {} at {} leave {} {}",
            hours(time),
            both_c(weld.asked.temperature.c(), units),
            percent(weld.asked.share),
            weld.asked.place.words()
        ),
        None => format!(
            "Hydrogen bake-out: no coefficient holds at {}",
            both_c(weld.asked.temperature.c(), units)
        ),
    }
}

fn hopeless(answer: &BakeOut) -> Option<Block> {
    let notes: Vec<Note> = answer
        .hopeless
        .iter()
        .map(|one| {
            let text = Text::plain(format!("{} (", one.reason));
            Note::caution(Text([text.0, cited(&one.clause).and(")").0].concat()))
        })
        .collect();
    (!notes.is_empty()).then_some(Block::Notes(notes))
}

/// Times until each listed share is left, of the mean and at the slowest place.
fn until(times: &[TimeTo]) -> String {
    let list = |unit: &str, of: fn(&TimeTo) -> String| {
        let each: Vec<String> = times.iter().map(of).collect();
        each.join(", ").replace(&format!("{unit}, "), ", ")
    };
    format!(
        "Left are {} of the mean after {}, and at the slowest place after {}.",
        list(" %", |one| percent(one.share)),
        list(" h", |one| hours(one.of_mean)),
        list(" h", |one| hours(one.at_slowest))
    )
}

fn holds(holds: &[HoldLeaves], units: Units) -> Block {
    let rows = holds.iter().map(|hold| {
        let [mean, slowest] = match &hold.left {
            None => ["not known".to_owned(), "not known".to_owned()],
            Some((left, _)) => [percent(left.mean), percent(left.slowest)],
        };
        let name = format!(
            "{} at {}",
            hours(hold.time),
            both_c(hold.temperature.c(), units)
        );
        Row::Cells(vec![
            name.into(),
            mean.into(),
            slowest.into(),
            cited(&hold.clause),
        ])
    });
    let heads = ["Hold in use leaves", "mean", "slowest", "Where it stands"];
    table(heads, rows.collect())
}

/// What a predicted cycle leaves, at the coldest place of the soak band at every moment.
pub(crate) fn after_cycle(answer: &BakeOut) -> Option<Text> {
    let one = &answer.by_coefficient[answer.after_history?];
    let AfterHistory { left, not_counted } = one.history?;
    let skipped = match not_counted.h() {
        h if h < 0.05 => String::new(),
        h => format!("; {h:.1} h lie outside its range and are not counted, so less may be left",),
    };
    let text = Text::plain(format!(
        "Along this cycle, read at the coldest place of the soak band at every moment, {} of the mean hydrogen and {} at the slowest place are left, by the coefficient of {} (",
        percent(left.mean),
        percent(left.slowest),
        one.metal
    ));
    Some(Text(
        [text.0, cited(&one.clause).and(format!("){skipped}.")).0].concat(),
    ))
}

/// Hours with a decimal where that says something.
fn hours(time: Hours) -> String {
    match time.h() {
        h if h < 10.0 => format!("{} h", trimmed(h, 1)),
        h => format!("{h:.0} h"),
    }
}

fn percent(share: f64) -> String {
    match 100.0 * share {
        p if p < 0.1 => "less than 0.1 %".into(),
        p if p < 9.95 => format!("{} %", trimmed(p, 1)),
        p => format!("{p:.0} %"),
    }
}
