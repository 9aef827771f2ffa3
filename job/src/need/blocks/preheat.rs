//! Preheat and interpass temperature: what governs with its reason, and every method that speaks.

use quantity::Units;
use report::{Block, Row, Text};
use rules::preheat::{Interpass, Method, Outcome, Preheat, Standing};
use rules::requirement::Clause;

use super::{by, cited, cited_in, table};
use crate::file::shape::named_together;
use crate::sheet::words::{both_c, both_tape, first_c, marked};

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

/// What governs, the methods that bind or guide, other codes for comparison, and what has no answer.
pub(crate) fn preheat(preheat: &Preheat, units: Units, home: &str) -> Vec<Block> {
    let mut rows: Vec<Row> = by_method(preheat)
        .iter()
        .map(|group| {
            Row::Cells(vec![
                asked(group, units).into(),
                by(&named(group), &group[0].clause, home),
            ])
        })
        .collect();
    rows.extend(
        upper_ends(preheat, units)
            .map(|(says, who, clause)| Row::Cells(vec![says.into(), by(&who, clause, home)])),
    );
    let mut blocks = governs(preheat, units);
    if !rows.is_empty() {
        blocks.push(table(["Preheat", "Who says so, and where"], rows));
    }
    blocks.extend(reach(preheat, units, home).map(Block::paragraph));
    blocks.extend(comparison(preheat, units).map(Block::paragraph));
    blocks.extend(without_answer(preheat).map(Block::paragraph));
    blocks
}

/// How far to each side the preheat reaches, by the contract's code and by the practice of measuring.
fn reach(preheat: &Preheat, units: Units, home: &str) -> Option<Text> {
    let mut text = Text::default();
    let zones = preheat.zones.iter();
    let told = zones.filter(|zone| zone.standing != Standing::Comparison && zone.reach.mm() > 0.0);
    for zone in told.filter(|zone| zone.reach.mm().is_finite()) {
        let before = match text.is_empty() {
            true => "To each side it reaches, and is measured at, ",
            false => "; ",
        };
        let from = match zone.from_edge {
            true => "the edge of the weld",
            false => "the point of welding",
        };
        let far = both_tape(zone.reach, units);
        text = text.and(format!("{before}{far} from {from} ("));
        text.0.extend(cited_in(home, &zone.clause).and(")").0);
    }
    (!text.is_empty()).then(|| text.and("."))
}

/// The answers that bind or guide, those of one method together.
fn by_method(preheat: &Preheat) -> Vec<Vec<&Method>> {
    let mut groups: Vec<Vec<&Method>> = Vec::new();
    let answers = preheat.methods.iter().filter(|method| {
        method.standing != Standing::Comparison && method.outcome.temperature().is_some()
    });
    for method in answers {
        let same = groups
            .iter_mut()
            .find(|group| group[0].name == method.name && group[0].clause == method.clause);
        match same {
            Some(group) => group.push(method),
            None => groups.push(vec![method]),
        }
    }
    groups
}

/// What one method asks, side by side where the sides differ.
fn asked(group: &[&Method], units: Units) -> String {
    let [first, rest @ ..] = group else {
        return String::new();
    };
    let words = outcome(&first.outcome, units);
    if rest.iter().all(|other| other.outcome == first.outcome) {
        return words;
    }
    let others = rest.iter().map(|other| {
        let words = outcome(&other.outcome, units);
        format!(", {} {}", words.trim_start_matches("at least "), other.who)
    });
    format!("{words} {}{}", first.who, others.collect::<String>())
}

/// The method, with the side where it speaks of one alone.
fn named(group: &[&Method]) -> String {
    match group {
        [one] if one.who.starts_with("side") => format!("{}, {}", one.name, one.who),
        [one, ..] => one.name.clone(),
        [] => String::new(),
    }
}

/// What the tables of other codes and editions ask, which govern nothing here.
fn comparison(preheat: &Preheat, units: Units) -> Option<Text> {
    let mut text = Text::default();
    let mut before: Option<&Method> = None;
    for said in said_once(preheat, |method| {
        method.standing == Standing::Comparison && method.outcome.temperature().is_some()
    }) {
        let method = said.method;
        let name = match before {
            Some(before) if before.name == method.name => ", ".to_owned(),
            Some(_) => format!("; {} ", own_name(method)),
            None => format!("For comparison, not binding: {} ", own_name(method)),
        };
        let temperature = method.outcome.temperature().map_or(0.0, |t| t.c());
        text = text.and(format!(
            "{name}{}{}",
            first_c(temperature, units),
            said.of_side()
        ));
        text = marked(text, method.clause.status);
        before = Some(method);
    }
    before.map(|_| text.and("."))
}

/// The code and edition of a table.
fn own_name(method: &Method) -> &str {
    method.name.trim_start_matches("table of ")
}

