//! Finding an entry by a name as people write it.

use std::collections::BTreeSet;

/// How many suggestions an error message carries.
const SUGGESTIONS: usize = 4;

/// A name without the ways in which people write it differently: case, blanks, punctuation and vulgar fractions.
pub(crate) fn plain(name: &str) -> String {
    let spelled = name
        .replace('¼', ".25")
        .replace('½', ".5")
        .replace('¾', ".75");
    let letters = spelled.chars().filter(|c| c.is_alphanumeric());
    letters.flat_map(char::to_lowercase).collect()
}

/// The P-number in a text such as "P-1", "P No. 15E", "P-No. 5A Group 1": "1", "15E", "5A". `None` for other texts.
///
/// The hyphen or the "No." is what tells the P-number P-22 from the pipe grade P22.
pub(crate) fn p_number(text: &str) -> Option<String> {
    let upper = text.trim().to_uppercase();
    let rest = upper.strip_prefix('P')?;
    let rest = rest.trim_start();
    let (rest, marked) = match rest.strip_prefix('-') {
        Some(rest) => (rest.trim_start(), true),
        None => (rest, false),
    };
    let (rest, marked) = match rest.strip_prefix("NO") {
        Some(rest) => (rest.trim_start_matches(['.', ' ', '-']), true),
        None => (rest, marked),
    };
    let number: String = rest
        .chars()
        .take_while(char::is_ascii_alphanumeric)
        .collect();
    let tail = rest[number.len()..].trim_start_matches([' ', ',', '-']);
    let ends = tail.is_empty() || tail.starts_with("GR");
    (marked && ends && number.starts_with(|c: char| c.is_ascii_digit())).then_some(number)
}

/// The group in a text such as "ISO/TR 15608 group 6.4", "ISO 8.1", "group 5.2". `None` for other texts.
pub(crate) fn iso_group(text: &str) -> Option<String> {
    let lower = text.trim().to_lowercase();
    let rest = match lower.strip_prefix("iso") {
        Some(rest) => rest.trim_start_matches("/tr").trim_start(),
        None if lower.starts_with("group") => lower.as_str(),
        None => return None,
    };
    let rest = rest.trim_start_matches("15608").trim_start();
    let group = rest.trim_start_matches("group").trim();
    let digits = |c: char| c.is_ascii_digit() || c == '.';
    (!group.is_empty() && group.chars().all(digits)).then(|| group.to_string())
}

/// The one entry that is meant by the words of a text, however they stand: "fibre" is fiber, pounds a cubic foot are
/// kg/m3, and what only says that it is one of its kind says nothing. `None` where none is meant, or more than one.
pub(crate) fn meant<'a, T>(
    asked: &str,
    known: &'a [T],
    names: impl Fn(&'a T) -> Vec<&'a str>,
    says_nothing: &[&str],
) -> Option<&'a T> {
    let wanted = words(asked, says_nothing);
    let is_meant = |entry: &&'a T| {
        names(entry)
            .iter()
            .any(|name| words(name, says_nothing) == wanted)
    };
    let mut found = known.iter().filter(is_meant);
    let first = found.next().filter(|_| !wanted.is_empty())?;
    found.next().is_none().then_some(first)
}

/// Kilograms a cubic meter in a pound a cubic foot (NIST SP 811).
const KG_M3_IN_LB_FT3: f64 = 16.018_46;

fn words(text: &str, says_nothing: &[&str]) -> BTreeSet<String> {
    let mut text = text.to_lowercase().replace("fibre", "fiber");
    for unit in ["kg/m³", "kg/m3", "kg/m^3"] {
        text = text.replace(unit, " ");
    }
    for unit in ["lb/ft³", "lb/ft3", "lb/ft^3", "lbs", "lb", "pcf", "#"] {
        text = text.replace(unit, " pound ");
    }
    let mut words: Vec<String> = Vec::new();
    for word in text.split(|c: char| !c.is_alphanumeric()) {
        match (word, words.last_mut()) {
            ("", _) => {}
            ("pound", Some(last)) => {
                if let Ok(pounds) = last.parse::<f64>() {
                    *last = format!("{:.0}", pounds * KG_M3_IN_LB_FT3);
                }
            }
            _ => words.push(word.to_owned()),
        }
    }
    words.retain(|word| !says_nothing.contains(&word.as_str()));
    words.into_iter().collect()
}

/// The known names nearest to what was asked, best first; all of them where none is near.
pub(crate) fn nearest(asked: &str, known: &[&str]) -> Vec<String> {
    let wanted = plain(asked);
    let mut ranked: Vec<(usize, &str)> = known
        .iter()
        .map(|name| (distance(&wanted, &plain(name)), *name))
        .collect();
    ranked.sort();
    let near = |(edits, name): &&(usize, &str)| {
        *edits <= 1 + plain(name).chars().count().min(wanted.chars().count()) / 3
    };
    let mut names: Vec<String> = ranked
        .iter()
        .filter(near)
        .map(|(_, name)| name.to_string())
        .collect();
    if names.is_empty() {
        return known.iter().map(|name| name.to_string()).collect();
    }
    names.truncate(SUGGESTIONS);
    names
}

/// Edits between two words, none for letters left out at either end (Levenshtein 1966 with a prefix rule).
fn distance(one: &str, other: &str) -> usize {
    if !one.is_empty() && (other.contains(one) || one.contains(other)) {
        return 0;
    }
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (i, letter) in one.chars().enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, against) in other.iter().enumerate() {
            let replaced = corner + usize::from(letter != *against);
            corner = row[j + 1];
            row[j + 1] = replaced.min(corner + 1).min(row[j] + 1);
        }
    }
    row[other.len()]
}

#[cfg(test)]
mod tests {
    use super::{iso_group, nearest, p_number, plain};

    #[test]
    fn a_p_number_is_not_a_pipe_grade() {
        assert_eq!(p_number("P-No. 15E Group 1").as_deref(), Some("15E"));
        assert_eq!(p_number("p-5a").as_deref(), Some("5A"));
        assert_eq!(p_number("P No. 1").as_deref(), Some("1"));
        assert_eq!(p_number("P22"), None);
        assert_eq!(p_number("paint"), None);
    }

    #[test]
    fn a_group_is_read_with_or_without_the_report_number() {
        assert_eq!(iso_group("ISO/TR 15608 group 6.4").as_deref(), Some("6.4"));
        assert_eq!(iso_group("ISO 8.1").as_deref(), Some("8.1"));
        assert_eq!(iso_group("group 5.2").as_deref(), Some("5.2"));
        assert_eq!(iso_group("isolation"), None);
    }

    #[test]
    fn fractions_are_spelled_out() {
        assert_eq!(plain("1¼Cr-½Mo"), plain("1.25 Cr .5 Mo"));
    }

    #[test]
    fn the_nearest_name_comes_first() {
        assert_eq!(
            nearest("carbn steel", &["copper", "carbon steel"]),
            ["carbon steel"]
        );
        assert_eq!(nearest("zzzzzz", &["copper", "carbon steel"]).len(), 2);
    }
}
