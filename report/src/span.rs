//! Running text: spans of plain, strong and italic words, status words, marks that explain themselves, and places to
//! tick or write.

/// A piece of running text, made of spans set one after the other.
///
/// `"350 °C".into()` makes plain text; the builder methods append.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Text(pub Vec<Span>);

/// A stretch of text in one style.
#[derive(Debug, Clone, PartialEq)]
pub enum Span {
    /// Ordinary words.
    Plain(String),
    /// Words that carry the weight of the sentence: semibold.
    Strong(String),
    /// Words set in italic.
    Italic(String),
    /// A small raised sign after a value, explained once at the foot of the page.
    Mark(Mark),
    /// A verdict: a shape and a word, tinted only where attention is needed.
    Status {
        /// Which of the four states.
        state: State,
        /// The word that says it, for example `within limits`.
        word: String,
    },
    /// An empty box to tick by hand.
    TickBox,
    /// An empty line to write on, of this length in millimeters on paper.
    WriteIn {
        /// Length of the line in mm.
        width_mm: f64,
    },
}

/// Why a value is to be read with care, for example `from memory`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Mark {
    /// The word of the mark, for example `from memory`.
    pub word: String,
    /// One sentence that explains it.
    pub explanation: String,
}

/// The state of a finding. The shape and the word carry it; a tint may accompany them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Nothing to do: an open circle.
    Fine,
    /// Needs a look: an open triangle.
    Look,
    /// A limit is passed: a filled square.
    Passed,
    /// Not known or not yet done: a dash.
    Open,
}

impl State {
    /// The character that draws the shape.
    #[must_use]
    pub fn shape(self) -> char {
        match self {
            State::Fine => '○',
            State::Look => '△',
            State::Passed => '■',
            State::Open => '–',
        }
    }
}

impl Text {
    /// Plain text.
    #[must_use]
    pub fn plain(words: impl Into<String>) -> Text {
        Text(vec![Span::Plain(words.into())])
    }

    /// Appends plain words.
    #[must_use]
    pub fn and(mut self, words: impl Into<String>) -> Text {
        self.0.push(Span::Plain(words.into()));
        self
    }

    /// Appends strong words.
    #[must_use]
    pub fn strong(mut self, words: impl Into<String>) -> Text {
        self.0.push(Span::Strong(words.into()));
        self
    }

    /// Appends words in italic.
    #[must_use]
    pub fn italic(mut self, words: impl Into<String>) -> Text {
        self.0.push(Span::Italic(words.into()));
        self
    }

    /// Appends a mark with its explanation.
    #[must_use]
    pub fn mark(mut self, word: impl Into<String>, explanation: impl Into<String>) -> Text {
        self.0.push(Span::Mark(Mark {
            word: word.into(),
            explanation: explanation.into(),
        }));
        self
    }

    /// Appends a status word with its shape.
    #[must_use]
    pub fn status(mut self, state: State, word: impl Into<String>) -> Text {
        self.0.push(Span::Status {
            state,
            word: word.into(),
        });
        self
    }

    /// Appends an empty box to tick.
    #[must_use]
    pub fn tick_box(mut self) -> Text {
        self.0.push(Span::TickBox);
        self
    }

    /// Appends an empty line to write on, its length in millimeters on paper.
    #[must_use]
    pub fn write_in(mut self, width_mm: f64) -> Text {
        self.0.push(Span::WriteIn { width_mm });
        self
    }

    /// Whether nothing would be seen of it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|span| match span {
            Span::Plain(words) | Span::Strong(words) | Span::Italic(words) => words.is_empty(),
            _ => false,
        })
    }

    /// The words alone, without style, marks and boxes.
    #[must_use]
    pub fn words(&self) -> String {
        let mut all = String::new();
        for span in &self.0 {
            match span {
                Span::Plain(words) | Span::Strong(words) | Span::Italic(words) => {
                    all.push_str(words)
                }
                Span::Status { word, .. } => all.push_str(word),
                Span::Mark(_) | Span::TickBox | Span::WriteIn { .. } => {}
            }
        }
        all
    }
}

impl From<&str> for Text {
    fn from(words: &str) -> Text {
        Text::plain(words)
    }
}

impl From<String> for Text {
    fn from(words: String) -> Text {
        Text::plain(words)
    }
}

impl From<&String> for Text {
    fn from(words: &String) -> Text {
        Text::plain(words.as_str())
    }
}
