//! EN 1011-2 method A: what needs no preheat, and the chart result that the user entered. Its charts have no published
//! formula, so none is worked out.

use quantity::{Celsius, Millimeters, Status};
use serde::{Deserialize, Serialize};

use super::carbon_equivalent::NotWorked;
use super::combined_thickness::combined_thickness;
use super::method_b::{counted_absent, standing};
use super::outcome::{Method, Missing, Outcome, Outside, Standing};
use super::question::{MethodRow, Named, equivalent, heat_input, hydrogen, sides};
use super::value::PreheatValue;
use crate::fault::RuleError;
use crate::joint::JointForm;
use crate::weld::{Side, Weld};
use crate::welding::JointKind;
use crate::when::is_over;
use crate::wording::{exact, short};

/// A range of diffusible hydrogen with its letter.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HydrogenScale {
    /// Letter.
    pub letter: String,
    /// Over this in ml/100 g.
    pub over_ml_100g: Option<f64>,
    /// Up to and including this in ml/100 g.
    pub to_ml_100g: Option<f64>,
}

impl HydrogenScale {
    /// Whether a content in ml/100 g lies in it.
    pub fn holds(&self, ml_100g: f64) -> bool {
        self.over_ml_100g.is_none_or(|end| ml_100g > end)
            && self.to_ml_100g.is_none_or(|end| ml_100g <= end)
    }

    pub(crate) fn words(&self) -> String {
        let over = self.over_ml_100g.map(|end| format!(" over {}", short(end)));
        let to = self.to_ml_100g.map(|end| format!(" to {}", short(end)));
        format!(
            "{}:{}{} ml/100 g",
            self.letter,
            over.unwrap_or_default(),
            to.unwrap_or_default()
        )
    }
}

/// Columns of carbon equivalent and heat input with the largest combined thickness that needs no preheat.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FreeOfPreheat {
    /// Letter of the hydrogen scale.
    pub hydrogen: String,
    /// CE (IIW) in % up to which each column holds.
    pub ce_percent: Vec<f64>,
    /// Heat input in kJ/mm from which each column holds.
    pub heat_input_kj_mm: Vec<f64>,
    /// Combined thickness in mm up to which each column holds.
    pub combined_to_mm: Vec<f64>,
}

impl FreeOfPreheat {
    /// The largest combined thickness in mm of the columns that hold; never between two columns.
    pub fn most_mm(&self, ce_percent: f64, heat_input_kj_mm: f64) -> Option<f64> {
        let columns = self
            .ce_percent
            .iter()
            .zip(&self.heat_input_kj_mm)
            .zip(&self.combined_to_mm);
        let holding =
            columns.filter(|((ce, heat), _)| ce_percent <= **ce && heat_input_kj_mm >= **heat);
        holding.map(|(_, mm)| *mm).reduce(f64::max)
    }

    pub(crate) fn words(&self) -> String {
        let columns = self
            .ce_percent
            .iter()
            .zip(&self.heat_input_kj_mm)
            .zip(&self.combined_to_mm);
        let columns: Vec<String> = columns
            .map(|((ce, heat), mm)| {
                format!(
                    "CE {} % {} kJ/mm: {} mm",
                    exact(*ce),
                    exact(*heat),
                    short(*mm)
                )
            })
            .collect();
        format!("hydrogen {}: {}", self.hydrogen, columns.join("; "))
    }
}

