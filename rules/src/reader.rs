//! Reading the open pages for both sides and taking what governs.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Millimeters, Units};

use crate::answers::Question;
use crate::book::{Book, Page};
use crate::fault::RuleError;
use crate::lower_hold;
use crate::pick::{Case, Picked, strictest};
use crate::requirement::{Limit, LimitKind, Remark};
use crate::row::{Row, Value};
use crate::sought::{
    COOLING_RATE, HEATING_RATE, HEATING_SPREAD, HOLD_MAX, HOLD_MIN, HOLD_SPREAD, HOLD_TIME, Sought,
};
use crate::weld::Weld;
use crate::when::Fit;
use crate::wording::short;
use crate::{own, range, refuse};

/// What the two sides give, each read alone.
pub(crate) type Sides<'a> = [Option<Picked<'a>>; 2];

/// A weld, the open pages, and the two thicknesses at which they are read.
pub(crate) struct Reader<'a> {
    pub weld: &'a Weld,
    pub book: &'a Book<'a>,
    pub thickness_mm: f64,
    pub rate_thickness_mm: f64,
}

impl<'a> Reader<'a> {
    /// Every limit that the pages give.
    ///
    /// # Errors
    /// The first page has no row for a metal, and neither owner nor procedure gives a hold of its own.
    pub(crate) fn limits(&self, remarks: &mut Vec<Remark>) -> Result<Vec<Limit>, RuleError> {
        let mins = self.both(HOLD_MIN, self.thickness_mm, remarks);
        if !own::gives_hold(self.weld) {
            refuse::unknown_metals(self.weld, self.book.first(), self.thickness_mm, &mins)?;
        }
        let maxes = self.both(HOLD_MAX, self.thickness_mm, remarks);
        remarks.extend(range::of_two_metals(self.weld, &mins, &maxes));
        let times = self.both(HOLD_TIME, self.thickness_mm, remarks);
        for remark in times
            .iter()
            .flatten()
            .filter_map(|time| other_reading(time, self.thickness_mm))
        {
            push_once(remarks, remark);
        }
        let units = self.weld.units;
        let mut limits = Vec::new();
        limits.extend(limit(&mins, (HOLD_MIN, units), |value, _| {
            LimitKind::HoldMin(Celsius::from_c(value))
        }));
        limits.extend(hold_max(maxes, governing_side(&mins), units));
        limits.extend(limit(&times, (HOLD_TIME, units), |value, _| {
            LimitKind::HoldTime(Hours::from_min(value))
        }));
        limits.extend(self.rates(remarks));
        limits.extend(self.spreads(remarks));
        self.questions(remarks);
        Ok(limits)
    }

    fn rates(&self, remarks: &mut Vec<Remark>) -> Vec<Limit> {
        let units = self.weld.units;
        let heating = self.both(HEATING_RATE, self.rate_thickness_mm, remarks);
        let cooling = self.both(COOLING_RATE, self.rate_thickness_mm, remarks);
        let heating = limit(&heating, (HEATING_RATE, units), |value, row| {
            LimitKind::HeatingRate {
                above: threshold(row),
                rate: KelvinsPerHour::from_k_h(value),
            }
        });
        let cooling = limit(&cooling, (COOLING_RATE, units), |value, row| {
            LimitKind::CoolingRate {
                above: threshold(row),
                rate: KelvinsPerHour::from_k_h(value),
            }
        });
        heating.into_iter().chain(cooling).collect()
    }

    fn spreads(&self, remarks: &mut Vec<Remark>) -> Vec<Limit> {
        let units = self.weld.units;
        let hold = self.both(HOLD_SPREAD, self.thickness_mm, remarks);
        let heating = self.both(HEATING_SPREAD, self.thickness_mm, remarks);
        let hold = limit(&hold, (HOLD_SPREAD, units), |value, _| {
            LimitKind::HoldSpread(Kelvins::from_k(value))
        });
        let heating = limit(&heating, (HEATING_SPREAD, units), |value, row| {
            LimitKind::HeatingSpread {
                spread: Kelvins::from_k(value),
                within: spread_length(row),
            }
        });
        hold.into_iter().chain(heating).collect()
    }

    /// Both sides, each read alone, from the first page that is not silent.
    fn both(&self, sought: Sought, thickness_mm: f64, remarks: &mut Vec<Remark>) -> Sides<'a> {
        for page in &self.book.pages {
            let found = [0, 1]
                .map(|index| strictest(&self.case(*page, index, thickness_mm), sought, remarks));
            if found.iter().any(Option::is_some) {
                return found;
            }
        }
        [None, None]
    }

    fn case(&self, page: Page<'a>, index: usize, thickness_mm: f64) -> Case<'a> {
        Case {
            page,
            purpose: self.weld.purpose,
            side: &self.weld.sides[index],
            who: self.weld.who(index),
            thickness_mm,
            units: self.weld.units,
        }
    }

    /// What the rows have to tell and to ask.
    fn questions(&self, remarks: &mut Vec<Remark>) {
        for page in &self.book.pages {
            for row in page.rows(self.weld.purpose) {
                let holds = |side| row.when.fit(side, self.thickness_mm) != Fit::No;
                if let Some(text) =
                    words(row, self.weld).filter(|_| self.weld.sides.iter().any(holds))
                {
                    let clause = Some(row.clause_in(page.table, page.edition));
                    push_once(remarks, Remark { text, clause });
                }
            }
        }
        remarks.extend(lower_hold::told(self.weld, self.book, self.thickness_mm));
    }
}

