//! Results by attempt and by thermocouple.

use checks::{Finding, Measured, Origin, Portrait};
use quantity::{Hours, Units};
use report::{Block, Fact, Row, Table, TableColumn, Text};

use crate::record::Record;
use crate::sheet::words::{duration_h, first_c};
use crate::wording::length;

pub(super) fn blocks(record: &Record) -> Vec<Block> {
    let mut blocks = vec![
        Block::heading(1, "Results"),
        Block::heading(2, "Limit by limit"),
    ];
    for finding in &record.findings.findings {
        let by = record.findings.names_for(&finding.limit.kind);
        let sentence = finding.sentence(Origin::Measured, record.basis.units, &by);
        blocks.push(Block::paragraph(capital(&sentence)));
        let beside = beside(finding, record.basis.units);
        if !beside.is_empty() {
            blocks.push(Block::Facts(beside));
        }
    }
    blocks.push(Block::heading(2, "Attempts"));
    blocks.push(attempts(record));
    blocks.push(Block::heading(2, "Thermocouples"));
    blocks.push(thermocouples(record));
    if !record.findings.gradients.is_empty() {
        blocks.push(gradients(record));
    }
    blocks.extend(super::map::blocks(record));
    blocks
}

/// What stands beside a finding, one fact for each thing, the thermocouples in a row.
fn beside(finding: &Finding, units: Units) -> Vec<Fact> {
    let mut facts: Vec<(&str, Vec<String>)> = Vec::new();
    for one in &finding.beside {
        let Some(measured) = one.measured else {
            continue;
        };
        let value = measured.words(units);
        let value = match &one.channel {
            Some(channel) => format!("{channel} {value}"),
            None => value,
        };
        match facts.iter_mut().find(|(what, _)| *what == one.what) {
            Some((_, values)) => values.push(value),
            None => facts.push((&one.what, vec![value])),
        }
    }
    let facts = facts.into_iter();
    facts
        .map(|(what, values)| Fact::new(what, values.join(", ")))
        .collect()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn hours(time: Option<Hours>) -> Text {
    time.map_or("none".to_string(), |h| format!("{:.2}", h.h()))
        .into()
}

fn attempts(record: &Record) -> Block {
    let units = record.basis.units;
    let rows = record
        .findings
        .attempts
        .list
        .iter()
        .enumerate()
        .map(|(index, attempt)| {
            let credit: Vec<String> = attempt
                .holds
                .iter()
                .map(|h| {
                    format!(
                        "longest {}, total {}, with those before {}",
                        duration_h(h.longest.h()),
                        duration_h(h.total.h()),
                        duration_h(h.accumulated.h())
                    )
                })
                .collect();
            Row::Cells(vec![
                format!("{}", index + 1).into(),
                format!(
                    "{:.2} from {}",
                    attempt.began.h(),
                    first_c(attempt.from.c(), units)
                )
                .into(),
                format!(
                    "{} at {}, {}",
                    first_c(attempt.peak.c(), units),
                    duration_h(attempt.peak_when.h()),
                    attempt.peak_channel
                )
                .into(),
                hours(attempt.hold_began),
                hours(attempt.band_left),
                hours(attempt.cooling_began),
                credit.join("; ").into(),
                attempt.why.words().into(),
            ])
        });
    let cycles = record
        .findings
        .attempts
        .thermal_cycles
        .map_or(String::new(), |c| {
            format!(
                " Heated through {} {}.",
                first_c(c.above.c(), units),
                match c.count {
                    1 => "once".to_owned(),
                    count => format!("{count} times"),
                }
            )
        });
    Block::Table(Table {
        caption: format!(
            "Each heating with the hold it led to; times in hours since the first scan.{cycles}"
        )
        .into(),
        columns: vec![
            TableColumn::numbers("No."),
            TableColumn::words("Began, h"),
            TableColumn::words("Highest"),
            TableColumn::numbers("Hold began, h"),
            TableColumn::numbers("Band left, h"),
            TableColumn::numbers("Cooling began, h"),
            TableColumn::words("Hold"),
            TableColumn::words("Ended"),
        ],
        rows: rows.collect(),
        first_cell_names_row: true,
    })
}

fn thermocouples(record: &Record) -> Block {
    let rate_unit = match record.basis.units {
        Units::Si => "K/h",
        Units::Us => "°F/h",
    };
    let window_min = record.findings.settings.rate_window.minutes();
    Block::Table(Table {
        caption: format!(
            "Each thermocouple by itself: steepest rates, taken over {window_min:.0} min as for the limit, time in the range, and the \
             time at the reference temperature that has the same effect (Hollomon-Jaffe, ramps counted)."
        )
        .into(),
        columns: vec![
            TableColumn::words("Name"),
            TableColumn::numbers("Readings"),
            TableColumn::numbers("Highest"),
            TableColumn::numbers("Lowest in hold"),
            TableColumn::numbers("Longest in range, h"),
            TableColumn::numbers(format!("Heating, {rate_unit}")),
            TableColumn::numbers(format!("Cooling, {rate_unit}")),
            TableColumn::words("Same effect as a hold of"),
        ],
        rows: record.findings.table.iter().map(|one| thermocouple(record, one)).collect(),
        first_cell_names_row: true,
    })
}

fn thermocouple(record: &Record, one: &Portrait) -> Row {
    let units = record.basis.units;
    let temperature =
        |t: Option<quantity::Celsius>| t.map_or("none".to_string(), |t| first_c(t.c(), units));
    let window = record.findings.settings.rate_window;
    let rate = |heating: bool| {
        let of = one
            .rates
            .iter()
            .filter(|r| r.heating == heating && r.window == window);
        let steepest = of
            .filter_map(|r| r.steepest)
            .map(|r| match units {
                Units::Si => r.k_h().abs(),
                Units::Us => r.f_h().abs(),
            })
            .reduce(f64::max);
        let judged = one.rates.iter().any(|r| r.heating == heating);
        let none = if judged { "none" } else { "not judged" };
        steepest.map_or(none.to_string(), |r| format!("{r:.0}"))
    };
    let in_hold = match one.unjudged() {
        Some(words) => words.to_owned(),
        None => temperature(one.lowest_in_hold),
    };
    let longest = match one.longest_hold() {
        Some(longest) => format!("{:.2}", longest.h()),
        None => "not judged".to_owned(),
    };
    let exposure = one.exposure.as_ref().and_then(|e| {
        Some(format!(
            "{} at {}",
            duration_h(e.equivalent?.h()),
            first_c(e.reference.c(), units)
        ))
    });
    Row::Cells(vec![
        one.channel.clone().into(),
        one.readings.to_string().into(),
        temperature(one.highest).into(),
        in_hold.into(),
        longest.into(),
        rate(true).into(),
        rate(false).into(),
        exposure.unwrap_or("none".into()).into(),
    ])
}

fn gradients(record: &Record) -> Block {
    let rows = record.findings.gradients.iter().map(|g| {
        Row::Cells(vec![
            format!("{} to {}", g.soak, g.edge).into(),
            length(g.apart, record.basis.units).into(),
            Measured::Difference(g.largest)
                .words(record.basis.units)
                .into(),
            if g.in_hold {
                "hold"
            } else {
                "heating or cooling"
            }
            .into(),
            format!("{:.2}", g.when.h()).into(),
        ])
    });
    Block::Table(Table {
        caption: "Largest differences from the soak band to the edge of the heated band.".into(),
        columns: vec![
            TableColumn::words("From, to"),
            TableColumn::numbers("Apart"),
            TableColumn::numbers("Difference"),
            TableColumn::words("In"),
            TableColumn::numbers("At, h"),
        ],
        rows: rows.collect(),
        first_cell_names_row: true,
    })
}
