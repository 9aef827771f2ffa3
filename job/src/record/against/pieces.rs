//! Where a plan is laid on a log: heating where both rise through one level, the hold from where both reach its range,
//! cooling from where both leave it. A delay or a longer hold then moves a piece and is no difference of temperature.

use readings::Log;
use serde::Serialize;

use super::plan_read::PlanRead;
use super::{Shared, sparse};

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Up to the hold.
    Heating,
    /// In the range of the hold.
    Hold,
    /// Behind it.
    Cooling,
}

impl Part {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Part::Heating => "heating",
            Part::Hold => "hold",
            Part::Cooling => "cooling",
        }
    }
}

/// A piece of the plan on a piece of the log; times in s since the first scan of each.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Piece {
    /// Which.
    pub part: Part,
    /// Begin in the log.
    pub log_from_s: f64,
    /// End in the log.
    pub log_to_s: f64,
    /// The time of the plan that lies at the begin.
    pub plan_from_s: f64,
    /// How far the plan reaches in this piece.
    pub plan_to_s: f64,
    /// Where the mean of the control thermocouples was laid together, in °C.
    pub level_c: f64,
}

impl Piece {
    /// The time of the plan at a time of the log.
    pub fn plan_time_s(&self, log_s: f64) -> Option<f64> {
        let plan_s = self.plan_from_s + log_s - self.log_from_s;
        let inside = (self.log_from_s..=self.log_to_s).contains(&log_s);
        (inside && plan_s >= 0.0 && plan_s <= self.plan_to_s).then_some(plan_s)
    }
}

/// Time in s and mean in °C of the control thermocouples.
struct Curve(Vec<[f64; 2]>);

impl Curve {
    /// When it first rises through a level.
    fn rises_s(&self, level_c: f64) -> Option<f64> {
        let mut pairs = self.0.windows(2);
        pairs.find_map(|p| (p[0][1] < level_c && p[1][1] >= level_c).then(|| crossing(p, level_c)))
    }

    /// When it last falls through a level.
    fn falls_s(&self, level_c: f64) -> Option<f64> {
        let mut pairs = self.0.windows(2).rev();
        pairs.find_map(|p| (p[0][1] >= level_c && p[1][1] < level_c).then(|| crossing(p, level_c)))
    }

    fn end_s(&self) -> f64 {
        self.0.last().map_or(0.0, |p| p[0])
    }
}

fn crossing(pair: &[[f64; 2]], level_c: f64) -> f64 {
    let [[from_s, from_c], [to_s, to_c]] = [pair[0], pair[1]];
    from_s + (to_s - from_s) * (level_c - from_c) / (to_c - from_c)
}

/// Lays the plan on the log.
///
/// # Errors
/// In words, where there is no level through which both rise.
pub(super) fn pieces(
    plan: &PlanRead,
    log: &Log,
    control: &[&Shared],
) -> Result<Vec<Piece>, String> {
    let in_plan: Vec<usize> = control.iter().map(|s| s.in_plan).collect();
    let predicted = Curve(plan.means(&in_plan));
    let measured = Curve(
        sparse(log)
            .filter_map(|(at_s, scan)| Some([at_s, mean_c(scan, control)?]))
            .collect(),
    );
    let levels = [plan.threshold_c, plan.hold_from_c];
    let together = levels.into_iter().find_map(|level_c| {
        let both = measured.rises_s(level_c).zip(predicted.rises_s(level_c))?;
        Some((level_c, both))
    });
    let Some((level_c, (log_at_s, plan_at_s))) = together else {
        let [threshold, hold] = levels;
        return Err(format!(
            "plan and log do not both rise through {threshold:.0} or {hold:.0} °C"
        ));
    };
    let low_c = plan.hold_from_c;
    let log_hold_s = measured.rises_s(low_c).unwrap_or(measured.end_s());
    let plan_hold_s = predicted.rises_s(low_c).unwrap_or(predicted.end_s());
    let heating_s = log_at_s - plan_at_s;
    let mut pieces = vec![Piece {
        part: Part::Heating,
        log_from_s: heating_s.max(0.0),
        log_to_s: log_hold_s,
        plan_from_s: (-heating_s).max(0.0),
        plan_to_s: plan_hold_s,
        level_c,
    }];
    if measured.rises_s(low_c).is_none() {
        return Ok(pieces);
    }
    let left = measured.falls_s(low_c).zip(predicted.falls_s(low_c));
    let (log_left_s, plan_left_s) = left.unwrap_or((measured.end_s(), predicted.end_s()));
    pieces.push(Piece {
        part: Part::Hold,
        log_from_s: log_hold_s,
        log_to_s: log_left_s,
        plan_from_s: plan_hold_s,
        plan_to_s: plan_left_s,
        level_c: low_c,
    });
    if left.is_some() {
        pieces.push(Piece {
            part: Part::Cooling,
            log_from_s: log_left_s,
            log_to_s: measured.end_s(),
            plan_from_s: plan_left_s,
            plan_to_s: predicted.end_s(),
            level_c: low_c,
        });
    }
    Ok(pieces)
}

/// Mean of the control thermocouples in one scan, where all of them speak.
pub(super) fn mean_c(scan: &readings::Scan, control: &[&Shared]) -> Option<f64> {
    let mut sum_c = 0.0;
    for one in control {
        sum_c += scan.readings.get(one.in_log).copied().flatten()?.c();
    }
    Some(sum_c / control.len() as f64)
}
