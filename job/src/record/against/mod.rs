//! Prediction and measurement side by side, and which assumption of the plan would explain the difference.

mod balance;
mod pieces;
mod plan_read;
mod power;

use checks::Findings;
use quantity::{Celsius, Hours, Kelvins, Units};
use serde::Serialize;

pub use balance::{Explained, Explanation, Supposition};
pub use plan_read::PlanFault;
pub(super) use plan_read::{PlanRead, plan_read};
pub use power::PowerForeseen;

use super::matched::Matched;
use pieces::{Piece, pieces};
use readings::Log;

/// Readings of the log closer together than this are not compared one by one, in s.
const COMPARED_EVERY_S: f64 = 30.0;

/// What a difference is taken between.
pub(crate) const COMPARED_WHERE: &str =
    "log and plan are compared only where both are in the same stage";

/// A plan laid on a log.
#[derive(Clone, Debug, Serialize)]
pub struct Against {
    /// Name of the plan's file.
    pub plan_file: String,
    /// Its SHA-256.
    pub plan_sha256: String,
    /// Version of the program that made it.
    pub plan_version: String,
    /// Whether it was made from the job file by which the log is judged.
    pub same_job: bool,
    /// Where the plan was laid on the log.
    pub laid: Vec<Piece>,
    /// Why it could not be laid, where it could not.
    pub not_laid: Option<String>,
    /// Each thermocouple that stands in both.
    pub channels: Vec<ChannelAgainst>,
    /// Power of the source as it was planned, where the plan was laid.
    #[serde(skip)]
    pub powers: Vec<PowerForeseen>,
    /// Rated power of the planned source in kW.
    #[serde(skip)]
    pub rated_kw: f64,
    /// What would explain the difference in power.
    pub explanation: Explanation,
}

/// One thermocouple, measured and predicted.
#[derive(Clone, Debug, Serialize)]
pub struct ChannelAgainst {
    /// Its name.
    pub name: String,
    /// From here on it had failed or left the set, and is not compared.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub until: Option<Hours>,
    /// Measured less predicted in each piece, in the order of the pieces.
    pub gaps: Vec<Option<Gap>>,
    /// What was compared: time since the first scan in h, measured and predicted in °C.
    #[serde(skip)]
    pub points: Vec<PointAgainst>,
}

/// One instant of a thermocouple.
#[derive(Clone, Copy, Debug)]
pub struct PointAgainst {
    /// Time since the first scan.
    pub at: Hours,
    /// What it read.
    pub measured: Celsius,
    /// What was predicted.
    pub predicted: Celsius,
    /// When the plan predicts it.
    pub plan_at: Hours,
    /// Number of the piece.
    pub piece: usize,
}

/// Measured less predicted.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Gap {
    /// Mean over time.
    pub mean: Kelvins,
    /// The largest by amount.
    pub largest: Kelvins,
    /// When it was, since the first scan.
    pub when: Hours,
    /// The time of the plan that it was compared with.
    pub plan_when: Hours,
}

impl Against {
    /// What the comparison says, in sentences.
    pub fn says(&self, units: Units) -> Vec<String> {
        if let Some(why) = &self.not_laid {
            return vec![format!("{} is not compared: {why}", self.plan_file)];
        }
        let mut says = vec![self.widest(units)];
        let cut = self.channels.iter().filter_map(|channel| {
            let until = channel.until?.words();
            let name = &channel.name;
            Some(format!(
                "{name} is compared up to {until}, when it failed or left the set"
            ))
        });
        says.extend(cut);
        says.extend(super::sheet::against::explanation_words(&self.explanation));
        says
    }

    /// The largest gap of all.
    fn widest(&self, units: Units) -> String {
        let gaps = self.channels.iter().flat_map(|channel| {
            let gaps = channel.gaps.iter().zip(&self.laid);
            gaps.filter_map(move |(gap, piece)| Some((channel, (*gap)?, piece.part)))
        });
        let widest = gaps.max_by(|a, b| a.1.largest.k().abs().total_cmp(&b.1.largest.k().abs()));
        let Some((channel, gap, part)) = widest else {
            return format!("{}: no thermocouple stands in both", self.plan_file);
        };
        let amount = match units {
            Units::Si => signed(gap.largest.k(), "K"),
            Units::Us => signed(1.8 * gap.largest.k(), "°F"),
        };
        format!(
            "{}: the largest difference, measured less predicted, is {amount} ({}, at {} of the log and {} of the plan, both in the {}); \
             {COMPARED_WHERE}",
            self.plan_file,
            channel.name,
            gap.when.words(),
            gap.plan_when.words(),
            part.words(),
        )
    }
}

impl Gap {
    /// "+3 K, largest −12 K at 2 h 5 min".
    pub fn words(&self, units: Units) -> String {
        let [mean, largest] = [self.mean.k(), self.largest.k()].map(|k| match units {
            Units::Si => signed(k, "K"),
            Units::Us => signed(1.8 * k, "°F"),
        });
        format!("{mean}, largest {largest} at {}", self.when.words())
    }
}

/// "−12 K", "+3 K", "0 K".
fn signed(difference: f64, unit: &str) -> String {
    match difference.round() {
        0.0 => format!("0 {unit}"),
        whole if whole < 0.0 => format!("\u{2212}{:.0} {unit}", -whole),
        whole => format!("+{whole:.0} {unit}"),
    }
}

