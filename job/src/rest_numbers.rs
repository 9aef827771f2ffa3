//! The quick answer in numbers, as the desk shows them and the command prints them: each with its unit, the limit that it
//! serves, and which way is better.

use std::borrow::Cow;

use cycle::at_rest::AtRest;
use cycle::outcome::Spot;
use quantity::{Celsius, Millimeters, Units};
use rules::requirement::LimitKind;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::foreseen::{HeatedSide, heated_by_turns};
use crate::plan::Prepared;
use crate::wording::length;

/// What is told of the metal at rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Coldest place of the soak band.
    SoakColdest,
    /// Hottest place of it.
    SoakHottest,
    /// Hottest place beyond it.
    BeyondHottest,
    /// How far hottest and coldest of the soak band lie apart.
    HottestLessColdest,
    /// How far from the weld the turns heat, on the side where it is less.
    HeatedReach,
    /// Outside less bore where it is largest.
    OutsideLessBore,
    /// Power into the metal.
    MetalPower,
    /// Lost in cable and leads.
    Lost,
    /// Power out of the source.
    SourcePower,
    /// Current of the coil.
    Current,
    /// Voltage at the source.
    Voltage,
}

/// A number with its name.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RestNumber {
    /// Which number it is.
    pub of: Measure,
    /// What it is, in words.
    pub name: Cow<'static, str>,
    /// The same in a word or two, where there is little room.
    pub short: Cow<'static, str>,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: Cow<'static, str>,
    /// Digits behind the point.
    pub digits: usize,
    /// How much is left to what limits it, where something does.
    pub left: Option<String>,
    /// Where, and what else is to be known.
    pub beside: String,
    /// Why it needs a look, in words, where it does.
    pub look: Option<String>,
    /// More of it is better; `None` where neither way is.
    pub merit: Option<f64>,
}

/// In which words and units the numbers of a job are told.
pub struct Shown(pub Units);

impl Shown {
    /// A temperature as it is shown.
    pub fn degrees(&self, c: f64) -> (f64, &'static str) {
        match self.0 {
            Units::Si => (c, "°C"),
            Units::Us => (Celsius::from_c(c).f(), "°F"),
        }
    }

    /// A difference as it is shown.
    pub fn difference(&self, k: f64) -> (f64, &'static str) {
        match self.0 {
            Units::Si => (k, "K"),
            Units::Us => (1.8 * k, "°F"),
        }
    }

    /// A temperature in whole degrees.
    pub fn degree_words(&self, c: f64) -> String {
        let (value, unit) = self.degrees(c);
        format!("{value:.0} {unit}")
    }

    /// A difference in whole degrees, without its sign.
    pub fn difference_words(&self, k: f64) -> String {
        let (value, unit) = self.difference(k.abs());
        format!("{value:.0} {unit}")
    }

    /// A length without its sign.
    pub fn length(&self, mm: f64) -> String {
        length(Millimeters::from_mm(mm.abs()), self.0)
    }

    /// A place along the pipe.
    pub fn along(&self, mm: f64) -> String {
        let far = self.length(mm);
        match mm {
            _ if far == self.length(0.0) => "at the weld center".to_owned(),
            mm if mm < 0.0 => format!("−{far} from the weld"),
            _ => format!("+{far} from the weld"),
        }
    }

    /// A place in the metal, by what it is called.
    pub fn place(&self, axial_mm: f64, depth_mm: f64, wall_mm: f64) -> String {
        let depth = match depth_mm / wall_mm.max(f64::MIN_POSITIVE) {
            part if part > IN_THE_BORE => "in the bore".to_owned(),
            part if part < 1.0 - IN_THE_BORE => "on the outside".to_owned(),
            _ => match self.0 {
                Units::Si => format!("{depth_mm:.0} mm below the outside"),
                Units::Us => format!("{:.2} in below the outside", depth_mm / 25.4),
            },
        };
        format!("{}, {depth}", self.along(axial_mm))
    }
}

