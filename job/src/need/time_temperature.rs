//! What the heat treatments of the part and of its coupon do, as time at one temperature and as a parameter.

use quantity::{Celsius, Hours};
use rules::RuleError;
use rules::requirement::{LimitKind, Requirement};
use rules::time_temperature::{
    Budget, Combined, CriticalParameter, Cycle, Parameter, RampRule, budget, combined,
    critical_parameters, hollomon_jaffe, larson_miller,
};
use rules::weld::Weld;
use serde::Serialize;

use crate::file::treatments::Treatment;

/// Without any ramp, and both published ways in which one counts.
const RAMPS: [RampRule; 3] = [RampRule::Ignored, RampRule::Shortcut, RampRule::OwnSlope];

/// Hollomon-Jaffe, and Larson-Miller where its constant is another one; with the names of what one row stands for.
fn parameters() -> Result<Vec<Parameter>, RuleError> {
    let (mut first, second) = (hollomon_jaffe()?, larson_miller()?);
    if first.constant != second.constant {
        return Ok(vec![first, second]);
    }
    first.name = format!("{} and {}", first.name, second.name);
    Ok(vec![first])
}

/// Time and temperature of everything that part and coupon see.
#[derive(Clone, Debug, Serialize)]
pub struct TimeTemperatureNeed {
    /// What the part sees: what the file lists, then the hold that is asked, as hot as it may be.
    pub part: Vec<Cycle>,
    /// Whether the last of them is the hold asked for, at the upper end of its range.
    pub with_hold_asked: bool,
    /// What the coupon saw.
    pub coupon: Vec<Cycle>,
    /// By each parameter and each way to count ramps.
    pub ways: Vec<Way>,
    /// The highest parameters that the code permits without proof of the properties.
    pub critical: Vec<CriticalParameter>,
}

impl TimeTemperatureNeed {
    /// Whether the coupon saw less than is asked, or the part more than is permitted.
    pub fn is_passed(&self) -> bool {
        let budgets = || self.ways.iter().filter_map(|way| way.budget.as_ref());
        let too_short = budgets().any(|budget| {
            let asked = budget.share_asked.as_ref();
            asked.is_some_and(|(share, _)| budget.coupon_share < *share)
        });
        let used_up = budgets().any(|budget| budget.left.h() < 0.0);
        let highest = self.ways.first().map_or(0.0, |way| way.part.parameter);
        let mut on = self.critical.iter().filter(|one| one.is_on);
        too_short || used_up || on.any(|one| highest > one.at_most)
    }
}

/// One way to count.
#[derive(Clone, Debug, Serialize)]
pub struct Way {
    /// The parameter with its constant.
    pub parameter: Parameter,
    /// The part.
    pub part: Combined,
    /// The part against the coupon, where there is one.
    pub budget: Option<Budget>,
}

/// Everything about time and temperature; `None` where the file lists no treatment.
///
/// # Errors
/// Cycles that cannot be, or faults of the rules.
pub fn time_temperature_need(
    weld: &Weld,
    treatments: &[Treatment],
    requirement: Option<&Requirement>,
) -> Result<Option<TimeTemperatureNeed>, RuleError> {
    let of = |coupon: bool| {
        let listed = treatments.iter().filter(move |t| t.of_coupon == coupon);
        listed.map(|t| t.cycle).collect::<Vec<Cycle>>()
    };
    let (mut part, coupon) = (of(false), of(true));
    let asked = requirement.and_then(hold_asked);
    part.extend(asked);
    if treatments.is_empty() || part.is_empty() {
        return Ok(None);
    }
    let all = part.iter().chain(&coupon);
    let hottest_c = all.map(|c| c.temperature.c()).fold(0.0, f64::max);
    let reference = Celsius::from_c(hottest_c);
    let mut ways = Vec::new();
    let rated = |cycle: &Cycle| cycle.heating.or(cycle.cooling).is_some();
    let ramps = match part.iter().chain(&coupon).any(rated) {
        true => &RAMPS[..],
        false => &RAMPS[..1],
    };
    for parameter in parameters()? {
        for ramps in ramps.iter().copied() {
            let against = match coupon.is_empty() {
                true => None,
                false => Some(budget(&parameter, &coupon, &part, reference, ramps)?),
            };
            ways.push(Way {
                part: combined(&parameter, &part, reference, ramps)?,
                parameter: parameter.clone(),
                budget: against,
            });
        }
    }
    Ok(Some(TimeTemperatureNeed {
        with_hold_asked: asked.is_some(),
        part,
        coupon,
        ways,
        critical: critical_parameters(weld)?,
    }))
}

/// The hold that the requirement asks for as it may be run: at the lowest upper end, or the lower end where there is none, for
/// the longest time. What counts against a coupon or a highest parameter counts at the hottest.
fn hold_asked(requirement: &Requirement) -> Option<Cycle> {
    let kinds = || requirement.limits.iter().map(|l| &l.kind);
    let low_c = kinds().filter_map(|kind| match kind {
        LimitKind::HoldMin(low) => Some(low.c()),
        _ => None,
    });
    let high_c = kinds().filter_map(|kind| match kind {
        LimitKind::HoldMax(high) => Some(high.c()),
        _ => None,
    });
    let low_c = low_c.reduce(f64::max)?;
    let hours = kinds().filter_map(|kind| match kind {
        LimitKind::HoldTime(time) => Some(time.h()),
        _ => None,
    });
    Some(Cycle {
        temperature: Celsius::from_c(high_c.reduce(f64::min).unwrap_or(low_c)),
        hold: Hours::from_h(hours.reduce(f64::max)?),
        heating: None,
        cooling: None,
    })
}
