//! EN 1011-2 method B for the sides of a weld.

use quantity::Celsius;

use super::carbon_equivalent::{NotWorked, Worked};
use super::cet_method::{CetInput, CetMethod, CetResult};
use super::outcome::{Method, Outcome, Outside, Standing};
use super::question::{MethodRow, Named, equivalent, heat_input, hydrogen, no_row, sides};
use super::value::PreheatValue;
use crate::fault::RuleError;
use crate::weld::{Side, Weld};
use crate::wording::{exact, short};

/// Name of the carbon equivalent that the method reads.
const CET: &str = "CET";

/// The method, read for each side that differs.
pub(crate) fn methods(weld: &Weld, rows: &[MethodRow<'_>]) -> Result<Vec<Method>, RuleError> {
    let found = rows.iter().find_map(|row| match row.value {
        PreheatValue::CetMethod(method) => Some((row, method)),
        _ => None,
    });
    let (row, method) = found.ok_or_else(|| no_row("the CET method"))?;
    let reading = Reading {
        weld,
        rows,
        row,
        method,
        rounding: Rounding::of(rows)?,
    };
    sides(weld)
        .into_iter()
        .map(|named| reading.of_side(named))
        .collect()
}

/// How a worked temperature becomes an asked one.
#[derive(Clone, Copy)]
pub(crate) struct Rounding {
    step_c: f64,
    none_below_c: f64,
    pub metal_at_least_c: f64,
}

impl Rounding {
    pub(crate) fn of(rows: &[MethodRow<'_>]) -> Result<Rounding, RuleError> {
        let step = rows.iter().find_map(|row| match row.value {
            PreheatValue::RoundUp(step) => Some(*step),
            _ => None,
        });
        let none = rows.iter().find_map(|row| match row.value {
            PreheatValue::NoneBelow {
                below_c,
                at_least_c,
            } => Some((*below_c, *at_least_c)),
            _ => None,
        });
        let step_c = step.ok_or_else(|| no_row("the rounding"))?;
        let (none_below_c, metal_at_least_c) = none.ok_or_else(|| no_row("the least preheat"))?;
        Ok(Rounding {
            step_c,
            none_below_c,
            metal_at_least_c,
        })
    }

    /// Up to the next step; below the least preheat none is asked.
    pub(crate) fn asked(self, worked_c: f64) -> Outcome {
        /// A result on a step is not lifted to the next by the last digits of a sum.
        const STEP_ROUNDING: f64 = 1e-9;
        if worked_c < self.none_below_c {
            return Outcome::None {
                metal_at_least: Celsius::from_c(self.metal_at_least_c),
                warmed_to: None,
            };
        }
        let steps = (worked_c / self.step_c - STEP_ROUNDING).ceil();
        Outcome::AtLeast {
            temperature: Celsius::from_c(steps * self.step_c),
            worked_c,
        }
    }
}

struct Reading<'a> {
    weld: &'a Weld,
    rows: &'a [MethodRow<'a>],
    row: &'a MethodRow<'a>,
    method: &'a CetMethod,
    rounding: Rounding,
}

