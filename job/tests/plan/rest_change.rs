//! A coil that is changed says what became better or worse, and what made every number move.

use cycle::setup::Turn;
use job::at_rest::at_rest;
use job::edit::set_turns;
use job::rest_change::{Kept, RestChange, change};
use job::rest_numbers::Measure;
use quantity::{Millimeters, Units};

const DEMO: &str = include_str!("../../../jobs/carbon-steel-line.toml");

/// Middles of an even coil of eleven turns, in mm.
fn eleven() -> Vec<f64> {
    (-5..=5).map(|turn| 40.0 * f64::from(turn)).collect()
}

struct Coil {
    turns_mm: Vec<f64>,
    standoff_mm: f64,
    khz: f64,
}

impl Coil {
    fn of(turns_mm: Vec<f64>) -> Coil {
        Coil {
            turns_mm,
            standoff_mm: 51.0,
            khz: 8.0,
        }
    }

    fn kept(&self) -> Kept {
        let turns = self.turns_mm.iter().map(|&mm| Turn {
            axial: Millimeters::from_mm(mm),
            standoff: Millimeters::from_mm(self.standoff_mm),
        });
        let text = set_turns(DEMO, &turns.collect::<Vec<_>>()).expect("set");
        let frequency = format!("[source]\nworking_frequency = \"{} kHz\"", self.khz);
        let text = text.replacen("[source]", &frequency, 1);
        let job = job::read(&text, "demo.toml").expect("read");
        let rested = at_rest(&job, None).expect("rests");
        Kept::of(Units::Us, &rested.prepared, &rested.at_rest)
    }
}

struct Changed {
    before: Kept,
    now: Kept,
    change: RestChange,
}

fn changed(before: &Coil, now: &Coil) -> Changed {
    let (before, now) = (before.kept(), now.kept());
    let change = change(&before, &now, Units::Us);
    Changed {
        before,
        now,
        change,
    }
}

impl Changed {
    fn at(&self, of: Measure) -> usize {
        let numbers = &self.now.numbers;
        numbers.iter().position(|one| one.of == of).expect("told")
    }

    fn by(&self, of: Measure) -> f64 {
        let at = self.at(of);
        self.now.numbers[at].value - self.before.numbers[at].value
    }

    fn because(&self, of: Measure) -> &str {
        let because = &self.change.numbers[self.at(of)].because;
        because.as_deref().unwrap_or_default()
    }
}

#[test]
fn every_number_that_moved_has_its_cause() {
    let without = |gone: usize| {
        let mut turns = eleven();
        turns.remove(gone);
        Coil::of(turns)
    };
    let moved = |turn: usize, to_mm: f64| {
        let mut turns = eleven();
        turns[turn] = to_mm;
        Coil::of(turns)
    };
    let even = || Coil::of(eleven());
    let standoff = |standoff_mm| Coil {
        standoff_mm,
        ..even()
    };
    let khz = |khz| Coil { khz, ..even() };
    let scaled = |by: f64| Coil::of(eleven().iter().map(|mm| by * mm).collect());
    let tried = [
        without(5),
        without(10),
        without(2),
        moved(10, 240.0),
        moved(10, 180.0),
        moved(7, 95.0),
        standoff(70.0),
        khz(15.0),
        scaled(0.8),
        scaled(1.2),
    ];
    let before = even();
    for (number, now) in tried.iter().enumerate() {
        let all = changed(&before, now);
        let done = &all.change.done;
        assert!((1..=2).contains(&done.len()), "{number}: {done:?}");
        let moved = all.change.numbers.iter().zip(&all.now.numbers);
        let telling = moved.filter(|(moved, _)| moved.by.is_some() && !moved.is_slight);
        for (moved, is) in telling {
            let because = moved.because.as_deref().unwrap_or_default();
            assert!(!because.is_empty(), "{number}: {} {:?}", is.name, moved.by);
        }
    }
}

