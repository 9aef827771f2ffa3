//! A job: everything that one weld's file says, in the types of the rooms that use it.

use std::time::Duration;

use checks::{Definitions, Disposition, Zone};
use cycle::setup::{Coil, Joint, Leads, Neighbor, PowerSource, Surroundings};
use jiff::Timestamp;
use jiff::civil::Date;
use materials::{Blanket, Cable};
use quantity::{Celsius, Hours, KelvinsPerHour, Millimeters, Units};
use readings::Mapping;
use rules::thermocouple::Thermocouple;
use rules::weld::Weld;

/// A job.
#[derive(Clone, Debug)]
pub struct Job {
    /// The name of the file, as it was given.
    pub file_name: String,
    /// The file itself, as it was read.
    pub text: String,
    /// The invented scenario of a demo job; `None` for a real one.
    pub demo: Option<String>,
    /// The units of the sheet.
    pub units: Units,
    /// Who and what.
    pub identification: Identification,
    /// The weld as the rules see it.
    pub weld: Weld,
    /// The weld as the model sees it.
    pub joint: Joint,
    /// When welding ended; hydrogen and delay are counted from it.
    pub welding_ended: Option<Timestamp>,
    /// Air and wind.
    pub surroundings: Surroundings,
    /// What lies near, from both ends and from the list.
    pub neighbors: Vec<Neighbor>,
    /// What the pipe is wrapped in.
    pub blanket: BlanketWish,
    /// The cable of the coil.
    pub cable: Cable,
    /// The turns; `None` asks for a proposal.
    pub coil: Option<Coil>,
    /// The leads.
    pub leads: Leads,
    /// Where the leads leave the coil, as on the face of a clock.
    pub lead_exit_clock: f64,
    /// The source.
    pub source: PowerSource,
    /// Thermocouples; `None` asks for a proposal.
    pub thermocouples: Option<Vec<Thermocouple>>,
    /// What is asked of the cycle besides the limits.
    pub cycle: CycleWish,
    /// How the scans are read.
    pub reading: Definitions,
    /// What a record needs besides.
    pub paper: Paper,
    /// What the file left out and what was taken instead.
    pub taken: Vec<Taken>,
}

/// Who and what, for the head of the sheet; all of it may be empty.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Identification {
    /// The project.
    pub project: String,
    /// The weld.
    pub weld: String,
    /// The line or vessel.
    pub line: String,
    /// The heat-treatment or welding procedure.
    pub procedure: String,
    /// Revision of the plan.
    pub revision: String,
    /// Who prepared it.
    pub prepared_by: String,
}

/// What a record needs beside limits and thermocouples; all of it may be empty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paper {
    /// How the logger's files are to be read.
    pub mapping: Mapping,
    /// Who took part.
    pub people: Vec<Person>,
    /// What was used.
    pub equipment: Vec<Equipment>,
    /// The zones of the coil whose power is in the log.
    pub zones: Vec<Zone>,
    /// What was decided about thermocouples.
    pub dispositions: Vec<Disposition>,
    /// Deviations that somebody answers for.
    pub accepted: Vec<Accepted>,
}

/// A deviation that a named person answers for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Accepted {
    /// Its words, or how they begin.
    pub deviation: String,
    /// Why it may stand.
    pub reason: String,
    /// Who says so.
    pub by: String,
}

/// Somebody who took part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    /// The name.
    pub name: String,
    /// What they did.
    pub role: String,
    /// What entitles them to it.
    pub qualification: String,
}

/// A recorder, a source, a lot of thermocouples.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Equipment {
    /// What it is.
    pub what: String,
    /// Its serial or lot number.
    pub serial: String,
    /// The certificate of its calibration.
    pub certificate: String,
    /// The last day on which the calibration holds.
    pub calibration_due: Option<Date>,
}

/// The blanket as asked for.
#[derive(Clone, Debug)]
pub struct BlanketWish {
    /// Its material.
    pub material: Blanket,
    /// Thickness of all layers together.
    pub thickness: Millimeters,
    /// How far it reaches from the weld center on each side; `None` asks for the gradient control band.
    pub reach: Option<[Millimeters; 2]>,
}

/// What the job asks of the cycle; what is absent follows from the limits.
#[derive(Clone, Debug, PartialEq)]
pub struct CycleWish {
    /// The set point of the hold.
    pub set_point: Option<Celsius>,
    /// Temperature of the metal at the start; `None` is that of the air.
    pub start: Option<Celsius>,
    /// Heating rate below the threshold of the rate limits.
    pub free_heating_rate: Option<KelvinsPerHour>,
    /// Heating rate above it.
    pub heating_rate: Option<KelvinsPerHour>,
    /// Cooling rate above it.
    pub cooling_rate: Option<KelvinsPerHour>,
    /// Hold time.
    pub hold_time: Option<Hours>,
    /// Down to this temperature the cooling is controlled.
    pub controlled_down_to: Option<Celsius>,
    /// Time between two recorded scans.
    pub recording_interval: Duration,
}

/// A key that the file left out, and what was taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// The key, with its table.
    pub key: String,
    /// What was taken.
    pub value: String,
}
