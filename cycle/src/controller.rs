//! The controller: a set point that moves by the programme, and the stages of the cycle (docs/theory/controller.md).
//!
//! It is ideal: each step gets the current that brings the hottest control thermocouple to the set point, within what
//! the source can do. The set point waits for a joint that falls behind, so that no rate limit is broken in catching
//! up; a joint that cools more slowly than allowed gets no power.

use crate::outcome::Stage;
use crate::practice::Practice;
use crate::setup::Programme;

/// How far the joint may fall behind before the set point waits, in K.
const HOLD_BACK_K: f64 = 1.0;

/// Crossings of thresholds are met within this, in K.
const CROSSED_K: f64 = 0.12;

/// A step that enters the hold range ends so far inside, in K.
const INTO_RANGE_K: f64 = 0.2;

/// How finely the cycle is cut in time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Largest change of the set point in one step, in K.
    pub change_k: f64,
    /// Longest step in s.
    pub longest_s: f64,
    /// First step of a stage in s.
    pub first_s: f64,
    /// Longest growth of a step from one to the next.
    pub growth: f64,
}

impl Default for Pace {
    /// 15 K or 5 minutes: what that costs is in controller.md, section 3.
    fn default() -> Pace {
        Pace {
            change_k: 15.0,
            longest_s: 300.0,
            first_s: 10.0,
            growth: 2.0,
        }
    }
}

/// What the thermocouples that matter say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readings {
    /// Coldest control thermocouple in °C.
    pub coldest_c: f64,
    /// Hottest control thermocouple in °C.
    pub hottest_c: f64,
    /// Coldest of all by which the hold is judged (control and monitor, soak band, fitted), in °C.
    pub judged_coldest_c: f64,
    /// Hottest of these in °C.
    pub judged_hottest_c: f64,
}

/// What the next step shall bring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    /// Length of the step in s.
    pub step_s: f64,
    /// Target of the hottest control thermocouple at its end, in °C.
    pub target_c: f64,
}

/// The controller in its present state.
#[derive(Clone, Debug, PartialEq)]
pub struct Controller {
    /// The stage of the cycle.
    pub stage: Stage,
    /// The moving set point in °C.
    pub set_point_c: f64,
    /// Time in the hold so far, in s.
    pub held_s: f64,
    /// How far the set point has waited for the joint in all, in K.
    pub waited_k: f64,
    /// The hold clock began without the monitors, because these did not come into the range in time.
    pub began_without_monitors: bool,
    /// The set point or the end was not reached: the source could do no more.
    pub given_up: bool,
    /// The cycle is over.
    pub finished: bool,
    plan: Plan,
    pace: Pace,
    step_s: f64,
    hottest_c: f64,
    judged_coldest_c: f64,
    /// How fast the joint fell in the last step of cooling, in K/s.
    falls_k_s: f64,
    waited_s: f64,
    leveled_s: f64,
    stalled_s: f64,
}

/// The programme in the numbers that the controller works with.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Plan {
    threshold_c: f64,
    free_k_s: f64,
    heating_k_s: f64,
    set_point_c: f64,
    range_c: [f64; 2],
    hold_s: f64,
    cooling_k_s: f64,
    end_c: f64,
    patience_s: f64,
    stall_k_s: f64,
}

/// Rates are meant per hour.
const SECONDS_PER_HOUR: f64 = 3600.0;

/// Heating is given up when it was too slow at the limit of the source for so long, in s.
const STALL_TIME_S: f64 = 3600.0;

impl Controller {
    /// A controller at the start of a programme.
    ///
    /// Above the threshold it runs at a part of the allowed rates, and it holds somewhat longer than required
    /// (controller.md eq. 1 and 2).
    pub fn new(programme: &Programme, practice: &Practice, pace: Pace) -> Controller {
        let margin = practice.rate_margin.value;
        let plan = Plan {
            threshold_c: programme.threshold.c(),
            free_k_s: programme.free_heating_rate.k_h() / SECONDS_PER_HOUR,
            heating_k_s: margin * programme.heating_rate.k_h() / SECONDS_PER_HOUR,
            set_point_c: programme.set_point.c(),
            range_c: programme.hold_range.map(|limit| limit.c()),
            hold_s: programme.hold_time.s() + 60.0 * practice.hold_margin_min.value,
            cooling_k_s: margin * programme.cooling_rate.k_h() / SECONDS_PER_HOUR,
            end_c: programme.controlled_down_to.c(),
            patience_s: practice.patience_h.value * SECONDS_PER_HOUR,
            stall_k_s: practice.stall_k_h.value / SECONDS_PER_HOUR,
        };
        let start_c = programme.start.c();
        Controller {
            stage: if start_c < plan.threshold_c {
                Stage::FreeHeating
            } else {
                Stage::Heating
            },
            set_point_c: start_c,
            held_s: 0.0,
            waited_k: 0.0,
            began_without_monitors: false,
            given_up: false,
            finished: false,
            step_s: pace.first_s,
            hottest_c: start_c,
            judged_coldest_c: start_c,
            falls_k_s: f64::INFINITY,
            plan,
            pace,
            waited_s: 0.0,
            leveled_s: 0.0,
            stalled_s: 0.0,
        }
    }

