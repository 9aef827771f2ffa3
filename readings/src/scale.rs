//! What written numbers are multiplied with: said, stated by the file, or asked. What is applied is told.

use crate::column::Column;
use crate::complaint::ComplaintKind;
use crate::file::File;
use crate::read::Reading;
use crate::role::Role;
use crate::words::words;

/// What a file says of the scale of its numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Scale {
    /// Multiply with this.
    By(f64),
    /// `x10`: the file holds ten times the reading, or a tenth of it.
    Either(f64),
}

/// A statement of a scale that stands for itself, above the rows or in a row of scales: `x0.1`, `1/10`, `0,1`, `x10`.
pub(crate) fn stated(text: &str) -> Option<Scale> {
    let text = bare(text).to_lowercase().replace(',', ".");
    let number = |n: &str| {
        let number = n.trim().parse::<f64>().ok()?;
        (number.is_finite() && number > 0.0 && number != 1.0).then_some(number)
    };
    let times = text.strip_prefix(['x', '×', '*']).and_then(number);
    let over = text.strip_prefix("1/").or_else(|| text.strip_prefix('/'));
    if let Some(over) = over.and_then(number) {
        return Some(Scale::By(1.0 / over)).filter(|_| over > 1.0);
    }
    match times {
        Some(times) if times < 1.0 => Some(Scale::By(times)),
        Some(times) => Some(Scale::Either(times)),
        None => number(&text).filter(|n| *n < 1.0).map(Scale::By),
    }
}

/// A scale in brackets behind a name, `TC1 (x0.1)`: the name, and the scale. A name alone is never one.
pub(crate) fn behind_name(text: &str) -> Option<(&str, Scale)> {
    let text = text.trim();
    let at = text.rfind(['(', '['])?;
    let (name, behind) = (text[..at].trim(), &text[at..]);
    let multiplies = bare(behind).starts_with(['x', 'X', '×', '*', '/', '1', '0']);
    let closed = behind.ends_with([')', ']']) && multiplies && !name.is_empty();
    closed.then(|| stated(behind).map(|scale| (name, scale)))?
}

/// A word that says what a line or a row is about.
pub(crate) fn is_heading(text: &str) -> bool {
    let text = text.to_lowercase();
    ["scal", "factor", "faktor", "skal"]
        .iter()
        .any(|word| text.contains(word))
}

/// A row between the names and the readings that says for each column what its numbers are multiplied with.
pub(crate) fn is_row(cells: &[&str]) -> bool {
    let filled = || cells.iter().filter(|c| !c.trim().is_empty());
    let scales = filled().filter(|c| stated(c).is_some()).count();
    let strange = filled()
        .filter(|c| stated(c).is_none() && !is_heading(c))
        .count();
    scales > 0 && strange == 0
}

fn bare(text: &str) -> &str {
    text.trim()
        .trim_start_matches(['(', '['])
        .trim_end_matches([')', ']'])
        .trim()
}

impl Reading {
    /// What the numbers of each column are multiplied with, by its place.
    pub(crate) fn scales(&mut self, file: &File<'_>) -> Vec<f64> {
        let said = file.mapping.scale.as_deref().and_then(|s| s.parse().ok());
        let of_heat = |c: &Column| matches!(c.role, Role::Temperature | Role::Value);
        let stated = |column: &Column| column.scale.or(file.head.scale);
        let mut scales = vec![1.0; file.columns.len()];
        let mut open: Option<(&Column, Scale)> = None;
        for (place, column) in file.columns.iter().enumerate().filter(|(_, c)| of_heat(c)) {
            let fraction = column.looks.whole < column.looks.numbers;
            match (said, stated(column)) {
                (Some(said), _) => scales[place] = said,
                (None, Some(Scale::By(by))) if !fraction => scales[place] = by,
                (None, Some(scale)) => open = open.or(Some((column, scale))),
                (None, None) => {}
            }
        }
        match open {
            Some((column, scale)) => self.ask_scale(file, column, scale),
            None if said.is_none() => self.ask_strange(file, &scales),
            None => {}
        }
        self.tell_scales(file, &scales, said.is_some());
        scales
    }

