//! Which assumption of a plan would explain that a log needed another power.
//!
//! Heat out of the coil is stored or given off. Of the plan the stored heat, the heat given off and the part of the power that
//! reaches the metal are known at every temperature; where the measured rate is another one than the planned, the stored heat
//! is that much more or less. With a wall that stores `w` times as much, a loss `l` times as large and a coupling `c` times as
//! good, the power is `P = (w · stored + l · given off) / (c · part that reaches the metal)`.
//! Each of the three is fitted alone to the logged power by least squares, and what is left over is compared.

use readings::{Log, SeriesKind};
use serde::Serialize;

use super::pieces::{Part, Piece, mean_c};
use super::plan_read::{PlanRead, PowerRead};
use super::{Shared, sparse};

/// Length of a stretch over which power and rate are taken, in s.
const STRETCH_S: f64 = 300.0;
/// With fewer stretches nothing is told.
const FEWEST: usize = 12;
/// A power this near to the predicted one needs no explanation, as a part of it: shunts and clamp meters on site are no
/// better (common practice, no source).
const AS_PREDICTED: f64 = 0.05;
/// Suppositions this close to each other in what they explain are not told apart.
const ALIKE: f64 = 0.1;
/// Below this part of the steepest predicted rate the stored heat for a K/h is no number.
const STEADY: f64 = 0.25;

/// What is supposed to be other than planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Supposition {
    /// Heat given off.
    Loss,
    /// Part of the power that reaches the metal.
    Coupling,
    /// Metal that is heated.
    Wall,
}

impl Supposition {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Supposition::Loss => "heat given off",
            Supposition::Coupling => "part of the power that reaches the metal",
            Supposition::Wall => "metal that is heated",
        }
    }

    /// What to look at.
    pub fn look_at(self, factor: f64) -> &'static str {
        match (self, factor > 1.0) {
            (Supposition::Loss, true) => {
                "blanket thinner, wet or open, wind, a draft through the bore"
            }
            (Supposition::Loss, false) => "blanket thicker or drier than planned, bore closed",
            (Supposition::Coupling, true) => {
                "turns closer to the metal or more of them than planned"
            }
            (Supposition::Coupling, false) => {
                "turns further from the metal, fewer of them or further apart than planned, longer leads"
            }
            (Supposition::Wall, true) => {
                "wall thicker than planned, a fitting or support that is heated with it, a wider coil"
            }
            (Supposition::Wall, false) => "wall thinner than planned, a narrower coil",
        }
    }
}

/// One supposition and how far it goes.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Explained {
    /// What is supposed.
    pub supposition: Supposition,
    /// How many times as large it would be.
    pub factor: f64,
    /// Part of the squared differences of power that it takes away, 0 to 1.
    pub part: f64,
}

/// What would explain the difference in power.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Explanation {
    /// Nothing can be told.
    NotTold {
        /// Why.
        why: String,
    },
    /// The power was as predicted.
    AsPredicted {
        /// Logged over predicted, less one.
        more: f64,
    },
    /// The power was another one.
    Differs {
        /// Logged over predicted at the measured course, less one.
        more: f64,
        /// The suppositions, best first.
        suppositions: Vec<Explained>,
        /// Whether the log can tell the first two apart.
        told_apart: bool,
    },
}

/// One stretch: logged power that reaches the metal by the plan, stored and given-off heat at the measured rate, in kW.
struct Stretch {
    power_kw: f64,
    stored_kw: f64,
    given_off_kw: f64,
}

pub(super) fn explanation(
    plan: &PlanRead,
    log: &Log,
    control: &[&Shared],
    laid: &[Piece],
) -> Explanation {
    let power = match logged_power(plan, log) {
        Ok(power) => power,
        Err(why) => return Explanation::NotTold { why },
    };
    if plan.powers.is_empty() {
        let why = "the plan was made by a version that does not write its powers".into();
        return Explanation::NotTold { why };
    }
    let stretches = stretches(plan, log, control, laid, &power);
    if stretches.len() < FEWEST {
        let found = stretches.len();
        let why =
            format!("{found} stretches of 5 min with power in log and plan, {FEWEST} are wanted");
        return Explanation::NotTold { why };
    }
    told(&stretches)
}

