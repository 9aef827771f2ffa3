//! What was tried and why one was chosen, in words.

use quantity::{Celsius, Kelvins, Millimeters};

use super::bench::{Bench, Rested};
use super::turns::Choice;
use crate::layout::Layout;
use crate::proposal::TrialRow;
use crate::words::{difference, length, temperature};

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
            "The turns are those of the job; the frequency was chosen, {:.1} kHz. {}",
            choice.frequency_hz * 1e-3,
            self.estimate(choice)
        )
    }

    /// Why a coil was chosen.
    pub fn reason(&self, best: &Rested, choice: &Choice) -> String {
        let (layout, units) = (&best.layout, self.setup.units);
        let short_k = self.shortfall_k(best);
        let judged = match short_k <= 0.0 {
            true => "inside the hold range with its margin".to_string(),
            false => self.short_words(short_k),
        };
        let looked_at = self
            .trials
            .iter()
            .filter(|row| row.coldest_c.is_none())
            .count();
        format!(
            "The turns were proposed: {} turns, {} apart on average over {} of pipe, on the blanket, at {:.1} kHz. {} \
             {looked_at} combinations of turns and frequency were looked at, and among those with ample reserve the usual \
             pitch is preferred. By the same estimate, at rest with the control thermocouple at the set point, the soak \
             band lies between {} and {}, and the pipe beyond it reaches {}: {judged}. What the computed cycle says \
             stands under “What the prediction says”, and governs.",
            layout.turns,
            length(Millimeters::from_m(layout.pitch_m()), units),
            length(Millimeters::from_m(layout.span_m), units),
            choice.frequency_hz * 1e-3,
            self.estimate(choice),
            temperature(Celsius::from_c(best.coldest.temperature_c), units),
            temperature(Celsius::from_c(best.hottest.temperature_c), units),
            temperature(Celsius::from_c(best.beyond.temperature_c), units),
        )
    }

    /// How far a layout is from the margin.
    pub fn short_words(&self, short_k: f64) -> String {
        let short = difference(Kelvins::from_k(short_k), self.setup.units);
        format!("{short} short of the margin inside the hold range")
    }

    /// What the source keeps, as it was estimated before the cycle was computed.
    fn estimate(&self, choice: &Choice) -> String {
        format!(
            "By an estimate on a coarse mesh, made before the cycle was computed, the source {} at the state that asks \
             most.",
            self.enough(choice)
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
