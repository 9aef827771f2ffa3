//! A plan beside the one that lay in its folder: what was changed, what became better and what worse.

mod file;
mod rows;
mod wrap;

use std::fs;
use std::path::Path;

use quantity::Units;

use crate::folder::NewFile;
use crate::plan_json::FORMAT;
use file::File;
use rows::{Row, rows};

/// The plan as data, beside which the one before is kept.
const PLAN: &str = "plan.json";

/// The one before it.
pub const PLAN_BEFORE: &str = "plan-before.json";

/// One number that changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// What it is.
    pub what: String,
    /// What the plan before said.
    pub was: String,
    /// What this one says.
    pub is: String,
    /// Whether that is better; `None` where neither is.
    pub better: Option<bool>,
}

/// A plan against the one before; both lists are empty where nothing changed to the digits that are told.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AgainstBefore {
    /// What was changed in wrap and programme, each in words.
    pub wrap: Vec<String>,
    /// The numbers that differ.
    pub changed: Vec<Changed>,
}

impl AgainstBefore {
    /// Whether the plan before said the same.
    pub fn is_same(&self) -> bool {
        self.wrap.is_empty() && self.changed.is_empty()
    }
}

/// What changed from one `plan.json` to the next, with words in these units. `None` where the one before is of another
/// format or of another weld.
pub fn against_before(before: &[u8], now: &[u8], units: Units) -> Option<AgainstBefore> {
    let read = |bytes: &[u8]| serde_json::from_slice::<File>(bytes).ok();
    let (before, now) = (read(before)?, read(now)?);
    if before.format != FORMAT || now.format != FORMAT || before.job.weld != now.job.weld {
        return None;
    }
    let were = rows(&before, units);
    let changed = rows(&now, units).into_iter().filter_map(|is| {
        let was = were.iter().find(|was| was.what == is.what)?;
        (was.words != is.words).then(|| told(was, is))
    });
    Some(AgainstBefore {
        changed: changed.collect(),
        wrap: wrap::changes(&before.wrap, &now.wrap, units),
    })
}

fn told(was: &Row, is: Row) -> Changed {
    Changed {
        better: is.better_than(was),
        was: was.words.clone(),
        what: is.what,
        is: is.words,
    }
}

/// The files of a new plan together with the plan that lies in the folder, where there is one: written at once, each
/// plan keeps the one before beside it.
pub fn with_the_one_before(folder: &Path, mut files: Vec<NewFile>) -> Vec<NewFile> {
    if let Ok(bytes) = fs::read(folder.join(PLAN)) {
        files.push(NewFile {
            name: PLAN_BEFORE.to_owned(),
            bytes,
        });
    }
    files
}

