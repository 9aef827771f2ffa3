//! The rows of a section file: what is asked, and what is expected.

use super::super::problem::{Asked, Expectation, RectangleSide, Row, SectionProblem};
use super::named;
use crate::toml_reader::{Table, Value};

/// The quantities that may be asked, in the order that [`asked`] knows them by.
const QUANTITIES: [&str; 7] = [
    "power_w",
    "resistance_ohm",
    "reactance_ohm",
    "inductance_h",
    "flux_w_m2",
    "temperature_c",
    "heat_flow_w",
];

/// Every `[[expect]]` and `[[ask]]`, in the order of the file.
pub fn read(root: &Table<'_>, problem: &SectionProblem) -> Vec<Row> {
    let expected = root
        .tables("expect")
        .into_iter()
        .map(|table| row(&table, problem, true));
    let asked = root
        .tables("ask")
        .into_iter()
        .map(|table| row(&table, problem, false));
    let mut rows: Vec<Row> = expected.chain(asked).flatten().collect();
    rows.sort_by_key(|row| row.line);
    rows
}

fn row(table: &Table<'_>, problem: &SectionProblem, expecting: bool) -> Option<Row> {
    let quantity = table.need("quantity", &format!("one of {}", QUANTITIES.join(", ")));
    let asked = quantity.and_then(|value| asked(&value, table, problem));
    let time_s = table.get("time_s").and_then(|value| time(&value, problem));
    let expected = expecting.then(|| expectation(table));
    if asked.is_some() {
        table.finish();
        timed(table, problem);
    }
    Some(Row {
        asked: asked?,
        time_s,
        expected: expected.flatten(),
        line: table.line(),
    })
}

fn asked(quantity: &Value<'_>, table: &Table<'_>, problem: &SectionProblem) -> Option<Asked> {
    let number = quantity.word_of(&QUANTITIES)?;
    let (missing, needed) = match number {
        0..5 => (problem.frequency_hz.is_none(), "frequency_hz in the file"),
        _ => (problem.heat.is_none(), "a table [heat] in the file"),
    };
    if missing {
        quantity.fault(
            format!("{} without {needed}", QUANTITIES[number]),
            needed,
            None,
        );
    }
    let body = || {
        let names = problem.bodies.iter().map(|body| body.name.as_str());
        named(&table.need("of", "the name of a body")?, "body", names)
    };
    let coil = || {
        let names = problem.coils.iter().map(|coil| coil.name.as_str());
        let name = table.need("of", "the name of a coil")?;
        let coil = named(&name, "coil", names)?;
        if problem.coils[coil].current_a_peak == 0.0 {
            name.fault("a coil without current", "a coil with a current", None);
        }
        Some(coil)
    };
    match number {
        0 => Some(Asked::Power { body: body()? }),
        1 => Some(Asked::Resistance { coil: coil()? }),
        2 => Some(Asked::Reactance { coil: coil()? }),
        3 => Some(Asked::Inductance { coil: coil()? }),
        4 => flux(table, problem, body()),
        5 => {
            let point = table.need("point_m", "a point [u, v] in meters");
            Some(Asked::Temperature {
                point_m: point?.exactly::<2>()?,
            })
        }
        _ => {
            let names = problem.edges.iter().filter_map(|edge| edge.name.as_deref());
            let name = table.need("of", "the name of an edge")?;
            named(&name, "edge", names)?;
            let text = name.text();
            let edge = problem
                .edges
                .iter()
                .position(|edge| edge.name.as_deref() == text)?;
            Some(Asked::HeatFlow { edge })
        }
    }
}

fn flux(table: &Table<'_>, problem: &SectionProblem, body: Option<usize>) -> Option<Asked> {
    let side = table.need("side", "\"u1\", \"u2\", \"v1\" or \"v2\"");
    let place = table.need("at_m", "the coordinate along that side in meters");
    let side = side
        .and_then(|value| value.word_of(&RectangleSide::WORDS))
        .map(|number| RectangleSide::ALL[number]);
    let at_m = place.as_ref().and_then(Value::number);
    let (body, side, at_m, place) = (body?, side?, at_m?, place?);
    let stated = &problem.bodies[body];
    let Some(sides) = stated.rectangle_m else {
        if !stated.polygon.is_empty() {
            place.fault(
                format!("a side of the polygon {:?}", stated.name),
                "a body with rectangle_m",
                None,
            );
        }
        return None;
    };
    let [from, to] = side.ends(sides);
    let along = usize::from(from[0] == to[0]);
    if !(from[along]..=to[along]).contains(&at_m) {
        place.fault(
            format!("{at_m}"),
            format!("a number from {} to {}", from[along], to[along]),
            None,
        );
    }
    Some(Asked::Flux { body, side, at_m })
}

/// A time within the run.
fn time(value: &Value<'_>, problem: &SectionProblem) -> Option<f64> {
    match problem.heat.map(|heat| heat.end_s) {
        Some(Some(end_s)) => value.number_within(0.0, end_s),
        _ => {
            value.fault(
                "time_s in a problem without end_s",
                "time_s only where [heat] has end_s",
                None,
            );
            None
        }
    }
}

/// Notes a transient row that does not say when.
fn timed(table: &Table<'_>, problem: &SectionProblem) {
    let transient = problem.heat.is_some_and(|heat| heat.end_s.is_some());
    if transient && table.get("time_s").is_none() {
        table.note(
            "no time_s".into(),
            "time_s = a time of the run in s".into(),
            None,
        );
    }
}

fn expectation(table: &Table<'_>) -> Option<Expectation> {
    let value = table
        .need("value", "the expected value")
        .and_then(|value| value.number());
    let because = table
        .need("because", "a text: why that value, why that far")
        .and_then(|value| value.text());
    let tolerance = |key| {
        table
            .get(key)
            .map(|value: Value<'_>| value.number_within(0.0, f64::INFINITY))
    };
    let (within, within_percent) = (tolerance("within"), tolerance("within_percent"));
    if within.is_none() && within_percent.is_none() {
        table.note(
            "no tolerance".into(),
            "within, within_percent or both".into(),
            None,
        );
    }
    let value = value?;
    let percent = within_percent.flatten();
    let relative = percent.map_or(0.0, |percent| 0.01 * percent * value.abs());
    let absolute = within.flatten().unwrap_or(0.0);
    Some(Expectation {
        value,
        allowed: relative.max(absolute),
        allowed_percent: percent.filter(|_| relative >= absolute),
        because: because?.to_owned(),
    })
}
