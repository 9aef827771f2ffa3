//! What stands in the way of a plan and only the model can say: the bore, the source, the neighbors, the bands.

use checks::Verdict;
use cycle::at_rest::along;
use cycle::cable_in_blanket::{TurnInBlanket, turns_in_blanket};
use cycle::outcome::{NeighborOutcome, Outcome, Shortfall};
use cycle::practice::practice;
use cycle::prepare::joint_of;
use cycle::setup::{Coil, Setup};
use quantity::{Celsius, Kelvins, Units};

use crate::model::Job;
use crate::plan::Prepared;
use crate::sheet::words::{duration_h, moment_s};
use crate::wording::{difference, length, place, temperature};

/// One thing that the model foresees.
#[derive(Clone, Debug, PartialEq)]
pub struct Foreseen {
    /// What it is about.
    pub about: About,
    /// Whether it stands in the way.
    pub verdict: Verdict,
    /// What will be, in one sentence.
    pub says: String,
    /// What can be done about it, where something can.
    pub remedy: Option<String>,
    /// How far past what is wanted, as a part of it: larger is worse. 0 where nothing is wrong.
    pub severity: f64,
}

/// What a foreseen thing is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum About {
    /// The soak band with its bore.
    SoakBand,
    /// The metal beyond the soak band.
    Beyond,
    /// The source.
    Source,
    /// A neighbor, by name.
    Neighbor(String),
    /// The width that is heated.
    HeatedBand,
    /// The width that is wrapped.
    Blanket,
    /// The cable where it does not lie on the blanket.
    Cable,
    /// Whether the computation closed its books.
    Computation,
}

impl About {
    /// The words that stand on a plan.
    pub fn words(&self) -> String {
        match self {
            About::SoakBand => "soak band, bore included".into(),
            About::Beyond => "metal beyond the soak band".into(),
            About::Source => "source".into(),
            About::Neighbor(name) => name.clone(),
            About::HeatedBand => "heated band".into(),
            About::Blanket => "blanket".into(),
            About::Cable => "cable".into(),
            About::Computation => "computation".into(),
        }
    }
}

/// A coil or blanket counts as wide enough when this part of the band is covered: a band's width is not known better.
const WIDE_ENOUGH: f64 = 0.95;

/// Largest gap in percent between heat put in, given off and stored that a plan may rest on.
const ENERGY_GAP_PERCENT: f64 = 2.0;

/// Largest relative gap between coil power and integrated loss that a plan may rest on.
const POWER_GAP: f64 = 0.02;

/// Everything that the model foresees, worst first.
pub(crate) fn foreseen(
    job: &Job,
    prepared: &Prepared,
    coil: &Coil,
    outcome: &Outcome,
) -> Vec<Foreseen> {
    let mut list = vec![
        soak_band(prepared, outcome, job.units),
        beyond(prepared, outcome, job.units),
        source(outcome, job.units),
    ];
    list.extend(
        outcome
            .neighbors
            .iter()
            .filter_map(|n| neighbor(n, job.units)),
    );
    let proven = list[0].verdict == Verdict::Met;
    list.push(heated_band(job, prepared, coil, proven));
    list.push(blanket(job, prepared, proven));
    list.extend(cable(job, prepared, coil, outcome));
    list.push(computation(outcome));
    list.sort_by(|a, b| {
        b.verdict
            .cmp(&a.verdict)
            .then(b.severity.total_cmp(&a.severity))
    });
    list
}

fn fine(about: About, says: String) -> Foreseen {
    Foreseen {
        about,
        verdict: Verdict::Met,
        says,
        remedy: None,
        severity: 0.0,
    }
}