impl Reading<'_> {
    fn of_side(&self, Named { who, side }: Named<'_>) -> Result<Method, RuleError> {
        let mut warnings = Vec::new();
        let mut working = self.method.words();
        let outcome = match self.input(side, &mut warnings)? {
            Err(outcome) => outcome,
            Ok(input) => match self.method.at(input) {
                Err(outside) => Outcome::Refused(outside),
                Ok(result) => {
                    working = worked_words(input, &result);
                    warnings.extend(result.warnings);
                    self.rounding.asked(result.worked_c)
                }
            },
        };
        Ok(Method {
            name: "EN 1011-2 method B".into(),
            who,
            standing: standing(
                self.weld,
                self.rows,
                &self.row.table.code,
                Standing::Guidance,
            ),
            outcome,
            range: self.method.limits(),
            working,
            warnings,
            clause: self.row.clause(),
        })
    }

    /// The inputs, or why there is no answer: everything that is missing or outside at once.
    fn input(
        &self,
        side: &Side,
        warnings: &mut Vec<String>,
    ) -> Result<Result<CetInput, Outcome>, RuleError> {
        if !self.row.fits(side, side.wall.mm()) {
            let metal = side.p_number.words();
            let why = format!("the formula is for unalloyed and low-alloy steel, not for {metal}");
            return Ok(Err(Outcome::NotApplicable(why)));
        }
        if let Some(outside) = self.too_strong() {
            return Ok(Err(Outcome::Refused(vec![outside])));
        }
        let mut missing = Vec::new();
        let cet = match equivalent(self.rows, CET, &side.chemistry)?.0 {
            Err(NotWorked::Outside(outside)) => return Ok(Err(Outcome::Refused(outside))),
            Err(NotWorked::Missing(contents)) => {
                missing.extend(contents);
                None
            }
            Ok(parent) => Some(self.governing_cet(&parent, warnings)?),
        };
        let hydrogen = hydrogen(self.weld, &mut missing);
        let heat_input = heat_input(self.weld, &mut missing);
        Ok(match cet.zip(hydrogen).zip(heat_input) {
            Some(((cet_percent, hydrogen_ml_100g), heat_input_kj_mm)) => Ok(CetInput {
                cet_percent,
                thickness_mm: side.wall.mm(),
                hydrogen_ml_100g,
                heat_input_kj_mm,
            }),
            None => Err(Outcome::Missing(missing)),
        })
    }

    fn too_strong(&self) -> Option<Outside> {
        let found = self.weld.welding.yield_strength_mpa?;
        let limit = self.method.yield_to_mpa;
        (found > limit).then(|| Outside::above("yield strength", found, limit, "MPa"))
    }

    /// The parent's CET, or the weld metal's and the margin, whichever is more.
    fn governing_cet(&self, parent: &Worked, warnings: &mut Vec<String>) -> Result<f64, RuleError> {
        warnings.extend(parent.warnings.iter().cloned());
        warnings.extend(counted_absent("parent metal", parent));
        let weld_metal = &self.weld.welding.weld_metal;
        if weld_metal.is_empty() {
            warnings.push("the weld metal's composition is not given; its CET is taken to be below the parent's by the margin".into());
            return Ok(parent.percent);
        }
        let margin = self.margin()?;
        match equivalent(self.rows, CET, weld_metal)?.0 {
            Ok(metal) => {
                warnings.extend(counted_absent("weld metal", &metal));
                let lifted = metal.percent + margin;
                if lifted > parent.percent {
                    warnings.push(format!(
                        "the weld metal governs: its CET {} % and {} % are more than the parent's {} %",
                        exact(metal.percent),
                        exact(margin),
                        exact(parent.percent)
                    ));
                }
                Ok(lifted.max(parent.percent))
            }
            Err(NotWorked::Missing(missing)) => {
                let names: Vec<&str> = missing.iter().map(|one| one.what.as_str()).collect();
                warnings.push(format!(
                    "weld metal: {} not given; its CET is not compared",
                    names.join(", ")
                ));
                Ok(parent.percent)
            }
            Err(NotWorked::Outside(outside)) => {
                let words: Vec<String> = outside.iter().map(ToString::to_string).collect();
                warnings.push(format!(
                    "weld metal: {}; its CET is not compared",
                    words.join(", ")
                ));
                Ok(parent.percent)
            }
        }
    }

    fn margin(&self) -> Result<f64, RuleError> {
        let found = self.rows.iter().find_map(|row| match row.value {
            PreheatValue::WeldMetalMargin(margin) => Some(*margin),
            _ => None,
        });
        found.ok_or_else(|| no_row("the margin over the weld metal"))
    }
}

/// Binding where the contract's code sends preheat to the document.
pub(crate) fn standing(
    weld: &Weld,
    rows: &[MethodRow<'_>],
    document: &str,
    otherwise: Standing,
) -> Standing {
    let sent = rows
        .iter()
        .filter(|row| row.table.code == document)
        .any(|row| match row.value {
            PreheatValue::SentBy(codes) => codes
                .iter()
                .any(|code| code.eq_ignore_ascii_case(weld.code.code.trim())),
            _ => false,
        });
    if sent { Standing::Binding } else { otherwise }
}

pub(crate) fn counted_absent(who: &str, worked: &Worked) -> Option<String> {
    let absent = worked.counted_absent.join(", ");
    (!absent.is_empty()).then(|| {
        format!(
            "{who}: {absent} not given and counted as absent; with them the preheat may be higher"
        )
    })
}

fn worked_words(input: CetInput, result: &CetResult) -> String {
    let [cet, thickness, hydrogen, heat] = result.terms_c;
    format!(
        "CET {} %, d {} mm, HD {} ml/100 g, Q {} kJ/mm: {} + {} + {} {} {} and the constant give {} °C",
        exact(input.cet_percent),
        short(input.thickness_mm),
        short(input.hydrogen_ml_100g),
        exact(input.heat_input_kj_mm),
        short(cet),
        short(thickness),
        short(hydrogen),
        if heat < 0.0 { "−" } else { "+" },
        short(heat.abs()),
        short(result.worked_c)
    )
}
