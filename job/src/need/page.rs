//! The needs of a weld on one page.

use checks::{level_words, limit_words};
use quantity::Units;
use report::{Block, Fit, Note, Paper, Row, Running, Sheet, Text};
use rules::band::{Bands, Governing};
use rules::requirement::{Limit, LimitKind, Remark};
use rules::standing::Verdict;
use rules::thermocouple::{Role, Thermocouple};

use super::Need;
use super::blocks::{bake_out, cited, exposure, off, preheat, table, time_temperature};
use crate::NeedJob;
use crate::sheet::words::{both_tape, clock};

/// The document; `made` says who or what made it and when. What does not fit on the page stands on the next one.
pub fn need_sheet(job: &NeedJob, need: &Need, made: &str) -> Sheet {
    let frame = frame(job, need, made);
    let notes = notes(need);
    let mut first = head(job, need);
    for kept in (0..=notes.len()).rev() {
        let mut page = first.clone();
        page.extend(block_of_notes(&notes[..kept], TO_ANSWER));
        let mut blocks = vec![Block::OnePage(page)];
        blocks.extend(block_of_notes(
            &notes[kept..],
            "To answer, and to know, continued",
        ));
        blocks.extend(advice(need));
        blocks.extend(need.exposure.iter().flat_map(exposure));
        let trial = Sheet {
            blocks,
            ..frame.clone()
        };
        if report::one_page_fits(&trial).is_ok_and(|fits| fits.iter().all(Fit::fits)) {
            return trial;
        }
    }
    first.extend(block_of_notes(&notes, TO_ANSWER));
    first.extend(advice(need));
    first.extend(need.exposure.iter().flat_map(exposure));
    Sheet {
        blocks: first,
        ..frame
    }
}

fn frame(job: &NeedJob, need: &Need, made: &str) -> Sheet {
    let who = &job.identification;
    let weld = match who.weld.as_str() {
        "" => "this weld".to_owned(),
        weld => format!("weld {weld}"),
    };
    Sheet {
        title: format!("What {weld} needs"),
        subject: need.weld.clone(),
        author: who.prepared_by.clone(),
        language: "en-US".into(),
        paper: match job.units {
            Units::Si => Paper::A4,
            Units::Us => Paper::Letter,
        },
        running: Running {
            head_left: format!("{} {}", need.code.code, need.code.edition),
            head_right: who.line.clone(),
            foot_left: made.into(),
            mark: job.demo.as_ref().map(|_| "demo, not for use".into()),
        },
        blocks: Vec::new(),
    }
}

fn head(job: &NeedJob, need: &Need) -> Vec<Block> {
    let mut blocks = stress_relief(job, need);
    blocks.extend(preheat(&need.preheat, job.units));
    blocks.extend(bake_out(&need.bake_out, job.units));
    let treated = need.time_temperature.iter();
    blocks.extend(treated.flat_map(|one| time_temperature(one, job.units)));
    blocks.extend(bands(job, need));
    blocks.extend(thermocouples(need));
    blocks
}

fn stress_relief(job: &NeedJob, need: &Need) -> Vec<Block> {
    let standing = &need.stress_relief.standing;
    let mut blocks = vec![Block::heading(
        2,
        format!("Stress relief: {}", standing.words()),
    )];
    let because: Vec<Note> = standing
        .reasons
        .iter()
        .map(|reason| {
            let text = Text::plain(&reason.text);
            Note::plain(match &reason.clause {
                Some(clause) => Text([text.and(" (").0, cited(clause).and(")").0].concat()),
                None => text,
            })
        })
        .collect();
    blocks.push(Block::Notes(because));
    let Some(requirement) = &need.stress_relief.requirement else {
        return blocks;
    };
    let thickness = &requirement.governing_thickness;
    let if_done = match standing.verdict {
        Verdict::Required => "Governing thickness",
        _ => "If it is done: governing thickness",
    };
    blocks.push(Block::paragraph(format!(
        "{if_done} {}: {} ({} {}).",
        crate::sheet::words::both_dimension(thickness.thickness, job.units),
        thickness.reason,
        thickness.clause.document,
        thickness.clause.clause
    )));
    let mut limits: Vec<&Limit> = requirement.limits.iter().collect();
    limits.sort_by(|a, b| in_order(a).total_cmp(&in_order(b)));
    // Of several ceilings of one level the lowest stands here; the others are in the data.
    limits.dedup_by(|later, kept| {
        let kind = |limit: &Limit| std::mem::discriminant(&limit.kind);
        later.level == kept.level && kind(later) == kind(kept)
    });
    let rows = limits.iter().map(|limit| {
        Row::Cells(vec![
            limit_words(&limit.kind, job.units).into(),
            level_words(limit.level).into(),
            cited(&limit.clause),
        ])
    });
    blocks.push(table(["Limit", "Who", "Where it stands"], rows.collect()));
    blocks
}

/// Limits of one kind together, the strictest first.
fn in_order(limit: &Limit) -> f64 {
    let (kind, strict) = match limit.kind {
        LimitKind::HoldMin(c) => (0.0, -c.c()),
        LimitKind::HoldMax(c) => (1.0, c.c()),
        LimitKind::HoldTime(time) => (2.0, -time.h()),
        LimitKind::HeatingRate { rate, .. } => (3.0, rate.k_h()),
        LimitKind::CoolingRate { rate, .. } => (4.0, rate.k_h()),
        LimitKind::HoldSpread(k) => (5.0, k.k()),
        LimitKind::HeatingSpread { spread, .. } => (6.0, spread.k()),
    };
    1e6 * kind + strict
}