/// The hold that counts is the one in which all of the band is inside; the band may come in later than the
/// thermocouples where the hold is long enough without that.
fn soak_band(prepared: &Prepared, outcome: &Outcome, units: Units) -> Foreseen {
    let soak = &outcome.soak;
    let [low, high] = prepared.programme.hold_range;
    let range = format!(
        "{} to {}",
        temperature(low, units),
        temperature(high, units)
    );
    let asked_h = prepared.programme.hold_time.h();
    let asked = duration_h(asked_h);
    let (below_k, above_k) = (
        low.c() - soak.coldest.temperature_c,
        soak.hottest.temperature_c - high.c(),
    );
    if soak.inside_whole_hold {
        let says = format!(
            "inside {range} at all depths for the whole hold: {} to {}",
            temperature(Celsius::from_c(soak.coldest.temperature_c), units),
            temperature(Celsius::from_c(soak.hottest.temperature_c), units)
        );
        return fine(About::SoakBand, says);
    }
    if soak.hold_from_s.is_some() && above_k <= 0.0 && soak.time_inside_h >= asked_h {
        let lag = soak.lag_s.map_or(String::new(), |s| {
            format!(
                "; {} comes in last, {:.0} min after the control thermocouples",
                place(&soak.coldest, units),
                s / 60.0
            )
        });
        let says = format!(
            "inside {range} at all depths for {}, {asked} asked for{lag}",
            duration_h(soak.time_inside_h)
        );
        return fine(About::SoakBand, says);
    }
    let wrong = |says: String, remedy: &str, severity: f64| Foreseen {
        about: About::SoakBand,
        verdict: Verdict::NotMet,
        says,
        remedy: Some(remedy.to_owned()),
        severity,
    };
    if soak.hold_from_s.is_none() {
        let says = format!(
            "the hold never begins: the control thermocouples do not come into {range} together"
        );
        return wrong(
            says,
            "see what the source can do, and where the spread comes from",
            f64::INFINITY,
        );
    }
    let width_k = (high - low).k().max(1.0);
    if below_k >= above_k {
        let says = format!(
            "inside {range} for {} only, {asked} asked for: {} is {} too cold at {}",
            duration_h(soak.time_inside_h),
            place(&soak.coldest, units),
            difference(Kelvins::from_k(below_k), units),
            moment_s(soak.coldest_time_s)
        );
        let remedy = "plug the bore, heat a wider band, raise the set point inside the range, or hold longer and count \
                      from when the bore is in";
        return wrong(says, remedy, below_k / width_k);
    }
    let says = format!(
        "not inside {range}: {} is {} too hot at {}",
        place(&soak.hottest, units),
        difference(Kelvins::from_k(above_k), units),
        moment_s(soak.hottest_time_s)
    );
    wrong(
        says,
        "open the turns where it is hottest, or lower the set point",
        above_k / width_k,
    )
}

/// The upper end of the hold holds for every thermocouple at any time, so for the metal that has none as well.
fn beyond(prepared: &Prepared, outcome: &Outcome, units: Units) -> Foreseen {
    let (hottest, time_s) = (&outcome.beyond.hottest, outcome.beyond.time_s);
    let [low, high] = prepared.programme.hold_range;
    let (reached, allowed) = (
        temperature(Celsius::from_c(hottest.temperature_c), units),
        temperature(high, units),
    );
    let over_k = hottest.temperature_c - high.c();
    if over_k <= 0.0 {
        let says = format!("reaches {reached} at most, {allowed} is allowed");
        return fine(About::Beyond, says);
    }
    Foreseen {
        about: About::Beyond,
        verdict: Verdict::NotMet,
        says: format!(
            "hotter than the {allowed} that no thermocouple may pass: {} reaches {reached} at {}",
            place(hottest, units),
            moment_s(time_s)
        ),
        remedy: Some("open the turns there, or bring them nearer to the weld".into()),
        severity: over_k / (high - low).k().max(1.0),
    }
}

fn source(outcome: &Outcome, units: Units) -> Foreseen {
    let source = &outcome.source;
    let least = source
        .power_reserve_percent
        .min(source.current_reserve_percent)
        .min(source.voltage_reserve_percent);
    let Some(short) = &source.first_shortfall else {
        let says = format!(
            "enough for the whole cycle; at its worst {least:.0} % is left of power, current or voltage ({:.1} kW, {:.0} A, {:.0} V at most)",
            source.largest_power_w / 1e3,
            source.largest_current_rms_a,
            source.largest_voltage_rms_v
        );
        return fine(About::Source, says);
    };
    Foreseen {
        about: About::Source,
        verdict: Verdict::NotMet,
        says: short_words(short, units),
        remedy: Some("a larger source, more turns where the current runs out, fewer where the voltage does, or a slower programme".into()),
        severity: 1.0 + short.farthest_behind_k / 100.0,
    }
}

fn short_words(short: &Shortfall, units: Units) -> String {
    format!(
        "runs out while {}: {} holds it back from {} on, at {}",
        short.stage.words(),
        short.limit.words(),
        moment_s(short.time_s),
        temperature(Celsius::from_c(short.control_c), units)
    )
}

