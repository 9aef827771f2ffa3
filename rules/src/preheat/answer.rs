//! All methods for one weld, and what governs.

use quantity::Units;

use super::outcome::{Equivalent, Governing, Method, Outcome, Preheat, Standing};
use super::question::{MethodRow, bad_measures, method_rows, sides};
use super::value::PreheatValue;
use super::{code_tables, creep_steel, interpass, method_a, method_b, own, structural, zones};
use crate::book::Book;
use crate::fault::RuleError;
use crate::requirement::Remark;
use crate::row::Value;
use crate::shelf::Shelf;
use crate::thickness;
use crate::weld::{Purpose, Weld};
use crate::welding::Restraint;
use crate::when::{Fit, is_over};
use crate::wording;

/// What the weld needs in preheat and interpass temperature, by every method that is kept.
///
/// # Errors
/// [`RuleError`] with every fault at once: measures that cannot be, a code or edition that is not kept.
pub fn preheat(weld: &Weld) -> Result<Preheat, RuleError> {
    let mut faults = thickness::bad_measures(weld);
    faults.extend(bad_measures(weld));
    if !faults.is_empty() {
        return Err(RuleError { faults });
    }
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let rows = method_rows(weld, &shelf)?;
    let mut remarks = Vec::new();
    let mut methods = code_tables::methods(weld, &mut remarks)?;
    methods.extend(own::methods(weld));
    methods.extend(method_b::methods(weld, &rows)?);
    methods.extend(method_a::methods(weld, &rows)?);
    methods.extend(creep_steel::methods(weld, &rows));
    methods.extend(structural::methods(weld, &rows)?);
    methods.sort_by_key(|method| method.standing);
    let governing = governing(&methods, weld.units);
    let too_low = applied_too_low(weld, &methods, governing.as_ref());
    let mut falls_short = too_low
        .as_ref()
        .is_some_and(|remark| remark.text.starts_with(WARNING));
    remarks.extend(too_low);
    remarks.extend(beyond_the_range(&methods, governing.as_ref(), weld.units));
    remarks.extend(high_restraint(weld, &methods));
    remarks.extend(disagreement(&methods, governing.as_ref(), weld.units));
    let interpass = interpass::limits(weld, &shelf)?;
    let unwanted = interpass::unwanted(weld, &rows);
    if let Some(governing) = &governing {
        falls_short |= interpass
            .iter()
            .any(|end| end.at_most < governing.temperature);
    }
    remarks.extend(interpass::conflicts(
        weld.units,
        governing.as_ref(),
        &interpass,
        &unwanted,
    ));
    remarks.extend(questions(weld, &shelf)?);
    Ok(Preheat {
        equivalents: equivalents(weld, &rows),
        methods,
        governing,
        interpass,
        unwanted,
        zones: zones::zones(weld, &shelf)?,
        settling: zones::settling(weld, &rows),
        falls_short,
        remarks,
    })
}

/// What code and practice have to tell and to ask.
fn questions(weld: &Weld, shelf: &Shelf) -> Result<Vec<Remark>, RuleError> {
    let mut asked = weld.clone();
    asked.purpose = Purpose::Preheat;
    let mut remarks = Vec::new();
    for page in Book::open(&asked, shelf)?.pages {
        for row in page.rows(Purpose::Preheat).filter(|row| row.is_on()) {
            let holds = weld
                .sides
                .iter()
                .any(|side| row.when.fit(side, side.wall.mm()) != Fit::No);
            if let Value::Question(text) | Value::Advice(text) = &row.value
                && holds
            {
                remarks.push(Remark {
                    text: text.clone(),
                    clause: Some(row.clause_in(page.table, page.edition)),
                });
            }
        }
    }
    Ok(remarks)
}

