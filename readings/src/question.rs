//! What a file leaves open and only a person can answer. It is asked, never guessed.

use std::fmt;

use crate::of_file::{HEAT, of_one_file};

/// Something that the file leaves open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The file.
    pub file: String,
    /// The line at which it shows, if at one.
    pub line: Option<usize>,
    /// The key of the mapping that answers it.
    pub key: &'static str,
    /// What is asked.
    pub asks: String,
    /// What the file shows of it.
    pub evidence: String,
    /// The answers, each as it is written behind the key.
    pub answers: Vec<String>,
    /// A pair of another file that answers it as well.
    pub instead: Option<String>,
}

impl Question {
    /// The key as it is said of this file alone; what a column is, is said of every file that has it.
    pub fn key_of_file(&self) -> String {
        match self.key.contains('.') {
            true => self.key.to_owned(),
            false => of_one_file(&self.file, self.key),
        }
    }

    fn pairs(&self, key: &str) -> String {
        let answers = self.answers.iter().map(|answer| format!("{key}={answer}"));
        let pairs: Vec<String> = answers.chain(self.instead.clone()).map(quoted).collect();
        pairs.join(" or ")
    }
}

/// For a command line.
fn quoted(pair: String) -> String {
    let is_parted = pair.starts_with("file.") && pair.contains(' ');
    if is_parted {
        format!("\"{pair}\"")
    } else {
        pair
    }
}

impl fmt::Display for Question {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self
            .line
            .map_or(String::new(), |line| format!(", line {line}"));
        let own = self.key_of_file();
        write!(
            f,
            "{}{place}: {} {} Answer with ",
            self.file, self.asks, self.evidence
        )?;
        if self.key == HEAT || self.key == own {
            return write!(f, "{}.", self.pairs(&own));
        }
        write!(
            f,
            "{}, which holds of every file; of this one alone with {}.",
            self.pairs(self.key),
            self.pairs(&own)
        )
    }
}
