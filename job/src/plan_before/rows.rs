//! The numbers of a plan by which it is compared, and which way each is better.

use quantity::{Celsius, Hours, Kelvins, Units};

use super::Changed;
use super::file::{Course, File, Peak, Programme, Source, Verdicts};
use super::left::Left;
use super::limits::limits;
use super::number::Number;
use super::place::Place;
use crate::wording::{difference, temperature};

/// A number of a plan.
pub(super) struct Row {
    pub of: Number,
    /// What is compared: the margin where there is a limit.
    pub value: f64,
    what: String,
    words: String,
    good: Good,
    left: Option<Left>,
    place: Option<Place>,
}

/// Which way is better.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Good {
    More,
    Less,
}

impl Row {
    pub(super) fn new(
        of: Number,
        what: impl Into<String>,
        words: String,
        value: f64,
        good: Good,
    ) -> Row {
        Row {
            of,
            what: what.into(),
            words,
            value,
            good,
            left: None,
            place: None,
        }
    }

    pub(super) fn left(self, left: Left) -> Row {
        Row {
            left: Some(left),
            ..self
        }
    }

    pub(super) fn at(self, place: Place) -> Row {
        Row {
            place: Some(place),
            ..self
        }
    }

    /// What it became since the plan before; nothing where number and limit read as before.
    pub(super) fn since(&self, was: &Row) -> Option<Changed> {
        let limit = |row: &Row| row.left.as_ref().map(|left| left.of.clone());
        if was.words == self.words && limit(was) == limit(self) {
            return None;
        }
        let left = self.left.as_ref();
        let place = self.place.as_ref();
        Some(Changed {
            of: self.of.clone(),
            what: self.what.clone(),
            was: was.words.clone(),
            is: self.words.clone(),
            better: self.better_than(was),
            left: left.map(|left| left.since(was.left.as_ref())),
            place: place.map(|place| place.since(was.place.as_ref())),
            because: None,
        })
    }

    fn better_than(&self, other: &Row) -> Option<bool> {
        let more = self.value > other.value;
        match self.good {
            _ if self.value == other.value => None,
            Good::More => Some(more),
            Good::Less => Some(!more),
        }
    }
}

/// All of them, in the order in which they are told.
pub(super) fn rows(file: &File, units: Units) -> Vec<Row> {
    let (course, wrap) = (&file.course, &file.wrap);
    let mut rows = Vec::from(judged(&file.verdicts));
    rows.extend(limits(&file.verdicts.findings, units));
    rows.extend(metal(course, &wrap.programme, units));
    rows.extend(neighbors(course, units));
    rows.extend(effort(course));
    rows.extend(source(course, &wrap.source));
    rows
}

fn judged(verdicts: &Verdicts) -> [Row; 2] {
    let findings = &verdicts.findings;
    let met = findings.iter().filter(|one| one.verdict == "met").count();
    let open = verdicts.foreseen.iter().filter(|one| one.verdict != "met");
    let (of, open) = (findings.len(), open.count());
    [
        Row::new(
            Number::LimitsMet,
            "limits met",
            format!("{met} of {of}"),
            met as f64 - of as f64,
            Good::More,
        ),
        Row::new(
            Number::NeedsALook,
            "needs a look",
            open.to_string(),
            open as f64,
            Good::Less,
        ),
    ]
}

/// The metal itself, bore included.
fn metal(course: &Course, programme: &Programme, units: Units) -> [Row; 6] {
    let [low_c, high_c] = programme.hold_range_c;
    let at = |c: f64| temperature(Celsius::from_c(c), units);
    let coldest = &course.soak_band_coldest;
    let below = |of, what, peak: &Peak| {
        let c = peak.temperature_c;
        Row::new(of, what, at(c), high_c - c, Good::More)
            .left(Left::below(c, high_c, "allowed", units))
            .at(Place::of(peak, course, units))
    };
    let between = |of, what: &str, k: f64| {
        let words = difference(Kelvins::from_k(k), units);
        Row::new(of, what, words, k.abs(), Good::Less)
    };
    let (c, inside_h) = (coldest.temperature_c, course.soak_band_inside_h);
    [
        Row::new(
            Number::MetalColdest,
            "coldest in the hold",
            at(c),
            c - low_c,
            Good::More,
        )
        .left(Left::above(c, low_c, units))
        .at(Place::of_coldest(coldest, course, units)),
        below(
            Number::MetalHottest,
            "hottest in the hold",
            &course.soak_band_hottest,
        ),
        below(
            Number::BeyondHottest,
            "hottest beyond the soak band",
            &course.beyond_soak_band_hottest,
        ),
        between(
            Number::OutsideLessBoreHeating,
            "outside less bore, heating",
            course.surface_to_bore_heating_k,
        ),
        between(
            Number::OutsideLessBoreHold,
            "outside less bore, hold",
            course.surface_to_bore_hold_k,
        ),
        Row::new(
            Number::AllInside,
            "all inside for",
            Hours::from_h(inside_h).words(),
            inside_h,
            Good::More,
        )
        .left(Left::longer(inside_h, programme.hold_time_h)),
    ]
}

fn effort(course: &Course) -> [Row; 2] {
    let end_h = course.stages.last().map_or(0.0, |stage| stage.to_h);
    let kwh = course.energy.source_kwh;
    let end = Hours::from_h(end_h).words();
    [
        Row::new(Number::WholeCycle, "whole cycle", end, end_h, Good::Less),
        Row::new(
            Number::Energy,
            "energy",
            format!("{kwh:.0} kWh"),
            kwh,
            Good::Less,
        ),
    ]
}

/// The most that is asked of the source, against what it gives.
fn source(course: &Course, source: &Source) -> [Row; 3] {
    let (kw, a, v) = (
        course.largest_power_kw,
        course.largest_current_a,
        course.largest_voltage_v,
    );
    let most = |of, what, words, value: f64, rated: f64, unit| {
        Row::new(of, what, words, 1.0 - value / rated, Good::More)
            .left(Left::of_source(value, rated, unit))
    };
    let [power, current, voltage] = [
        format!("{kw:.1} kW"),
        format!("{a:.0} A"),
        format!("{v:.0} V"),
    ];
    [
        most(
            Number::Power,
            "most power",
            power,
            kw,
            source.power_kw,
            "kW",
        ),
        most(
            Number::Current,
            "most current",
            current,
            a,
            source.current_a,
            "A",
        ),
        most(
            Number::Voltage,
            "most voltage",
            voltage,
            v,
            source.voltage_v,
            "V",
        ),
    ]
}

fn neighbors(course: &Course, units: Units) -> impl Iterator<Item = Row> {
    course.neighbors.iter().map(move |one| {
        let c = one.highest_c;
        let row = Row::new(
            Number::Neighbor(one.name.clone()),
            format!("hottest of {}", one.name),
            temperature(Celsius::from_c(c), units),
            c,
            Good::Less,
        );
        match one.limit_c {
            Some(limit_c) => row.left(Left::below(c, limit_c, "that it bears", units)),
            None => row,
        }
    })
}
