//! Words set in the 80 columns of a terminal.

/// Columns of the terminal.
pub const COLUMNS: usize = 80;

/// The words in lines of at most [`COLUMNS`] letters: the first begins with `lead`, the others with as many blanks. A
/// word that is longer than a line stands alone.
pub fn wrapped(lead: &str, words: &str) -> Vec<String> {
    let blanks = " ".repeat(lead.chars().count());
    let mut lines = Vec::new();
    let mut line = lead.to_owned();
    let mut used = lead.chars().count();
    let mut empty = true;
    for word in words.split_whitespace() {
        let letters = word.chars().count();
        if !empty && used + 1 + letters > COLUMNS {
            lines.push(std::mem::replace(&mut line, blanks.clone()));
            used = blanks.len();
            empty = true;
        }
        if !empty {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += letters;
        empty = false;
    }
    lines.push(line.trim_end().to_owned());
    lines
}

/// A name at the left and its words beside it.
pub fn named(name: &str, width: usize, words: &str) -> Vec<String> {
    wrapped(&format!("{name:<width$}"), words)
}

#[cfg(test)]
mod tests {
    use super::{COLUMNS, wrapped};

    #[test]
    fn no_line_is_wider_than_the_terminal_and_no_word_is_lost() {
        let words = "abc defghij ".repeat(40);
        let lines = wrapped("  name  ", &words);
        assert!(lines.iter().all(|line| line.chars().count() <= COLUMNS));
        let again = lines.join(" ").replace("name", "");
        assert_eq!(
            again.split_whitespace().count(),
            words.split_whitespace().count()
        );
        assert!(lines[1].starts_with("        abc") || lines[1].starts_with("        def"));
    }
}