/// Time in s and power in kW.
fn logged_power(plan: &PlanRead, log: &Log) -> Result<Vec<(f64, f64)>, String> {
    let powers: Vec<_> = log
        .others
        .iter()
        .filter(|s| s.kind == SeriesKind::Power)
        .collect();
    let [series] = powers.as_slice() else {
        return Err(match powers.len() {
            0 => "the log has no power; a column with the power of the source tells loss, coupling and wall apart".into(),
            n => format!("the log has {n} powers, one of the whole source is wanted"),
        });
    };
    let factor = match series.unit.trim().to_lowercase().as_str() {
        "kw" => 1.0,
        "w" => 1e-3,
        "%" => plan.rated_kw / 100.0,
        "" => return Err(format!("the unit of {} is not stated", series.name)),
        other => {
            return Err(format!(
                "{} is in {other}; kW, W or % is wanted",
                series.name
            ));
        }
    };
    let points = series.points.iter();
    Ok(points
        .map(|(at, value)| (at.as_secs_f64(), value * factor))
        .collect())
}

fn stretches(
    plan: &PlanRead,
    log: &Log,
    control: &[&Shared],
    laid: &[Piece],
    power: &[(f64, f64)],
) -> Vec<Stretch> {
    let means: Vec<(f64, f64)> = sparse(log)
        .filter_map(|(at_s, scan)| Some((at_s, mean_c(scan, control)?)))
        .collect();
    let foretold = Foretold::new(plan, laid);
    let mut stretches = Vec::new();
    for piece in laid {
        let mut from_s = piece.log_from_s;
        while from_s + STRETCH_S <= piece.log_to_s {
            let to_s = from_s + STRETCH_S;
            stretches.extend(foretold.stretch(piece, [from_s, to_s], &means, power));
            from_s = to_s;
        }
    }
    stretches
}

/// What the plan foretells in a piece, by temperature or by time.
struct Foretold {
    /// For each piece: stretch by stretch what the plan has.
    pieces: Vec<(Part, Vec<PlanStretch>)>,
}

#[derive(Clone, Copy)]
struct PlanStretch {
    time_s: f64,
    control_c: f64,
    rate_k_h: f64,
    stored_kw: f64,
    /// Stored heat in kW for a K/h; `None` where the rate is too small to tell.
    stored_kw_h_k: Option<f64>,
    given_off_kw: f64,
    /// Part of the power that reaches the metal; `None` where there is no power.
    reaches: Option<f64>,
}

impl Foretold {
    fn new(plan: &PlanRead, laid: &[Piece]) -> Foretold {
        let of_piece = |piece: &Piece| (piece.part, plan_stretches(&plan.powers, piece));
        Foretold {
            pieces: laid.iter().map(of_piece).collect(),
        }
    }

    fn stretch(
        &self,
        piece: &Piece,
        [from_s, to_s]: [f64; 2],
        means: &[(f64, f64)],
        power: &[(f64, f64)],
    ) -> Option<Stretch> {
        let (from_c, to_c) = (at(means, from_s)?, at(means, to_s)?);
        let power_kw = mean_over(power, from_s, to_s)?;
        let rate_k_h = 3600.0 * (to_c - from_c) / (to_s - from_s);
        let (part, planned) = self.pieces.iter().find(|(part, _)| *part == piece.part)?;
        let elapsed_s = piece.plan_from_s + 0.5 * (from_s + to_s) - piece.log_from_s;
        let middle_c = 0.5 * (from_c + to_c);
        let away = |one: &&PlanStretch| match part {
            Part::Hold => (one.time_s - elapsed_s).abs(),
            _ => (one.control_c - middle_c).abs(),
        };
        let near = planned.iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
        Some(Stretch {
            power_kw: power_kw * near.reaches.or_else(|| self.reaches())?,
            stored_kw: near.stored_kw
                + near.stored_kw_h_k.or_else(|| self.stores())? * (rate_k_h - near.rate_k_h),
            given_off_kw: near.given_off_kw,
        })
    }

    /// The last part of the power that is known to reach the metal.
    fn reaches(&self) -> Option<f64> {
        let all = self.pieces.iter().flat_map(|(_, stretches)| stretches);
        all.filter_map(|s| s.reaches).next_back()
    }

    /// The stored heat for a K/h at the end of heating, where the plan hardly changes.
    fn stores(&self) -> Option<f64> {
        let heating = self
            .pieces
            .iter()
            .filter(|(part, _)| *part == Part::Heating);
        let all = heating.flat_map(|(_, stretches)| stretches);
        all.filter_map(|s| s.stored_kw_h_k).next_back()
    }
}

fn plan_stretches(powers: &[PowerRead], piece: &Piece) -> Vec<PlanStretch> {
    let inside: Vec<&PowerRead> = powers
        .iter()
        .filter(|p| p.time_s >= piece.plan_from_s && p.time_s <= piece.plan_to_s)
        .collect();
    let mut stretches: Vec<PlanStretch> = Vec::new();
    let mut from = 0;
    for to in 1..inside.len() {
        let span_s = inside[to].time_s - inside[from].time_s;
        if span_s >= STRETCH_S {
            stretches.push(plan_stretch(&inside[from..=to], span_s));
            from = to;
        }
    }
    let rates = stretches.iter().map(|s| s.rate_k_h.abs());
    let steepest = rates.fold(0.0, f64::max);
    for stretch in &mut stretches {
        if piece.part == Part::Hold || stretch.rate_k_h.abs() < STEADY * steepest {
            stretch.stored_kw_h_k = None;
        }
    }
    stretches
}