/// The chart result of the user where there is one; else what the table without preheat says of each side.
pub(crate) fn methods(weld: &Weld, rows: &[MethodRow<'_>]) -> Result<Vec<Method>, RuleError> {
    if let Some(entered) = weld.welding.chart_preheat {
        return Ok(chart(weld, rows, entered).into_iter().collect());
    }
    sides(weld)
        .into_iter()
        .map(|named| of_side(weld, rows, named))
        .collect()
}

fn chart(weld: &Weld, rows: &[MethodRow<'_>], entered: Celsius) -> Option<Method> {
    let row = any_row(rows)?;
    let mut clause = row.clause();
    clause.clause = "Annex C, method A, charts".into();
    clause.status = Status::UserGiven;
    clause.note = Some("read from the chart by the user".into());
    Some(Method {
        name: "EN 1011-2 method A".into(),
        who: "the weld".into(),
        standing: standing(weld, rows, &row.table.code, Standing::Guidance),
        outcome: Outcome::AtLeast {
            temperature: entered,
            worked_c: entered.c(),
        },
        range: RANGE.into(),
        working: "as it is entered".into(),
        warnings: Vec::new(),
        clause,
    })
}

/// The range of the charts; its ends are from memory.
const RANGE: &str = "carbon-manganese steel, CE (IIW) 0.30 to 0.70 % (from memory)";

fn any_row<'a>(rows: &'a [MethodRow<'a>]) -> Option<&'a MethodRow<'a>> {
    rows.iter()
        .find(|row| matches!(row.value, PreheatValue::FreeOfPreheat(_)))
}

fn of_side(
    weld: &Weld,
    rows: &[MethodRow<'_>],
    Named { who, side }: Named<'_>,
) -> Result<Method, RuleError> {
    let row = any_row(rows).ok_or_else(|| super::question::no_row("method A"))?;
    let mut warnings = Vec::new();
    let mut working = String::new();
    let outcome = if row.fits(side, side.wall.mm()) {
        outcome(weld, rows, side, &mut working, &mut warnings)?
    } else {
        let metal = side.p_number.words();
        Outcome::NotApplicable(format!(
            "the charts are for carbon-manganese steel, not for {metal}"
        ))
    };
    Ok(Method {
        name: "EN 1011-2 method A".into(),
        who,
        standing: standing(weld, rows, &row.table.code, Standing::Guidance),
        outcome,
        range: RANGE.into(),
        working,
        warnings,
        clause: row.clause(),
    })
}

fn outcome(
    weld: &Weld,
    rows: &[MethodRow<'_>],
    side: &Side,
    working: &mut String,
    warnings: &mut Vec<String>,
) -> Result<Outcome, RuleError> {
    let mut missing = Vec::new();
    let ce = match equivalent(rows, "CE (IIW)", &side.chemistry)?.0 {
        Ok(worked) => Some(worked),
        Err(NotWorked::Missing(contents)) => {
            missing.extend(contents);
            None
        }
        Err(NotWorked::Outside(outside)) => return Ok(Outcome::Refused(outside)),
    };
    let hydrogen = hydrogen(weld, &mut missing);
    let heat_input = heat_input(weld, &mut missing);
    let Some(((ce, hydrogen), heat_input)) = ce.zip(hydrogen).zip(heat_input) else {
        return Ok(Outcome::Missing(missing));
    };
    if let Some((least, most)) = charts_percent(rows) {
        if is_over(ce.percent, most) {
            let outside = Outside::above("CE (IIW)", ce.percent, most, "%");
            return Ok(Outcome::Refused(vec![outside]));
        }
        if is_over(least, ce.percent) {
            let least = exact(least);
            warnings.push(format!(
                "CE (IIW) lies below {least} %, where the charts begin"
            ));
        }
    }
    warnings.extend(counted_absent("parent metal", &ce));
    let combined = weld_combined_thickness(weld);
    let scale = scale_of(rows, hydrogen);
    let most_mm = scale.and_then(|letter| free_to_mm(rows, letter, ce.percent, heat_input));
    *working = format!(
        "CE (IIW) {} %, hydrogen {} ({} ml/100 g), {} kJ/mm, combined thickness {} mm; without preheat up to {}",
        exact(ce.percent),
        scale.unwrap_or("?"),
        short(hydrogen),
        exact(heat_input),
        short(combined.mm()),
        most_mm.map_or("none that is listed".into(), |mm| format!(
            "{} mm",
            short(mm)
        ))
    );
    Ok(match most_mm {
        Some(most_mm) if combined.mm() <= most_mm => Outcome::None {
            metal_at_least: Celsius::from_c(super::method_b::Rounding::of(rows)?.metal_at_least_c),
            warmed_to: None,
        },
        _ => Outcome::Missing(vec![Missing::new(
            "the preheat read from the chart of method A",
            "welding.chart_preheat",
        )]),
    })
}

/// As given, or worked out from the walls.
pub(crate) fn weld_combined_thickness(weld: &Weld) -> Millimeters {
    let [first, second] = &weld.sides;
    let by_form = match weld.joint.form {
        JointForm::Socket | JointForm::Branch => JointKind::Fillet,
        form if form.is_fillet() => JointKind::Fillet,
        _ => JointKind::Butt,
    };
    let joint = weld.welding.joint.unwrap_or(by_form);
    let worked_out = combined_thickness(joint, first.wall, second.wall);
    weld.welding.combined_thickness.unwrap_or(worked_out)
}

/// The letter of a content in ml/100 g.
pub(crate) fn scale_of<'a>(rows: &[MethodRow<'a>], ml_100g: f64) -> Option<&'a str> {
    rows.iter().find_map(|row| match row.value {
        PreheatValue::HydrogenScale(scale) if scale.holds(ml_100g) => Some(scale.letter.as_str()),
        _ => None,
    })
}

/// CE (IIW) in % for which the charts are drawn.
fn charts_percent(rows: &[MethodRow<'_>]) -> Option<(f64, f64)> {
    rows.iter().find_map(|row| match row.value {
        PreheatValue::ChartRange {
            from_percent,
            to_percent,
        } => Some((*from_percent, *to_percent)),
        _ => None,
    })
}

fn free_to_mm(
    rows: &[MethodRow<'_>],
    letter: &str,
    ce_percent: f64,
    heat_input_kj_mm: f64,
) -> Option<f64> {
    rows.iter().find_map(|row| match row.value {
        PreheatValue::FreeOfPreheat(table) if table.hydrogen == letter => {
            table.most_mm(ce_percent, heat_input_kj_mm)
        }
        _ => None,
    })
}
