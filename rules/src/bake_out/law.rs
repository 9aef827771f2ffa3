//! The diffusion coefficient of one metal: every form in which it is kept, each within its own range.

use std::borrow::Cow;

use quantity::Celsius;

use super::diffusivity::{Diffusivity, DiffusivityPoints, MetalKind};
use super::value::BakeOutValue;
use crate::requirement::Clause;
use crate::row::{Row, Table, Value};
use crate::shelf::Shelf;
use crate::weld::Weld;

/// A row on bake-out with its table.
pub(crate) type BakeRow<'a> = (&'a Table, &'a Row, &'a BakeOutValue);

/// Every row on bake-out that is on.
pub(crate) fn rows(shelf: &Shelf) -> Vec<BakeRow<'_>> {
    let all = shelf
        .tables()
        .iter()
        .flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    all.filter(|(_, row)| row.is_on())
        .filter_map(|(table, row)| match &row.value {
            Value::BakeOut(value) => Some((table, row, value)),
            _ => None,
        })
        .collect()
}

/// One form of a coefficient.
#[derive(Clone, Debug)]
enum Form<'a> {
    Arrhenius(Cow<'a, Diffusivity>),
    Points(&'a DiffusivityPoints),
}

impl Form<'_> {
    fn m2_s(&self, temperature: Celsius) -> Option<f64> {
        match self {
            Form::Arrhenius(law) => law.holds(temperature).then(|| law.m2_s(temperature)),
            Form::Points(points) => points.m2_s(temperature),
        }
    }
}

/// The coefficient of one metal; of several forms the one in range counts.
#[derive(Clone, Debug)]
pub(crate) struct Law<'a> {
    pub metal: String,
    forms: Vec<(Form<'a>, Clause)>,
}

impl Law<'_> {
    /// D in m²/s within the range of a form.
    pub(crate) fn m2_s(&self, temperature: Celsius) -> Option<f64> {
        self.forms
            .iter()
            .find_map(|(form, _)| form.m2_s(temperature))
    }

    /// Where the form stands that holds at a temperature; the first where none does.
    pub(crate) fn clause(&self, temperature: Celsius) -> Clause {
        let holding = self
            .forms
            .iter()
            .find(|(form, _)| form.m2_s(temperature).is_some());
        holding.unwrap_or(&self.forms[0]).1.clone()
    }
}

/// The coefficients of one kind of metal, metal by metal; of alloyed iron at the highest content of the sides.
pub(crate) fn laws<'a>(weld: &Weld, rows: &[BakeRow<'a>], kind: MetalKind) -> Vec<Law<'a>> {
    let mut laws: Vec<Law<'a>> = Vec::new();
    for (table, row, value) in rows {
        let Some((metal, form)) = form(weld, value, kind) else {
            continue;
        };
        let form = (form, row.clause_in(table, ""));
        match laws.iter_mut().find(|law| law.metal == metal) {
            Some(law) => law.forms.push(form),
            None => laws.push(Law {
                metal,
                forms: vec![form],
            }),
        }
    }
    laws
}

fn form<'a>(weld: &Weld, value: &'a BakeOutValue, kind: MetalKind) -> Option<(String, Form<'a>)> {
    match value {
        BakeOutValue::Diffusivity(law) if law.kind == kind => {
            let law = match &law.alloyed {
                None => Cow::Borrowed(law),
                Some(alloyed) => Cow::Owned(law.alloyed_with(content(weld, &alloyed.element)?)?),
            };
            Some((law.metal.clone(), Form::Arrhenius(law)))
        }
        BakeOutValue::DiffusivityPoints(points) if points.kind == kind => {
            Some((points.metal.clone(), Form::Points(points)))
        }
        _ => None,
    }
}

/// The highest content of the sides in weight percent; none where none is given.
fn content(weld: &Weld, element: &str) -> Option<f64> {
    let known = weld.sides.iter();
    known
        .filter_map(|side| side.chemistry.get(element).copied())
        .reduce(f64::max)
}
