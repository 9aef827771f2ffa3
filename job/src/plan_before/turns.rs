//! Which turns were moved, taken away or added from one plan to the next: each turn before belongs to the turn now that
//! lies where it lay, and the others to one another so that all together are moved least.

use quantity::{Millimeters, Units};

use super::file::Turn;
use crate::rest_numbers::Shown;
use crate::wording::dimension;

/// Turns that lie nearer than this to where they lay have not been moved, in mm.
const MOVED_MM: f64 = 0.5;

/// More changes than this are counted and not named one by one.
const NAMED: usize = 3;

/// A turn before and the same turn now, by their numbers in the lists.
type Pair = (usize, usize);

/// Each change in words.
pub(super) fn changes(were: &[Turn], are: &[Turn], units: Units) -> Vec<String> {
    let moved = moved(were, are);
    let lost = unpaired(were, &moved, are, |pair| pair.0);
    let new = unpaired(are, &moved, were, |pair| pair.1);
    let shown = Shown(units);
    let many = moved.len() + lost.len() + new.len();
    if many == 0 {
        return Vec::new();
    }
    let mut told = count_words(were, are, (&lost, &new), many <= NAMED, &shown);
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

fn moved_words(were: &[Turn], are: &[Turn], (was, is): Pair, units: Units) -> String {
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

/// Turns of a list that belong to none of the other, by their numbers.
fn unpaired(
    turns: &[Turn],
    moved: &[Pair],
    others: &[Turn],
    number: fn(&Pair) -> usize,
) -> Vec<usize> {
    let lies = |turn: &Turn| others.iter().any(|other| is_same(turn, other));
    let is_moved = |at: usize| moved.iter().any(|pair| number(pair) == at);
    let left = turns.iter().enumerate();
    left.filter(|(at, turn)| !lies(turn) && !is_moved(*at))
        .map(|(at, _)| at)
        .collect()
}

fn is_same(one: &Turn, other: &Turn) -> bool {
    (one.axial_mm - other.axial_mm).abs() <= MOVED_MM
}

/// Turns that lie elsewhere, in the order of their places now.
fn moved(were: &[Turn], are: &[Turn]) -> Vec<Pair> {
    let (lost, new) = (astray(were, are), astray(are, were));
    let far = |was: usize, is: usize| (were[was].axial_mm - are[is].axial_mm).abs();
    match lost.len() <= new.len() {
        true => nearest(&lost, &new, far),
        false => nearest(&new, &lost, |is, was| far(was, is))
            .into_iter()
            .map(|(is, was)| (was, is))
            .collect(),
    }
}

/// Turns where none of the other list lies, along the pipe.
fn astray(turns: &[Turn], others: &[Turn]) -> Vec<usize> {
    let mut astray: Vec<usize> = (0..turns.len())
        .filter(|&at| !others.iter().any(|other| is_same(&turns[at], other)))
        .collect();
    astray.sort_by(|&a, &b| turns[a].axial_mm.total_cmp(&turns[b].axial_mm));
    astray
}

/// One of `many` for each of `few`, none crossing another, so that all distances together are least.
fn nearest(few: &[usize], many: &[usize], far: impl Fn(usize, usize) -> f64) -> Vec<Pair> {
    // least[i][j]: the first i of the few among the first j of the many.
    let mut least = vec![vec![f64::INFINITY; many.len() + 1]; few.len() + 1];
    least[0].fill(0.0);
    for i in 1..=few.len() {
        for j in i..=many.len() {
            let paired = least[i - 1][j - 1] + far(few[i - 1], many[j - 1]);
            least[i][j] = paired.min(least[i][j - 1]);
        }
    }
    let mut pairs = Vec::new();
    let (mut i, mut j) = (few.len(), many.len());
    while i > 0 && j > 0 {
        if least[i][j] < least[i][j - 1] {
            pairs.push((few[i - 1], many[j - 1]));
            i -= 1;
        }
        j -= 1;
    }
    pairs.reverse();
    pairs
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