/// A neighbor of which nobody says what it bears is no finding; it stands in the tables.
fn neighbor(neighbor: &NeighborOutcome, units: Units) -> Option<Foreseen> {
    let limit_c = neighbor.limit_c?;
    let about = About::Neighbor(neighbor.name.clone());
    let reached = temperature(Celsius::from_c(neighbor.highest_c), units);
    let limit = temperature(Celsius::from_c(limit_c), units);
    let over_k = neighbor.highest_c - limit_c;
    if over_k <= 0.0 {
        return Some(fine(about, format!("reaches {reached}, bears {limit}")));
    }
    let says = format!(
        "reaches {reached} at {}, {} over the {limit} that it bears",
        moment_s(neighbor.time_s),
        difference(Kelvins::from_k(over_k), units)
    );
    Some(Foreseen {
        about,
        verdict: Verdict::NotMet,
        says,
        remedy: Some(
            "take its soft parts out, cool it, or shorten blanket and coil on that side".into(),
        ),
        severity: over_k / limit_c.max(50.0),
    })
}

/// A width that only a practice recommends may be narrower where the model keeps the soak band inside (`proven`).
fn heated_band(job: &Job, prepared: &Prepared, coil: &Coil, proven: bool) -> Foreseen {
    let half_mm = 0.5 * prepared.bands.heated.width.mm();
    let row = &prepared.bands.by_rule[prepared.bands.heated.row];
    let clause = &row.clause;
    let pitches = Pitches::of(coil, job.cable.outside_diameter_mm.value);
    let [first_mm, second_mm] = heated_mm(coil, &pitches);
    let words = |mm: f64| length(quantity::Millimeters::from_mm(mm), job.units);
    let gap = match pitches.widest_mm > GAP * pitches.usual_mm {
        true => format!(
            ", with a gap of {} between two turns where the usual pitch is {}",
            words(pitches.widest_mm),
            words(pitches.usual_mm)
        ),
        false => String::new(),
    };
    let says = format!(
        "the turns heat {} on the first side and {} on the second{gap}; {} {} asks for {} each way",
        words(first_mm),
        words(second_mm),
        clause.document,
        clause.clause,
        words(half_mm)
    );
    let shorter_mm = first_mm.min(second_mm);
    if shorter_mm >= WIDE_ENOUGH * half_mm {
        return fine(About::HeatedBand, says);
    }
    if proven && !row.binding {
        return fine(
            About::HeatedBand,
            format!("{says}, a practice and no limit; the model keeps the soak band inside"),
        );
    }
    let side = match first_mm >= WIDE_ENOUGH * half_mm {
        true => " on the second side",
        false if second_mm >= WIDE_ENOUGH * half_mm => " on the first side",
        false => "",
    };
    Foreseen {
        about: About::HeatedBand,
        verdict: Verdict::NotMet,
        says: format!("too narrow{side}: {says}"),
        remedy: Some(format!("more turns{side}, or a wider pitch there")),
        severity: 1.0 - shorter_mm / half_mm,
    }
}

/// From turn to turn along a coil, in mm.
struct Pitches {
    /// The median: one turn that lies far out lends nothing to the others.
    usual_mm: f64,
    widest_mm: f64,
}

impl Pitches {
    fn of(coil: &Coil, cable_mm: f64) -> Pitches {
        let mut axial: Vec<f64> = coil.turns.iter().map(|t| t.axial.mm()).collect();
        axial.sort_by(f64::total_cmp);
        let mut all: Vec<f64> = axial.windows(2).map(|pair| pair[1] - pair[0]).collect();
        all.sort_by(f64::total_cmp);
        let at = |index: usize| all.get(index).copied().unwrap_or(cable_mm).max(cable_mm);
        Pitches {
            usual_mm: at(all.len() / 2),
            widest_mm: at(all.len().saturating_sub(1)),
        }
    }
}

/// A gap between two turns that is wider than this many usual pitches is told.
const GAP: f64 = 2.0;

/// How far from the weld center the turns heat on the first and the second side: to half a usual pitch beyond the
/// outermost turn of that side.
fn heated_mm(coil: &Coil, pitches: &Pitches) -> [f64; 2] {
    let axial = || coil.turns.iter().map(|turn| turn.axial.mm());
    let (first, last) = (
        axial().fold(f64::INFINITY, f64::min),
        axial().fold(f64::NEG_INFINITY, f64::max),
    );
    [-first, last].map(|outermost_mm| (outermost_mm + 0.5 * pitches.usual_mm).max(0.0))
}