fn bands(job: &NeedJob, need: &Need) -> Vec<Block> {
    let Some(bands) = &need.bands else {
        return Vec::new();
    };
    let named = [
        ("soak band", &bands.soak),
        ("heated band", &bands.heated),
        ("gradient control band (blanket)", &bands.gradient_control),
    ];
    let mut told = None;
    let rows = named.into_iter().map(|(name, governing)| {
        let row = &bands.by_rule[governing.row];
        let working = match told.replace(governing.row) == Some(governing.row) {
            true => "as above",
            false => row.working.as_str(),
        };
        Row::Cells(vec![
            format!("{name}: {} wide", both_tape(governing.width, job.units)).into(),
            working.into(),
            cited(&row.clause),
        ])
    });
    let heading = match &need.branch_bands {
        None => "Bands, centered on the weld",
        Some(_) => "Bands along the run, centered on the branch",
    };
    let mut blocks = vec![
        Block::heading(2, heading),
        table(["Band", "Working", "Where it stands"], rows.collect()),
    ];
    blocks.extend(bands.heating_index.map(wall_area));
    blocks.extend(
        need.branch_bands
            .as_ref()
            .map(|bands| on_branch(bands, job.units)),
    );
    blocks
}

/// The wall-area criterion of AWS D10.10.
fn wall_area(index: f64) -> Block {
    Block::paragraph(format!(
        "Heated outside over twice the metal's section and the bore of the soak band: {} (heating index, AWS D10.10, 5 wanted).",
        crate::sheet::words::trimmed(index, 1)
    ))
}

fn on_branch(bands: &Bands, units: Units) -> Block {
    let half = |one: &Governing| both_tape(one.width * 0.5, units);
    Block::paragraph(format!(
        "On the branch, from the middle of the weld outward: soak band {}, heated band {}, blanket {}.",
        half(&bands.soak),
        half(&bands.heated),
        half(&bands.gradient_control)
    ))
}

fn thermocouples(need: &Need) -> Vec<Block> {
    if need.thermocouples.is_empty() {
        return Vec::new();
    }
    let of = |role: Role| {
        let list: Vec<&Thermocouple> = need
            .thermocouples
            .iter()
            .filter(|one| one.role == role && one.fitted)
            .collect();
        list
    };
    let words = |name: &str, list: &[&Thermocouple]| {
        let places: Vec<String> = list
            .iter()
            .map(|one| match one.axial.mm() {
                0.0 => clock(one.clock),
                mm => format!("{} at {mm:+.0} mm", clock(one.clock)),
            })
            .collect();
        format!("{} {name} ({})", list.len(), places.join(", "))
    };
    let (control, monitor, spare) = (of(Role::Control), of(Role::Monitor), of(Role::Spare));
    vec![Block::paragraph(format!(
        "Thermocouples (common practice, no source): {}; {}; {} spare beside {}.",
        words("control", &control),
        words("monitor", &monitor),
        spare.len(),
        match spare.len() {
            1 => "it",
            _ => "the control thermocouples",
        }
    ))]
}

/// What must be answered, what cannot be, what disagrees.
fn notes(need: &Need) -> Vec<Note> {
    let standing = &need.stress_relief.standing;
    let open = standing.open.iter().map(|open| {
        Note::caution(
            Text::plain("To be answered: ")
                .strong(&open.key)
                .and(format!(": {}", open.text)),
        )
    });
    let gaps = need
        .unanswered
        .iter()
        .map(|gap| Note::caution(format!("No answer on {}: {}", gap.what, gap.why)));
    let confirmed = need
        .confirmed
        .iter()
        .map(|one| Note::plain(format!("Confirmed: {one}")));
    let asked_already = |remark: &&Remark| {
        let keys = standing.open.iter().map(|open| format!("({})", open.key));
        keys.into_iter().any(|key| remark.text.contains(&key))
    };
    let mut remarks = need.remarks();
    remarks.retain(|remark| !asked_already(remark));
    remarks.sort_by_key(|remark| !is_warning(remark));
    let remarks = remarks.into_iter().map(|remark| match is_warning(remark) {
        true => Note::caution(note(remark).text),
        false => note(remark),
    });
    let off = off(&need.preheat).map(Note::plain);
    open.chain(gaps)
        .chain(confirmed)
        .chain(remarks)
        .chain(off)
        .collect()
}

fn is_warning(remark: &Remark) -> bool {
    remark.text.starts_with("warning:")
}

fn note(remark: &Remark) -> Note {
    let text = Text::plain(&remark.text);
    Note::plain(match &remark.clause {
        Some(clause) => Text([text.and(" (").0, cited(clause).and(")").0].concat()),
        None => text,
    })
}

/// What is heeded while a stress relief is set up.
fn advice(need: &Need) -> Vec<Block> {
    block_of_notes(
        &need.setting_up.iter().map(note).collect::<Vec<_>>(),
        "To heed while it is set up",
    )
}

/// The heading of the notes.
const TO_ANSWER: &str = "To answer, and to know";

fn block_of_notes(notes: &[Note], heading: &str) -> Vec<Block> {
    if notes.is_empty() {
        return Vec::new();
    }
    vec![Block::heading(2, heading), Block::Notes(notes.to_vec())]
}
