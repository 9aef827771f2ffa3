//! `[answers]`: what only a person can answer.

use quantity::Celsius;
use rules::answers::{Answers, Question};

use crate::toml_reader::Table;

use super::measure::temperature;

/// Preheats in °C that anybody applies.
const PREHEAT_C: (f64, f64) = (0.0, 500.0);

pub(crate) fn read(root: &Table<'_>) -> Answers {
    let Some(table) = root.get("answers").and_then(|v| v.table()) else {
        return Answers::default();
    };
    let preheat = temperature!("preheat_applied")
        .get(&table)
        .and_then(|r| r.within(PREHEAT_C.0, PREHEAT_C.1));
    let answer = |question: &Question| {
        let said = table.get(question.key())?.boolean()?;
        Some((*question, said))
    };
    let said = Question::ALL.iter().filter_map(answer).collect();
    table.finish();
    Answers {
        said,
        preheat_applied: preheat.map(|r| Celsius::from_c(r.value)),
    }
}
