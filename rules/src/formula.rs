//! The shapes that a code's number can take: hold time by thickness, rate by thickness, width by wall and bore.

use quantity::Units;
use serde::{Deserialize, Serialize};

use crate::wording::{Measure, length, rate, short, temperature, worked_length};

/// Hold time in minutes: `minutes` up to `beyond_mm`, and `adds_minutes` for each `each_mm` of thickness beyond,
/// in proportion; never less than `at_least_minutes`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoldTime {
    /// Minutes before the part that grows.
    #[serde(default)]
    pub minutes: f64,
    /// Thickness in mm from which it grows.
    #[serde(default)]
    pub beyond_mm: f64,
    /// Step of thickness in mm.
    pub each_mm: f64,
    /// Minutes for each step.
    pub adds_minutes: f64,
    /// Never less than this.
    #[serde(default)]
    pub at_least_minutes: f64,
    /// Each step that is begun counts whole ("or fraction thereof"); otherwise in proportion.
    #[serde(default)]
    pub whole_steps: bool,
}

/// A step that ends on a printed thickness is not begun anew by the rounding of a division.
const STEP_ROUNDING: f64 = 1e-9;

impl HoldTime {
    /// Minutes at a thickness in mm.
    pub fn minutes_at(&self, thickness_mm: f64) -> f64 {
        self.minutes_read(thickness_mm, self.whole_steps)
    }

    /// Minutes at a thickness in mm by the other reading of its steps; none where the time is given by the millimeter.
    pub fn minutes_by_other_reading(&self, thickness_mm: f64) -> Option<f64> {
        (self.each_mm > 1.0).then(|| self.minutes_read(thickness_mm, !self.whole_steps))
    }

    fn minutes_read(&self, thickness_mm: f64, whole_steps: bool) -> f64 {
        let steps = ((thickness_mm - self.beyond_mm) / self.each_mm).max(0.0);
        self.minutes_after(if whole_steps {
            (steps - STEP_ROUNDING).ceil()
        } else {
            steps
        })
    }

    fn minutes_after(&self, steps: f64) -> f64 {
        (self.minutes + self.adds_minutes * steps).max(self.at_least_minutes)
    }

    /// The formula in words.
    pub fn words(&self, units: Units) -> String {
        if self.adds_minutes == 0.0 {
            return format!("{} min", short(self.minutes.max(self.at_least_minutes)));
        }
        let step = if self.whole_steps { " begun" } else { "" };
        let mut text = format!(
            "{} min for each {}{step}",
            short(self.adds_minutes),
            length(self.each_mm, units)
        );
        if self.beyond_mm > 0.0 {
            text = format!(
                "{} min plus {text} beyond {}",
                short(self.minutes),
                length(self.beyond_mm, units)
            );
        }
        if self.at_least_minutes > 0.0 {
            text = format!("{text}, at least {} min", short(self.at_least_minutes));
        }
        text
    }
}

/// A rate limit above a temperature: the smaller of `cap` and `factor` / thickness, which need not be less than
/// `floor`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rate {
    /// Temperature in °C above which the limit holds.
    pub above_c: f64,
    /// Largest rate in K/h at any thickness.
    pub cap: f64,
    /// Factor in K/h · mm.
    pub factor: Option<f64>,
    /// The rate in K/h below which the formula never forces anyone.
    pub floor: Option<f64>,
}

impl Rate {
    /// The fastest rate in K/h at a thickness in mm.
    pub fn k_h_at(&self, thickness_mm: f64) -> f64 {
        let by_thickness = self.factor.map_or(self.cap, |factor| factor / thickness_mm);
        by_thickness
            .min(self.cap)
            .max(self.floor.unwrap_or(0.0).min(self.cap))
    }

    /// The formula in words; `t` stands in mm or in inches.
    pub fn words(&self, units: Units) -> String {
        let mut text = rate(self.cap, units);
        if let Some(factor) = self.factor {
            let factor = Measure::Rate.number(Measure::Length.number(factor, units), units);
            let unit = Measure::Rate.unit(units);
            text = format!("the smaller of {text} and {}/t {unit}", short(factor));
        }
        if let Some(floor) = self.floor {
            text = format!("{text}, need not be less than {}", rate(floor, units));
        }
        format!("{text} above {}", temperature(self.above_c, units))
    }
}

/// What a width starts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WidthFrom {
    /// Nothing.
    Zero,
    /// The weld cap width.
    CapWidth,
    /// The governing soak band.
    SoakBand,
    /// The heated band of the same row.
    HeatedBand,
}