/// Deeper than this part of the wall is the bore.
const IN_THE_BORE: f64 = 0.9;

/// The numbers of an answer.
pub fn numbers(units: Units, prepared: &Prepared, rested: &AtRest) -> Vec<RestNumber> {
    let shown = Shown(units);
    let [low, high] = prepared.setup.programme.hold_range.map(|limit| limit.c());
    let [power, current, voltage] = rested.reserves_percent;
    let kilowatts = |w: f64| (w / 1e3, "kW");
    let lost_w = rested.coil_loss_w + rested.leads_loss_w;
    let mut list = soak_band(&shown, prepared, rested, [low, high]);
    list.push(heated_reach(&shown, prepared, rested));
    list.push(RestNumber {
        merit: Some(-rested.surface_to_bore.difference_k.abs()),
        beside: format!(
            "{}; no limit is set, less is better",
            shown.along(rested.surface_to_bore.axial_mm)
        ),
        ..plain(
            Measure::OutsideLessBore,
            ["Outside less bore, largest", "outside less bore"],
            shown.difference(rested.surface_to_bore.difference_k),
            0,
        )
    });
    list.push(plain(
        Measure::MetalPower,
        ["Power into the metal", "power into the metal"],
        kilowatts(rested.metal_power_w),
        2,
    ));
    list.push(RestNumber {
        merit: Some(-lost_w),
        ..plain(
            Measure::Lost,
            ["Lost in cable and leads", "lost in cable and leads"],
            kilowatts(lost_w),
            2,
        )
    });
    let of_source = |number: RestNumber, percent: f64| RestNumber {
        merit: Some(percent),
        left: Some(match percent < 0.0 {
            true => format!("{:.0} % short", -percent),
            false => format!("{percent:.0} % in reserve"),
        }),
        look: (percent < 0.0).then(|| "the source is short".to_owned()),
        ..number
    };
    // The sum of what is told, so that a reader finds the same.
    let told_w = |w: f64| 10.0 * (w / 10.0).round();
    let power_w = kilowatts(told_w(rested.metal_power_w) + told_w(lost_w));
    list.push(of_source(
        plain(
            Measure::SourcePower,
            ["Power out of the source", "power of the source"],
            power_w,
            2,
        ),
        power,
    ));
    let amperes = (rested.current_rms_a, "A");
    list.push(of_source(
        plain(Measure::Current, ["Current", "current"], amperes, 0),
        current,
    ));
    let volts = (rested.voltage_rms_v, "V");
    list.push(of_source(
        plain(Measure::Voltage, ["Voltage", "voltage"], volts, 0),
        voltage,
    ));
    list
}

/// The side on which the turns heat less far, and its name.
pub(crate) fn shorter_side(prepared: &Prepared, rested: &AtRest) -> (HeatedSide, &'static str) {
    let cable_mm = prepared.setup.cable.outside_diameter_mm.value;
    let [first, second] = heated_by_turns(&rested.coil, cable_mm);
    match first.reach_mm <= second.reach_mm {
        true => (first, "first"),
        false => (second, "second"),
    }
}

/// A reach of the turns beyond what is asked for is no better.
fn heated_reach(shown: &Shown, prepared: &Prepared, rested: &AtRest) -> RestNumber {
    let bands = &prepared.bands;
    let asked_mm = 0.5 * bands.heated.width.mm();
    let (side, name) = shorter_side(prepared, rested);
    let reach_mm = side.reach_mm;
    let clause = &bands.by_rule[bands.heated.row].clause;
    let asked = format!(
        "{} that {} asks for",
        shown.length(asked_mm),
        clause.document
    );
    let short_mm = asked_mm - reach_mm;
    let (number, unit, digits) = match shown.0 {
        Units::Si => (reach_mm, "mm", 0),
        Units::Us => (reach_mm / 25.4, "in", 2),
    };
    RestNumber {
        merit: Some(-short_mm.max(0.0)),
        left: Some(
            match shown.length(short_mm) == shown.length(0.0) || short_mm < 0.0 {
                true => format!("covers the {asked}"),
                false => format!("{} short of the {asked}", shown.length(short_mm)),
            },
        ),
        beside: format!("on the {name} side"),
        ..plain(
            Measure::HeatedReach,
            ["Heated by the turns", "reach of the turns"],
            (number, unit),
            digits,
        )
    }
}