fn words(row: &Row, weld: &Weld) -> Option<String> {
    match &row.value {
        Value::Question(text) => Some(match row.answered_by {
            None => text.clone(),
            Some(question) => match weld.answers.to(question) {
                None => format!("{text} (answers.{})", question.key()),
                Some(false) if question == Question::TransformedBefore => {
                    format!("warning: {text} Answered: no.")
                }
                Some(answer) => {
                    let word = if answer { "yes" } else { "no" };
                    format!("{text} Answered: {word}.")
                }
            },
        }),
        Value::Hardness(limit) => Some(format!(
            "hardness after the treatment at most {} HB",
            short(*limit)
        )),
        _ => None,
    }
}

/// The limit of the side that asks more.
fn limit(
    sides: &Sides<'_>,
    (sought, units): (Sought, Units),
    kind: impl Fn(f64, &Row) -> LimitKind,
) -> Option<Limit> {
    let (kept, other) = match sides {
        [Some(first), Some(second)] if sought.stricter.is(second.value, first.value) => {
            (second, Some(first))
        }
        [Some(first), second] => (first, second.as_ref()),
        [None, second] => (second.as_ref()?, None),
    };
    Some(Limit {
        kind: kind(kept.value, kept.row),
        level: kept.level,
        clause: kept.clause.clone(),
        reason: reason(kept, other, sought, units),
    })
}

/// The upper end belongs to the side whose lower end governs; with equal lower ends the lower upper end holds.
fn hold_max([first, second]: Sides<'_>, governing: Option<usize>, units: Units) -> Option<Limit> {
    let kept = match governing {
        Some(0) => [first, None],
        Some(_) => [None, second],
        None => [first, second],
    };
    limit(&kept, (HOLD_MAX, units), |value, _| {
        LimitKind::HoldMax(Celsius::from_c(value))
    })
}

/// The index of the side whose lower end is the higher one; none if they are equal or one is missing.
fn governing_side(mins: &Sides<'_>) -> Option<usize> {
    match mins {
        [Some(first), Some(second)] if first.value > second.value => Some(0),
        [Some(first), Some(second)] if second.value > first.value => Some(1),
        _ => None,
    }
}

fn reason(kept: &Picked<'_>, other: Option<&Picked<'_>>, sought: Sought, units: Units) -> String {
    let words = kept.row.value.words(units);
    match other {
        Some(other) if other.value != kept.value => format!(
            "{} ({}): {words}; {} ({}) alone: {}; the stricter governs",
            kept.who,
            kept.metal,
            other.who,
            other.metal,
            sought.measure.words(other.value, units)
        ),
        Some(other) if other.metal != kept.metal => {
            format!("both sides ({} and {}): {words}", kept.metal, other.metal)
        }
        Some(_) => format!("both sides ({}): {words}", kept.metal),
        None => format!("{} ({}): {words}", kept.who, kept.metal),
    }
}

/// The other reading of a thickness that lies between two steps, so that nobody has to guess which was taken.
fn other_reading(picked: &Picked<'_>, thickness_mm: f64) -> Option<Remark> {
    let Value::HoldTime(hold) = &picked.row.value else {
        return None;
    };
    let other = hold.minutes_by_other_reading(thickness_mm)?;
    let (read, else_read) = match hold.whole_steps {
        true => ("with each step begun counted whole", "in proportion"),
        false => ("in proportion", "with each step begun counted whole"),
    };
    (other != picked.value).then(|| Remark {
        text: format!(
            "{}: hold time read {read}, {} min; {else_read} it would be {} min",
            picked.who,
            short(picked.value),
            short(other)
        ),
        clause: Some(picked.clause.clone()),
    })
}

fn threshold(row: &Row) -> Celsius {
    match &row.value {
        Value::HeatingRate(rate) | Value::CoolingRate(rate) => Celsius::from_c(rate.above_c),
        _ => Celsius::from_c(0.0),
    }
}

fn spread_length(row: &Row) -> Millimeters {
    match &row.value {
        Value::HeatingSpread { within_mm, .. } => Millimeters::from_mm(*within_mm),
        _ => Millimeters::from_mm(0.0),
    }
}

/// Adds a remark that is not there yet.
pub(crate) fn push_once(remarks: &mut Vec<Remark>, remark: Remark) {
    if !remarks.iter().any(|known| known.text == remark.text) {
        remarks.push(remark);
    }
}
