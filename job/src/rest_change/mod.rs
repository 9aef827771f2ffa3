//! A quick answer beside the one before: what was done, which numbers it moved and which way, and what made each of them
//! move. Nothing is said to follow from a change that the numbers do not show.

mod circuit;
mod done;
mod facts;
mod heat;
mod spread;
mod told_once;
mod ways;

use quantity::Units;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use cycle::at_rest::AtRest;

use crate::plan::Prepared;
use crate::rest_numbers::{Measure, RestNumber, Shown, numbers};
use facts::Facts;

pub(crate) use told_once::ToldOnce;

/// A quick answer as it is kept, to be compared with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Kept {
    /// Its numbers.
    pub numbers: Vec<RestNumber>,
    /// What tells why another answer differs.
    facts: Facts,
}

/// A temperature that moved by no more than this moved slightly, in K: our choice, less than a thermocouple tells.
const SLIGHT_K: f64 = 1.2;

/// A reach of the turns that moved by no more than this moved slightly, in mm: our choice, less than a width of cable.
const SLIGHT_MM: f64 = 10.0;

/// Power, current or voltage that moved by less than this part moved slightly: our choice.
const SLIGHT_PART: f64 = 0.01;

/// One number against the same one before.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Moved {
    /// By how much, in the digits that are told, with its unit; `None` where it reads as before.
    pub by: Option<String>,
    /// Whether that is better; `None` where neither way is.
    pub better: Option<bool>,
    /// Whether it moved by so little that nothing follows from it.
    pub is_slight: bool,
    /// Where it was, where it is told of a place and that is another now.
    pub before_at: Option<String>,
    /// What made it move.
    pub because: Option<String>,
}

/// A quick answer against the one before.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct RestChange {
    /// What was done, each in a sentence.
    pub done: Vec<String>,
    /// Of each number, in the order of the numbers.
    pub numbers: Vec<Moved>,
}

impl Kept {
    /// Of an answer, in the words of these units.
    pub fn of(units: Units, prepared: &Prepared, at_rest: &AtRest) -> Kept {
        Kept {
            numbers: numbers(units, prepared, at_rest),
            facts: Facts::of(prepared, at_rest, &Shown(units)),
        }
    }
}

/// What changed from one answer to the next, and why.
pub fn change(before: &Kept, now: &Kept, units: Units) -> RestChange {
    RestChange {
        done: done::done(&before.facts, &now.facts, &Shown(units)),
        numbers: each_reason_once(&now.numbers, moved(before, now, units)),
    }
}

/// Of each number how it moved, in the order of the numbers, each with its whole reason.
pub(crate) fn moved(before: &Kept, now: &Kept, units: Units) -> Vec<Moved> {
    let shown = &Shown(units);
    let both = Both { before, now, shown };
    now.numbers.iter().map(|is| both.moved(is)).collect()
}

fn each_reason_once(numbers: &[RestNumber], mut moved: Vec<Moved>) -> Vec<Moved> {
    let mut told = ToldOnce::default();
    for (number, one) in numbers.iter().zip(&mut moved) {
        let because = one.because.take();
        one.because = because.map(|because| told.once(&because, &number.short));
    }
    moved
}

struct Both<'a> {
    before: &'a Kept,
    now: &'a Kept,
    shown: &'a Shown,
}

impl Both<'_> {
    fn moved(&self, is: &RestNumber) -> Moved {
        let before = self.before.numbers.iter().find(|was| was.of == is.of);
        let Some(was) = before.filter(|was| was.unit == is.unit) else {
            return Moved::default();
        };
        let by = told(is) - told(was);
        let amount = format!("{:.*}", is.digits, by.abs());
        if amount == format!("{:.*}", is.digits, 0.0) {
            return Moved::default();
        }
        let sign = if by > 0.0 { "+" } else { "−" };
        Moved {
            by: Some(format!("{sign}{amount} {}", is.unit)),
            better: is
                .merit
                .zip(was.merit)
                .filter(|(is, was)| is != was)
                .map(|(is, was)| is > was),
            is_slight: self.is_slight(is, was, by),
            before_at: self.before_at(is.of),
            because: self.because(is.of, by),
        }
    }

    fn is_slight(&self, is: &RestNumber, was: &RestNumber, by: f64) -> bool {
        match is.of {
            Measure::HeatedReach => by.abs() <= self.shown.0.of(SLIGHT_MM, "mm").0,
            Measure::MetalPower
            | Measure::Lost
            | Measure::SourcePower
            | Measure::Current
            | Measure::Voltage => by.abs() < SLIGHT_PART * told(was).abs(),
            _ => by.abs() <= self.shown.difference(SLIGHT_K).0,
        }
    }

    /// Where a temperature was read before, where that is elsewhere now.
    fn before_at(&self, of: Measure) -> Option<String> {
        let place = |facts: &Facts| match of {
            Measure::SoakColdest => Some(facts.coldest.clone()),
            Measure::SoakHottest => Some(facts.hottest.clone()),
            Measure::BeyondHottest => Some(facts.beyond.clone()),
            Measure::OutsideLessBore => Some(facts.outside_less_bore.clone()),
            _ => None,
        };
        let (was, is) = (place(&self.before.facts)?, place(&self.now.facts)?);
        (was.words != is.words).then_some(was.words)
    }

    fn because(&self, of: Measure, by: f64) -> Option<String> {
        let facts = [&self.before.facts, &self.now.facts];
        let ([before, now], shown) = (facts, self.shown);
        match of {
            Measure::SoakColdest => Some(heat::coldest(facts, by, shown)),
            Measure::SoakHottest => Some(heat::hottest(
                facts.map(|facts| &facts.hottest),
                facts,
                by,
                shown,
            )),
            Measure::BeyondHottest => Some(heat::hottest(
                facts.map(|facts| &facts.beyond),
                facts,
                by,
                shown,
            )),
            Measure::OutsideLessBore => heat::outside_less_bore(facts, by, shown),
            Measure::HeatedReach => Some(spread::reach(before, now, shown)),
            Measure::HottestLessColdest => self.apart(),
            Measure::MetalPower => Some(spread::metal(before, now, shown)),
            Measure::Lost => circuit::lost(before, now),
            Measure::SourcePower => circuit::source(before, now),
            Measure::Current => circuit::current(before, now),
            Measure::Voltage => circuit::voltage(before, now),
        }
    }

    /// Hottest and coldest, as they are told.
    fn apart(&self) -> Option<String> {
        let by = |of: Measure| {
            let find = |kept: &Kept| kept.numbers.iter().find(|one| one.of == of).cloned();
            let (was, is) = (find(self.before)?, find(self.now)?);
            let by = told(&is) - told(&was);
            Some(match by {
                0.0 => "reads as before".to_owned(),
                more if more > 0.0 => {
                    format!("is {more:.0} {} higher", self.shown.difference(0.0).1)
                }
                less => format!("is {:.0} {} lower", -less, self.shown.difference(0.0).1),
            })
        };
        Some(format!(
            "the hottest {}, the coldest {}",
            by(Measure::SoakHottest)?,
            by(Measure::SoakColdest)?
        ))
    }
}

/// A number as it is told.
fn told(number: &RestNumber) -> f64 {
    let tens = 10_f64.powi(number.digits as i32);
    (number.value * tens).round() / tens
}