/// The methods that bind or guide and do not answer, with the reason.
fn without_answer(preheat: &Preheat) -> Option<String> {
    let mut each: Vec<(String, String, String)> = Vec::new();
    for said in said_once(preheat, |method| {
        method.standing != Standing::Comparison && method.outcome.temperature().is_none()
    }) {
        let why = outcome(&said.method.outcome, Units::Si);
        let name = &said.method.name;
        match each
            .iter_mut()
            .find(|known| known.0 == *name && known.2 == why)
        {
            Some(known) => known.1.clear(),
            None => each.push((name.clone(), said.of_side(), why)),
        }
    }
    let each: Vec<String> = each
        .iter()
        .map(|(name, side, why)| format!("{name}{side} ({why})"))
        .collect();
    (!each.is_empty()).then(|| format!("Without an answer: {}.", each.join("; ")))
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
    rows.extend(upper_ends(preheat, units).map(|(says, who, clause)| {
        let blank = Text::default;
        Row::Cells(vec![
            says.into(),
            who.into(),
            blank(),
            blank(),
            cited(clause),
        ])
    }));
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

    /// The side where it speaks of one alone, with a space before it.
    fn of_side(&self) -> String {
        match self.of_both || !self.method.who.starts_with("side") {
            true => String::new(),
            false => format!(" {}", self.method.who),
        }
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

fn speaks(method: &Method) -> bool {
    !matches!(method.outcome, Outcome::NotApplicable(_))
}

/// Whether a method that binds or guides lacks an input, so that more may be asked.
fn lacks_inputs(preheat: &Preheat) -> bool {
    preheat.methods.iter().any(|method| {
        method.standing != Standing::Comparison && matches!(method.outcome, Outcome::Missing(_))
    })
}

/// Whether a method that binds or guides does not reach this weld, so that what governs may be too little.
fn is_out_of_reach(preheat: &Preheat) -> bool {
    preheat.methods.iter().any(|method| {
        method.standing != Standing::Comparison && matches!(method.outcome, Outcome::Refused(_))
    })
}

fn heading(preheat: &Preheat, units: Units) -> String {
    let mut says = match &preheat.governing {
        None => "Preheat: no method gives one".to_owned(),
        Some(governing) => {
            let by = match (lacks_inputs(preheat), is_out_of_reach(preheat)) {
                (_, true) => ", perhaps more",
                (true, false) => " by what is given",
                (false, false) => "",
            };
            format!(
                "Preheat: at least {}{by}",
                both_c(governing.temperature.c(), units)
            )
        }
    };
    if let Some(lowest) = lowest(preheat) {
        let at_most = both_c(lowest.at_most.c(), units);
        let least_c = preheat
            .governing
            .as_ref()
            .map_or(f64::NEG_INFINITY, |one| one.temperature.c());
        says = match least_c > lowest.at_most.c() {
            true => format!(
                "{says}, yet between runs at most {at_most} ({}): both cannot be kept",
                lowest.who
            ),
            false => format!("{says}; between runs at most {at_most}"),
        };
    }
    says
}

fn lowest(preheat: &Preheat) -> Option<&Interpass> {
    let ends = preheat.interpass.iter();
    ends.min_by(|a, b| a.at_most.c().total_cmp(&b.at_most.c()))
}

/// What must not be passed: what it says, of which side unless of all, where it stands.
fn upper_ends(preheat: &Preheat, units: Units) -> impl Iterator<Item = (String, String, &Clause)> {
    let alike = |limit: &Interpass| {
        let mut ends = preheat.interpass.iter();
        ends.all(|other| other.at_most == limit.at_most)
    };
    let between = lowest(preheat).map(|limit| {
        (
            format!("between runs at most {}", both_c(limit.at_most.c(), units)),
            match alike(limit) {
                true => String::new(),
                false => limit.who.clone(),
            },
            &limit.clause,
        )
    });
    let unwanted = preheat.unwanted.iter().map(move |one| {
        (
            format!("at most {}: {}", both_c(one.at_most.c(), units), one.why),
            one.who.clone(),
            &one.clause,
        )
    });
    between.into_iter().chain(unwanted)
}

fn outcome(outcome: &Outcome, units: Units) -> String {
    match outcome {
        Outcome::AtLeast { temperature, .. } => {
            format!("at least {}", both_c(temperature.c(), units))
        }
        Outcome::None {
            metal_at_least,
            warmed_to,
        } => {
            let colder = warmed_to.map_or(String::new(), |to| {
                format!(", colder metal first warmed to {}", both_c(to.c(), units))
            });
            format!(
                "none; metal dry, at least {}{colder}",
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
            format!("not given: {}", named_together(&keys))
        }
        Outcome::Off(_) => "off, unsure, until somebody confirms it".into(),
    }
}
