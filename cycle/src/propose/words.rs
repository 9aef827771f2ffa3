//! What was tried and why one was chosen, in words.

use super::bench::{Bench, Rested};
use super::turns::Choice;
use crate::layout::Layout;
use crate::proposal::TrialRow;

impl Bench<'_> {
    /// A candidate as a row of the table of trials.
    pub fn row(
        &self,
        layout: &Layout,
        choice: &Choice,
        rested: Option<&Rested>,
        verdict: String,
    ) -> TrialRow {
        TrialRow {
            turns: choice.turns,
            pitch_mm: layout.pitch_m() * 1e3,
            offset_mm: layout.offset_m * 1e3,
            opening: layout.opening_ratio(),
            frequency_hz: choice.frequency_hz,
            coldest_c: rested.map(|r| r.coldest.temperature_c),
            hottest_c: rested.map(|r| r.hottest.temperature_c),
            hold_power_w: rested.map(|r| r.power_w),
            least_reserve_percent: choice.reserve_percent,
            verdict,
        }
    }

    /// Why a frequency was chosen for a given coil.
    pub fn frequency_reason(&self, choice: &Choice) -> String {
        format!(
            "The coil is given. At {:.1} kHz the source {} at the state that asks most.",
            choice.frequency_hz * 1e-3,
            self.enough(choice)
        )
    }

    /// Why a coil was chosen.
    pub fn reason(&self, best: &Rested, choice: &Choice) -> String {
        let layout = &best.layout;
        let short_k = self.shortfall_k(best);
        let judged = match short_k <= 0.0 {
            true => "inside the hold range with its margin".to_string(),
            false => format!("{short_k:.0} K short of the margin inside the hold range"),
        };
        let looked_at = self
            .trials
            .iter()
            .filter(|row| row.coldest_c.is_none())
            .count();
        format!(
            "{} turns, {:.0} mm apart on average over {:.0} mm of pipe, on the blanket. At {:.1} kHz the source {} at the \
             state that asks most; {looked_at} combinations of turns and frequency were looked at, and among those with \
             ample reserve the usual pitch is preferred. At rest with the control thermocouple at the set point the soak \
             band lies between {:.0} and {:.0} °C, {judged}.",
            layout.turns,
            layout.pitch_m() * 1e3,
            layout.span_m * 1e3,
            choice.frequency_hz * 1e-3,
            self.enough(choice),
            best.coldest.temperature_c,
            best.hottest.temperature_c,
        )
    }

    fn enough(&self, choice: &Choice) -> String {
        let reserve = choice.reserve_percent;
        match reserve {
            _ if reserve >= self.practice.reserve_percent.value => {
                format!("keeps {reserve:.0} % in reserve")
            }
            _ if reserve >= 0.0 => format!("keeps only {reserve:.0} % in reserve"),
            _ => format!("is {:.0} % short", -reserve),
        }
    }
}
