//! AWS D1.1 for a weld: the hydrogen control method and the prequalified table.

use quantity::{Celsius, Units};

use super::carbon_equivalent::NotWorked;
use super::hydrogen_control::{HydrogenLevel, IndexGroups, RestraintPreheat, SusceptibilityIndex};
use super::method_b::{counted_absent, standing};
use super::outcome::{Method, Missing, Outcome, Outside, Standing};
use super::question::{MethodRow, Named, equivalent, hydrogen, no_row, sides};
use super::value::PreheatValue;
use crate::fault::RuleError;
use crate::weld::{Side, Weld};
use crate::welding::Restraint;
use crate::wording::{exact, length, short};

/// Both methods for each side that differs.
pub(crate) fn methods(weld: &Weld, rows: &[MethodRow<'_>]) -> Result<Vec<Method>, RuleError> {
    let (row, index) = first(rows, |value| match value {
        PreheatValue::SusceptibilityIndex(index) => Some(index),
        _ => None,
    })
    .ok_or_else(|| no_row("the susceptibility index"))?;
    let mut methods = Vec::new();
    for named in sides(weld) {
        methods.push(by_hydrogen(weld, rows, &named, row, index)?);
        methods.push(prequalified(weld, rows, named, row));
    }
    Ok(methods)
}

/// The first row that gives what is looked for.
fn first<'a, T>(
    rows: &'a [MethodRow<'a>],
    of: impl Fn(&'a PreheatValue) -> Option<T>,
) -> Option<(&'a MethodRow<'a>, T)> {
    rows.iter().find_map(|row| Some((row, of(row.value)?)))
}