    /// What the next step shall bring (controller.md eq. 3); steps end where a stage does.
    pub fn wish(&self) -> Wish {
        let plan = &self.plan;
        let longest_s = self.step_s.min(self.longest_s());
        match self.stage {
            Stage::Cooling => {
                let left_k = self.hottest_c - plan.end_c;
                // A joint that falls slowly by itself gets longer steps.
                let rate_k_s = self.falls_k_s.clamp(SLOWEST_K_S, plan.cooling_k_s);
                let step_s = self.fitted(rate_k_s, left_k, longest_s);
                Wish {
                    step_s,
                    target_c: self.set_point_c - plan.cooling_k_s * step_s,
                }
            }
            Stage::Hold if self.set_point_c >= plan.set_point_c => Wish {
                step_s: without_sliver(longest_s, plan.hold_s - self.held_s),
                target_c: plan.set_point_c,
            },
            _ => {
                let left_k = self.left_k();
                let rate_k_s = self.rate_k_s();
                let mut step_s = longest_s;
                if left_k > 0.0 {
                    step_s = self.fitted(rate_k_s, left_k, longest_s);
                }
                let to_range_k = plan.range_c[0] - self.judged_coldest_c + INTO_RANGE_K;
                if self.stage != Stage::Hold && to_range_k > 0.0 {
                    // The clock starts at the end of a step: one ends just inside the range.
                    step_s = step_s.min((to_range_k / rate_k_s).max(LEAST_STEP_S));
                }
                if self.stage == Stage::Hold {
                    step_s = step_s.min((plan.hold_s - self.held_s).max(LEAST_STEP_S));
                }
                let target_c = (self.set_point_c + rate_k_s * step_s).min(self.next_stop_c());
                Wish { step_s, target_c }
            }
        }
    }

    /// The solver cannot make the step, or will not make the next one so long: it is made no longer than this.
    pub fn shorten(&mut self, step_s: f64) {
        self.step_s = self.step_s.min(step_s);
    }

    /// Takes note of a step that was made: `limited` says whether the source had no more to give.
    pub fn advance(&mut self, wish: Wish, before: Readings, after: Readings, limited: bool) {
        let stage = self.stage;
        self.hottest_c = after.hottest_c;
        self.judged_coldest_c = after.judged_coldest_c;
        self.falls_k_s = match stage {
            Stage::Cooling => (before.hottest_c - after.hottest_c) / wish.step_s,
            _ => f64::INFINITY,
        };
        match stage {
            Stage::Cooling => self.advance_cooling(wish, after),
            Stage::Hold => self.advance_hold(wish, after),
            _ => self.advance_heating(wish, before, after, limited),
        }
        self.step_s = match self.stage == stage {
            true => (wish.step_s * self.pace.growth).max(self.pace.first_s),
            false => self.pace.first_s,
        };
    }

    fn advance_heating(&mut self, wish: Wish, before: Readings, after: Readings, limited: bool) {
        self.follow(wish.target_c, after);
        let slow = after.hottest_c - before.hottest_c < self.plan.stall_k_s * wish.step_s;
        self.stalled_s = if limited && slow {
            self.stalled_s + wish.step_s
        } else {
            0.0
        };
        if self.in_range(after.judged_coldest_c, after.judged_hottest_c) {
            return self.enter(Stage::Hold);
        }
        if self.in_range(after.coldest_c, after.hottest_c) {
            self.waited_s += wish.step_s;
            if self.waited_s > self.plan.patience_s {
                self.began_without_monitors = true;
                return self.enter(Stage::Hold);
            }
        }
        if self.stalled_s > STALL_TIME_S {
            self.given_up = true;
            return self.cool_from(after.hottest_c);
        }
        if self.set_point_c >= self.plan.set_point_c - CROSSED_K {
            self.stage = Stage::Leveling;
            // A joint that levels out below the range without any limit never comes up: coil and range do not fit.
            self.leveled_s += wish.step_s;
            if self.leveled_s > 2.0 * self.plan.patience_s {
                self.given_up = true;
                self.cool_from(after.hottest_c);
            }
        } else if self.set_point_c >= self.plan.threshold_c - CROSSED_K {
            self.stage = Stage::Heating;
        }
    }

