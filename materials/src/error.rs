//! What can go wrong when a material is asked for.

use quantity::OutOfRange;

/// A material or a property could not be given.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MaterialError {
    /// No entry has that name.
    #[error("no {kind} is called \"{asked}\"; {}", hint(.suggestions))]
    Unknown {
        /// "metal", "blanket", "cable", "surface" or "standard".
        kind: String,
        /// What was asked for.
        asked: String,
        /// The nearest known names, best first; all names where none is near.
        suggestions: Vec<String>,
    },
    /// The product standard is known, the grade is not.
    #[error("no grade of {standard} that is known is called so; known of it: {}", .grades.join(", "))]
    UnknownGrade {
        /// What was asked for.
        asked: String,
        /// The product standard: "A106".
        standard: String,
        /// Its known grades.
        grades: Vec<String>,
    },
    /// The name stands for more than one entry.
    #[error("\"{asked}\" may mean {}; write one of these in full", .meanings.join(" or "))]
    Ambiguous {
        /// What was asked for.
        asked: String,
        /// What it can stand for, in words.
        meanings: Vec<String>,
    },
    /// A standard does not define that property.
    #[error("{standard} gives {}, but not {asked}", .known.join(" and "))]
    NotInStandard {
        /// The standard's name.
        standard: String,
        /// The property that was asked for.
        asked: String,
        /// The properties it does give.
        known: Vec<String>,
    },
    /// A property was asked outside the range in which it is known.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

fn hint(suggestions: &[String]) -> String {
    match suggestions {
        [] => "none is known".to_string(),
        [only] => format!("did you mean \"{only}\"?"),
        several => format!("did you mean one of \"{}\"?", several.join("\", \"")),
    }
}