/// One stretch of the plan. A moment holds the mean of the step that ends with it.
fn plan_stretch(moments: &[&PowerRead], span_s: f64) -> PlanStretch {
    let [mut source_kj, mut metal_kj, mut given_off_kj] = [0.0; 3];
    for pair in moments.windows(2) {
        let step_s = pair[1].time_s - pair[0].time_s;
        source_kj += pair[1].source_kw * step_s;
        metal_kj += pair[1].metal_kw * step_s;
        given_off_kj += pair[1].given_off_kw * step_s;
    }
    let (first, last) = (moments[0], moments[moments.len() - 1]);
    let rate_k_h = 3600.0 * (last.control_c - first.control_c) / span_s;
    let stored_kw = (metal_kj - given_off_kj) / span_s;
    PlanStretch {
        time_s: 0.5 * (first.time_s + last.time_s),
        control_c: 0.5 * (first.control_c + last.control_c),
        rate_k_h,
        stored_kw,
        stored_kw_h_k: (rate_k_h != 0.0).then(|| stored_kw / rate_k_h),
        given_off_kw: given_off_kj / span_s,
        reaches: (source_kj > 0.0).then(|| metal_kj / source_kj),
    }
}

/// The value at a time, between two points along the straight line; `None` where they lie far apart.
fn at(points: &[(f64, f64)], time_s: f64) -> Option<f64> {
    let behind = points.partition_point(|p| p.0 < time_s);
    let next = points.get(behind)?;
    let Some(before) = behind.checked_sub(1).map(|i| points[i]) else {
        return (next.0 - time_s < STRETCH_S).then_some(next.1);
    };
    let part = (time_s - before.0) / (next.0 - before.0);
    (next.0 - before.0 < STRETCH_S).then_some(before.1 + part * (next.1 - before.1))
}

fn mean_over(points: &[(f64, f64)], from_s: f64, to_s: f64) -> Option<f64> {
    let from = points.partition_point(|p| p.0 < from_s);
    let to = points.partition_point(|p| p.0 < to_s);
    let inside = &points[from..to];
    let sum: f64 = inside.iter().map(|p| p.1).sum();
    (!inside.is_empty()).then(|| sum / inside.len() as f64)
}

fn told(stretches: &[Stretch]) -> Explanation {
    let sum = |of: fn(&Stretch) -> f64| stretches.iter().map(of).sum::<f64>();
    let predicted = sum(|s| s.stored_kw + s.given_off_kw);
    let more = sum(|s| s.power_kw) / predicted - 1.0;
    if more.abs() < AS_PREDICTED {
        return Explanation::AsPredicted { more };
    }
    let unexplained = sum(|s| (s.power_kw - s.stored_kw - s.given_off_kw).powi(2));
    let supposed = |supposition: Supposition| {
        let parts = |s: &Stretch| match supposition {
            Supposition::Loss => [s.power_kw - s.stored_kw, s.given_off_kw],
            Supposition::Wall => [s.power_kw - s.given_off_kw, s.stored_kw],
            Supposition::Coupling => [s.power_kw, s.stored_kw + s.given_off_kw],
        };
        let [mut with, mut own] = [0.0; 2];
        for [y, x] in stretches.iter().map(parts) {
            with += x * y;
            own += x * x;
        }
        let fitted = with / own;
        let left: f64 = stretches
            .iter()
            .map(parts)
            .map(|[y, x]| (y - fitted * x).powi(2))
            .sum();
        Explained {
            supposition,
            factor: match supposition {
                Supposition::Coupling => 1.0 / fitted,
                _ => fitted,
            },
            part: (1.0 - left / unexplained).max(0.0),
        }
    };
    let mut suppositions: Vec<Explained> =
        [Supposition::Loss, Supposition::Coupling, Supposition::Wall]
            .map(supposed)
            .into_iter()
            .filter(|e| e.factor.is_finite() && e.factor > 0.0)
            .collect();
    suppositions.sort_by(|a, b| b.part.total_cmp(&a.part));
    let told_apart = match suppositions.as_slice() {
        [first, second, ..] => first.part - second.part > ALIKE,
        _ => true,
    };
    Explanation::Differs {
        more,
        suppositions,
        told_apart,
    }
}
