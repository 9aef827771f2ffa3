//! Time and temperature of part and coupon.

use quantity::Units;
use report::{Block, Note, Row, Text};
use rules::time_temperature::Cycle;

use super::{cited, table};
use crate::need::TimeTemperatureNeed;
use crate::sheet::words::first_c;

/// What part and coupon see, in time at one temperature and as parameters.
pub(crate) fn time_temperature(need: &TimeTemperatureNeed, units: Units) -> Vec<Block> {
    let told = |cycles: &[Cycle]| {
        let each = cycles.iter().map(|cycle| {
            let at = first_c(cycle.temperature.c(), units);
            format!("{} at {at}", cycle.hold.words())
        });
        each.collect::<Vec<_>>().join(", ")
    };
    let asked = match need.with_hold_asked {
        true => "; the last is the hold that is asked, at the upper end of its range",
        false => "",
    };
    let coupon = match need.coupon.is_empty() {
        true => "no coupon is listed".to_owned(),
        false => format!("the coupon {}", told(&need.coupon)),
    };
    let reference = need.ways.first().map(|way| way.part.reference.c());
    let reference = reference.map_or(String::new(), |c| first_c(c, units));
    let mut blocks = vec![
        Block::heading(2, "Time and temperature"),
        Block::paragraph(format!(
            "The part sees {}{asked}; {coupon}. Times below are at {reference}, the highest of all; another temperature would give \
             other times.",
            told(&need.part)
        )),
        ways(need),
    ];
    blocks.extend(critical(need));
    blocks
}

fn ways(need: &TimeTemperatureNeed) -> Block {
    let rows = need.ways.iter().map(|way| {
        let hours = |h: f64| format!("{h:.2} h");
        let left = way
            .budget
            .as_ref()
            .map_or("no coupon".to_owned(), |budget| {
                let (left_h, parameter) = (budget.left.h(), budget.parameter_left);
                format!("{} (P {parameter:+.2})", hours(left_h))
            });
        let coupon = way.budget.as_ref().map_or("none".to_owned(), |budget| {
            let coupon = &budget.qualified;
            format!(
                "{} (P {:.2})",
                hours(coupon.equivalent.h()),
                coupon.parameter
            )
        });
        Row::Cells(vec![
            format!(
                "{}, C = {}; {}",
                way.parameter.name, way.parameter.constant, way.part.ramps
            )
            .into(),
            format!(
                "{} (P {:.2})",
                hours(way.part.equivalent.h()),
                way.part.parameter
            )
            .into(),
            coupon.into(),
            left.into(),
            cited(&way.parameter.clause),
        ])
    });
    let heads = ["By", "Part", "Coupon", "Left", "Where it stands"];
    table(heads, rows.collect())
}

/// The share that a code asks of the coupon, and the highest parameters that it permits.
fn critical(need: &TimeTemperatureNeed) -> Option<Block> {
    let mut notes = Vec::new();
    let budget = need.ways.iter().find_map(|way| way.budget.as_ref());
    if let Some((budget, (share, clause))) = budget.and_then(|b| Some((b, b.share_asked.as_ref()?)))
    {
        let says = format!(
            "By the clock the coupon saw {:.0} % of the time at temperature of the part; {:.0} % are asked (",
            100.0 * budget.coupon_share,
            100.0 * share
        );
        notes.push((says, clause, budget.coupon_share < *share));
    }
    if let Some(budget) = budget.filter(|budget| budget.left.h() < 0.0) {
        let says = format!(
            "The part sees {:.2} h more than its coupon was qualified for (",
            -budget.left.h()
        );
        let clause = need.ways.first().map(|way| &way.parameter.clause);
        notes.extend(clause.map(|clause| (says, clause, true)));
    }
    let highest = need.ways.first().map_or(0.0, |way| way.part.parameter);
    for one in need.critical.iter().filter(|c| c.is_on) {
        let says = format!(
            "{}: P at most {:.2} without proof of the properties; the part has {highest:.2} by the first row (",
            one.who, one.at_most
        );
        notes.push((says, &one.clause, highest > one.at_most));
    }
    for one in need.critical.iter().filter(|c| !c.is_on) {
        let says = format!(
            "{}: P at most {:.2} would hold without proof of the properties; it is off until somebody confirms it; the part has {highest:.2} (",
            one.who, one.at_most
        );
        notes.push((says, &one.clause, highest > one.at_most));
    }
    let notes: Vec<Note> = notes
        .into_iter()
        .map(|(says, clause, passed)| {
            let text = Text([Text::plain(says).0, cited(clause).and(")").0].concat());
            match passed {
                true => Note::caution(text),
                false => Note::plain(text),
            }
        })
        .collect();
    (!notes.is_empty()).then_some(Block::Notes(notes))
}
