//! A plan beside the one that lay in its folder: what became better and what worse.

use quantity::{Hours, Units};
use serde::Deserialize;

use crate::plan_json::FORMAT;

/// One number that changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// What it is.
    pub what: &'static str,
    /// What the plan before said.
    pub was: String,
    /// What this one says.
    pub is: String,
    /// Whether that is better; `None` where neither is.
    pub better: Option<bool>,
}

/// What changed from one `plan.json` to the next, with words in these units; empty where nothing did to the digits that
/// are told. `None` where the one before is of another format or of another weld.
pub fn changed(before: &[u8], now: &[u8], units: Units) -> Option<Vec<Changed>> {
    let read = |bytes: &[u8]| serde_json::from_slice::<File>(bytes).ok();
    let (before, now) = (read(before)?, read(now)?);
    if before.format != FORMAT || now.format != FORMAT || before.job.weld != now.job.weld {
        return None;
    }
    let rows = before.rows(units).into_iter().zip(now.rows(units));
    let changed = rows.filter(|(was, is)| was.words != is.words);
    Some(
        changed
            .map(|(was, is)| Changed {
                what: is.what,
                better: is.better_than(&was),
                was: was.words,
                is: is.words,
            })
            .collect(),
    )
}

/// A number of a plan.
struct Row {
    what: &'static str,
    words: String,
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
    fn better_than(&self, other: &Row) -> Option<bool> {
        let more = self.value > other.value;
        match self.good {
            Good::Neither => None,
            _ if self.value == other.value => None,
            Good::More => Some(more),
            Good::Less => Some(!more),
        }
    }
}

/// What is read of the file.
#[derive(Deserialize)]
struct File {
    format: String,
    job: Job,
    verdicts: Verdicts,
    wrap: Wrap,
    course: Course,
}

#[derive(Deserialize)]
struct Job {
    weld: String,
}

#[derive(Deserialize)]
struct Verdicts {
    findings: Vec<Judged>,
    foreseen: Vec<Judged>,
}

#[derive(Deserialize)]
struct Judged {
    verdict: String,
}

#[derive(Deserialize)]
struct Wrap {
    coil: Coil,
}

#[derive(Deserialize)]
struct Coil {
    turns: Vec<serde::de::IgnoredAny>,
}

#[derive(Deserialize)]
struct Course {
    stages: Vec<Stage>,
    energy: Energy,
    soak_band_coldest: Peak,
    soak_band_hottest: Peak,
    soak_band_inside_h: f64,
    largest_power_kw: f64,
    largest_current_a: f64,
}

#[derive(Deserialize)]
struct Stage {
    to_h: f64,
}

#[derive(Deserialize)]
struct Energy {
    source_kwh: f64,
}

#[derive(Deserialize)]
struct Peak {
    temperature_c: f64,
}

impl File {
    fn rows(&self, units: Units) -> Vec<Row> {
        let course = &self.course;
        let met = |all: &[Judged]| all.iter().filter(|one| one.verdict == "met").count();
        let limits = (met(&self.verdicts.findings), self.verdicts.findings.len());
        let open = self.verdicts.foreseen.len() - met(&self.verdicts.foreseen);
        let degrees = |c: f64| {
            let (number, unit) = units.of(c, "°C");
            format!("{number:.0} {unit}")
        };
        let row = |what, words, value, good| Row {
            what,
            words,
            value,
            good,
        };
        let coldest_c = course.soak_band_coldest.temperature_c;
        let hottest_c = course.soak_band_hottest.temperature_c;
        let end_h = course.stages.last().map_or(0.0, |stage| stage.to_h);
        let turns = self.wrap.coil.turns.len();
        vec![
            row(
                "limits met",
                format!("{} of {}", limits.0, limits.1),
                limits.0 as f64 - limits.1 as f64,
                Good::More,
            ),
            row("needs a look", open.to_string(), open as f64, Good::Less),
            row(
                "coldest in the hold",
                degrees(coldest_c),
                coldest_c,
                Good::More,
            ),
            row(
                "hottest in the hold",
                degrees(hottest_c),
                hottest_c,
                Good::Less,
            ),
            row(
                "all inside for",
                Hours::from_h(course.soak_band_inside_h).words(),
                course.soak_band_inside_h,
                Good::More,
            ),
            row("turns", turns.to_string(), turns as f64, Good::Neither),
            row(
                "whole cycle",
                Hours::from_h(end_h).words(),
                end_h,
                Good::Less,
            ),
            row(
                "energy",
                format!("{:.0} kWh", course.energy.source_kwh),
                course.energy.source_kwh,
                Good::Less,
            ),
            row(
                "most power",
                format!("{:.1} kW", course.largest_power_kw),
                course.largest_power_kw,
                Good::Less,
            ),
            row(
                "most current",
                format!("{:.0} A", course.largest_current_a),
                course.largest_current_a,
                Good::Less,
            ),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan(weld: &str, met: bool, coldest_c: f64) -> Vec<u8> {
        let verdict = if met { "met" } else { "not_met" };
        format!(
            r#"{{"format":"{FORMAT}","job":{{"weld":"{weld}"}},"verdicts":{{"findings":[{{"verdict":"{verdict}"}}],"foreseen":[]}},
            "wrap":{{"coil":{{"turns":[{{}},{{}}]}}}},"course":{{"stages":[{{"to_h":4.0}}],"energy":{{"source_kwh":20}},
            "soak_band_coldest":{{"temperature_c":{coldest_c}}},"soak_band_hottest":{{"temperature_c":620}},
            "soak_band_inside_h":1,"largest_power_kw":10,"largest_current_a":100}}}}"#
        )
        .into_bytes()
    }

    #[test]
    fn what_became_better_and_what_worse_is_told() {
        let (worse, better) = (plan("W", false, 590.0), plan("W", true, 600.0));
        let all = changed(&worse, &better, Units::Us).expect("of one weld");
        let told: Vec<_> = all
            .iter()
            .map(|one| (one.what, one.is.as_str(), one.better))
            .collect();
        assert_eq!(
            told,
            [
                ("limits met", "1 of 1", Some(true)),
                ("coldest in the hold", "1112 °F", Some(true))
            ]
        );
        let back = changed(&better, &worse, Units::Si).expect("of one weld");
        assert!(back.iter().all(|one| one.better == Some(false)));
        assert_eq!(changed(&better, &better, Units::Si), Some(Vec::new()));
    }

    #[test]
    fn another_weld_or_format_is_not_compared() {
        let now = plan("W", true, 600.0);
        assert_eq!(changed(&plan("V", true, 600.0), &now, Units::Si), None);
        let older = String::from_utf8(now.clone()).expect("text");
        let older = older.replace(FORMAT, "soakwright-plan/0");
        assert_eq!(changed(older.as_bytes(), &now, Units::Si), None);
        assert_eq!(changed(b"{", &now, Units::Si), None);
    }
}
