//! Preheat and interpass temperature: what governs with its reason, and every method that speaks.

use quantity::Units;
use report::{Block, Row, Text};
use rules::preheat::{Interpass, Method, Outcome, Preheat, Standing};

use super::{cited, table};
use crate::sheet::words::both_c;

/// What governs and why.
fn governs(preheat: &Preheat, units: Units) -> Vec<Block> {
    let mut blocks = vec![Block::heading(2, heading(preheat, units))];
    blocks.extend(
        preheat
            .governing
            .iter()
            .map(|one| Block::paragraph(sentence(&one.reason))),
    );
    blocks
}

/// With a capital and a full stop.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    format!("{}{}.", first.unwrap_or_default(), letters.as_str())
}

/// What governs, and the methods that bind or guide.
pub(crate) fn preheat(preheat: &Preheat, units: Units) -> Vec<Block> {
    let said = said_once(preheat, |method| {
        method.standing != Standing::Comparison && !is_off(method)
    });
    let mut rows: Vec<Row> = said
        .iter()
        .map(|said| {
            Row::Cells(vec![
                outcome(&said.method.outcome, units).into(),
                said.by().into(),
                cited(&said.method.clause),
            ])
        })
        .collect();
    rows.extend(
        upper_ends(preheat, units).map(|(says, who, place)| Row::Cells(vec![says, who, place])),
    );
    let mut blocks = governs(preheat, units);
    if !rows.is_empty() {
        blocks.push(table(["Preheat", "Who", "Where it stands"], rows));
    }
    blocks
}

/// What governs, and every method that speaks with its working, those of other codes for comparison last.
pub(crate) fn compared(preheat: &Preheat, units: Units) -> Vec<Block> {
    let words = |standing: Standing| match standing {
        Standing::Binding => "binds",
        Standing::Guidance => "guides",
        Standing::Comparison => "compares",
    };
    let said = said_once(preheat, |method| {
        method.standing != Standing::Comparison || method.outcome.temperature().is_some()
    });
    let mut rows: Vec<Row> = said
        .iter()
        .map(|said| {
            Row::Cells(vec![
                outcome(&said.method.outcome, units).into(),
                said.by().into(),
                words(said.method.standing).into(),
                worked(said.method).into(),
                cited(&said.method.clause),
            ])
        })
        .collect();
    rows.extend(
        upper_ends(preheat, units)
            .map(|(says, who, place)| Row::Cells(vec![says, who, "".into(), "".into(), place])),
    );
    let mut blocks = governs(preheat, units);
    blocks.push(table(
        ["Preheat", "Method", "Weight", "Working", "Where it stands"],
        rows,
    ));
    blocks
}

/// How an answer came about; nothing where there is none.
fn worked(method: &Method) -> String {
    if method.outcome.temperature().is_none() {
        return String::new();
    }
    let mut working = vec![method.working.clone()];
    working.extend(method.warnings.iter().cloned());
    working.retain(|part| !part.is_empty());
    working.join("; ")
}

/// What a method says, of one side or of both.
struct Said<'a> {
    method: &'a Method,
    of_both: bool,
}

impl Said<'_> {
    fn by(&self) -> String {
        let who = match self.of_both {
            true => "both sides",
            false => &self.method.who,
        };
        format!("{}, {who}", self.method.name)
    }
}

/// The methods that speak; what one says of both sides alike stands once.
fn said_once(preheat: &Preheat, wanted: impl Fn(&Method) -> bool) -> Vec<Said<'_>> {
    let mut said: Vec<Said<'_>> = Vec::new();
    for method in preheat
        .methods
        .iter()
        .filter(|one| speaks(one) && wanted(one))
    {
        let alike = |known: &&mut Said<'_>| {
            let other = known.method;
            other.name == method.name
                && other.outcome == method.outcome
                && worked(other) == worked(method)
                && other.clause == method.clause
        };
        match said.iter_mut().find(alike) {
            Some(known) => known.of_both = true,
            None => said.push(Said {
                method,
                of_both: false,
            }),
        }
    }
    said
}

/// The methods that bind or guide and wait for somebody's word.
pub(crate) fn off(preheat: &Preheat) -> Option<String> {
    let waiting = preheat
        .methods
        .iter()
        .filter(|method| method.standing != Standing::Comparison && is_off(method));
    let names: Vec<String> = waiting
        .map(|method| format!("{} ({})", method.name, method.who))
        .collect();
    (!names.is_empty()).then(|| {
        format!(
            "off, unsure, until somebody confirms it: {}",
            names.join(", ")
        )
    })
}

fn is_off(method: &Method) -> bool {
    matches!(method.outcome, Outcome::Off(_))
}

fn speaks(method: &Method) -> bool {
    !matches!(method.outcome, Outcome::NotApplicable(_))
}

/// Whether a method that binds or guides lacks an input, so that more may be asked.
fn lacks_inputs(preheat: &Preheat) -> bool {
    preheat.methods.iter().any(|method| {
        method.standing != Standing::Comparison && matches!(method.outcome, Outcome::Missing(_))
    })
}

fn heading(preheat: &Preheat, units: Units) -> String {
    let mut says = match &preheat.governing {
        None => "Preheat: no method gives one".to_owned(),
        Some(governing) => {
            let by = if lacks_inputs(preheat) {
                " by what is given"
            } else {
                ""
            };
            format!(
                "Preheat: at least {}{by}",
                both_c(governing.temperature.c(), units)
            )
        }
    };
    if let Some(lowest) = lowest(preheat) {
        says = format!(
            "{says}; between runs at most {}",
            both_c(lowest.at_most.c(), units)
        );
    }
    says
}

fn lowest(preheat: &Preheat) -> Option<&Interpass> {
    let ends = preheat.interpass.iter();
    ends.min_by(|a, b| a.at_most.c().total_cmp(&b.at_most.c()))
}

/// What must not be passed: says, who, where it stands.
fn upper_ends(preheat: &Preheat, units: Units) -> impl Iterator<Item = (Text, Text, Text)> {
    let between = lowest(preheat).map(|limit| {
        (
            format!("between runs at most {}", both_c(limit.at_most.c(), units)).into(),
            limit.who.as_str().into(),
            cited(&limit.clause),
        )
    });
    let unwanted = preheat.unwanted.iter().map(move |one| {
        (
            format!("at most {}: {}", both_c(one.at_most.c(), units), one.why).into(),
            one.who.as_str().into(),
            cited(&one.clause),
        )
    });
    between.into_iter().chain(unwanted)
}

fn outcome(outcome: &Outcome, units: Units) -> String {
    match outcome {
        Outcome::AtLeast { temperature, .. } => {
            format!("at least {}", both_c(temperature.c(), units))
        }
        Outcome::None { metal_at_least } => {
            format!(
                "none; metal dry and at least {}",
                both_c(metal_at_least.c(), units)
            )
        }
        Outcome::NotApplicable(why) => why.clone(),
        Outcome::Refused(outside) => {
            let outside: Vec<String> = outside.iter().map(ToString::to_string).collect();
            format!("outside its range: {}", outside.join("; "))
        }
        Outcome::Missing(missing) => {
            let keys: Vec<&str> = missing.iter().map(|one| one.key.as_str()).collect();
            format!("not given: {}", keys.join(", "))
        }
        Outcome::Off(_) => "off, unsure, until somebody confirms it".into(),
    }
}
