//! From the rate folds of all channels to the finding of one rate limit.

use quantity::{Hours, KelvinsPerHour};
use rules::requirement::{Limit, LimitKind};

use crate::assembly::rate_key;
use crate::checker::Checker;
use crate::definition_words as definitions;
use crate::finding::{Beside, Finding, Measured, Verdict};
use crate::judge::{name, open, rate_of};
use crate::ramp::RampFold;
use crate::rate::{Direction, Found, RateFold};
use crate::words::{both_rate, time_words};

/// A rate with the channel that it was found on.
#[derive(Clone, Copy)]
struct OnChannel {
    found: Found,
    channel: usize,
}

/// The finding of a rate limit: the steepest thermocouple is compared with it.
pub(crate) fn rate(checker: &Checker, limit: &Limit, allowed: KelvinsPerHour) -> Finding {
    by(checker, &checker.ramps, limit, allowed)
}

/// The same of raw readings.
pub(crate) fn of_raw(checker: &Checker, limit: &Limit) -> Finding {
    match limit.kind {
        LimitKind::HeatingRate { rate, .. } | LimitKind::CoolingRate { rate, .. } => {
            by(checker, &checker.raw_ramps, limit, rate)
        }
        _ => open(limit, definitions::RATE, "the limit is none of a rate"),
    }
}

fn by(
    checker: &Checker,
    ramps: &[(usize, RampFold)],
    limit: &Limit,
    allowed: KelvinsPerHour,
) -> Finding {
    let folds = folds_of(ramps, limit);
    let mut finding = open(
        limit,
        definitions::RATE,
        "no ramp above the threshold in these readings",
    );
    finding.beside = beside(checker, &folds);
    finding
        .beside
        .extend(steeper_while_standing(checker, ramps, limit, allowed));
    let binding = binding(checker, &folds, allowed);
    if let Some((steepest, guard_k_h)) = binding {
        let margin_k_h = allowed.k_h() - steepest.found.rate_k_h;
        finding.measured = Some(rate_of(steepest.found.rate_k_h));
        finding.by_how_much = Some(rate_of(margin_k_h.abs()));
        finding.when = Some(Hours::from_s(steepest.found.from_s));
        finding.channel = name(checker, steepest.channel);
        finding.reason = window_words(checker, &steepest.found);
        (finding.verdict, finding.reason) = if margin_k_h >= 0.0 {
            (Verdict::Met, finding.reason)
        } else if -margin_k_h > guard_k_h {
            (Verdict::NotMet, finding.reason)
        } else {
            let words = format!(
                "{}; above the limit by less than the {} that noise alone may add: within measurement \
                 resolution, an engineer decides",
                finding.reason,
                both_rate(guard_k_h)
            );
            (Verdict::NotJudged, words)
        };
        if guard_k_h > 0.0 {
            finding.beside.push(Beside {
                what: "what noise alone may add".into(),
                channel: finding.channel.clone(),
                measured: Some(rate_of(guard_k_h)),
            });
        }
    }
    if finding.verdict != Verdict::NotMet
        && let Some(reason) = unknown(checker, &folds, allowed)
    {
        finding.verdict = Verdict::NotJudged;
        finding.reason = reason;
    }
    finding
}

/// The steepest, or the one that breaks the limit most clearly where one does; with its guard band.
fn binding(
    checker: &Checker,
    folds: &[(usize, &RateFold)],
    allowed: KelvinsPerHour,
) -> Option<(OnChannel, f64)> {
    let each = folds.iter().filter_map(|(channel, fold)| {
        let found = fold.windows.first()?.steepest?;
        let on = OnChannel {
            found,
            channel: *channel,
        };
        Some((on, checker.guard_k_h(*channel, fold, &found)))
    });
    let rank = |one: &(OnChannel, f64)| {
        let over_k_h = one.0.found.rate_k_h - one.1;
        (over_k_h > allowed.k_h(), one.0.found.rate_k_h)
    };
    each.reduce(|a, b| if rank(&b) > rank(&a) { b } else { a })
}

fn folds_of<'a>(ramps: &'a [(usize, RampFold)], limit: &Limit) -> Vec<(usize, &'a RateFold)> {
    let key = rate_key(&limit.kind);
    let own = |fold: &&RateFold| Some((fold.direction, fold.above_c)) == key;
    ramps
        .iter()
        .filter_map(|(c, ramp)| ramp.rates.iter().find(own).map(|fold| (*c, fold)))
        .collect()
}

fn steepest_of(
    folds: &[(usize, &RateFold)],
    found: impl Fn(&RateFold) -> Option<Found>,
) -> Option<OnChannel> {
    let all = folds.iter().filter_map(|(channel, fold)| {
        Some(OnChannel {
            found: found(fold)?,
            channel: *channel,
        })
    });
    all.reduce(|a, b| {
        if b.found.rate_k_h > a.found.rate_k_h {
            b
        } else {
            a
        }
    })
}

