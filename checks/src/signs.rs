//! The signs by which a failed thermocouple is known.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};
use serde::Serialize;

/// The signs by which a failed thermocouple is known. All are proposals of the project: common practice, no source.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FailureSigns {
    /// A reading at or below this is the lower end of a range.
    pub range_low: Celsius,
    /// A reading at or above this is the upper end of a range.
    pub range_high: Celsius,
    /// A short circuit reads below this ...
    pub short_below: Celsius,
    /// ... while its neighbors read above this.
    pub short_beside: Celsius,
    /// A stuck one keeps its value while its neighbors move this far away from it.
    pub stuck_moved: Kelvins,
    /// A reversed one falls while its neighbors rise this far ...
    pub reversed_rise: Kelvins,
    /// ... by at least this.
    pub reversed_fall: Kelvins,
    /// Scatter is taken over stretches of this length.
    pub noise_stretch: Hours,
    /// A noisy one scatters by more than this (standard deviation) ...
    pub noise_floor: Kelvins,
    /// ... and by more than this many times the median of the others.
    pub noise_times: f64,
    /// A detached one jumps this far against its neighbors ...
    pub jump: Kelvins,
    /// ... and stays away for this long.
    pub jump_stays: Hours,
    /// A drifting one departs faster than this from steady neighbors ...
    pub drift_rate: KelvinsPerHour,
    /// ... over this long.
    pub drift_window: Hours,
    /// A disturbed one steps by more than this when the power goes off ...
    pub pickup_step: Kelvins,
    /// ... within this long.
    pub pickup_within: Hours,
    /// Two are exchanged when they answer the power of each other's zone this many times better than that of their own.
    pub swap_times: f64,
}

impl Default for FailureSigns {
    fn default() -> FailureSigns {
        FailureSigns {
            range_low: Celsius::from_c(-50.0),
            range_high: Celsius::from_c(1300.0),
            short_below: Celsius::from_c(80.0),
            short_beside: Celsius::from_c(200.0),
            stuck_moved: Kelvins::from_k(15.0),
            reversed_rise: Kelvins::from_k(50.0),
            reversed_fall: Kelvins::from_k(10.0),
            noise_stretch: Hours::from_min(10.0),
            noise_floor: Kelvins::from_k(3.0),
            noise_times: 4.0,
            jump: Kelvins::from_k(10.0),
            jump_stays: Hours::from_min(10.0),
            drift_rate: KelvinsPerHour::from_k_h(5.0),
            drift_window: Hours::from_min(60.0),
            pickup_step: Kelvins::from_k(3.0),
            pickup_within: Hours::from_s(30.0),
            swap_times: 1.2,
        }
    }
}

impl FailureSigns {
    /// The signs in words, as printed.
    pub(crate) fn words(&self) -> String {
        format!(
            "Open: three readings running that are not between {:.0} and {:.0} °C; such a reading is never one of \
             metal. Short circuit: three readings running below {:.0} °C in the soak band while the median of the \
             other thermocouples there is above {:.0} °C. Stuck: three or more equal readings while that median moves \
             away from them by {:.0} K (four times as far for a thermocouple elsewhere); time alone is no sign, and the first of the equal \
             readings is the first evidence. Reversed: falls by \
             {:.0} K or more while that median first rises by {:.0} K from the cold. Noisy: a standard deviation above {:.0} K, from \
             the median distance to the line between neighbors in time over {:.0} min, and above {} times the median of the others. Detached: jumps \
             by {:.0} K or more (ten times its noise if that is more) against that median within three readings, most of it in one step, and stays away for \
             {:.0} min; the step has to be longer by what 100 K/h do between two readings and by what that median bends there. Disturbed by \
             the coil: steps by more than {:.0} K within {:.0} s of a check with the power off; or, where the log has the power of its zone, by more than that with \
             at least four steps of that power (as far as the full power goes, beyond the mean of the changes before and behind, and by more than those two differ, as they do where metal is heated) and above four times the median of \
             the others. Exchanged: over stretches of 5 min the rates of two answer the changes of the power of each other's zone at least {} times as well as of their own, each by four standard errors. Drifting: departs from \
             that median by more than {:.0} K/h over {:.0} min while it is steady; a place that really changes does \
             the same, so this decides nothing.",
            self.range_low.c(),
            self.range_high.c(),
            self.short_below.c(),
            self.short_beside.c(),
            self.stuck_moved.k(),
            self.reversed_fall.k(),
            self.reversed_rise.k(),
            self.noise_floor.k(),
            self.noise_stretch.minutes(),
            self.noise_times,
            self.jump.k(),
            self.jump_stays.minutes(),
            self.pickup_step.k(),
            self.pickup_within.s(),
            self.swap_times,
            self.drift_rate.k_h(),
            self.drift_window.minutes(),
        )
    }
}
