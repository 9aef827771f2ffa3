//! Diffusion coefficients of hydrogen over temperature.

use quantity::Celsius;
use serde::{Deserialize, Serialize};

use crate::wording::{exact, short};

/// What a metal is to hydrogen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MetalKind {
    /// Body-centered: carbon, low-alloy, martensitic steel.
    Ferritic,
    /// Face-centered steel.
    Austenitic,
    /// Nickel and its alloys.
    Nickel,
}

impl MetalKind {
    /// In one word.
    pub fn words(self) -> &'static str {
        match self {
            MetalKind::Ferritic => "ferritic",
            MetalKind::Austenitic => "austenitic",
            MetalKind::Nickel => "nickel",
        }
    }
}

/// Unit of an activation energy, as it is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ActivationUnit {
    /// J/mol.
    JMol,
    /// cal/mol.
    CalMol,
    /// Divided by the gas constant, in K.
    Kelvin,
}

impl ActivationUnit {
    /// The gas constant in this unit and 1/K (CODATA 2018, exact; the calorie of 4.184 J).
    fn gas_constant(self) -> f64 {
        const J_MOL_K: f64 = 8.314_462_618;
        match self {
            ActivationUnit::JMol => J_MOL_K,
            ActivationUnit::CalMol => J_MOL_K / 4.184,
            ActivationUnit::Kelvin => 1.0,
        }
    }
}

/// D = D0·exp(−E/RT) within a range.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Diffusivity {
    /// The metal.
    pub metal: String,
    /// What it is to hydrogen.
    pub kind: MetalKind,
    /// D0 in m²/s.
    pub d0_m2_s: f64,
    /// E.
    pub activation: f64,
    /// Unit of E.
    pub activation_in: ActivationUnit,
    /// Lower end in °C.
    pub from_c: f64,
    /// Upper end in °C.
    pub to_c: f64,
    /// How an alloying element changes it.
    pub alloyed: Option<Alloyed>,
}

/// How an alloying element of iron changes D0 and E, for each percent of its atoms.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Alloyed {
    /// The element.
    pub element: String,
    /// Its atomic mass in g/mol.
    pub atomic_mass: f64,
    /// Added to log10 D0.
    pub log10_d0: f64,
    /// Added to E, in its unit.
    pub activation: f64,
    /// Up to this percent of atoms.
    pub to_percent: f64,
}

/// Atomic mass of iron in g/mol (IUPAC 2021).
const IRON: f64 = 55.845;

impl Alloyed {
    /// Percent of atoms from weight percent, the rest being iron.
    pub fn atom_percent(&self, weight_percent: f64) -> f64 {
        let atoms = weight_percent / self.atomic_mass;
        100.0 * atoms / (atoms + (100.0 - weight_percent) / IRON)
    }
}

/// D by measured points, straight in log D over 1/T between two.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DiffusivityPoints {
    /// The metal.
    pub metal: String,
    /// What it is to hydrogen.
    pub kind: MetalKind,
    /// Temperatures in °C, ascending.
    pub c: Vec<f64>,
    /// D in m²/s at each.
    pub m2_s: Vec<f64>,
}

impl Diffusivity {
    /// The coefficient at a content in weight percent; none beyond the content up to which it holds.
    pub fn alloyed_with(&self, weight_percent: f64) -> Option<Diffusivity> {
        let alloyed = self.alloyed.as_ref()?;
        let percent = alloyed.atom_percent(weight_percent);
        (percent <= alloyed.to_percent).then(|| Diffusivity {
            metal: format!("{} ({} %)", self.metal, short(weight_percent)),
            d0_m2_s: self.d0_m2_s * 10f64.powf(alloyed.log10_d0 * percent),
            activation: self.activation + alloyed.activation * percent,
            alloyed: None,
            ..self.clone()
        })
    }

    /// D in m²/s, whether in range or not.
    pub fn m2_s(&self, temperature: Celsius) -> f64 {
        let gas = self.activation_in.gas_constant();
        self.d0_m2_s * (-self.activation / (gas * temperature.absolute_k())).exp()
    }

    /// Whether a temperature lies in its range.
    pub fn holds(&self, temperature: Celsius) -> bool {
        (self.from_c..=self.to_c).contains(&temperature.c())
    }

    pub(crate) fn words(&self) -> String {
        let energy = match self.activation_in {
            ActivationUnit::JMol => format!("{} J/mol/RT", self.activation),
            ActivationUnit::CalMol => format!("{} cal/mol/RT", self.activation),
            ActivationUnit::Kelvin => format!("{} K/T", self.activation),
        };
        let alloyed = self.alloyed.as_ref().map_or_else(String::new, |one| {
            format!(
                "; each percent of {} atoms, to {} %, adds {} to log10 D0 and {} to the energy",
                one.element,
                short(one.to_percent),
                exact(one.log10_d0),
                short(one.activation)
            )
        });
        format!(
            "{}: {:.3e}·exp(−{energy}), {} to {} °C{alloyed}",
            self.metal,
            self.d0_m2_s,
            short(self.from_c),
            short(self.to_c)
        )
    }
}

impl DiffusivityPoints {
    /// D in m²/s; none outside the points.
    pub fn m2_s(&self, temperature: Celsius) -> Option<f64> {
        let c = temperature.c();
        let pair = self
            .c
            .windows(2)
            .position(|pair| (pair[0]..=pair[1]).contains(&c))?;
        let inverse = |c: f64| 1.0 / Celsius::from_c(c).absolute_k();
        let (low, high) = (self.c[pair], self.c[pair + 1]);
        let share = (inverse(c) - inverse(low)) / (inverse(high) - inverse(low));
        let (at_low, at_high) = (self.m2_s.get(pair)?.ln(), self.m2_s.get(pair + 1)?.ln());
        Some((at_low + share * (at_high - at_low)).exp())
    }

    pub(crate) fn words(&self) -> String {
        let points: Vec<String> = self
            .c
            .iter()
            .zip(&self.m2_s)
            .map(|(c, d)| format!("{} °C {d:.1e}", short(*c)))
            .collect();
        format!("{}: {}", self.metal, points.join(", "))
    }
}
