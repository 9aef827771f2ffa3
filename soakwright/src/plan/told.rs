//! The plan in short, for a terminal of 80 columns.

use std::path::Path;

use checks::{Finding, Origin, Verdict};
use job::plan::Plan;
use job::plan_before::AgainstBefore;
use job::rest_numbers::Shown;
use quantity::{Celsius, Hours, Units};
use rules::exposure::Persons;

use super::since_before::since_before;

/// Columns of the terminal.
const COLUMNS: usize = 80;

/// Columns of the names at the left.
const NAMES: usize = 10;

/// Everything that is said on the terminal: what stands in the way first. `against` is what differs from the plan that lay
/// in the folder.
pub fn told(plan: &Plan, folder: &Path, against: Option<&AgainstBefore>) -> String {
    let mut lines = vec![head(plan)];
    if plan.job.demo.is_some() {
        lines.push("Demo: everything about this weld is invented.".into());
    }
    lines.push(String::new());
    lines.extend(what_stands_in_the_way(plan));
    lines.push(String::new());
    if let Some(against) = against {
        lines.extend(since_before(against));
        lines.push(String::new());
    }
    for caution in &plan.outcome.cautions {
        lines.extend(row("Caution", caution));
    }
    for (name, value) in rows(plan, folder) {
        lines.extend(row(&name, &value));
    }
    lines.push(String::new());
    lines.extend(wrapped(
        "A prediction, no proof: the code of the contract and licensed practice decide.",
        0,
    ));
    lines.into_iter().map(|line| line + "\n").collect()
}

fn head(plan: &Plan) -> String {
    let weld = &plan.job.identification.weld;
    let code = &plan.requirement.code;
    let name = if weld.is_empty() {
        plan.job.file_name.clone()
    } else {
        format!("Weld {weld}")
    };
    format!("{name}, {} {}", code.code, code.edition)
}

fn what_stands_in_the_way(plan: &Plan) -> Vec<String> {
    if plan.complies() {
        let by = plan.findings.soak_band_names();
        let count = plan.findings.findings.len();
        let cautions = match plan.outcome.cautions.len() {
            0 => String::new(),
            1 => "; 1 caution stands below".to_owned(),
            more => format!("; {more} cautions stand below"),
        };
        let words = format!(
            "Predicted values meet all {count} limits, by {}{cautions}.",
            by.join(", ")
        );
        return wrapped(&words, 0);
    }
    let mut lines = wrapped("Predicted values do not meet everything:", 0);
    for foreseen in plan.foreseen.iter().filter(|f| f.verdict != Verdict::Met) {
        lines.extend(wrapped(
            &format!("- {}: {}", foreseen.about.words(), foreseen.says),
            2,
        ));
        if let Some(remedy) = &foreseen.remedy {
            lines.extend(wrapped(&format!("  What helps: {remedy}"), 2));
        }
    }
    let mut unmet: Vec<&Finding> = plan
        .findings
        .findings
        .iter()
        .filter(|f| f.verdict != Verdict::Met)
        .collect();
    unmet.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
    for finding in unmet {
        let by = plan.findings.names_for(&finding.limit.kind);
        let sentence = finding.sentence(Origin::Predicted, plan.job.units, &by);
        lines.extend(wrapped(&format!("- {sentence}"), 2));
    }
    lines
}

fn rows(plan: &Plan, folder: &Path) -> Vec<(String, String)> {
    let rows = [
        ("Hold", hold(plan)),
        ("Turns", turns(plan)),
        ("Blanket", blanket(plan)),
        ("Cycle", cycle_words(plan)),
        ("Source", source(plan)),
        ("Bore", bore(plan)),
        ("Preheat", preheat(plan)),
        ("Hydrogen", hydrogen(plan)),
        ("Keep away", keep_away(plan)),
        (
            "Written",
            format!("plan.pdf, plan.html, plan.json in {}", folder.display()),
        ),
    ];
    rows.map(|(name, value)| (name.to_owned(), value)).to_vec()
}

fn hold(plan: &Plan) -> String {
    let programme = &plan.programme;
    let [low, high] = programme.hold_range;
    let set_point = programme.set_point;
    let range = |units| format!("{} to {}", bare_degrees(low, units), degrees(high, units));
    both(plan.job.units, |units| {
        format!("{}, set point {}", range(units), degrees(set_point, units))
    }) + &format!(", for {}", programme.hold_time.words())
}

/// What is told in the units of the reader, with the other beside it.
fn both(units: Units, words: impl Fn(Units) -> String) -> String {
    let other = match units {
        Units::Si => Units::Us,
        Units::Us => Units::Si,
    };
    format!("{} ({})", words(units), words(other))
}

fn degrees(value: Celsius, units: Units) -> String {
    let (number, unit) = units.of(value.c(), "°C");
    format!("{number:.0} {unit}")
}

fn bare_degrees(value: Celsius, units: Units) -> String {
    format!("{:.0}", units.of(value.c(), "°C").0)
}

fn turns(plan: &Plan) -> String {
    let axial = || plan.coil.turns.iter().map(|t| t.axial.mm());
    let (first, last) = (
        axial().fold(f64::INFINITY, f64::min),
        axial().fold(f64::NEG_INFINITY, f64::max),
    );
    let chosen = if plan.job.coil.is_none() {
        "proposed"
    } else {
        "as given"
    };
    format!(
        "{} of {} cable, {chosen}, from {} to {} of the weld",
        plan.coil.turns.len(),
        thick(plan.setup.cable.outside_diameter_mm.value, plan.job.units),
        along(first, plan.job.units),
        along(last, plan.job.units)
    )
}

