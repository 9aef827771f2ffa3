//! What is known of the welding: what the rules of preheat and bake-out ask.

use quantity::{Celsius, Millimeters};
use rules::welding::{JointKind, Restraint, StructuralCategory, Welding};

use crate::toml_reader::Table;

use super::measure::{heat_input, hydrogen, length, stress, temperature};
use super::sides::contents;

/// The words of `joint`.
pub(crate) const JOINTS: &[&str] = &["butt", "fillet", "twin_fillet"];

/// The words of `restraint`.
pub(crate) const RESTRAINTS: &[&str] = &["low", "medium", "high"];

/// The words of `structural_category`.
pub(crate) const CATEGORIES: &[&str] = &["A", "B", "C", "D"];

/// Heat inputs in kJ/mm from the smallest root run to electroslag welding.
const HEAT_INPUT_KJ_MM: (f64, f64) = (0.05, 50.0);

/// Diffusible hydrogen in ml/100 g from the driest to rutile and cellulosic electrodes.
const HYDROGEN_ML_100G: (f64, f64) = (0.1, 100.0);

/// Combined thicknesses in mm: twice to four times the walls that the model is meant for.
const COMBINED_MM: (f64, f64) = (1.5, 1600.0);

/// Yield strengths in MPa of weldable metal.
const YIELD_MPA: (f64, f64) = (50.0, 1500.0);

/// Preheats in °C that a chart can give.
const CHART_C: (f64, f64) = (0.0, 400.0);

/// Reads `[welding]`, which may be left out.
pub(crate) fn read(root: &Table<'_>) -> Welding {
    let Some(table) = root.get("welding").and_then(|v| v.table()) else {
        return Welding::default();
    };
    let word = |key: &'static str, words: &[&str]| table.get(key).and_then(|v| v.word_of(words));
    let within = |read: Option<super::measure::Read<'_>>, (least, most): (f64, f64)| {
        read.and_then(|r| r.within(least, most)).map(|r| r.value)
    };
    let joint = word("joint", JOINTS);
    let restraint = word("restraint", RESTRAINTS);
    let category = word("structural_category", CATEGORIES);
    let welding = Welding {
        joint: joint.map(|word| [JointKind::Butt, JointKind::Fillet, JointKind::TwinFillet][word]),
        heat_input_kj_mm: within(heat_input!("heat_input").get(&table), HEAT_INPUT_KJ_MM),
        hydrogen_ml_100g: within(hydrogen!("hydrogen").get(&table), HYDROGEN_ML_100G),
        restraint: restraint.map(|word| [Restraint::Low, Restraint::Medium, Restraint::High][word]),
        combined_thickness: within(length!("combined_thickness").get(&table), COMBINED_MM)
            .map(Millimeters::from_mm),
        weld_metal: contents(&table, "weld_metal"),
        yield_strength_mpa: within(stress!("yield_strength").get(&table), YIELD_MPA),
        chart_preheat: within(temperature!("chart_preheat").get(&table), CHART_C)
            .map(Celsius::from_c),
        structural_category: category.map(|word| {
            [
                StructuralCategory::A,
                StructuralCategory::B,
                StructuralCategory::C,
                StructuralCategory::D,
            ][word]
        }),
    };
    table.finish();
    welding
}
