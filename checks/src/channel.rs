//! What each channel of the scans is.

use quantity::Millimeters;
use rules::thermocouple::{Face, Place, Role, Thermocouple};
use serde::Serialize;

/// A channel of the scans and what its thermocouple is for, in the order of the readings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChannelUse {
    /// The name of the channel, for example `TC1`.
    pub name: String,
    /// What the thermocouple is for.
    pub role: Role,
    /// Which surface it sits on.
    pub face: Face,
    /// Distance along the pipe from the weld center line.
    pub axial: Millimeters,
    /// Which part of the joint it watches.
    pub place: Place,
    /// Whether a wire is fitted; a point that is only predicted proves nothing and is not judged.
    pub fitted: bool,
}

impl ChannelUse {
    /// Whether the hold is judged by it.
    pub fn judges_hold(&self) -> bool {
        self.holds_place() && self.role != Role::Spare
    }

    /// Whether heating and cooling rates are judged by it.
    pub fn judges_rate(&self) -> bool {
        self.rates_place() && self.role != Role::Spare
    }

    /// Whether the hold could be judged by it, spare or not.
    pub(crate) fn holds_place(&self) -> bool {
        self.fitted && self.place == Place::SoakBand
    }

    /// Whether rates could be judged by it, spare or not.
    pub(crate) fn rates_place(&self) -> bool {
        self.fitted && self.place != Place::Neighbor
    }
}

impl From<&Thermocouple> for ChannelUse {
    fn from(thermocouple: &Thermocouple) -> ChannelUse {
        ChannelUse {
            name: thermocouple.name.clone(),
            role: thermocouple.role,
            face: thermocouple.face,
            axial: thermocouple.axial,
            place: thermocouple.place,
            fitted: thermocouple.fitted,
        }
    }
}