fn plain(
    of: Measure,
    [name, short]: [&'static str; 2],
    (value, unit): (f64, &'static str),
    digits: usize,
) -> RestNumber {
    RestNumber {
        of,
        name: name.into(),
        short: short.into(),
        value,
        unit: unit.into(),
        digits,
        left: None,
        beside: String::new(),
        look: None,
        merit: None,
    }
}

/// Coldest, hottest, and how far they are apart: the last from what is shown, so that a reader can check it.
fn soak_band(
    shown: &Shown,
    prepared: &Prepared,
    rested: &AtRest,
    [low, high]: [f64; 2],
) -> Vec<RestNumber> {
    let (coldest, hottest) = (&rested.soak_coldest, &rested.soak_hottest);
    let beyond = &rested.beyond_hottest;
    let margin = |k: f64, over: &str, under: &str| {
        let words = shown.difference_words(k);
        if k >= 0.0 {
            format!("{words} {over}")
        } else {
            format!("{words} {under}")
        }
    };
    let place = |spot: &Spot, wall_mm: f64| shown.place(spot.axial_mm, spot.depth_mm, wall_mm);
    let (cold, hot) = (coldest.temperature_c, hottest.temperature_c);
    let at_least = shown.degree_words(low);
    let at_most = shown.degree_words(high);
    let apart = shown.degrees(hot).0.round() - shown.degrees(cold).0.round();
    let spreads = prepared.requirement.limits.iter();
    let spread = spreads.filter_map(|limit| match limit.kind {
        LimitKind::HoldSpread(spread) => Some(spread.k()),
        _ => None,
    });
    let spread_words = match spread.reduce(f64::min) {
        Some(k) => format!(
            "all places, bore included; the limit of {} is between thermocouples",
            shown.difference_words(k)
        ),
        None => "all places, bore included; no limit is set, less is better".to_owned(),
    };
    vec![
        RestNumber {
            merit: Some(cold - low),
            look: (cold < low).then(|| "below the hold range".to_owned()),
            left: Some(margin(
                cold - low,
                &format!("over the {at_least} asked for"),
                &format!("under the {at_least} asked for"),
            )),
            beside: place(coldest, rested.walls_mm[0]),
            ..plain(
                Measure::SoakColdest,
                ["Coldest of the soak band", "coldest of the soak band"],
                shown.degrees(cold),
                0,
            )
        },
        RestNumber {
            merit: Some(high - hot),
            look: (hot > high).then(|| "above the hold range".to_owned()),
            left: Some(margin(
                high - hot,
                &format!("under the {at_most} allowed"),
                &format!("over the {at_most} allowed"),
            )),
            beside: place(hottest, rested.walls_mm[1]),
            ..plain(
                Measure::SoakHottest,
                ["Hottest of the soak band", "hottest of the soak band"],
                shown.degrees(hot),
                0,
            )
        },
        RestNumber {
            merit: Some(high - beyond.temperature_c),
            look: (beyond.temperature_c > high).then(|| "too hot".to_owned()),
            left: Some(margin(
                high - beyond.temperature_c,
                &format!("under the {at_most} allowed"),
                &format!("over the {at_most} allowed"),
            )),
            beside: place(beyond, rested.walls_mm[2]),
            ..plain(
                Measure::BeyondHottest,
                ["Hottest beyond the soak band", "hottest beyond the band"],
                shown.degrees(beyond.temperature_c),
                0,
            )
        },
        RestNumber {
            merit: Some(-apart),
            beside: spread_words,
            ..plain(
                Measure::HottestLessColdest,
                ["Hottest less coldest", "hottest less coldest"],
                (apart, shown.difference(0.0).1),
                0,
            )
        },
    ]
}
