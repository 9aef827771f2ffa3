//! What has to be kept of a quick answer to say why another one differs from it.

use cycle::at_rest::{AtRest, along};
use cycle::outcome::Spot;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ways::SAME_MM;
use crate::plan::Prepared;
use crate::rest_numbers::{Shown, shorter_side};

/// A place in the metal.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(super) struct Place {
    /// From the weld center in mm.
    pub axial_mm: f64,
    /// The same in words.
    pub words: String,
}

/// Coil, blanket and what the model computed of them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub(super) struct Facts {
    /// Middles of the turns, ascending, in mm.
    pub turns_mm: Vec<f64>,
    /// Mean standoff of all turns in mm.
    pub standoff_mm: f64,
    /// Working frequency in Hz.
    pub frequency_hz: f64,
    /// Set point in °C.
    pub set_point_c: f64,
    /// Thickness of the blanket in mm.
    pub blanket_mm: f64,
    /// Reach of the blanket on both sides together, in mm.
    pub blanket_reach_mm: f64,
    /// Coldest of the soak band.
    pub coldest: Place,
    /// Hottest of it.
    pub hottest: Place,
    /// Hottest beyond it.
    pub beyond: Place,
    /// Where outside and bore differ most.
    pub outside_less_bore: Place,
    /// The last turn that counts for the heated band, on the side where the turns heat less far, in mm from the weld center.
    pub last_turn_mm: f64,
    /// How far beyond it the next turn lies where a wide gap parts the two, in mm.
    pub gap_mm: Option<f64>,
    /// Power into the metal in W.
    pub metal_w: f64,
    /// Lost in cable and leads in W.
    pub lost_w: f64,
    /// Current in A rms.
    pub current_a: f64,
    /// Voltage at the source in V rms.
    pub voltage_v: f64,
    /// (mm from the weld center, W set free in the metal up to there).
    #[serde(rename = "mm_and_heat_up_to_there_w")]
    heat_up_to: Vec<(f64, f64)>,
    /// Halfway from ambient to the set point in °C.
    pub halfway_c: f64,
    /// Length of the outside that is hotter than that, in mm.
    pub hot_mm: f64,
}

impl Facts {
    pub(super) fn of(prepared: &Prepared, rested: &AtRest, shown: &Shown) -> Facts {
        let turns = &rested.coil.turns;
        let mut turns_mm: Vec<f64> = turns.iter().map(|turn| turn.axial.mm()).collect();
        turns_mm.sort_by(f64::total_cmp);
        let standoffs_mm: f64 = turns.iter().map(|turn| turn.standoff.mm()).sum();
        let setup = &prepared.setup;
        let set_point_c = setup.programme.set_point.c();
        let halfway_c = 0.5 * (set_point_c + setup.surroundings.ambient.c());
        let place = |spot: &Spot, wall_mm: f64| Place {
            axial_mm: spot.axial_mm,
            words: shown.place(spot.axial_mm, spot.depth_mm, wall_mm),
        };
        let [cold_mm, hot_mm, beyond_mm] = rested.walls_mm;
        let (shorter, _) = shorter_side(prepared, rested);
        let across_mm = rested.surface_to_bore.axial_mm;
        Facts {
            standoff_mm: standoffs_mm / turns_mm.len().max(1) as f64,
            turns_mm,
            frequency_hz: rested.frequency_hz,
            set_point_c,
            blanket_mm: setup.blanket.thickness.mm(),
            blanket_reach_mm: setup.blanket.reach.iter().map(|reach| reach.mm()).sum(),
            coldest: place(&rested.soak_coldest, cold_mm),
            hottest: place(&rested.soak_hottest, hot_mm),
            beyond: place(&rested.beyond_hottest, beyond_mm),
            outside_less_bore: Place {
                axial_mm: across_mm,
                words: shown.along(across_mm),
            },
            last_turn_mm: shorter.last_turn_mm,
            gap_mm: shorter.gap_mm,
            metal_w: rested.metal_power_w,
            lost_w: rested.coil_loss_w + rested.leads_loss_w,
            current_a: rested.current_rms_a,
            voltage_v: rested.voltage_rms_v,
            heat_up_to: rested.heat_up_to.clone(),
            halfway_c,
            hot_mm: hotter_mm(&rested.outside, halfway_c),
        }
    }

    /// Turns left of the weld and right of it; one at the weld counts for neither.
    pub(super) fn turns_by_side(&self) -> [usize; 2] {
        [-1.0, 1.0].map(|sign| {
            self.turns_mm
                .iter()
                .filter(|mm| sign * **mm > SAME_MM)
                .count()
        })
    }

    /// From the first turn to the last, in mm.
    pub(super) fn span_mm(&self) -> f64 {
        match (self.turns_mm.first(), self.turns_mm.last()) {
            (Some(first), Some(last)) => last - first,
            _ => 0.0,
        }
    }

    /// How far the nearest turn lies from a place, in mm.
    pub(super) fn nearest_turn_mm(&self, axial_mm: f64) -> f64 {
        let far = self.turns_mm.iter().map(|turn| (turn - axial_mm).abs());
        far.fold(f64::INFINITY, f64::min)
    }

    /// Heat of the coil that arises no farther than this from a place along the pipe, in W.
    pub(super) fn heat_within_w(&self, axial_mm: f64, far_mm: f64) -> f64 {
        let up_to = |z_mm: f64| along(&self.heat_up_to, z_mm);
        up_to(axial_mm + far_mm) - up_to(axial_mm - far_mm)
    }
}

/// Length over which a line of (mm, °C) lies above a temperature.
fn hotter_mm(line: &[(f64, f64)], c: f64) -> f64 {
    let stretches = line.windows(2).map(|pair| {
        let [(from_mm, from_c), (to_mm, to_c)] = [pair[0], pair[1]];
        let (low, high) = (from_c.min(to_c), from_c.max(to_c));
        let part = ((high - c) / (high - low).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        part * (to_mm - from_mm)
    });
    stretches.sum()
}
