//! Grades as people write them: "A106 Gr B", "ASTM A-106 Gr. B", "SA106-B" are one.

/// Words that say whose name it is, or that a grade follows, and no more than that.
const SAYS_NOTHING: [&str; 19] = [
    "ASTM", "ASME", "AISI", "SAE", "API", "EN", "DIN", "BS", "ISO", "UNS", "GR", "GRADE", "TYPE",
    "TP", "SS", "WNR", "NR", "STEEL", "SMLS",
];
/// Words behind a grade that change nothing of what the data hold for: class and test category.
const BEHIND: [&str; 4] = ["CL", "CLASS", "TC1", "TC2"];
/// Letters of a product form before the number of a stainless grade: "TP304L", "F316", "WP321".
const FORMS: [&str; 4] = ["TP", "SS", "WP", "F"];

/// A grade without the ways in which people write it differently.
pub(crate) fn grade(name: &str) -> String {
    words(name).concat()
}

/// The grade alone, where the number of a product standard stands before it: "A335 Gr P91" is "P91".
pub(crate) fn without_standard(name: &str) -> Option<String> {
    let words = words(name);
    let (first, others) = words.split_first()?;
    let number = first.strip_prefix('A')?;
    let digits = number.chars().take_while(char::is_ascii_digit).count();
    let rest = &number[digits..];
    let glued = rest.starts_with(|c: char| c.is_ascii_alphabetic());
    if !(2..=4).contains(&digits) || !(rest.is_empty() || glued) {
        return None;
    }
    let grade = bare(&format!("{rest}{}", others.concat()));
    (grade.chars().count() > 1).then_some(grade)
}

/// A product standard with the grade behind it, as one spelling: "A106" and "B"; no grade where none stands there.
pub(crate) fn standard_and_grade(name: &str) -> Option<(String, String)> {
    let words = words(name);
    let (first, others) = words.split_first()?;
    let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    let length = match first.strip_prefix('A').map(digits) {
        Some(count) if (2..=4).contains(&count) => 1 + count,
        _ if first == "5L" => first.len(),
        _ => return None,
    };
    let (standard, glued) = first.split_at(length);
    let standard = match standard {
        "5L" => "API 5L",
        other => other,
    };
    Some((standard.to_owned(), glued.to_owned() + &others.concat()))
}

/// The parts of a text that names one metal several times: "304/304L", "1.4903 (P91)".
pub(crate) fn parts(name: &str) -> Vec<&str> {
    let parts = name.split(['/', '(', ')', ',', ';']).map(str::trim);
    parts.filter(|part| !part.is_empty()).collect()
}

fn words(name: &str) -> Vec<String> {
    let upper = decimal(name).to_uppercase();
    // What stands behind a plus is how it was delivered.
    let as_made = upper.split('+').next().unwrap_or_default().replace('.', "");
    let pieces = as_made.split(|c: char| !c.is_alphanumeric());
    let mut words: Vec<String> = Vec::new();
    let mut after_class = false;
    for piece in pieces.filter(|piece| !piece.is_empty()) {
        let is_number = piece.chars().all(|c| c.is_ascii_digit());
        let skipped = std::mem::take(&mut after_class) && is_number;
        if BEHIND.contains(&piece) && !words.is_empty() {
            after_class = piece.starts_with("CL");
        } else if !skipped && !SAYS_NOTHING.contains(&piece) {
            words.push(bare(piece));
        }
    }
    joined(words)
}

/// "SA" is "A" where a number follows, and a lone "A" belongs to the number behind it.
fn joined(words: Vec<String>) -> Vec<String> {
    let is_digit = |word: &String| word.starts_with(|c: char| c.is_ascii_digit());
    let mut all: Vec<String> = Vec::new();
    for word in words {
        match all.last_mut() {
            Some(last) if (last == "A" || last == "SA") && is_digit(&word) => {
                *last = format!("A{word}");
            }
            _ => all.push(word),
        }
    }
    all
}

/// One word without "SA" for "A", "GR" within, and the letters of a form before a number of three digits.
fn bare(word: &str) -> String {
    let digit = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
    let word = match word.strip_prefix('S') {
        Some(rest) if rest.strip_prefix('A').is_some_and(digit) => rest,
        _ => word,
    };
    let number = word.strip_prefix('A').unwrap_or_default();
    let digits = number.chars().take_while(char::is_ascii_digit).count();
    if digits > 0 && number[digits..].starts_with("GR") {
        let grade = number[digits..]
            .trim_start_matches("GRADE")
            .trim_start_matches("GR");
        return format!("A{}{grade}", &number[..digits]);
    }
    let behind = |form: &&str| {
        let rest = word.strip_prefix(*form)?;
        let digits = rest.chars().take_while(char::is_ascii_digit).count();
        (digits == 3 && rest.starts_with('3')).then_some(rest)
    };
    if let Some(rest) = FORMS.iter().find_map(behind) {
        return rest.to_owned();
    }
    match word.strip_prefix("GR") {
        Some(rest) if !rest.is_empty() && rest.chars().count() <= 3 => rest.to_owned(),
        _ => word.to_owned(),
    }
}

/// Fractions as decimals, so that "1-1/4Cr" is "1.25Cr".
fn decimal(name: &str) -> String {
    name.replace('¼', ".25")
        .replace('½', ".5")
        .replace('¾', ".75")
}

#[cfg(test)]
mod tests {
    use super::{grade, without_standard};

    #[test]
    fn one_grade_has_one_spelling() {
        for written in [
            "A106 B",
            "a106b",
            "SA-106 Gr. B",
            "ASTM A 106 Grade B",
            "SA106 GrB",
            "A106-B",
            "A106GrB",
        ] {
            assert_eq!(grade(written), "A106B", "{written}");
        }
        assert_eq!(grade("SA-387 Gr 22 Class 2"), "A38722");
        assert_eq!(grade("P265GH TC1 +N"), "P265GH");
    }

    #[test]
    fn a_grade_stands_behind_its_standard() {
        for (written, alone) in [
            ("A335-P91", Some("P91")),
            ("SA335P91", Some("P91")),
            ("A312 TP304L", Some("304L")),
            ("A182 F316", Some("316")),
            ("A106 B", None),
            ("P91", None),
            ("A36", None),
        ] {
            assert_eq!(without_standard(written).as_deref(), alone, "{written}");
        }
    }
}