fn by_hydrogen(
    weld: &Weld,
    rows: &[MethodRow<'_>],
    named: &Named<'_>,
    row: &MethodRow<'_>,
    index: &SusceptibilityIndex,
) -> Result<Method, RuleError> {
    let mut method = Method {
        name: "AWS D1.1 hydrogen control".into(),
        who: named.who.clone(),
        standing: standing(weld, rows, &row.table.code, Standing::Comparison),
        outcome: not_structural(named.side),
        range: "structural steel, Pcm and hydrogen to the last group".into(),
        working: String::new(),
        warnings: Vec::new(),
        clause: row.clause(),
    };
    if row.fits(named.side, named.side.wall.mm()) {
        method.outcome = match inputs(weld, rows, named.side, &mut method.warnings)? {
            Err(outcome) => outcome,
            Ok(inputs) => worst_group(weld, rows, named.side, (index, inputs), &mut method)?,
        };
    }
    Ok(method)
}

fn not_structural(side: &Side) -> Outcome {
    let metal = side.p_number.words();
    Outcome::NotApplicable(format!(
        "for structural carbon and low-alloy steel, not for {metal}"
    ))
}

#[derive(Clone, Copy)]
struct Inputs {
    pcm_percent: f64,
    hydrogen_ml_100g: f64,
    restraint: Restraint,
}

fn inputs(
    weld: &Weld,
    rows: &[MethodRow<'_>],
    side: &Side,
    warnings: &mut Vec<String>,
) -> Result<Result<Inputs, Outcome>, RuleError> {
    let welding = &weld.welding;
    let mut missing = Vec::new();
    let pcm = match equivalent(rows, "Pcm", &side.chemistry)?.0 {
        Ok(worked) => {
            warnings.extend(counted_absent("parent metal", &worked));
            Some(worked.percent)
        }
        Err(NotWorked::Outside(outside)) => return Ok(Err(Outcome::Refused(outside))),
        Err(NotWorked::Missing(contents)) => {
            missing.extend(contents);
            None
        }
    };
    let hydrogen = hydrogen(weld, &mut missing);
    if welding.restraint.is_none() {
        missing.push(Missing::new("restraint", "welding.restraint"));
    }
    let known = pcm.zip(hydrogen).zip(welding.restraint);
    Ok(match known {
        Some(((pcm_percent, hydrogen_ml_100g), restraint)) => Ok(Inputs {
            pcm_percent,
            hydrogen_ml_100g,
            restraint,
        }),
        None => Err(Outcome::Missing(missing)),
    })
}

/// The worse of the groups by index and by Pcm, and its preheat.
fn worst_group(
    weld: &Weld,
    rows: &[MethodRow<'_>],
    side: &Side,
    (index, inputs): (&SusceptibilityIndex, Inputs),
    method: &mut Method,
) -> Result<Outcome, RuleError> {
    let level = level_of(rows, inputs.hydrogen_ml_100g)?;
    let groups = index_groups(rows)?;
    let worked = index.at(inputs.pcm_percent, level.counts_ml_100g);
    let rounded = index.rounded(worked);
    let Some(by_index) = groups.at(rounded) else {
        let most = groups.to.last().copied().unwrap_or_default();
        return Ok(Outcome::Refused(vec![Outside::above(
            "susceptibility index",
            worked,
            most,
            "(no unit)",
        )]));
    };
    let by_pcm = pcm_group(rows, &level.level, inputs.pcm_percent);
    let group = by_pcm.map_or(by_index, |by_pcm| by_pcm.max(by_index));
    method.working = format!(
        "Pcm {} %, {} ({} ml/100 g): index {} rounded up to {} gives group {by_index}, the Pcm table {}; {} restraint, {}",
        exact(inputs.pcm_percent),
        level.level,
        short(inputs.hydrogen_ml_100g),
        exact(worked),
        short(rounded),
        by_pcm.map_or("ends before it".into(), |by_pcm| format!("gives {by_pcm}")),
        inputs.restraint.words(),
        length(side.wall.mm(), weld.units)
    );
    if by_pcm.is_some_and(|by_pcm| by_pcm != by_index) {
        method.warnings.push(format!(
            "index and Pcm table disagree; the worse group {group} is taken"
        ));
    }
    let column = groups.groups.iter().position(|known| known == group);
    let (row, cells) =
        restraint_row(rows, side, inputs.restraint).ok_or_else(|| no_row("the restraint table"))?;
    method.clause = row.clause();
    let cell_f = column
        .and_then(|column| cells.preheat_f.get(column))
        .copied();
    asked(
        rows,
        (cell_f.ok_or_else(|| no_row("the group"))?, weld.units),
        method,
    )
}

/// The printed °F, or in the °C of the metric edition: to the nearest 5 °C.
fn asked(
    rows: &[MethodRow<'_>],
    (cell_f, units): (f64, Units),
    method: &mut Method,
) -> Result<Outcome, RuleError> {
    /// Step of the metric edition in °C.
    const METRIC_STEP_C: f64 = 5.0;
    if cell_f == 0.0 {
        return Ok(none(cold_metal(rows).ok_or_else(|| no_row("cold metal"))?));
    }
    let worked = Celsius::from_f(cell_f);
    method.working.push_str(&format!(": {} °F", short(cell_f)));
    Ok(Outcome::AtLeast {
        temperature: match units {
            Units::Si => Celsius::from_c((worked.c() / METRIC_STEP_C).round() * METRIC_STEP_C),
            Units::Us => worked,
        },
        worked_c: worked.c(),
    })
}

fn level_of<'a>(rows: &'a [MethodRow<'a>], ml_100g: f64) -> Result<&'a HydrogenLevel, RuleError> {
    let found = first(rows, |value| match value {
        PreheatValue::HydrogenLevel(level) if level.holds(ml_100g) => Some(level),
        _ => None,
    });
    found
        .map(|(_, level)| level)
        .ok_or_else(|| no_row("the hydrogen level"))
}

fn index_groups<'a>(rows: &'a [MethodRow<'a>]) -> Result<&'a IndexGroups, RuleError> {
    let found = first(rows, |value| match value {
        PreheatValue::IndexGroups(groups) => Some(groups),
        _ => None,
    });
    found
        .map(|(_, groups)| groups)
        .ok_or_else(|| no_row("the groups by index"))
}

fn pcm_group<'a>(rows: &'a [MethodRow<'a>], level: &str, pcm_percent: f64) -> Option<&'a str> {
    let (_, groups) = first(rows, |value| match value {
        PreheatValue::PcmGroups(groups) if groups.level == level => Some(groups),
        _ => None,
    })?;
    groups.at(pcm_percent)
}

fn restraint_row<'a>(
    rows: &'a [MethodRow<'a>],
    side: &Side,
    restraint: Restraint,
) -> Option<(&'a MethodRow<'a>, &'a RestraintPreheat)> {
    rows.iter().find_map(|row| match row.value {
        PreheatValue::RestraintPreheat(cells)
            if cells.restraint == restraint && row.fits(side, side.wall.mm()) =>
        {
            Some((row, cells))
        }
        _ => None,
    })
}

fn none((below_c, warm_to_c): (f64, f64)) -> Outcome {
    Outcome::None {
        metal_at_least: Celsius::from_c(below_c),
        warmed_to: Some(Celsius::from_c(warm_to_c)),
    }
}

/// The temperature in °C below which metal is warmed, and to which.
fn cold_metal(rows: &[MethodRow<'_>]) -> Option<(f64, f64)> {
    let (_, cold) = first(rows, |value| match value {
        PreheatValue::ColdMetal { below_c, preheat_c } => Some((*below_c, *preheat_c)),
        _ => None,
    })?;
    Some(cold)
}

fn prequalified(
    weld: &Weld,
    rows: &[MethodRow<'_>],
    named: Named<'_>,
    scope: &MethodRow<'_>,
) -> Method {
    let thickest_mm = weld.sides[0].wall.mm().max(weld.sides[1].wall.mm());
    let found = rows.iter().find_map(|row| match row.value {
        PreheatValue::Prequalified {
            category,
            at_least_c,
        } if Some(*category) == weld.welding.structural_category
            && row.fits(named.side, thickest_mm) =>
        {
            Some((row, *at_least_c))
        }
        _ => None,
    });
    let cold = cold_metal(rows);
    let outcome = match (scope.fits(named.side, thickest_mm), found) {
        (false, _) => not_structural(named.side),
        (true, None) => Outcome::Missing(vec![Missing::new(
            "steel and process category",
            "welding.structural_category",
        )]),
        (true, Some((_, c))) if cold.is_some_and(|(below_c, _)| below_c == c) => {
            none(cold.unwrap_or((c, c)))
        }
        (true, Some((_, c))) => Outcome::AtLeast {
            temperature: Celsius::from_c(c),
            worked_c: c,
        },
    };
    let any_cell = first(rows, |value| {
        matches!(value, PreheatValue::Prequalified { .. }).then_some(())
    });
    let row = found
        .map(|(row, _)| row)
        .or(any_cell.map(|(row, ())| row))
        .unwrap_or(scope);
    let category = weld
        .welding
        .structural_category
        .map_or("not given", |one| one.letter());
    Method {
        name: "AWS D1.1 prequalified".into(),
        who: named.who,
        standing: standing(weld, rows, &scope.table.code, Standing::Comparison),
        range: found.map_or_else(String::new, |(row, _)| row.row.when.words(weld.units)),
        working: format!(
            "category {category}, thickest part {}",
            length(thickest_mm, weld.units)
        ),
        warnings: Vec::new(),
        outcome,
        clause: row.clause(),
    }
}
