//! What a file leaves open and only a person can answer. It is asked, never guessed.

use std::fmt;

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
}

impl fmt::Display for Question {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self
            .line
            .map_or(String::new(), |line| format!(", line {line}"));
        let answers: Vec<String> = self
            .answers
            .iter()
            .map(|answer| format!("{}={answer}", self.key))
            .collect();
        write!(
            f,
            "{}{place}: {} {} Answer with {}.",
            self.file,
            self.asks,
            self.evidence,
            answers.join(" or ")
        )
    }
}