fn window_words(checker: &Checker, found: &Found) -> String {
    let lasted_min = (found.to_s - found.from_s) / 60.0;
    let lasted = time_words(Hours::from_s(found.to_s - found.from_s));
    let floor_min = checker.definitions.shortest_ramp.minutes();
    let window_min = checker.definitions.rate_window.minutes();
    match found.whole {
        false => format!("the steepest {window_min:.0} min"),
        true if lasted_min < floor_min => {
            format!("a ramp of {lasted}, read as if it had taken {floor_min:.0} min")
        }
        true => {
            format!(
                "a ramp of {lasted}, judged whole: a rate is taken over {window_min:.0} min where a ramp lasts that long"
            )
        }
    }
}

/// Why a faster ramp may have been missed, if it may.
fn unknown(
    checker: &Checker,
    folds: &[(usize, &RateFold)],
    allowed: KelvinsPerHour,
) -> Option<String> {
    let name_of = |c: usize| checker.channels[c].name.clone();
    let soak = folds.iter().filter(|(c, _)| checker.soak.contains(c));
    if let Some((dead, _)) = soak.clone().find(|(c, _)| checker.never_spoke(*c)) {
        return Some(format!("{} gave no reading", name_of(*dead)));
    }
    if let Some((channel, gap)) = folds
        .iter()
        .find_map(|(c, fold)| fold.gap.map(|gap| (*c, gap)))
    {
        return Some(format!(
            "{} has a gap in a ramp from {} to {}; its mean rate across the gap is {}",
            name_of(channel),
            Hours::from_s(gap.from_s).words(),
            Hours::from_s(gap.to_s).words(),
            both_rate(gap.rate_k_h)
        ));
    }
    let too_fast = |fold: &RateFold| fold.too_few.filter(|f| f.rate_k_h > allowed.k_h());
    if let Some((channel, few)) = folds
        .iter()
        .find_map(|(c, fold)| too_fast(fold).map(|few| (*c, few)))
    {
        return Some(format!(
            "{} ramps at about {} from {} with too few readings for a slope",
            name_of(channel),
            both_rate(few.rate_k_h),
            Hours::from_s(few.from_s).words()
        ));
    }
    let above = |c: usize, fold: &RateFold| {
        checker.raw.peak.last[c].is_some_and(|r| r.value_c >= fold.above_c)
    };
    // A climb that had ended before the silence hides nothing, unless it was heated anew behind it.
    let climbed = |fold: &RateFold, silent_s: f64| {
        fold.direction == Direction::Heating && silent_s > checker.attempts.heated_until_s()
    };
    let lost = folds.iter().find(|(c, fold)| {
        let silent_s = checker.fell_silent_s(*c);
        above(*c, fold) && silent_s.is_some_and(|s| !climbed(fold, s))
    });
    lost.map(|(c, _)| format!("{}, above the threshold", checker.lost_words(*c)))
}

fn beside(checker: &Checker, folds: &[(usize, &RateFold)]) -> Vec<Beside> {
    let definitions = &checker.definitions;
    let mut beside = Vec::new();
    for (index, span) in definitions.rate_windows_beside.iter().enumerate() {
        let steepest = steepest_of(folds, |fold| {
            fold.windows.get(index + 1).and_then(|w| w.steepest)
        });
        beside.push(on_channel(
            checker,
            format!("steepest slope over {:.0} min", span.minutes()),
            steepest,
        ));
    }
    let gain = steepest_of(folds, |fold| fold.windows.first().and_then(|w| w.gain));
    let minutes = definitions.rate_window.minutes();
    beside.push(on_channel(
        checker,
        format!("largest gain between two readings {minutes:.0} min apart"),
        gain,
    ));
    for (channel, fold) in folds {
        let found = fold.windows.first().and_then(|w| w.steepest);
        beside.push(Beside {
            what: format!("steepest slope over {minutes:.0} min"),
            channel: name(checker, *channel),
            measured: found.map(|f| rate_of(f.rate_k_h)),
        });
    }
    beside
}

/// What no ramp holds, where it is steeper than the limit.
fn steeper_while_standing(
    checker: &Checker,
    ramps: &[(usize, RampFold)],
    limit: &Limit,
    allowed: KelvinsPerHour,
) -> Option<Beside> {
    let (direction, _) = rate_key(&limit.kind)?;
    let of_direction = |(channel, ramp): &'_ (usize, RampFold)| {
        let fold = ramp.standing.iter().find(|r| r.direction == direction)?;
        let found = fold.windows.first()?.steepest?;
        Some((found.rate_k_h, *channel))
    };
    let steepest = ramps.iter().filter_map(of_direction);
    let (rate_k_h, channel) = steepest.max_by(|a, b| a.0.total_cmp(&b.0))?;
    let minutes = checker.definitions.shortest_ramp.minutes();
    (rate_k_h > allowed.k_h()).then(|| Beside {
        what: format!("steepest slope over {minutes:.0} min at or above the hold minimum, no ramp and not judged"),
        channel: name(checker, channel),
        measured: Some(rate_of(rate_k_h)),
    })
}

fn on_channel(checker: &Checker, what: String, steepest: Option<OnChannel>) -> Beside {
    let measured: Option<Measured> = steepest.map(|s| rate_of(s.found.rate_k_h));
    Beside {
        what,
        channel: steepest.and_then(|s| name(checker, s.channel)),
        measured,
    }
}
