//! The files of a job folder as the commands read them.

use std::path::Path;

/// A file that could not be read.
#[derive(Debug, thiserror::Error)]
#[error("{file}: {problem}")]
pub struct Unread {
    file: String,
    problem: String,
}

/// A file as text.
pub struct Text {
    /// Its name, for messages.
    pub name: String,
    /// What it holds.
    pub text: String,
}

/// Reads a job file; a cycle card is sent to the command that takes it.
///
/// # Errors
/// As [`read`], and where the file is a cycle card.
pub fn read_job(path: &Path) -> Result<Text, Unread> {
    let file = read(path)?;
    match job::is_card(&file.text) {
        false => Ok(file),
        true => Err(Unread {
            file: file.name,
            problem: "a cycle card; soakwright record judges a log by it".into(),
        }),
    }
}

/// Reads a file that must be there.
///
/// # Errors
/// What the system says, or the line that is no UTF-8.
pub fn read(path: &Path) -> Result<Text, Unread> {
    let name = path.display().to_string();
    let unread = |problem: String| Unread {
        file: name.clone(),
        problem,
    };
    let bytes = std::fs::read(path).map_err(|e| unread(e.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|e| {
        let before = &e.as_bytes()[..e.utf8_error().valid_up_to()];
        let line = 1 + before.iter().filter(|byte| **byte == b'\n').count();
        unread(format!(
            "line {line} is no UTF-8 text; save the file as UTF-8"
        ))
    })?;
    Ok(Text { name, text })
}
