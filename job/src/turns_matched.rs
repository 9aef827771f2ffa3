//! Which turns of a coil are which of another: each turn before belongs to the turn now that lies where it lay, and the
//! others to one another so that all together are moved least.

/// Turns that lie nearer than this to where they lay have not been moved, in mm.
const MOVED_MM: f64 = 0.5;

/// A turn before and the same turn now, by their numbers in the lists.
type Pair = (usize, usize);

/// What became of the turns, by their numbers in the two lists.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Matched {
    /// Turns that lie elsewhere, in the order of their places now.
    pub moved: Vec<Pair>,
    /// Turns before that are no longer there.
    pub taken: Vec<usize>,
    /// Turns that were not there before.
    pub added: Vec<usize>,
}

impl Matched {
    /// Of the places before and now, in mm along the pipe.
    pub(crate) fn of(were: &[f64], are: &[f64]) -> Matched {
        let moved = moved(were, are);
        let without = |turns: &[f64], others: &[f64], number: fn(&Pair) -> usize| {
            let mut left = astray(turns, others);
            left.retain(|at| moved.iter().all(|pair| number(pair) != *at));
            left
        };
        Matched {
            taken: without(were, are, |pair| pair.0),
            added: without(are, were, |pair| pair.1),
            moved,
        }
    }
}

fn is_same(one_mm: f64, other_mm: f64) -> bool {
    (one_mm - other_mm).abs() <= MOVED_MM
}

/// Turns that lie elsewhere, in the order of their places now.
fn moved(were: &[f64], are: &[f64]) -> Vec<Pair> {
    let (lost, new) = (astray(were, are), astray(are, were));
    let far = |was: usize, is: usize| (were[was] - are[is]).abs();
    match lost.len() <= new.len() {
        true => nearest(&lost, &new, far),
        false => nearest(&new, &lost, |is, was| far(was, is))
            .into_iter()
            .map(|(is, was)| (was, is))
            .collect(),
    }
}

/// Turns where none of the other list lies, along the pipe.
fn astray(turns: &[f64], others: &[f64]) -> Vec<usize> {
    let mut astray: Vec<usize> = (0..turns.len())
        .filter(|&at| !others.iter().any(|other| is_same(turns[at], *other)))
        .collect();
    astray.sort_by(|&a, &b| turns[a].total_cmp(&turns[b]));
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
