//! Which number of a plan it is: stays the same whatever words and units it is told in.

use serde::Deserialize;

/// A number by which plans are compared.
#[derive(Clone, Debug, PartialEq)]
pub enum Number {
    /// Limits that the predicted values meet.
    LimitsMet,
    /// What only the model can say and what is not as it should be.
    NeedsALook,
    /// Coldest metal of the soak band in the hold, bore included.
    MetalColdest,
    /// Hottest metal of the soak band in the hold, bore included.
    MetalHottest,
    /// Hottest metal beyond the soak band, at any time.
    BeyondHottest,
    /// Largest outside less bore while heating.
    OutsideLessBoreHeating,
    /// Largest outside less bore in the hold.
    OutsideLessBoreHold,
    /// Time during which all metal of the soak band is inside the hold range.
    AllInside,
    /// What the thermocouples read, against a limit.
    Limit(LimitOf),
    /// How far from the weld the turns heat, on the side where it is less.
    HeatedReach,
    /// How long the whole cycle takes.
    WholeCycle,
    /// Energy out of the source.
    Energy,
    /// Most power out of the source.
    Power,
    /// Most current.
    Current,
    /// Most voltage.
    Voltage,
    /// Hottest of a neighbor, by its name.
    Neighbor(String),
}

/// Limits of one kind that differ only in who sets them and in their value; the tightest of them is told.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitOf {
    /// What is limited.
    pub kind: LimitKind,
    /// Rates only: the temperature above which it holds, in °C.
    pub above_c: Option<f64>,
    /// Spread while heating only: the distance within which it holds, in mm.
    pub within_mm: Option<f64>,
}

/// What a limit of a plan limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitKind {
    /// The coldest thermocouple of the soak band in the hold.
    HoldMin,
    /// The hottest thermocouple.
    HoldMax,
    /// The hold by all thermocouples of the soak band.
    HoldTime,
    /// Heating above a temperature.
    HeatingRate,
    /// Cooling above a temperature.
    CoolingRate,
    /// Hottest less coldest thermocouple in the hold.
    HoldSpread,
    /// Hottest less coldest place within a distance, while heating.
    HeatingSpread,
    /// One of a later version.
    #[serde(other)]
    Other,
}
