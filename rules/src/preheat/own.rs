//! What owner and procedure set themselves.

use quantity::Status;

use super::outcome::{Method, Outcome, Standing};
use crate::requirement::{Clause, Level};
use crate::weld::{OwnLimits, Purpose, Weld};
use crate::wording::level_words;

/// The own preheats; only of a job whose purpose it is, for else the limits are those of another heat.
pub(crate) fn methods(weld: &Weld) -> Vec<Method> {
    if weld.purpose != Purpose::Preheat {
        return Vec::new();
    }
    let own = [
        (Level::Owner, &weld.owner),
        (Level::Procedure, &weld.procedure),
    ];
    own.into_iter()
        .filter_map(|(level, limits)| of_level(level, limits))
        .collect()
}

fn of_level(level: Level, limits: &OwnLimits) -> Option<Method> {
    let temperature = limits.hold_min?;
    Some(Method {
        name: level_words(level).to_string(),
        who: "the weld".into(),
        standing: Standing::Binding,
        outcome: Outcome::AtLeast {
            temperature,
            worked_c: temperature.c(),
        },
        range: String::new(),
        working: "as it is set".into(),
        warnings: Vec::new(),
        clause: Clause {
            document: limits
                .document
                .clone()
                .unwrap_or_else(|| level_words(level).to_string()),
            clause: "hold_min".into(),
            status: Status::UserGiven,
            note: None,
        },
    })
}
