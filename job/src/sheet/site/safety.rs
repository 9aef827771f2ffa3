//! What to heed before the heat goes on, and who answers for it.

use cycle::setup::BoreEnd;
use report::{Block, Text, WriteIn};
use rules::exposure::Persons;

use crate::sheet::PlanSheet;
use crate::sheet::words::away_words;

/// Cautions as statements to tick.
pub(super) fn checks(plan: &PlanSheet, all: bool) -> Block {
    let mut texts: Vec<Text> = [
        "Hot-work permit, fire watch, extinguisher",
        "Pipe empty, dry, vented; no trapped volume or liquid",
        "Source isolated while cable is laid; earth whole",
        "Supports carry the hot pipe and let it grow",
        "Mask, gloves: fiber; hot long after power is off",
    ]
    .map(Text::from)
    .to_vec();
    texts.push(keep_away(plan).into());
    texts.push(bore_ends(plan).into());
    if all {
        texts.extend(plan.outcome.cautions.iter().map(Text::from));
    } else if !plan.outcome.cautions.is_empty() {
        texts.push("Cautions of this weld on page 2 read".into());
    }
    Block::Checks(texts)
}

/// Distances by the levels that were read; wearers of implants are not protected by any.
fn keep_away(plan: &PlanSheet) -> String {
    let away = |who: Persons| plan.exposure.keep_away_m(who);
    match (away(Persons::Workers), away(Persons::Public)) {
        (Some(workers_m), Some(public_m)) => format!(
            "No implants, no rings; {} away, public {}",
            away_words(workers_m, plan.job.units),
            away_words(public_m, plan.job.units)
        ),
        _ => "No implants, no rings; distances by national law".into(),
    }
}

/// What has to be done to the ends of the bore so that the prediction holds.
fn bore_ends(plan: &PlanSheet) -> String {
    let words = |end: BoreEnd| match end {
        BoreEnd::Open => "open",
        BoreEnd::Closed => "closed, but vented",
        BoreEnd::Plugged => "plugged with insulation, vented",
    };
    let [first, second] = &plan.setup.joint.sides;
    let same = first.bore_end == second.bore_end;
    match same {
        true => format!("Both ends of the bore {}", words(first.bore_end)),
        false => format!(
            "Bore end 1 {}, end 2 {}",
            words(first.bore_end),
            words(second.bore_end)
        ),
    }
}

/// By which paper, and the lines to sign.
pub(super) fn sign(plan: &PlanSheet) -> Vec<Block> {
    let code = &plan.requirement.code;
    let field = |label: &str, width_mm: f64| WriteIn {
        label: label.into(),
        width_mm,
    };
    vec![
        Block::paragraph(
            Text::plain(super::channels::without_wire(plan)).italic(format!(
                "{}-{} and the contract govern; whoever is licensed decides, this plan does not.",
                code.code, code.edition
            )),
        ),
        Block::WriteIns(vec![
            field("Wrapped by", 36.0),
            field("Checked by", 36.0),
            field("Released by", 36.0),
            field("Source no.", 20.0),
            field("Logger no.", 20.0),
            field("Heat on, date and time", 34.0),
        ]),
    ]
}