    fn advance_hold(&mut self, wish: Wish, after: Readings) {
        self.follow(wish.target_c, after);
        let inside = match self.began_without_monitors {
            true => self.in_range(after.coldest_c, after.hottest_c),
            false => self.in_range(after.judged_coldest_c, after.judged_hottest_c),
        };
        if !inside {
            self.waited_s = 0.0;
            self.stage = Stage::Leveling;
            return;
        }
        self.held_s += wish.step_s;
        if self.held_s >= self.plan.hold_s - 1e-6 {
            self.cool_from(after.hottest_c);
        }
    }

    fn advance_cooling(&mut self, wish: Wish, after: Readings) {
        // Where it cools more slowly by itself the set point stays with the joint.
        self.set_point_c = match after.hottest_c > wish.target_c + HOLD_BACK_K {
            true => after.hottest_c,
            false => wish.target_c,
        };
        self.finished = after.hottest_c <= self.plan.end_c + CROSSED_K;
    }

    /// The set point moves on, or waits for a joint that has fallen behind.
    fn follow(&mut self, target_c: f64, after: Readings) {
        let farthest_c = after.hottest_c + HOLD_BACK_K;
        self.waited_k += (target_c - farthest_c).max(0.0);
        self.set_point_c = target_c.min(farthest_c);
    }

    fn enter(&mut self, stage: Stage) {
        self.stage = stage;
        self.waited_s = 0.0;
    }

    fn cool_from(&mut self, hottest_c: f64) {
        self.stage = Stage::Cooling;
        self.set_point_c = hottest_c;
        self.finished = hottest_c <= self.plan.end_c;
    }

    fn in_range(&self, coldest_c: f64, hottest_c: f64) -> bool {
        coldest_c >= self.plan.range_c[0] && hottest_c <= self.plan.range_c[1]
    }

    /// The next temperature at which the rate changes.
    fn next_stop_c(&self) -> f64 {
        let below = self.set_point_c < self.plan.threshold_c - CROSSED_K;
        if below {
            self.plan.threshold_c.min(self.plan.set_point_c)
        } else {
            self.plan.set_point_c
        }
    }

    /// The way to the next stop: that of the joint where it is behind, or a last short step would ask for all of it.
    fn left_k(&self) -> f64 {
        let behind_k = self.set_point_c - self.hottest_c;
        let of_set_point_k = self.next_stop_c() - self.set_point_c;
        match behind_k > CROSSED_K {
            true => of_set_point_k + behind_k,
            false => of_set_point_k,
        }
    }

    /// The longest step: where nothing but nature acts it may be longer.
    fn longest_s(&self) -> f64 {
        let natural = self.stage == Stage::Cooling && self.falls_k_s < 0.9 * self.plan.cooling_k_s;
        if natural {
            NATURAL * self.pace.longest_s
        } else {
            self.pace.longest_s
        }
    }

    fn rate_k_s(&self) -> f64 {
        let below = self.set_point_c < self.plan.threshold_c - CROSSED_K;
        if below {
            self.plan.free_k_s
        } else {
            self.plan.heating_k_s
        }
    }

    /// A step that changes the set point by no more than is allowed and ends where the way ends, without a sliver.
    fn fitted(&self, rate_k_s: f64, left_k: f64, longest_s: f64) -> f64 {
        let step_s = longest_s.min(self.pace.change_k / rate_k_s);
        without_sliver(step_s, (left_k.max(0.0) / rate_k_s).max(LEAST_STEP_S))
    }
}

/// A joint that cools by itself is followed in steps longer by this factor.
const NATURAL: f64 = 3.0;

/// Cooling is taken to be no slower than this, in K/s (3.6 K/h): steps stay finite.
const SLOWEST_K_S: f64 = 1e-3;

/// No step is shorter than this, in s.
const LEAST_STEP_S: f64 = 1.0;

/// The whole way, half of it, or a step.
fn without_sliver(step_s: f64, left_s: f64) -> f64 {
    match left_s / step_s {
        steps if steps <= 1.0 => left_s,
        steps if steps < 2.0 => 0.5 * left_s,
        _ => step_s,
    }
}

#[cfg(test)]
mod tests {
    use quantity::{Celsius, Hours, KelvinsPerHour};

    use super::{Controller, Pace, Readings};
    use crate::outcome::Stage;
    use crate::practice::practice;
    use crate::setup::Programme;

    fn programme() -> Programme {
        Programme {
            start: Celsius::from_c(20.0),
            threshold: Celsius::from_c(300.0),
            free_heating_rate: KelvinsPerHour::from_k_h(400.0),
            heating_rate: KelvinsPerHour::from_k_h(200.0),
            set_point: Celsius::from_c(620.0),
            hold_range: [Celsius::from_c(595.0), Celsius::from_c(650.0)],
            hold_time: Hours::from_h(1.0),
            cooling_rate: KelvinsPerHour::from_k_h(200.0),
            controlled_down_to: Celsius::from_c(300.0),
        }
    }

