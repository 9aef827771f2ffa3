//! Names of folders and files that are the same on every system.

use super::FolderError;

/// Letters of a name.
const LONGEST: usize = 80;

/// Names that some systems keep for themselves.
const KEPT: [&str; 6] = ["con", "prn", "aux", "nul", "com1", "lpt1"];

/// A name as it was asked for, if it can be one.
///
/// # Errors
/// [`FolderError::BadName`].
pub fn checked_name(asked: &str) -> Result<&str, FolderError> {
    let allowed = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | ' ' | '(' | ')');
    let begins = asked.chars().next().is_some_and(char::is_alphanumeric);
    let stem = asked.split('.').next().unwrap_or_default().to_lowercase();
    let good = begins
        && asked.chars().all(allowed)
        && asked.chars().count() <= LONGEST
        && !asked.ends_with(['.', ' '])
        && !KEPT.contains(&stem.as_str());
    good.then_some(asked).ok_or_else(|| FolderError::BadName {
        asked: asked.to_owned(),
        longest: LONGEST,
    })
}

/// A name for anything: what may not stand in one becomes a hyphen.
pub fn name_for(words: &str) -> String {
    let plain: String = words
        .trim()
        .chars()
        .map(|c| {
            if c.is_alphanumeric() || matches!(c, '_' | '.') {
                c
            } else {
                '-'
            }
        })
        .collect();
    let short: String = plain
        .trim_matches(['-', '.', '_'])
        .chars()
        .take(LONGEST)
        .collect();
    let short = short.trim_end_matches(['-', '.']).to_owned();
    match checked_name(&short) {
        Ok(name) => name.to_owned(),
        Err(_) => format!("weld-{short}").trim_end_matches('-').to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_name_leads_out_of_the_folder_or_is_kept_by_a_system() {
        for bad in [
            "", ".", "..", "../x", "a/b", "a\\b", ".hidden", "nul", "NUL.txt", "x.", "a\0b",
        ] {
            assert!(checked_name(bad).is_err(), "{bad:?}");
        }
        for good in ["MS-0301-FW04", "log 3.csv", "log (1).csv", "Schweißnaht_7"] {
            assert_eq!(checked_name(good), Ok(good));
        }
    }

    #[test]
    fn every_weld_number_gets_a_name() {
        assert_eq!(name_for("MS/0301 FW04"), "MS-0301-FW04");
        for words in ["", "///", "nul", "…", &"x".repeat(300)] {
            assert!(checked_name(&name_for(words)).is_ok(), "{words:?}");
        }
    }
}
