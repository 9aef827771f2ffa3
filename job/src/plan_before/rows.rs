//! The numbers of a plan by which it is compared, and which way each is better.

use quantity::{Celsius, Hours, Kelvins, Units};

use super::file::{Course, File, Finding, Verdicts};
use crate::wording::{difference, temperature};

/// A number of a plan.
pub(super) struct Row {
    pub what: String,
    pub words: String,
    value: f64,
    good: Good,
}

/// Which way is better.
#[derive(Clone, Copy, PartialEq)]
enum Good {
    More,
    Less,
    Neither,
}

impl Row {
    fn new(what: impl Into<String>, words: String, value: f64, good: Good) -> Row {
        Row {
            what: what.into(),
            words,
            value,
            good,
        }
    }

    pub(super) fn better_than(&self, other: &Row) -> Option<bool> {
        let more = self.value > other.value;
        match self.good {
            Good::Neither => None,
            _ if self.value == other.value => None,
            Good::More => Some(more),
            Good::Less => Some(!more),
        }
    }
}

/// All of them, in the order in which they are told.
pub(super) fn rows(file: &File, units: Units) -> Vec<Row> {
    let turns = file.wrap.coil.turns.len();
    let mut rows = Vec::from(judged(&file.verdicts));
    rows.extend(temperatures(&file.course, units));
    rows.extend(hold_time(&file.verdicts.findings));
    rows.push(Row::new(
        "turns",
        turns.to_string(),
        turns as f64,
        Good::Neither,
    ));
    rows.extend(effort(&file.course));
    rows.extend(neighbors(&file.course, units));
    rows
}

fn judged(verdicts: &Verdicts) -> [Row; 2] {
    let findings = &verdicts.findings;
    let met = findings.iter().filter(|one| one.verdict == "met").count();
    let open = verdicts.foreseen.iter().filter(|one| one.verdict != "met");
    let (of, open) = (findings.len(), open.count());
    [
        Row::new(
            "limits met",
            format!("{met} of {of}"),
            met as f64 - of as f64,
            Good::More,
        ),
        Row::new("needs a look", open.to_string(), open as f64, Good::Less),
    ]
}

fn temperatures(course: &Course, units: Units) -> [Row; 6] {
    let at =
        |what: &str, c: f64, good| Row::new(what, temperature(Celsius::from_c(c), units), c, good);
    let between = |what: &str, k: f64| {
        let words = difference(Kelvins::from_k(k), units);
        Row::new(what, words, k.abs(), Good::Less)
    };
    let inside_h = course.soak_band_inside_h;
    [
        at(
            "coldest in the hold",
            course.soak_band_coldest.temperature_c,
            Good::More,
        ),
        at(
            "hottest in the hold",
            course.soak_band_hottest.temperature_c,
            Good::Less,
        ),
        at(
            "hottest beyond the soak band",
            course.beyond_soak_band_hottest.temperature_c,
            Good::Less,
        ),
        between(
            "outside less bore, heating",
            course.surface_to_bore_heating_k,
        ),
        between("outside less bore, hold", course.surface_to_bore_hold_k),
        Row::new(
            "all inside for",
            Hours::from_h(inside_h).words(),
            inside_h,
            Good::More,
        ),
    ]
}

/// A hold is the better for being longer only as far as it is asked for.
fn hold_time(findings: &[Finding]) -> Option<Row> {
    let of_hold = findings.iter().find(|one| one.limit.kind == "hold_time")?;
    let predicted_h = of_hold.predicted.as_ref()?.number;
    let counts_h = predicted_h.min(of_hold.limit.value.number);
    let words = Hours::from_h(predicted_h).words();
    Some(Row::new("hold time predicted", words, counts_h, Good::More))
}

fn effort(course: &Course) -> [Row; 5] {
    let end_h = course.stages.last().map_or(0.0, |stage| stage.to_h);
    let kwh = course.energy.source_kwh;
    let (kw, a, v) = (
        course.largest_power_kw,
        course.largest_current_a,
        course.largest_voltage_v,
    );
    [
        Row::new(
            "whole cycle",
            Hours::from_h(end_h).words(),
            end_h,
            Good::Less,
        ),
        Row::new("energy", format!("{kwh:.0} kWh"), kwh, Good::Less),
        Row::new("most power", format!("{kw:.1} kW"), kw, Good::Less),
        Row::new("most current", format!("{a:.0} A"), a, Good::Less),
        Row::new("most voltage", format!("{v:.0} V"), v, Good::Less),
    ]
}

fn neighbors(course: &Course, units: Units) -> impl Iterator<Item = Row> {
    course.neighbors.iter().map(move |one| {
        let words = temperature(Celsius::from_c(one.highest_c), units);
        Row::new(
            format!("hottest of {}", one.name),
            words,
            one.highest_c,
            Good::Less,
        )
    })
}