    fn all_at(c: f64) -> Readings {
        Readings {
            coldest_c: c,
            hottest_c: c,
            judged_coldest_c: c - 5.0,
            judged_hottest_c: c,
        }
    }

    /// Runs a joint that follows up to a fastest heating and cooling rate; returns (time, temperature, stage) a step.
    fn run(fastest_k_h: f64, falls_k_h: f64) -> (Vec<(f64, f64, Stage)>, Controller) {
        let mut controller = Controller::new(&programme(), practice(), Pace::default());
        let (mut time_s, mut now_c) = (0.0, 20.0);
        let mut steps = Vec::new();
        while !controller.finished && steps.len() < 5000 {
            let wish = controller.wish();
            let most_c = now_c + fastest_k_h / 3600.0 * wish.step_s;
            let least_c = now_c - falls_k_h / 3600.0 * wish.step_s;
            let next_c = wish.target_c.clamp(least_c, most_c);
            let limited = wish.target_c > most_c;
            steps.push((time_s, now_c, controller.stage));
            controller.advance(wish, all_at(now_c), all_at(next_c), limited);
            time_s += wish.step_s;
            now_c = next_c;
        }
        steps.push((time_s, now_c, controller.stage));
        (steps, controller)
    }

    fn rate_k_h(steps: &[(f64, f64, Stage)], of: Stage) -> (f64, f64) {
        steps
            .windows(2)
            .filter(|pair| pair[0].2 == of)
            .map(|pair| (pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0) * 3600.0)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), r| {
                (a.min(r), b.max(r))
            })
    }

    #[test]
    fn an_able_source_follows_the_programme_below_its_limits() {
        let (steps, controller) = run(1000.0, 1000.0);
        assert!(controller.finished && !controller.given_up);
        assert!((rate_k_h(&steps, Stage::FreeHeating).1 - 400.0).abs() < 1e-6);
        assert!(rate_k_h(&steps, Stage::Heating).1 <= 190.0 + 1e-6);
        assert!(rate_k_h(&steps, Stage::Cooling).0 >= -190.0 - 1e-6);
        let hold: Vec<_> = steps.iter().filter(|step| step.2 == Stage::Hold).collect();
        // The coldest judged reading is 5 K below: the clock starts at 600 °C, before the set point.
        assert!((599.9..616.0).contains(&hold[0].1), "{:?}", hold[0]);
        let end_s = steps
            .iter()
            .find(|s| s.2 == Stage::Cooling)
            .expect("cools")
            .0;
        assert!((end_s - hold[0].0 - 3960.0).abs() < 1.0);
        assert!((steps.last().expect("steps").1 - 300.0).abs() < 0.1);
    }

    #[test]
    fn a_weak_source_makes_the_set_point_wait() {
        let (steps, controller) = run(120.0, 1000.0);
        assert!(controller.finished && !controller.given_up);
        assert!(rate_k_h(&steps, Stage::Heating).1 <= 120.0 + 1e-6);
        let set = steps.iter().map(|s| s.1).fold(0.0, f64::max);
        assert!((set - 620.0).abs() < 1e-6);
    }

    #[test]
    fn a_source_that_cannot_heat_is_given_up() {
        let (steps, controller) = run(2.0, 1000.0);
        assert!(controller.given_up && controller.finished);
        assert!(steps.iter().all(|s| s.2 != Stage::Hold));
    }

    #[test]
    fn a_joint_that_cools_slowly_is_let_alone() {
        let (steps, controller) = run(1000.0, 60.0);
        assert!(controller.finished);
        assert!((rate_k_h(&steps, Stage::Cooling).0 + 60.0).abs() < 1e-6);
    }

    #[test]
    fn a_joint_that_fell_behind_in_the_hold_is_brought_up_no_faster_than_allowed() {
        let mut controller = Controller::new(&programme(), practice(), Pace::default());
        let mut now_c = 20.0;
        while controller.stage != Stage::Hold || controller.set_point_c < 620.0 {
            let wish = controller.wish();
            controller.advance(wish, all_at(now_c), all_at(wish.target_c), false);
            now_c = wish.target_c;
        }
        let wish = controller.wish();
        controller.advance(wish, all_at(620.0), all_at(618.9), false);
        let wish = controller.wish();
        let rate_k_h = (wish.target_c - 618.9) / wish.step_s * 3600.0;
        assert!(
            wish.target_c > 619.9 && rate_k_h <= 190.0 + 1e-6,
            "{wish:?}"
        );
    }
}
