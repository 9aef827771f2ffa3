//! What is folded from one kind of readings, raw or filtered.

use rules::requirement::Limit;

use crate::assembly::{Clocks, clocks_of, heating_spread_of, over_of};
use crate::channel::ChannelUse;
use crate::definitions::Definitions;
use crate::heating_spread::HeatingSpreadFold;
use crate::hold_stage::HoldStage;
use crate::levels::lowest_hold_minimum_c;
use crate::over::OverFold;
use crate::pace::Moment;
use crate::peak::PeakFold;

/// The folds by which hold, spread and highest temperature are judged.
#[derive(Clone, Debug)]
pub(crate) struct Folds {
    pub peak: PeakFold,
    pub stage: HoldStage,
    /// One a limit; `None` where the limit asks for no hold time.
    pub clocks: Vec<Option<Clocks>>,
    /// One a limit; `None` where the limit asks for no heating spread.
    pub heating_spreads: Vec<Option<HeatingSpreadFold>>,
    /// One a limit; `None` where the limit sets no highest temperature.
    pub overs: Vec<Option<OverFold>>,
}

impl Folds {
    pub fn new(
        limits: &[Limit],
        channels: &[ChannelUse],
        soak: &[usize],
        definitions: &Definitions,
    ) -> Folds {
        let low_c = lowest_hold_minimum_c(limits);
        let hot_c = low_c.unwrap_or(f64::INFINITY);
        let fitted: Vec<usize> = (0..channels.len())
            .filter(|c| channels[*c].fitted)
            .collect();
        let clocks = limits
            .iter()
            .map(|limit| clocks_of(limit, limits, soak, definitions));
        let spreads = limits
            .iter()
            .map(|limit| heating_spread_of(limit, channels, soak));
        Folds {
            peak: PeakFold::new(
                [hot_c, definitions.fastest_change.k_h()],
                channels.len(),
                fitted,
                soak.to_vec(),
            ),
            stage: HoldStage::new(low_c, soak.to_vec(), definitions),
            clocks: clocks.collect(),
            heating_spreads: spreads.collect(),
            overs: limits.iter().map(over_of).collect(),
        }
    }

    /// The same with only the clock that binds.
    #[must_use]
    pub fn together(mut self) -> Folds {
        let clocks = self.clocks.iter_mut().flatten();
        clocks.for_each(|c| {
            c.beside.clear();
            c.each.clear();
        });
        self
    }

    /// Where the weld is, before the clocks run.
    pub fn advance(&mut self, moment: &Moment, gaps: &[bool]) {
        self.peak.push(moment, gaps);
        self.stage.push(moment);
    }

    /// Lets the clocks run.
    pub fn count(&mut self, moment: &Moment) {
        for clocks in self.clocks.iter_mut().flatten() {
            clocks.all.push(moment);
            let each = clocks.each.iter_mut().map(|(_, clock)| clock);
            let beside = clocks.beside.iter_mut();
            beside.chain(each).for_each(|clock| clock.push(moment));
        }
        let overs = self.overs.iter_mut().flatten();
        overs.for_each(|o| o.push(moment));
        if self.stage.heating() {
            let spreads = self.heating_spreads.iter_mut().flatten();
            spreads.for_each(|spread| spread.push(moment));
        }
    }
}