/// Every carbon equivalent of every side, and of the weld metal where it is known.
fn equivalents(weld: &Weld, rows: &[MethodRow<'_>]) -> Vec<Equivalent> {
    let mut compositions: Vec<_> = sides(weld)
        .into_iter()
        .map(|named| (named.who, &named.side.chemistry))
        .collect();
    if !weld.welding.weld_metal.is_empty() {
        compositions.push(("weld metal".into(), &weld.welding.weld_metal));
    }
    let mut equivalents = Vec::new();
    for (who, percent) in compositions {
        equivalents.extend(rows.iter().filter_map(|row| match row.value {
            PreheatValue::CarbonEquivalent(formula) => Some(Equivalent {
                who: who.clone(),
                name: formula.name.clone(),
                formula: formula.words(),
                value: formula.at(percent),
                clause: row.clause(),
            }),
            _ => None,
        }));
    }
    equivalents
}

/// The highest preheat of all methods that bind or guide.
fn governing(methods: &[Method], units: Units) -> Option<Governing> {
    let counting = methods
        .iter()
        .enumerate()
        .filter(|(_, method)| method.standing != Standing::Comparison);
    let asked = counting.filter_map(|(index, method)| Some((index, method.outcome.temperature()?)));
    // Of equal ones the first, so that what binds is named before what guides.
    let (method, temperature) =
        asked.reduce(|kept, other| if other.1 > kept.1 { other } else { kept })?;
    let name = label_of(methods, method);
    let reason = match (methods[method].standing, bound_c(methods)) {
        (Standing::Binding, _) => format!("{name} binds and asks the most"),
        (_, Some(most)) => format!(
            "{name} asks more than the {} that the contract binds to",
            wording::temperature(most, units)
        ),
        (_, None) => {
            format!("nothing that the contract binds to gives a preheat; {name} asks the most")
        }
    };
    Some(Governing {
        method,
        temperature,
        reason,
    })
}

/// How a remark begins that something is not met.
const WARNING: &str = "warning: ";

/// The preheat that the job says is applied, where it lies below what governs.
fn applied_too_low(
    weld: &Weld,
    methods: &[Method],
    governing: Option<&Governing>,
) -> Option<Remark> {
    let applied_c = weld.answers.preheat_applied?.c();
    let governing = governing?;
    let least_c = governing.temperature.c();
    let binds = methods[governing.method].standing == Standing::Binding
        || bound_c(methods).is_none_or(|bound_c| is_over(bound_c, applied_c));
    let [applied, least] = [applied_c, least_c].map(|c| wording::temperature(c, weld.units));
    is_over(least_c, applied_c).then(|| Remark {
        text: match binds {
            true => format!(
                "{WARNING}the preheat that is applied, {applied}, lies below the {least} that govern"
            ),
            false => format!(
                "the preheat that is applied, {applied}, is what the contract binds to; good practice asks {least}"
            ),
        },
        clause: None,
    })
}

/// The highest preheat in °C that the contract binds to.
fn bound_c(methods: &[Method]) -> Option<f64> {
    let binding = methods
        .iter()
        .filter(|method| method.standing == Standing::Binding);
    binding
        .filter_map(|method| method.outcome.temperature())
        .map(|most| most.c())
        .reduce(f64::max)
}

/// Method B counts on the restraint of ordinary welds.
fn high_restraint(weld: &Weld, methods: &[Method]) -> Option<Remark> {
    let asks = |method: &&Method| {
        method.name.ends_with("method B")
            && method.standing != Standing::Comparison
            && method.outcome.temperature().is_some()
    };
    let method = methods.iter().find(asks)?;
    (weld.welding.restraint == Some(Restraint::High)).then(|| Remark {
        text: format!(
            "{} holds for ordinary restraint; for the high restraint of this weld the engineer adds a margin",
            method.name
        ),
        clause: Some(method.clause.clone()),
    })
}

/// A method that counts and does not reach this weld: what governs without it may be too little.
fn beyond_the_range(
    methods: &[Method],
    governing: Option<&Governing>,
    units: Units,
) -> Vec<Remark> {
    let mut remarks: Vec<Remark> = Vec::new();
    for method in methods {
        let Outcome::Refused(outside) = &method.outcome else {
            continue;
        };
        if method.standing == Standing::Comparison {
            continue;
        }
        let whys: Vec<String> = outside.iter().map(ToString::to_string).collect();
        let without = governing.map_or("nothing else gives a preheat".to_owned(), |governing| {
            let least = wording::temperature(governing.temperature.c(), units);
            format!("the {least} that govern without it may be too little")
        });
        let text = format!(
            "warning: {} does not reach this weld ({}); {without}, the engineer decides",
            method.name,
            whys.join(", ")
        );
        if !remarks.iter().any(|known| known.text == text) {
            remarks.push(Remark {
                text,
                clause: Some(method.clause.clone()),
            });
        }
    }
    remarks
}

/// A method with whom it speaks of: of both sides, where it says the same of the other.
fn label_of(methods: &[Method], index: usize) -> String {
    let method = &methods[index];
    let says_so = |other: &&Method| {
        other.name == method.name
            && other.who != method.who
            && other.outcome.temperature() == method.outcome.temperature()
    };
    match methods.iter().any(|other| says_so(&other)) {
        true => format!("{} (both sides)", method.name),
        false => format!("{} ({})", method.name, method.who),
    }
}

impl Preheat {
    /// One remark that names every method that says something else than what governs; it stands among the remarks, too.
    pub fn disagreement(&self) -> Option<Remark> {
        let tells = |remark: &&Remark| remark.text.starts_with(DISAGREE);
        self.remarks.iter().find(tells).cloned()
    }
}

/// How the remark on methods that disagree begins.
const DISAGREE: &str = "the methods disagree:";

fn disagreement(methods: &[Method], governing: Option<&Governing>, units: Units) -> Option<Remark> {
    let governing = governing?;
    let others = methods.iter().filter(|method| {
        method
            .outcome
            .temperature()
            .is_some_and(|t| t != governing.temperature)
    });
    let mut said: Vec<(&str, f64, &str)> = Vec::new();
    for method in others {
        let c = method.outcome.temperature().map_or(0.0, |t| t.c());
        let same = said
            .iter_mut()
            .find(|(name, known_c, _)| *name == method.name && *known_c == c);
        match same {
            Some((_, _, who)) => *who = "both sides",
            None => said.push((&method.name, c, &method.who)),
        }
    }
    let others: Vec<String> = said
        .iter()
        .map(|(name, c, who)| format!("{name} ({who}) {}", wording::temperature(*c, units)))
        .collect();
    (!others.is_empty()).then(|| Remark {
        text: format!(
            "{DISAGREE} {} asks {}; {}",
            label_of(methods, governing.method),
            wording::temperature(governing.temperature.c(), units),
            others.join("; ")
        ),
        clause: Some(methods[governing.method].clause.clone()),
    })
}