/// A full width: start + `add_mm` + `times_thickness`·min(t, `thickness_at_most_mm`) + `times_root_rt`·√(R·t), or
/// by the heating index Hi·[(OD²−ID²)/2 + ID·SB]/OD (AWS D10.10).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Width {
    /// What it starts from.
    pub from: WidthFrom,
    /// Millimeters added.
    #[serde(default)]
    pub add_mm: f64,
    /// Multiple of the wall.
    #[serde(default)]
    pub times_thickness: f64,
    /// The wall counts only up to this.
    pub thickness_at_most_mm: Option<f64>,
    /// The wall counts at least this.
    pub thickness_at_least_mm: Option<f64>,
    /// Multiple of the root of inside radius times wall.
    #[serde(default)]
    pub times_root_rt: f64,
    /// Ratio of heat source area to heat loss area that the band must reach.
    pub heating_index: Option<f64>,
}

/// The pipe side on which a width is worked out, in mm.
#[derive(Clone, Copy, Debug)]
pub struct PipeWall {
    /// Outside diameter in mm.
    pub outside_diameter_mm: f64,
    /// Wall in mm.
    pub wall_mm: f64,
}

impl PipeWall {
    /// Inside diameter in mm.
    pub fn inside_diameter_mm(&self) -> f64 {
        self.outside_diameter_mm - 2.0 * self.wall_mm
    }

    /// √(R·t) in mm with R the inside radius.
    pub fn root_rt_mm(&self) -> f64 {
        (0.5 * self.inside_diameter_mm() * self.wall_mm).sqrt()
    }

    /// Heating index Hi = Ae/(2·Acs + Ai) of a heated band over a soak band (AWS D10.10).
    pub fn heating_index(&self, soak_mm: f64, heated_mm: f64) -> f64 {
        heated_mm / self.heated_per_index_mm(soak_mm)
    }

    fn heated_per_index_mm(&self, soak_mm: f64) -> f64 {
        let (od, id) = (self.outside_diameter_mm, self.inside_diameter_mm());
        (0.5 * (od * od - id * id) + id * soak_mm) / od
    }
}

impl Width {
    /// The width in mm and its working in the units of the reader, `start_mm` being the width it starts from.
    pub fn work_out(
        &self,
        start_mm: f64,
        soak_mm: f64,
        pipe: PipeWall,
        units: Units,
    ) -> (f64, String) {
        let mm = |mm: f64| worked_length(mm, units);
        if let Some(index) = self.heating_index {
            let (od, id) = (pipe.outside_diameter_mm, pipe.inside_diameter_mm());
            let working = format!(
                "{}·[({}² − {}²)/2 + {}·{}]/{}",
                short(index),
                mm(od),
                mm(id),
                mm(id),
                mm(soak_mm),
                mm(od)
            );
            return (index * pipe.heated_per_index_mm(soak_mm), working);
        }
        let mut parts = Vec::new();
        if self.from != WidthFrom::Zero {
            parts.push(mm(start_mm));
        }
        if self.add_mm != 0.0 {
            parts.push(mm(self.add_mm));
        }
        let counted_mm = self.counted_mm(pipe.wall_mm);
        if self.times_thickness != 0.0 {
            parts.push(format!(
                "{}·{}",
                short(self.times_thickness),
                self.thickness_words(pipe.wall_mm, units)
            ));
        }
        if self.times_root_rt != 0.0 {
            let radius_mm = 0.5 * pipe.inside_diameter_mm();
            let root = format!("√({}·{})", mm(radius_mm), mm(pipe.wall_mm));
            parts.push(format!("{}·{root}", short(self.times_root_rt)));
        }
        // A plate has no radius; only a rule that asks for one is without a width there.
        let of_radius_mm = match self.times_root_rt {
            0.0 => 0.0,
            times => times * pipe.root_rt_mm(),
        };
        let of_wall_mm = self.times_thickness * counted_mm;
        let width_mm = start_mm + self.add_mm + of_wall_mm + of_radius_mm;
        (width_mm, parts.join(" + "))
    }

    fn counted_mm(&self, wall_mm: f64) -> f64 {
        wall_mm
            .min(self.thickness_at_most_mm.unwrap_or(f64::INFINITY))
            .max(self.thickness_at_least_mm.unwrap_or(0.0))
    }

    fn thickness_words(&self, wall_mm: f64, units: Units) -> String {
        let mm = |mm: f64| worked_length(mm, units);
        match (self.thickness_at_most_mm, self.thickness_at_least_mm) {
            (Some(most), _) => format!("min({}, {})", mm(wall_mm), mm(most)),
            (None, Some(least)) => format!("max({}, {})", mm(wall_mm), mm(least)),
            (None, None) => mm(wall_mm),
        }
    }
}