fn blanket(plan: &Plan) -> String {
    let blanket = &plan.setup.blanket;
    let units = plan.job.units;
    format!(
        "{} of {}, {} and {} each way",
        thick(blanket.thickness.mm(), units),
        blanket.material.name,
        along(blanket.reach[0].mm(), units),
        along(blanket.reach[1].mm(), units)
    )
}

fn cycle_words(plan: &Plan) -> String {
    let spans = plan.outcome.stages.iter();
    let stages: Vec<String> = spans
        .map(|span| {
            format!(
                "{} {}",
                span.stage.words(),
                Hours::from_s(span.to_s - span.from_s).words()
            )
        })
        .collect();
    format!(
        "{}; {:.0} kWh",
        stages.join(", "),
        plan.outcome.energy.source_kwh
    )
}

fn source(plan: &Plan) -> String {
    let source = &plan.outcome.source;
    format!(
        "at most {:.1} kW, {:.0} A, {:.0} V at {:.1} kHz",
        source.largest_power_w / 1e3,
        source.largest_current_rms_a,
        source.largest_voltage_rms_v,
        plan.outcome.frequency_hz / 1e3
    )
}

fn bore(plan: &Plan) -> String {
    let difference = |k: f64| match plan.job.units {
        Units::Si => format!("{k:.0} K"),
        Units::Us => format!("{:.0} °F", k * 1.8),
    };
    let to_bore = &plan.outcome.surface_to_bore;
    format!(
        "{} colder than the outside while heating, {} in the hold",
        difference(to_bore.heating.difference_k),
        difference(to_bore.hold.difference_k)
    )
}

fn preheat(plan: &Plan) -> String {
    match &plan.preheat.governing {
        None => "no method gives one".to_owned(),
        Some(governing) => {
            let least = both(plan.job.units, |units| {
                degrees(governing.temperature, units)
            });
            format!("at least {least}: {}", governing.reason)
        }
    }
}

/// What the cycle leaves of it; in metal that keeps its hydrogen, why.
fn hydrogen(plan: &Plan) -> String {
    let answer = &plan.bake_out.answer;
    let after = answer
        .after_history
        .and_then(|index| answer.by_coefficient[index].history);
    match after {
        Some(after) => format!(
            "by diffusion this cycle leaves {:.0} % of the mean, {:.0} % at the slowest place",
            100.0 * after.left.mean,
            100.0 * after.left.slowest
        ),
        None => match answer.hopeless.first() {
            Some(one) => one.reason.clone(),
            None => "no coefficient holds for this cycle".to_owned(),
        },
    }
}

fn keep_away(plan: &Plan) -> String {
    let away = |who: Persons| plan.exposure.keep_away_m(who);
    match (away(Persons::Workers), away(Persons::Public)) {
        (Some(workers_m), Some(public_m)) => format!(
            "workers {}, others {} from coil and leads at {:.0} A; wearers of implants stay out",
            away_words(workers_m, plan.job.units),
            away_words(public_m, plan.job.units),
            plan.exposure.current_a
        ),
        _ => "no level is kept for this frequency; national law decides".to_owned(),
    }
}

/// A distance to keep, never rounded down.
fn away_words(m: f64, units: Units) -> String {
    match units {
        Units::Si => format!("{m:.2} m"),
        Units::Us => format!("{:.1} ft", (units.of(m, "m").0 * 10.0).ceil() / 10.0),
    }
}

/// A thickness, without zeros that say nothing.
fn thick(mm: f64, units: Units) -> String {
    let (number, unit) = units.of(mm, "mm");
    let text = match units {
        Units::Si => format!("{number:.0}"),
        Units::Us => format!("{number:.3}"),
    };
    let text = match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.'),
        false => &text,
    };
    format!("{text} {unit}")
}

fn along(mm: f64, units: Units) -> String {
    let sign = if mm < 0.0 { "-" } else { "" };
    format!("{sign}{}", Shown(units).length(mm))
}

/// A name with its value, the value wrapped beside it.
pub fn row(name: &str, value: &str) -> Vec<String> {
    let mut lines = wrapped(value, NAMES).into_iter();
    let first = lines.next().unwrap_or_default();
    let mut row = vec![format!("{name:<NAMES$}{}", first.trim_start())];
    row.extend(lines.map(|line| format!("{:NAMES$}{}", "", line.trim_start())));
    row
}

/// Lines of at most [`COLUMNS`] letters; all but the first begin with `hang` blanks.
pub fn wrapped(words: &str, hang: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let lead: String = words.chars().take_while(|c| *c == ' ').collect();
    let mut line = lead;
    let width = COLUMNS - if hang == NAMES { NAMES } else { 0 };
    for word in words.split_whitespace() {
        let used = line.chars().count();
        let blank = usize::from(!line.trim().is_empty());
        if used + blank + word.chars().count() > width && !line.trim().is_empty() {
            lines.push(std::mem::replace(
                &mut line,
                " ".repeat(if hang == NAMES { 0 } else { hang }),
            ));
        } else if blank == 1 {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_the_terminal() {
        let words = "word ".repeat(60);
        for hang in [0, 2, NAMES] {
            assert!(
                wrapped(&words, hang)
                    .iter()
                    .all(|l| l.chars().count() <= COLUMNS)
            );
        }
        assert!(
            row("Written", &words)
                .iter()
                .all(|l| l.chars().count() <= COLUMNS)
        );
    }

    #[test]
    fn wrapped_lines_hang_under_the_first() {
        let lines = wrapped(&format!("- {}", "abcdefghi ".repeat(12)), 2);
        assert!(lines[0].starts_with("- abc") && lines[1].starts_with("  abc"));
    }
}