/// Lays a plan on a log.
pub(super) fn against(
    plan: &PlanRead,
    same_job: bool,
    log: &Log,
    matched: &Matched,
    findings: &Findings,
) -> Against {
    let shared = shared(plan, matched, findings);
    let control: Vec<&Shared> = shared.iter().filter(|s| s.control).collect();
    let laid = match control.is_empty() {
        true => Err("no control thermocouple stands in both plan and log".to_owned()),
        false => pieces(plan, log, &control),
    };
    let mut against = Against {
        plan_file: plan.file_name.clone(),
        plan_sha256: plan.sha256.clone(),
        plan_version: plan.program_version.clone(),
        same_job,
        laid: Vec::new(),
        not_laid: None,
        channels: Vec::new(),
        powers: Vec::new(),
        rated_kw: plan.rated_kw,
        explanation: Explanation::NotTold {
            why: "the plan could not be laid on the log".into(),
        },
    };
    match laid {
        Err(why) => against.not_laid = Some(why),
        Ok(laid) => {
            against.channels = shared
                .iter()
                .map(|s| compared(s, plan, log, &laid))
                .collect();
            against.explanation = balance::explanation(plan, log, &control, &laid);
            against.powers = power::powers(plan, &laid);
            against.laid = laid;
        }
    }
    against
}

/// A thermocouple that stands in both, with its places.
pub(super) struct Shared {
    pub name: String,
    pub in_plan: usize,
    pub in_log: usize,
    pub control: bool,
    /// From here on it tells nothing.
    pub until: Option<Hours>,
}

fn shared(plan: &PlanRead, matched: &Matched, findings: &Findings) -> Vec<Shared> {
    let of_plan = plan.channels.iter().enumerate();
    of_plan
        .filter_map(|(in_plan, name)| {
            let (in_log, channel) = matched.in_log(name)?;
            Some(Shared {
                name: name.clone(),
                in_plan,
                in_log,
                control: channel.role == rules::thermocouple::Role::Control,
                until: until(findings, name),
            })
        })
        .collect()
}

/// When a thermocouple first failed or left the set.
fn until(findings: &Findings, name: &str) -> Option<Hours> {
    let failures = findings.failures.iter();
    let failed = failures
        .filter(|one| one.channel == name)
        .map(|one| one.first_evidence);
    let removed = findings.removed.iter();
    let left = removed
        .filter(|one| one.channel == name)
        .map(|one| one.from);
    failed.chain(left).min_by(|a, b| a.h().total_cmp(&b.h()))
}

/// Scans of the log, no closer than is compared, with their time in s.
pub(super) fn sparse(log: &Log) -> impl Iterator<Item = (f64, &readings::Scan)> {
    let mut next_s = 0.0;
    log.scans.iter().filter_map(move |scan| {
        let at_s = scan.elapsed.as_secs_f64();
        (at_s >= next_s).then(|| {
            next_s = at_s + COMPARED_EVERY_S;
            (at_s, scan)
        })
    })
}

fn compared(shared: &Shared, plan: &PlanRead, log: &Log, laid: &[Piece]) -> ChannelAgainst {
    let mut points = Vec::new();
    for (at_s, scan) in sparse(log) {
        if shared.until.is_some_and(|until| at_s >= until.s()) {
            break;
        }
        let Some(measured) = scan.readings.get(shared.in_log).copied().flatten() else {
            continue;
        };
        let found = laid.iter().enumerate().find_map(|(piece, one)| {
            let plan_s = one.plan_time_s(at_s)?;
            Some((piece, plan_s, plan.reading_c(shared.in_plan, plan_s)?))
        });
        if let Some((piece, plan_s, predicted_c)) = found {
            points.push(PointAgainst {
                at: Hours::from_s(at_s),
                measured,
                predicted: Celsius::from_c(predicted_c),
                plan_at: Hours::from_s(plan_s),
                piece,
            });
        }
    }
    ChannelAgainst {
        name: shared.name.clone(),
        until: shared.until,
        gaps: (0..laid.len()).map(|piece| gap(&points, piece)).collect(),
        points,
    }
}

fn gap(points: &[PointAgainst], piece: usize) -> Option<Gap> {
    let of_piece = points.iter().filter(|p| p.piece == piece);
    let gaps: Vec<(f64, &PointAgainst)> = of_piece
        .map(|p| (p.measured.c() - p.predicted.c(), p))
        .collect();
    let largest = gaps
        .iter()
        .copied()
        .max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))?;
    let sum: f64 = gaps.iter().map(|g| g.0).sum();
    Some(Gap {
        mean: Kelvins::from_k(sum / gaps.len() as f64),
        largest: Kelvins::from_k(largest.0),
        when: largest.1.at,
        plan_when: largest.1.plan_at,
    })
}

#[cfg(test)]
mod tests {
    use quantity::{Hours, Kelvins, Units};

    use super::Gap;

    #[test]
    fn a_largest_difference_below_zero_is_not_told_as_a_limit() {
        let gap = Gap {
            mean: Kelvins::from_k(3.2),
            largest: Kelvins::from_k(-10.0),
            when: Hours::from_h(2.5),
            plan_when: Hours::from_h(2.25),
        };
        assert_eq!(
            gap.words(Units::Si),
            "+3 K, largest \u{2212}10 K at 2 h 30 min"
        );
        assert_eq!(
            gap.words(Units::Us),
            "+6 °F, largest \u{2212}18 °F at 2 h 30 min"
        );
    }
}
