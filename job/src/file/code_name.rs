//! Codes as people write them: "B31.3", "ASME B 31.3", "Section VIII Div. 1", "BS EN 13480-4:2017".

use crate::known_names;
use crate::toml_reader::nearest;

/// Who publishes; told apart, because two may number alike.
const PUBLISHERS: [&str; 3] = ["asme", "aws", "en"];
/// Words that a name may carry and that say no more.
const SAYS_NOTHING: [&str; 13] = [
    "ansi", "bpvc", "bpv", "bs", "din", "nf", "uni", "code", "section", "sec", "sect", "part",
    "edition",
];
/// Words before a number that is said elsewhere without them.
const DIVISION: [&str; 2] = ["division", "div"];

/// What a written code is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum CodeName {
    /// This one.
    Known(&'static str),
    /// It may be one of these; none where no code is near.
    Near(Vec<&'static str>),
}

/// The code that a text names beside its edition.
pub(crate) fn code_name(written: &str, edition: Option<&str>) -> CodeName {
    let known = known_names::codes();
    let exact = |code: &&&str| code.eq_ignore_ascii_case(written.trim());
    if let Some(code) = known.iter().find(exact) {
        return CodeName::Known(code);
    }
    let (publisher, name) = taken_apart(written, edition);
    let of_publisher = |code: &&&str| {
        let (of, _) = taken_apart(code, None);
        publisher.is_none() || of.is_none() || of == publisher
    };
    let fits = |whole: bool| -> Vec<&'static str> {
        let fits = |code: &&&str| {
            let (_, known) = taken_apart(code, None);
            known == name || !whole && is_without_part(&name, &known)
        };
        let fitting = known.iter().filter(of_publisher).filter(fits);
        fitting.copied().collect()
    };
    let found = match fits(true) {
        none if none.is_empty() => fits(false),
        found => found,
    };
    match found[..] {
        [only] => CodeName::Known(only),
        [] => {
            let names: Vec<String> = known.iter().map(|code| taken_apart(code, None).1).collect();
            let near = nearest(&name, names.iter().map(String::as_str));
            let is_near = |index: &usize| near == Some(names[*index].as_str());
            let all = (0..known.len()).filter(is_near);
            CodeName::Near(all.map(|index| known[index]).collect())
        }
        _ => CodeName::Near(found),
    }
}

/// "13480" where only "13480-4" is known, "viii" where "viii-1" and "viii-2" are.
fn is_without_part(name: &str, known: &str) -> bool {
    let rest = known.strip_prefix(name);
    !name.is_empty() && rest.is_some_and(|rest| rest.starts_with('-'))
}

/// The publisher, where one is named, and the rest in one spelling.
fn taken_apart(written: &str, edition: Option<&str>) -> (Option<&'static str>, String) {
    let lower = spaced(&written.to_lowercase());
    let mut publisher = None;
    let mut words: Vec<&str> = Vec::new();
    for word in lower.split(' ').filter(|word| !word.is_empty()) {
        let known = PUBLISHERS.iter().find(|known| **known == word);
        // The metric twin is printed in the same volume: "D1.1/D1.1M".
        let is_twin = words.last().is_some_and(|last| word == format!("{last}m"));
        if known.is_some() {
            publisher = known.copied();
        } else if !is_twin && !SAYS_NOTHING.contains(&word) && !DIVISION.contains(&word) {
            words.push(word);
        }
    }
    if words.len() > 1 && words.last().copied() == edition {
        words.pop();
    }
    (publisher, in_one(&words))
}

/// Words with one blank between: a point stays only within a number, and a publisher stands apart from what follows.
fn spaced(lower: &str) -> String {
    let letters: Vec<char> = lower.chars().collect();
    let is_digit = |at: Option<usize>| {
        let letter = at.and_then(|at| letters.get(at));
        letter.is_some_and(char::is_ascii_digit)
    };
    let kept = letters.iter().enumerate().map(|(at, letter)| match letter {
        '.' if is_digit(at.checked_sub(1)) && is_digit(Some(at + 1)) => '.',
        letter if letter.is_alphanumeric() => *letter,
        _ => ' ',
    });
    let kept: String = kept.collect();
    let apart = kept.split(' ').map(|word| {
        let glued = PUBLISHERS.iter().find_map(|publisher| {
            let rest = word.strip_prefix(publisher)?;
            let numbered = rest.contains(|c: char| c.is_ascii_digit());
            numbered.then(|| format!("{publisher} {rest}"))
        });
        glued.unwrap_or_else(|| word.to_owned())
    });
    apart.collect::<Vec<_>>().join(" ")
}

/// "b" and "31.3" are "b31.3"; a part stands behind a hyphen.
fn in_one(words: &[&str]) -> String {
    let is_number = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
    let mut name = String::new();
    for word in words {
        let word = match (*word, name.as_str()) {
            // Sections of the boiler code have Roman numbers.
            ("8", "") => "viii",
            (other, _) => other,
        };
        let letter = name.chars().count() <= 2 && name.chars().all(char::is_alphabetic);
        let is_one = name.is_empty() || letter && is_number(word);
        if !is_one {
            name.push('-');
        }
        name.push_str(word);
    }
    name
}

#[cfg(test)]
mod tests {
    use super::{CodeName, code_name};

    #[test]
    fn a_code_is_known_as_people_write_it() {
        for (written, code) in [
            (
                "B31.3|b31.3|ASME B 31.3|ASME-B31.3|ANSI/ASME B31.3|ASME B31.3-2022|ASME B31.3:2022|Code B31.3",
                "ASME B31.3",
            ),
            ("B31.1|asme b31.1", "ASME B31.1"),
            (
                "VIII-1|ASME VIII Div 1|ASME VIII Div. 1|ASME Section VIII Division 1|ASME Sec. VIII-1|Section VIII Div.1|ASME BPVC VIII-1|\
                 ASME BPVC.VIII.1|ASME 8 Div 1",
                "ASME VIII-1",
            ),
            ("ASME Section I|Section I|ASME BPVC I", "ASME I"),
            ("D1.1|AWS D1.1|AWS D1.1/D1.1M|aws d 1.1", "AWS D1.1"),
            (
                "EN 13480|EN13480-4|BS EN 13480-4|DIN EN 13480-4:2022|13480-4",
                "EN 13480-4",
            ),
            ("EN 13445|EN 13445-4", "EN 13445-4"),
            ("PD5500|BS PD 5500", "PD 5500"),
        ] {
            for written in written.split('|') {
                assert_eq!(
                    code_name(written, Some("2022")),
                    CodeName::Known(code),
                    "{written}"
                );
            }
        }
    }

    #[test]
    fn what_may_be_two_codes_or_none_is_told_with_near_ones() {
        let near = |written: &str| match code_name(written, Some("2022")) {
            CodeName::Near(near) => near,
            CodeName::Known(code) => panic!("{written} was taken for {code}"),
        };
        assert_eq!(near("ASME VIII"), ["ASME VIII-1", "ASME VIII-2"]);
        assert!(near("B31.33").contains(&"ASME B31.3"));
        for other in [
            "",
            "ASME",
            "AWS B31.3",
            "ISO 13480-4",
            "D11",
            "ASME B31.3-2016",
            "EN 134",
            "B31",
        ] {
            near(other);
        }
    }
}