/// The plan in a folder against the one before, which is kept there; `None` where one of them is missing or cannot be
/// compared.
pub fn in_folder(folder: &Path, units: Units) -> Option<AgainstBefore> {
    let read = |name: &str| fs::read(folder.join(name)).ok();
    against_before(&read(PLAN_BEFORE)?, &read(PLAN)?, units)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn plan(weld: &str, met: bool, coldest_c: f64) -> Value {
        let verdict = if met { "met" } else { "not_met" };
        let turn = |mm: f64| json!({ "axial_mm": mm, "standoff_mm": 50.0 });
        json!({
            "format": FORMAT,
            "job": { "weld": weld },
            "verdicts": { "findings": [{ "verdict": verdict, "limit": { "kind": "hold_time", "value": { "number": 1.0 } }, "predicted": { "number": 1.1 } }], "foreseen": [] },
            "wrap": {
                "coil": { "cable": "cable", "cable_diameter_mm": 25.0, "lead_length_mm": 5000.0, "turns": [turn(-20.0), turn(20.0)] },
                "blanket": { "material": "blanket", "thickness_mm": 50.0, "reach_mm": [300.0, 300.0] },
                "source": { "power_kw": 35.0, "current_a": 350.0, "voltage_v": 700.0, "frequency_hz": 9000.0 },
                "programme": { "threshold_c": 315.0, "free_heating_rate_k_h": 300.0, "heating_rate_k_h": 200.0, "set_point_c": 620.0,
                    "hold_range_c": [595.0, 650.0], "hold_time_h": 1.0, "cooling_rate_k_h": 200.0, "controlled_down_to_c": 315.0 },
            },
            "course": {
                "stages": [{ "to_h": 4.0 }], "energy": { "source_kwh": 20 },
                "soak_band_coldest": { "temperature_c": coldest_c }, "soak_band_hottest": { "temperature_c": 620 },
                "beyond_soak_band_hottest": { "temperature_c": 610 }, "soak_band_inside_h": 1,
                "surface_to_bore_heating_k": 12, "surface_to_bore_hold_k": 9,
                "neighbors": [{ "name": "valve", "highest_c": 80 }],
                "largest_power_kw": 10, "largest_current_a": 100, "largest_voltage_v": 300,
            },
        })
    }

    fn against(before: &Value, now: &Value, units: Units) -> Option<AgainstBefore> {
        against_before(
            before.to_string().as_bytes(),
            now.to_string().as_bytes(),
            units,
        )
    }

    #[test]
    fn what_became_better_and_what_worse_is_told() {
        let (worse, better) = (plan("W", false, 590.0), plan("W", true, 600.0));
        let all = against(&worse, &better, Units::Us).expect("of one weld");
        let told: Vec<_> = all
            .changed
            .iter()
            .map(|one| (one.what.as_str(), one.is.as_str(), one.better))
            .collect();
        assert_eq!(
            told,
            [
                ("limits met", "1 of 1", Some(true)),
                ("coldest in the hold", "1112 °F", Some(true))
            ]
        );
        let back = against(&better, &worse, Units::Si).expect("of one weld");
        assert!(back.changed.iter().all(|one| one.better == Some(false)));
        assert!(
            against(&better, &better, Units::Si)
                .expect("of one weld")
                .is_same()
        );
    }

    #[test]
    fn every_number_that_a_new_wrap_moves_is_compared() {
        let before = plan("W", true, 600.0);
        let mut now = before.clone();
        for (path, value) in [
            ("/course/beyond_soak_band_hottest/temperature_c", 660.0),
            ("/course/surface_to_bore_heating_k", 20.0),
            ("/course/surface_to_bore_hold_k", -4.0),
            ("/verdicts/findings/0/predicted/number", 0.5),
            ("/course/largest_voltage_v", 200.0),
            ("/course/neighbors/0/highest_c", 90.0),
        ] {
            *now.pointer_mut(path).expect(path) = json!(value);
        }
        let all = against(&before, &now, Units::Si).expect("of one weld");
        let told: Vec<_> = all
            .changed
            .iter()
            .map(|one| (one.what.as_str(), one.better))
            .collect();
        assert_eq!(
            told,
            [
                ("hottest beyond the soak band", Some(false)),
                ("outside less bore, heating", Some(false)),
                ("outside less bore, hold", Some(true)),
                ("hold time predicted", Some(false)),
                ("most voltage", Some(true)),
                ("hottest of valve", Some(false)),
            ]
        );
        // Longer than asked for is no better.
        *now.pointer_mut("/verdicts/findings/0/predicted/number")
            .expect("there") = json!(2.0);
        let all = against(&before, &now, Units::Si).expect("of one weld");
        let hold = all
            .changed
            .iter()
            .find(|one| one.what == "hold time predicted");
        assert_eq!(hold.expect("told").better, None);
    }

    #[test]
    fn what_was_changed_in_the_wrap_is_said_in_words() {
        let before = plan("W", true, 600.0);
        let mut now = before.clone();
        for (path, value) in [
            ("/wrap/coil/turns/0/standoff_mm", 76.2),
            ("/wrap/coil/turns/1/axial_mm", 40.0),
            ("/wrap/source/frequency_hz", 15_300.0),
            ("/wrap/programme/set_point_c", 630.0),
        ] {
            *now.pointer_mut(path).expect(path) = json!(value);
        }
        let all = against(&before, &now, Units::Si).expect("of one weld");
        assert_eq!(
            all.wrap,
            [
                "1 of 2 turns lies elsewhere",
                "standoff 50 mm to 76.2 mm, was 50 mm",
                "frequency 15.3 kHz, was 9.0 kHz",
                "set point 630 °C, was 620 °C"
            ]
        );
    }

    #[test]
    fn another_weld_or_format_is_not_compared() {
        let now = plan("W", true, 600.0);
        assert_eq!(against(&plan("V", true, 600.0), &now, Units::Si), None);
        let mut older = now.clone();
        older["format"] = json!("soakwright-plan/0");
        assert_eq!(against(&older, &now, Units::Si), None);
        assert_eq!(
            against_before(b"{", now.to_string().as_bytes(), Units::Si),
            None
        );
    }
}
