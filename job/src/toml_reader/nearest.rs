//! "Did you mean": the word of a list that is closest to a misspelt one.

/// Changes of one letter that a slip of the hand is taken to make at most; a longer way is another word.
const MOST_SLIPS: usize = 3;

/// The word nearest to `found`, if one is near enough to be what was meant.
pub fn nearest<'w>(found: &str, words: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let most = MOST_SLIPS.min(found.chars().count() / 2);
    words
        .into_iter()
        .map(|word| (distance(&found.to_lowercase(), &word.to_lowercase()), word))
        .filter(|(slips, word)| *slips <= most || word.starts_with(found) && found.len() > 2)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, word)| word)
}

/// Insertions, removals and changes of a letter that lead from one word to the other (Levenshtein 1966).
fn distance(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (removed, letter) in from.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = removed + 1;
        for (column, other) in to.iter().enumerate() {
            let change = diagonal + usize::from(letter != *other);
            diagonal = row[column + 1];
            row[column + 1] = change.min(diagonal + 1).min(row[column] + 1);
        }
    }
    row[to.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_word_and_another_word_does_not() {
        let words = ["frequency_hz", "symmetry", "outer"];
        assert_eq!(nearest("simetry", words), Some("symmetry"));
        assert_eq!(nearest("frequency_khz", words), Some("frequency_hz"));
        assert_eq!(nearest("frequency", words), Some("frequency_hz"));
        assert_eq!(nearest("colour", words), None);
        assert_eq!(distance("kitten", "sitting"), 3);
    }
}