fn blanket(job: &Job, prepared: &Prepared, proven: bool) -> Foreseen {
    let row = &prepared.bands.by_rule[prepared.bands.gradient_control.row];
    let half_mm = 0.5 * prepared.bands.gradient_control.width.mm();
    let reach = prepared.setup.blanket.reach;
    let words = |mm: f64| length(quantity::Millimeters::from_mm(mm), job.units);
    let shortest_mm = reach[0].mm().min(reach[1].mm());
    let says = format!(
        "reaches {} and {} from the weld; the gradient control band asks for {} each way",
        words(reach[0].mm()),
        words(reach[1].mm()),
        words(half_mm)
    );
    if shortest_mm >= WIDE_ENOUGH * half_mm {
        return fine(About::Blanket, says);
    }
    if proven && !row.binding {
        return fine(
            About::Blanket,
            format!("{says}, a practice and no limit; the model keeps the soak band inside"),
        );
    }
    let ended = [0, 1]
        .iter()
        .any(|s| job.joint.sides[*s].length.mm() <= reach[*s].mm() + 1.0);
    let remedy = match ended {
        true => {
            "the side ends there: wrap on over what follows, or judge the gradient from the curves"
        }
        false => "wrap further",
    };
    Foreseen {
        about: About::Blanket,
        verdict: Verdict::NotMet,
        says: format!("too short: {says}"),
        remedy: Some(remedy.into()),
        severity: 1.0 - shortest_mm / half_mm,
    }
}

/// Turns within the blanket, at the hottest moment of the metal under them; none where all lie on it.
fn cable(job: &Job, prepared: &Prepared, coil: &Coil, outcome: &Outcome) -> Option<Foreseen> {
    outcome.frames.first()?;
    let joint = joint_of(&prepared.setup, practice()).ok()?;
    let hottest = |z_mm: f64| {
        let moments = outcome.frames.iter().map(|f| along(&f.outside, z_mm));
        moments.fold(f64::NEG_INFINITY, f64::max)
    };
    let inside = turns_in_blanket(&prepared.setup, coil, &joint, &hottest).ok()?;
    let worst = worst_in_blanket(&inside)?;
    let says = in_blanket_words(&inside, worst, &prepared.setup, job.units);
    let bears_c = job.cable.max_cable_temperature_c.value;
    let over_k = worst.surroundings_c - bears_c;
    if over_k <= 0.0 {
        return Some(fine(About::Cable, says));
    }
    Some(Foreseen {
        about: About::Cable,
        verdict: Verdict::NotMet,
        says,
        remedy: Some(on_the_blanket(&prepared.setup, job.units)),
        severity: over_k / bears_c.max(50.0),
    })
}

/// The turn within the blanket whose surroundings are hottest.
pub fn worst_in_blanket(inside: &[TurnInBlanket]) -> Option<&TurnInBlanket> {
    let hotter =
        |a: &&TurnInBlanket, b: &&TurnInBlanket| a.surroundings_c.total_cmp(&b.surroundings_c);
    inside.iter().max_by(hotter)
}

/// What the surroundings of turns within the blanket reach, beside what the cable bears.
pub fn in_blanket_words(
    inside: &[TurnInBlanket],
    worst: &TurnInBlanket,
    setup: &Setup,
    units: Units,
) -> String {
    let turns = match inside.len() {
        1 => format!("turn {} lies", worst.number),
        many => format!("{many} turns lie"),
    };
    let mm = |mm: f64| length(quantity::Millimeters::from_mm(mm), units);
    let degrees = |c: f64| temperature(Celsius::from_c(c), units);
    format!(
        "{turns} within the blanket, not on it: turn {} is {} above the metal under {} of blanket, where it reaches {}; \
         the {} itself bears {}",
        worst.number,
        mm(worst.standoff_mm),
        mm(setup.blanket.thickness.mm()),
        degrees(worst.surroundings_c),
        setup.cable.name,
        degrees(setup.cable.max_cable_temperature_c.value)
    )
}

fn on_the_blanket(setup: &Setup, units: Units) -> String {
    format!(
        "wind the turns on the blanket: a standoff of at least {}",
        length(setup.blanket.thickness, units)
    )
}

fn computation(outcome: &Outcome) -> Foreseen {
    let effort = &outcome.effort;
    let says = format!(
        "heat in, out and stored agree within {:.1} %, coil power and loss within {:.2} %",
        effort.energy_error_percent.abs(),
        100.0 * effort.worst_balance
    );
    let closed = effort.energy_error_percent.abs() <= ENERGY_GAP_PERCENT
        && effort.worst_balance <= POWER_GAP;
    if closed {
        return fine(About::Computation, says);
    }
    Foreseen {
        about: About::Computation,
        verdict: Verdict::NotJudged,
        says: format!("the books do not close: {says}"),
        remedy: Some("do not rest anything on this plan; report the job".into()),
        severity: f64::INFINITY,
    }
}