    /// A scale is stated, and the readings do not look as if they waited for it.
    fn ask_scale(&mut self, file: &File<'_>, column: &Column, scale: Scale) {
        let (name, looks) = (&column.name, &column.looks);
        let (states, answers) = match scale {
            Scale::By(by) => (format!("{by}"), vec![format!("{by}"), "1".into()]),
            Scale::Either(times) => (
                format!("x{times}"),
                vec![format!("{}", 1.0 / times), "1".into(), format!("{times}")],
            ),
        };
        let why = match looks.whole < looks.numbers {
            true => "the readings carry decimals already",
            false => "it can be taken two ways",
        };
        let (lowest, highest) = (looks.lowest, looks.highest);
        let answers: Vec<&str> = answers.iter().map(String::as_str).collect();
        self.ask(
            Some(file.head.scale_line.unwrap_or(file.table.first_row + 1)),
            "scale",
            "What are the readings to be multiplied with?",
            format!(
                "A scale of {states} is stated, and {why}: {name} holds {lowest} to {highest}."
            ),
            &answers,
        );
    }

    /// No scale is stated, and the readings could not be temperatures as they stand.
    fn ask_strange(&mut self, file: &File<'_>, scales: &[f64]) {
        let strange = |(place, c): &(usize, &Column)| {
            let whole = c.looks.numbers > 0 && c.looks.whole == c.looks.numbers;
            let coded = words().code(c.looks.highest as i64).is_some()
                || words().code(c.looks.lowest as i64).is_some();
            matches!(c.role, Role::Temperature | Role::Value)
                && whole
                && scales[*place] == 1.0
                && (c.looks.highest > words().reach.highest_c || coded)
        };
        let mut columns = file.columns.iter().enumerate();
        if let Some((_, column)) = columns.find(strange) {
            self.ask(
                Some(file.table.first_row + 1),
                "scale",
                "What are the whole numbers to be multiplied with?",
                format!(
                    "{} holds whole numbers from {} to {}.",
                    column.name, column.looks.lowest, column.looks.highest
                ),
                &["0.1", "1"],
            );
        }
    }

    fn tell_scales(&mut self, file: &File<'_>, scales: &[f64], said: bool) {
        let mut told: Vec<(f64, Vec<String>)> = Vec::new();
        for (place, scale) in scales.iter().enumerate().filter(|(_, s)| **s != 1.0) {
            let name = file.columns[place].name.clone();
            match told.iter_mut().find(|(known, _)| known == scale) {
                Some((_, names)) => names.push(name),
                None => told.push((*scale, vec![name])),
            }
        }
        let line = match (said, file.head.scale_line, file.table.header) {
            (true, ..) => None,
            (false, Some(line), _) => Some(line),
            (false, None, header) => header.map(|index| index + 1),
        };
        for (by, names) in told {
            let channels = names.join(", ");
            self.complain(line, ComplaintKind::Scaled { channels, by });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Scale, behind_name, stated};

    #[test]
    fn scales_as_files_state_them() {
        for text in ["x0.1", "(×0,1)", "*0.1", "1/10", "/10", "0,1", "[0.1]"] {
            assert_eq!(stated(text), Some(Scale::By(0.1)), "{text}");
        }
        assert_eq!(stated("x10"), Some(Scale::Either(10.0)));
        for text in ["TC1", "x", "x1", "10", "0", "1200", "1/2/3"] {
            assert_eq!(stated(text), None, "{text}");
        }
        assert_eq!(behind_name("TC1 (x0.1)"), Some(("TC1", Scale::By(0.1))));
        for text in ["X2", "x10", "*2", "1/2", "(x2)", "TC1 (C)", "TC1 x10"] {
            assert_eq!(behind_name(text), None, "{text}");
        }
    }
}
