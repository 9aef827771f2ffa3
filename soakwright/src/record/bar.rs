//! A line on the terminal while logs are read and judged.

use indicatif::{ProgressBar, ProgressStyle};
use job::record::Step;

/// Steps of the bar.
const STEPS: f64 = 1000.0;
/// Reading takes about this part of the time.
const READING: f64 = 0.4;

/// How far it has come; shown on the standard error stream where that is a terminal.
pub struct Bar(ProgressBar);

impl Bar {
    pub fn new() -> Bar {
        let bar = ProgressBar::new(STEPS as u64);
        if let Ok(style) = ProgressStyle::with_template("{bar:30} {percent:>3} %  {msg}") {
            bar.set_style(style.progress_chars("█▌░"));
        }
        Bar(bar)
    }

    pub fn show(&self, step: Step<'_>) {
        let (part, says) = match step {
            Step::Reading { file, part } => (READING * part, format!("reading {file}")),
            Step::Judging { part } => (READING + (1.0 - READING) * part, "judging".to_owned()),
        };
        self.0.set_position((STEPS * part) as u64);
        self.0.set_message(says);
    }

    pub fn clear(&self) {
        self.0.finish_and_clear();
    }
}
