//! The head of the page: what weld, what for, by which paper, and what the prediction says in one line.

use checks::Verdict;
use report::{Block, State, Text};
use rules::weld::{Orientation, Purpose};

use crate::sheet::PlanSheet;
use crate::sheet::words::both_dimension;

/// The paragraphs under the title.
pub(super) fn head(plan: &PlanSheet) -> Vec<Block> {
    vec![
        Block::paragraph(identity(plan)),
        Block::paragraph(verdict(plan)),
    ]
}

/// What the heat is for, in words.
pub(in crate::sheet) fn purpose(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::StressRelief => "stress relief",
        Purpose::Preheat => "preheat",
        Purpose::HydrogenBakeOut => "hydrogen bake-out",
    }
}

fn identity(plan: &PlanSheet) -> Text {
    let who = &plan.job.identification;
    let code = &plan.requirement.code;
    let or_blank = |words: &str| match words {
        "" => "not given".to_string(),
        given => given.to_string(),
    };
    let pipe = pipe(plan);
    let start = match plan.job.demo {
        Some(_) => Text::default().strong("Demo, not for use. "),
        None => Text::default(),
    };
    start
        .strong(format!("{}: ", capital(purpose(plan.requirement.purpose))))
        .and(format!(
            "{pipe}. Code {}-{}. Procedure {}. Line {}. Project {}. Prepared by {}.",
            code.code,
            code.edition,
            or_blank(&who.procedure),
            or_blank(&who.line),
            or_blank(&who.project),
            or_blank(&who.prepared_by)
        ))
}

fn pipe(plan: &PlanSheet) -> String {
    let [first, second] = &plan.job.weld.sides;
    let of = |side: &rules::weld::Side| {
        format!(
            "{} × {}",
            both_dimension(side.outside_diameter, plan.job.units),
            both_dimension(side.wall, plan.job.units)
        )
    };
    let standing = match plan.setup.joint.orientation {
        Orientation::Horizontal => "pipe lies",
        Orientation::Vertical => "pipe stands, side 2 is up",
    };
    if of(first) == of(second) {
        format!("{}, {standing}", of(first))
    } else {
        format!("side 1 {}, side 2 {}, {standing}", of(first), of(second))
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// What the prediction says, in one line; the page after says the rest.
fn verdict(plan: &PlanSheet) -> Text {
    let count = |wanted: Verdict| {
        let all = plan.findings.findings.iter();
        all.filter(|f| f.verdict == wanted).count()
    };
    let (met, missed, open) = (
        count(Verdict::Met),
        count(Verdict::NotMet),
        count(Verdict::NotJudged),
    );
    let of = plan.findings.findings.len();
    let mut text = Text::plain("Predicted: ");
    text = match (missed, open) {
        (0, 0) => text.status(State::Fine, format!("{met} of {of} limits are met")),
        (0, _) => text.status(State::Look, format!("{met} of {of} limits are met, {open} can't be judged")),
        _ => text.status(
            State::Passed,
            format!("{missed} of {of} limits are not met, do not heat on this plan before page 2 is settled"),
        ),
    };
    let in_the_way: Vec<String> = plan
        .foreseen
        .iter()
        .filter(|one| one.verdict != Verdict::Met)
        .map(|one| one.about.words())
        .collect();
    text = text.and(". What no wire sees: ");
    text = match in_the_way.is_empty() {
        true => text.status(State::Fine, "nothing stands in the way"),
        false => text.status(
            State::Look,
            format!("needs a look, {}", in_the_way.join(", ")),
        ),
    };
    text.and(". Reasons: page 2.")
}
