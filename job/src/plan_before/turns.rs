//! Which turns were moved, taken away or added from one plan to the next, in words.

use quantity::{Millimeters, Units};

use super::file::Turn;
use crate::rest_numbers::Shown;
use crate::turns_matched::Matched;
use crate::wording::dimension;

/// More changes than this are counted and not named one by one.
const NAMED: usize = 3;

/// Each change in words.
pub(super) fn changes(were: &[Turn], are: &[Turn], units: Units) -> Vec<String> {
    let places = |turns: &[Turn]| turns.iter().map(|turn| turn.axial_mm).collect::<Vec<_>>();
    let matched = Matched::of(&places(were), &places(are));
    let Matched {
        moved,
        taken: lost,
        added: new,
    } = &matched;
    let shown = Shown(units);
    let many = moved.len() + lost.len() + new.len();
    if many == 0 {
        return Vec::new();
    }
    let mut told = count_words(were, are, (lost, new), many <= NAMED, &shown);
    if many <= NAMED {
        told.extend(
            moved
                .iter()
                .map(|pair| moved_words(were, are, *pair, units)),
        );
    } else if !moved.is_empty() {
        let (count, of) = (moved.len(), are.len());
        let lie = if count == 1 { "lies" } else { "lie" };
        told.push(format!("{count} of {of} turns {lie} elsewhere"));
    }
    if many > 1 {
        told.extend(span_words(were, are, &shown));
    }
    told
}

/// That there are more or fewer; each by its place where they are few.
fn count_words(
    were: &[Turn],
    are: &[Turn],
    (lost, new): (&[usize], &[usize]),
    are_named: bool,
    shown: &Shown,
) -> Vec<String> {
    if were.len() == are.len() {
        return Vec::new();
    }
    let counts = format!("{} turns, {} before", are.len(), were.len());
    if !are_named {
        return vec![counts];
    }
    let place = |turn: &Turn| shown.along(turn.axial_mm);
    let gone = lost
        .iter()
        .map(|&at| format!("the turn {} was taken away", place(&were[at])));
    let come = new
        .iter()
        .map(|&at| format!("a turn {} was added", place(&are[at])));
    let mut told: Vec<String> = gone.chain(come).collect();
    if let Some(last) = told.last_mut() {
        *last += &format!(": {counts}");
    }
    told
}

fn moved_words(were: &[Turn], are: &[Turn], (was, is): (usize, usize), units: Units) -> String {
    let name = format!("turn {} of {}", is + 1, are.len());
    let place = |turn: &Turn| Shown(units).along(turn.axial_mm);
    let (from, to) = (place(&were[was]), place(&are[is]));
    if from == to {
        let by = Millimeters::from_mm((are[is].axial_mm - were[was].axial_mm).abs());
        return format!("{name} was moved by {}", dimension(by, units));
    }
    format!("{name} lies {to}, was {from}")
}

/// From the first to the last turn, where that is told otherwise than before.
fn span_words(were: &[Turn], are: &[Turn], shown: &Shown) -> Option<String> {
    let span = |turns: &[Turn]| {
        let axial = || turns.iter().map(|turn| turn.axial_mm);
        let first = axial().reduce(f64::min)?;
        Some(shown.length(axial().reduce(f64::max)? - first))
    };
    let (was, is) = (span(were)?, span(are)?);
    (was != is).then(|| format!("first to last turn {is}, was {was}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(were: &[f64], are: &[f64]) -> Vec<String> {
        let coil = |places: &[f64]| -> Vec<Turn> {
            let turn = |&axial_mm: &f64| Turn {
                axial_mm,
                standoff_mm: 50.0,
            };
            places.iter().map(turn).collect()
        };
        changes(&coil(were), &coil(are), Units::Si)
    }

    const COIL: [f64; 5] = [-80.0, -40.0, 0.0, 40.0, 80.0];

    #[test]
    fn a_turn_that_is_moved_is_named_with_both_places() {
        assert_eq!(
            told(&COIL, &[-80.0, -40.0, 0.0, 60.0, 80.0]),
            ["turn 4 of 5 lies +60 mm from the weld, was +40 mm from the weld"]
        );
        // Past its neighbor it is still the one that was moved.
        assert_eq!(
            told(&COIL, &[-80.0, -40.0, 0.0, 100.0, 80.0]),
            ["turn 4 of 5 lies +100 mm from the weld, was +40 mm from the weld"]
        );
        assert_eq!(
            told(&COIL, &[-80.0, -40.0, 0.0, 39.3, 80.0]),
            ["turn 4 of 5 lies +39 mm from the weld, was +40 mm from the weld"]
        );
        assert!(told(&COIL, &COIL).is_empty());
    }

    #[test]
    fn a_turn_that_is_taken_away_or_added_is_named_by_its_place() {
        assert_eq!(
            told(&COIL, &[-80.0, -40.0, 40.0, 80.0]),
            ["the turn at the weld center was taken away: 4 turns, 5 before"]
        );
        assert_eq!(
            told(&COIL[..4], &COIL),
            ["a turn +80 mm from the weld was added: 5 turns, 4 before",]
        );
        assert_eq!(
            told(&COIL, &[-80.0, -40.0, 45.0, 80.0]),
            [
                "the turn at the weld center was taken away: 4 turns, 5 before",
                "turn 3 of 4 lies +45 mm from the weld, was +40 mm from the weld",
            ]
        );
    }

    #[test]
    fn many_are_counted_with_the_span_that_they_take() {
        assert_eq!(
            told(&COIL, &[-90.0, -45.0, 0.0, 45.0, 90.0]),
            [
                "4 of 5 turns lie elsewhere",
                "first to last turn 180 mm, was 160 mm"
            ]
        );
        assert_eq!(
            told(&COIL, &[-75.0, -25.0, 25.0, 75.0]),
            [
                "4 turns, 5 before",
                "4 of 4 turns lie elsewhere",
                "first to last turn 150 mm, was 160 mm"
            ]
        );
        assert!(told(&[], &[]).is_empty());
    }
}
