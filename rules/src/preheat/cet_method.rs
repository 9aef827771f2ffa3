//! EN 1011-2 method B: preheat from CET, plate thickness, hydrogen and heat input.

use serde::{Deserialize, Serialize};

use super::outcome::Outside;
use crate::wording::{exact, short};

/// Tp = a·CET + b·tanh(d/s) + h·HD^n + (p·CET + q)·Q + k, each input within its limits.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CetMethod {
    /// a, in °C for one percent.
    pub per_cet: f64,
    /// b, in °C.
    pub thickness: f64,
    /// s, in mm.
    pub thickness_scale_mm: f64,
    /// h, in °C.
    pub hydrogen: f64,
    /// n.
    pub hydrogen_exponent: f64,
    /// p, in °C for one percent and one kJ/mm.
    pub heat_input_per_cet: f64,
    /// q, in °C for one kJ/mm.
    pub heat_input: f64,
    /// k, in °C.
    pub constant: f64,
    /// Limits of CET in %.
    pub cet_percent: (f64, f64),
    /// Limits of the plate thickness in mm.
    pub thickness_mm: (f64, f64),
    /// Limits of the hydrogen in ml/100 g.
    pub hydrogen_ml_100g: (f64, f64),
    /// Limits of the heat input in kJ/mm.
    pub heat_input_kj_mm: (f64, f64),
    /// Highest yield strength in MPa.
    pub yield_to_mpa: f64,
}

/// What goes in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CetInput {
    /// CET in %.
    pub cet_percent: f64,
    /// Thickness of the single plate in mm, never the combined thickness.
    pub thickness_mm: f64,
    /// Hydrogen in ml/100 g.
    pub hydrogen_ml_100g: f64,
    /// Heat input in kJ/mm.
    pub heat_input_kj_mm: f64,
}

/// The formula with its terms.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CetResult {
    /// Preheat in °C, not rounded.
    pub worked_c: f64,
    /// The terms of CET, thickness, hydrogen and heat input in °C.
    pub terms_c: [f64; 4],
    /// What lay outside its limits and how it was taken.
    pub warnings: Vec<String>,
}

impl CetMethod {
    /// The preheat. What lies outside its limits on the side where the limit asks more counts as the limit, with a
    /// warning; thickness beyond its limit is worked out as it is, for its term is flat there.
    ///
    /// # Errors
    /// Every input on the side where the limit would ask less.
    pub fn at(&self, input: CetInput) -> Result<CetResult, Vec<Outside>> {
        let outside = self.refused(&input);
        if !outside.is_empty() {
            return Err(outside);
        }
        let (counted, warnings) = self.counted(input);
        let terms_c = self.terms(counted);
        Ok(CetResult {
            worked_c: terms_c.iter().sum::<f64>() + self.constant,
            terms_c,
            warnings,
        })
    }

    fn refused(&self, input: &CetInput) -> Vec<Outside> {
        let (cet, hydrogen) = (input.cet_percent, input.hydrogen_ml_100g);
        let mut outside = Vec::new();
        outside.extend(
            (cet > self.cet_percent.1).then(|| Outside::above("CET", cet, self.cet_percent.1, "%")),
        );
        outside
            .extend((hydrogen > self.hydrogen_ml_100g.1).then(|| {
                Outside::above("hydrogen", hydrogen, self.hydrogen_ml_100g.1, "ml/100 g")
            }));
        let heat = input.heat_input_kj_mm;
        outside.extend(
            (heat < self.heat_input_kj_mm.0)
                .then(|| Outside::below("heat input", heat, self.heat_input_kj_mm.0, "kJ/mm")),
        );
        outside
    }

    fn counted(&self, input: CetInput) -> (CetInput, Vec<String>) {
        let mut warnings = Vec::new();
        let mut lift = |what: &str, found: f64, least: f64, unit: &str| {
            if found < least {
                warnings.push(limit_counted(what, found, "below", least, unit));
            }
            found.max(least)
        };
        let cet_percent = lift("CET", input.cet_percent, self.cet_percent.0, "%");
        let thickness_mm = lift("thickness", input.thickness_mm, self.thickness_mm.0, "mm");
        let hydrogen_ml_100g = lift(
            "hydrogen",
            input.hydrogen_ml_100g,
            self.hydrogen_ml_100g.0,
            "ml/100 g",
        );
        let most_heat = self.heat_input_kj_mm.1;
        if input.heat_input_kj_mm > most_heat {
            warnings.push(limit_counted(
                "heat input",
                input.heat_input_kj_mm,
                "above",
                most_heat,
                "kJ/mm",
            ));
        }
        if input.thickness_mm > self.thickness_mm.1 {
            warnings.push(format!(
                "thickness {} mm lies above {} mm, where its term is flat; worked out as it is, which only asks more",
                short(input.thickness_mm),
                short(self.thickness_mm.1)
            ));
        }
        let counted = CetInput {
            cet_percent,
            thickness_mm,
            hydrogen_ml_100g,
            heat_input_kj_mm: input.heat_input_kj_mm.min(most_heat),
        };
        (counted, warnings)
    }

    fn terms(&self, input: CetInput) -> [f64; 4] {
        [
            self.per_cet * input.cet_percent,
            self.thickness * (input.thickness_mm / self.thickness_scale_mm).tanh(),
            self.hydrogen * input.hydrogen_ml_100g.powf(self.hydrogen_exponent),
            (self.heat_input_per_cet * input.cet_percent + self.heat_input)
                * input.heat_input_kj_mm,
        ]
    }

    /// The formula in words.
    pub fn words(&self) -> String {
        format!(
            "{}·CET + {}·tanh(d/{}) + {}·HD^{} + ({}·CET {})·Q {}",
            exact(self.per_cet),
            exact(self.thickness),
            exact(self.thickness_scale_mm),
            exact(self.hydrogen),
            exact(self.hydrogen_exponent),
            exact(self.heat_input_per_cet),
            signed(self.heat_input),
            signed(self.constant)
        )
    }

    /// Its limits in words.
    pub fn limits(&self) -> String {
        let range = |(least, most): (f64, f64)| format!("{} to {}", exact(least), exact(most));
        format!(
            "CET {} %, d {} mm, HD {} ml/100 g, Q {} kJ/mm, yield strength to {} MPa",
            range(self.cet_percent),
            range(self.thickness_mm),
            range(self.hydrogen_ml_100g),
            range(self.heat_input_kj_mm),
            short(self.yield_to_mpa)
        )
    }
}

fn signed(value: f64) -> String {
    let sign = if value < 0.0 { "−" } else { "+" };
    format!("{sign} {}", exact(value.abs()))
}

fn limit_counted(what: &str, found: f64, side: &str, limit: f64, unit: &str) -> String {
    format!(
        "{what} {} {unit} lies {side} {} {unit}; counted as {}, which only asks more",
        exact(found),
        exact(limit),
        exact(limit)
    )
}
