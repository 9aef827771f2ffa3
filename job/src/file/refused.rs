//! What the rules refuse, told at the line that caused it.

use rules::requirement::Level;
use rules::{RuleError, RuleFault};

use crate::toml_reader::Value;

use super::places::Places;

/// The key of each quantity in which an own limit may be weaker than what stands above it.
const OWN_KEYS: &[(&str, &str)] = &[
    ("lower end of the hold", "hold_min"),
    ("upper end of the hold", "hold_max"),
    ("hold time", "hold_time"),
    ("heating rate", "heating_rate"),
    (
        "temperature above which the heating rate holds",
        "rate_threshold",
    ),
    ("cooling rate", "cooling_rate"),
    (
        "temperature above which the cooling rate holds",
        "rate_threshold",
    ),
    ("spread during the hold", "spread"),
];

/// Notes every fault of the rules.
pub(crate) fn note(refused: &RuleError, places: &Places<'_, '_>) {
    refused
        .faults
        .iter()
        .for_each(|fault| note_one(fault, places));
}

fn note_one(fault: &RuleFault, places: &Places<'_, '_>) {
    let words = fault.to_string();
    let (said, hint) = words
        .split_once("; hint: ")
        .map_or((words.as_str(), None), |(s, h)| (s, Some(h.to_owned())));
    let at = Spot { places, said, hint };
    let side = |side: &usize| places.sides.get(side.wrapping_sub(1));
    match fault {
        RuleFault::UnknownCode { asked, known } => {
            at.value(places.code.as_ref(), quoted(asked), known)
        }
        RuleFault::UnknownEdition { code, asked, known } => {
            at.value(
                places.edition.as_ref(),
                format!("edition {asked:?} of {code}"),
                known,
            );
        }
        RuleFault::UnknownPNumber {
            side: s,
            asked,
            known,
            document,
            ..
        } => {
            let p_number = side(s).and_then(|s| s.p_number.as_ref());
            at.value(p_number, asked.clone(), &format!("{known} in {document}"));
        }
        RuleFault::OnlyUnsure { side: s, .. } => {
            at.whole(side(s).and_then(|s| s.p_number.as_ref()))
        }
        RuleFault::ThicknessOutOfRange {
            side: s,
            asked,
            known,
            ..
        } => {
            at.value(side(s).and_then(|s| s.wall.as_ref()), asked.clone(), known);
        }
        // The reader has told every measure that cannot be, in its own words.
        RuleFault::BadMeasure { .. } => {}
        RuleFault::ProcedureBelowCode {
            level,
            quantity,
            own,
            limit,
            unit,
            document,
            clause,
            ..
        } => {
            let found = format!("{quantity} {own} {unit}");
            let allowed = format!("{limit} {unit} or stricter ({document}, {clause})");
            at.value(own_place(*level, quantity, places), found, &allowed);
        }
        RuleFault::EmptyRange { .. } => at.whole(any_hold_limit(places)),
        RuleFault::BadLimit {
            quantity,
            value,
            unit,
            ..
        } => {
            let own = places
                .own
                .iter()
                .find(|((_, key), _)| key == quantity)
                .map(|(_, value)| value);
            at.value(
                own,
                format!("{quantity} {value} {unit}"),
                "a positive number",
            );
        }
        RuleFault::Table { .. }
        | RuleFault::NoBand { .. }
        | RuleFault::UnknownRow { .. }
        | RuleFault::NotConfirmable { .. } => at.whole(None),
    }
}

/// A fault on its way to its place.
struct Spot<'p> {
    places: &'p Places<'p, 'p>,
    said: &'p str,
    hint: Option<String>,
}

impl Spot<'_> {
    fn value(self, value: Option<&Value<'_>>, found: String, allowed: &str) {
        match value {
            Some(value) => value.fault(found, allowed, self.hint),
            None => self.places.root.note(found, allowed.to_owned(), self.hint),
        }
    }

    /// Where one sentence says all.
    fn whole(self, value: Option<&Value<'_>>) {
        let said = self.said.to_owned();
        self.value(value, said, "a weld for which the rules have rows");
    }
}

fn quoted(text: &str) -> String {
    format!("{text:?}")
}

fn own_place<'p, 'a>(
    level: Level,
    quantity: &str,
    places: &'p Places<'_, 'a>,
) -> Option<&'p Value<'a>> {
    let key = OWN_KEYS.iter().find(|(words, _)| *words == quantity)?.1;
    places.own.get(&(level, key))
}

fn any_hold_limit<'p, 'a>(places: &'p Places<'_, 'a>) -> Option<&'p Value<'a>> {
    let hold = |key: &&(Level, &'static str)| matches!(key.1, "hold_min" | "hold_max");
    let key = places.own.keys().find(hold)?;
    places.own.get(key)
}
