//! What a plan starts from: the joint, what surrounds it, coil, source and programme.

use std::time::Duration;

use quantity::{Celsius, Hours, KelvinsPerHour, Millimeters, Units};
use rules::thermocouple::Thermocouple;
use rules::weld::Orientation;

/// Everything that a plan needs to know.
///
/// Places along the pipe are distances from the weld center line, negative on the first side. On a vertical pipe the
/// second side is the upper one.
#[derive(Clone, Debug)]
pub struct Setup {
    /// The joint.
    pub joint: Joint,
    /// Air and wind round it.
    pub surroundings: Surroundings,
    /// What the pipe is wrapped in.
    pub blanket: Wrap,
    /// The cable of the coil.
    pub cable: materials::Cable,
    /// The turns; `None` asks for a proposal.
    pub coil: Option<Coil>,
    /// The leads from source to coil.
    pub leads: Leads,
    /// The source.
    pub source: PowerSource,
    /// What the temperature is to do.
    pub programme: Programme,
    /// Where temperatures are taken. At least one is a control thermocouple on the outside.
    pub thermocouples: Vec<Thermocouple>,
    /// Full width of the soak band, centered on the weld.
    pub soak_band: Millimeters,
    /// Full width of the heated band, centered on the weld; a proposed coil spans about this.
    pub heated_band: Millimeters,
    /// What lies near and must not grow too hot.
    pub neighbors: Vec<Neighbor>,
    /// Time between two recorded scans, as the logger will be set.
    pub recording_interval: Duration,
    /// The units in which its words are read.
    pub units: Units,
}

/// A girth butt weld between two pipe sides.
#[derive(Clone, Debug)]
pub struct Joint {
    /// First side (negative distances) and second side.
    pub sides: [Side; 2],
    /// Width of the weld cap at its widest.
    pub cap_width: Millimeters,
    /// Direction of the pipe axis.
    pub orientation: Orientation,
}

/// One pipe side.
#[derive(Clone, Debug)]
pub struct Side {
    /// Outside diameter of the pipe away from the weld.
    pub outside_diameter: Millimeters,
    /// Wall away from the weld.
    pub wall: Millimeters,
    /// Other dimensions at the weld, where pipe and weld end differ.
    pub transition: Option<Transition>,
    /// From the weld center to the next heavy thing (flange, valve, tee, support) or to the end of the pipe.
    pub length: Millimeters,
    /// The state of the bore at the end of this side.
    pub bore_end: BoreEnd,
    /// The metal.
    pub metal: materials::Metal,
}

/// Dimensions at the weld that change straight to those of the pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transition {
    /// Outside diameter at the weld.
    pub outside_diameter: Millimeters,
    /// Wall at the weld.
    pub wall: Millimeters,
    /// Distance from the weld center up to which the dimensions at the weld hold.
    pub straight: Millimeters,
    /// Length over which they change to those of the pipe.
    pub length: Millimeters,
}

/// The state of the bore at an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoreEnd {
    /// Open to the air.
    Open,
    /// Closed at a distance: a blind, a shut valve, pipework that leads nowhere.
    Closed,
    /// Plugged with insulation for the heat treatment.
    Plugged,
}

/// Air and wind round the joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    /// Air temperature.
    pub ambient: Celsius,
    /// Wind across the pipe in m/s; 0 is still air.
    pub wind_m_s: f64,
}

/// The blanket round the pipe.
#[derive(Clone, Debug)]
pub struct Wrap {
    /// Its material.
    pub material: materials::Blanket,
    /// Thickness of all layers together.
    pub thickness: Millimeters,
    /// How far it reaches from the weld center on each side.
    pub reach: [Millimeters; 2],
}

/// The turns of a coil, in series.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Coil {
    /// The turns, along the pipe.
    pub turns: Vec<Turn>,
}

/// One turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Its middle, from the weld center; negative on the first side.
    pub axial: Millimeters,
    /// From the pipe surface to the underside of the cable.
    pub standoff: Millimeters,
}

/// The two leads from source to coil.
#[derive(Clone, Debug)]
pub struct Leads {
    /// Length one way.
    pub length: Millimeters,
    /// Between the centers of the two cables.
    pub spacing: Millimeters,
    /// Their cable.
    pub cable: materials::Cable,
}

/// What the source can do at its terminals.
#[derive(Clone, Debug, PartialEq)]
pub struct PowerSource {
    /// Its name on the sheet.
    pub name: String,
    /// Rated power in kW.
    pub power_kw: f64,
    /// Largest output current in A rms.
    pub current_rms_a: f64,
    /// Largest output voltage in V rms.
    pub voltage_rms_v: f64,
    /// Lowest and highest output frequency in Hz.
    pub frequency_range_hz: [f64; 2],
    /// The working frequency where it is known; `None` lets the plan choose.
    pub working_frequency_hz: Option<f64>,
}

/// What the temperature of the control thermocouples is to do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Programme {
    /// Temperature of the metal at the start.
    pub start: Celsius,
    /// Below this temperature no rate limit of a rule holds.
    pub threshold: Celsius,
    /// Heating rate asked for below the threshold.
    pub free_heating_rate: KelvinsPerHour,
    /// Fastest heating allowed above the threshold.
    pub heating_rate: KelvinsPerHour,
    /// The set point of the hold.
    pub set_point: Celsius,
    /// Lowest and highest temperature allowed during the hold.
    pub hold_range: [Celsius; 2],
    /// Hold time required.
    pub hold_time: Hours,
    /// Fastest cooling allowed above `controlled_down_to`.
    pub cooling_rate: KelvinsPerHour,
    /// Down to this temperature the cooling is controlled; the plan ends here.
    pub controlled_down_to: Celsius,
}

/// Something near the weld that must not grow too hot.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbor {
    /// Its name on the sheet.
    pub name: String,
    /// Where it begins, from the weld center; negative on the first side.
    pub axial: Millimeters,
    /// The temperature that it bears, where known.
    pub limit: Option<Celsius>,
}
