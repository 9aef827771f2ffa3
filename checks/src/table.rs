//! The table of results, one row a thermocouple.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};

use crate::assembly::Clocks;
use crate::checker::Checker;
use crate::portrait::{ExposureTold, HoldAlone, Portrait, RateAlone};
use crate::rate::{Direction, RateFold};
use crate::sitter::Sitter;

impl Checker {
    /// One row a fitted thermocouple.
    pub(crate) fn table(&self) -> Vec<Portrait> {
        let fitted = (0..self.channels.len()).filter(|c| self.channels[*c].fitted);
        fitted.map(|c| self.portrait(c, &self.sitters[c])).collect()
    }

    fn portrait(&self, channel: usize, sitter: &Sitter) -> Portrait {
        let celsius = |c: Option<f64>| c.map(Celsius::from_c);
        let clocks = self.raw.clocks.iter().flatten();
        let rates = self.ramps.iter().filter(|(c, _)| *c == channel);
        Portrait {
            channel: self.channels[channel].name.clone(),
            role: self.channels[channel].role,
            place: self.channels[channel].place,
            readings: sitter.readings,
            resolution: sitter.resolution_k.map(Kelvins::from_k),
            longest_unchanged: Hours::from_s(sitter.longest_unchanged_s),
            highest: celsius(sitter.highest.map(|h| h.value_c)),
            highest_when: sitter.highest.map(|h| Hours::from_s(h.time_s)),
            lowest_in_hold: celsius(sitter.inside.map(|i| i.0)),
            highest_in_hold: celsius(sitter.inside.map(|i| i.1)),
            holds: clocks.filter_map(|c| hold_alone(c, channel)).collect(),
            rates: rates
                .flat_map(|(_, ramp)| ramp.rates.iter().flat_map(rates_alone))
                .collect(),
            exposure: sitter.exposure.as_ref().map(|exposure| ExposureTold {
                hollomon_jaffe: exposure.parameter(),
                constant: exposure.constant(),
                equivalent: exposure.equivalent(),
                reference: exposure.reference(),
                silent: exposure.silent(),
            }),
        }
    }
}

fn hold_alone(clocks: &Clocks, channel: usize) -> Option<HoldAlone> {
    let (_, clock) = clocks.each.iter().find(|(c, _)| *c == channel)?;
    Some(HoldAlone {
        level: clocks.level,
        longest: Hours::from_s(clock.counted.longest_s),
        longest_over_gaps: Hours::from_s(clock.bridged.longest_s),
        total: Hours::from_s(clock.counted.total_s),
    })
}

fn rates_alone(fold: &RateFold) -> impl Iterator<Item = RateAlone> {
    fold.windows.iter().map(|window| RateAlone {
        heating: fold.direction == Direction::Heating,
        above: Celsius::from_c(fold.above_c),
        window: Hours::from_s(window.slopes.span_s),
        steepest: window
            .steepest
            .map(|s| KelvinsPerHour::from_k_h(s.rate_k_h)),
        when: window.steepest.map(|s| Hours::from_s(s.from_s)),
    })
}
