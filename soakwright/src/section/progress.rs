//! A line on the terminal while a run takes long.

use std::sync::Mutex;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Parts of a file that the line can tell apart.
const PARTS: f64 = 1000.0;

/// A run shorter than this says nothing.
const QUIET: Duration = Duration::from_millis(700);

/// What is done of all files; shown on the standard error stream where that is a terminal.
pub struct Progress {
    bar: ProgressBar,
    done: Mutex<f64>,
}

impl Progress {
    /// For this many files.
    pub fn new(files: usize) -> Progress {
        let target = ProgressDrawTarget::stderr();
        let bar = ProgressBar::with_draw_target(Some((files as f64 * PARTS) as u64), target);
        let style =
            ProgressStyle::with_template("{percent:>3} % of {msg}, {elapsed} gone, {eta} to go");
        if let Ok(style) = style {
            bar.set_style(style);
        }
        bar.set_message(if files == 1 {
            "the file".to_owned()
        } else {
            format!("{files} files")
        });
        Progress {
            bar,
            done: Mutex::new(0.0),
        }
    }

    /// Adds a share of one file.
    pub fn advance(&self, share: f64) {
        let mut done = self
            .done
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner());
        *done += share;
        if self.bar.elapsed() > QUIET {
            self.bar.set_position((*done * PARTS) as u64);
        }
    }

    /// Clears the line.
    pub fn finish(&self) {
        self.bar.finish_and_clear();
    }
}