#[test]
fn a_turn_taken_from_one_side_leaves_that_side_colder_and_the_other_hotter() {
    let mut turns = eleven();
    turns.pop();
    let all = changed(&Coil::of(eleven()), &Coil::of(turns));
    assert!(all.by(Measure::SoakColdest) < -1.0 && all.by(Measure::BeyondHottest) > 1.0);
    let because = all.because(Measure::SoakColdest);
    for part in [
        "by 4 turns instead of 5",
        "the left gets hotter, the right colder",
    ] {
        assert!(because.contains(part), "{part}: {because}");
    }
    assert!(
        all.because(Measure::BeyondHottest).contains("same reason"),
        "told once"
    );
    let place = |of: Measure| &all.now.numbers[all.at(of)].beside;
    assert!(
        place(Measure::SoakColdest).starts_with('+'),
        "the side that lost the turn"
    );
    assert!(
        place(Measure::BeyondHottest).starts_with('−'),
        "the other side"
    );
    assert!(
        all.by(Measure::HeatedReach) < -1.0,
        "the heated band is told, too"
    );
}

#[test]
fn a_turn_taken_from_the_weld_flattens_the_pipe_and_costs_current() {
    let mut turns = eleven();
    turns.remove(5);
    let all = changed(&Coil::of(eleven()), &Coil::of(turns));
    assert_eq!(
        all.change.done[0],
        "The turn at the weld center was taken away: 10 turns against 11."
    );
    assert!(all.by(Measure::SoakColdest) > 1.0 && all.by(Measure::Current) > 5.0);
    let coldest = all.because(Measure::SoakColdest);
    assert!(
        coldest.contains("less heat arises at the weld itself")
            && coldest.contains("falls off less steeply"),
        "{coldest}"
    );
    let current = all.because(Measure::Current);
    assert!(current.contains("fewer turns make less field"), "{current}");
    let lost = all.because(Measure::Lost);
    assert!(
        lost.contains("square of the current") && lost.contains("less cable"),
        "{lost}"
    );
}

#[test]
fn what_is_said_of_power_adds_up_in_the_digits_that_are_told() {
    let now = Coil {
        standoff_mm: 75.0,
        ..Coil::of(eleven())
    };
    let all = changed(&Coil::of(eleven()), &now);
    for kept in [&all.before, &all.now] {
        let told = |of: Measure| {
            let number = &kept.numbers[all.at(of)];
            format!("{:.*}", number.digits, number.value)
                .parse::<f64>()
                .expect("a number")
        };
        let sum = told(Measure::MetalPower) + told(Measure::Lost);
        assert!((sum - told(Measure::SourcePower)).abs() < 1e-9);
    }
    let per_square = |kept: &Kept| {
        let of = |of: Measure| &kept.numbers[all.at(of)];
        let (kw, a) = (of(Measure::MetalPower), of(Measure::Current));
        (100.0 * kw.value).round() / 100.0 / a.value.round().powi(2)
    };
    let less = 100.0 * (1.0 - per_square(&all.now) / per_square(&all.before));
    let words = format!("the same current heats the metal {less:.0} % less");
    let because = all.because(Measure::Current);
    assert!(
        because.contains(&words) && because.contains("farther from the metal"),
        "{words}: {because}"
    );
    assert!(all.because(Measure::Voltage).contains("wider gap"));
}

#[test]
fn the_same_coil_reads_as_before() {
    let all = changed(&Coil::of(eleven()), &Coil::of(eleven()));
    assert!(all.change.done.is_empty());
    assert!(
        all.change
            .numbers
            .iter()
            .all(|moved| moved.by.is_none() && moved.because.is_none())
    );
}

#[test]
fn a_turn_pulled_far_out_no_longer_counts_and_the_gap_is_named() {
    let mut turns = eleven();
    turns[10] = 300.0;
    let all = changed(&Coil::of(eleven()), &Coil::of(turns));
    assert!(all.by(Measure::HeatedReach) < -1.0);
    let because = all.because(Measure::HeatedReach);
    for part in ["+6 5/16 in", "a gap too wide to count as heated"] {
        assert!(because.contains(part), "{part}: {because}");
    }
    // The gap that a turn leaves at the weld itself is heated from both sides.
    let mut without = eleven();
    without.remove(5);
    let all = changed(&Coil::of(eleven()), &Coil::of(without));
    assert!(all.by(Measure::HeatedReach).abs() < 0.5);
}
