//! Calibrations against the day of the run.

use jiff::civil::Date;
use readings::Log;

use super::Deviation;
use crate::model::Equipment;
use crate::record::Basis;

/// What of the equipment ran out, or is not said.
pub(super) fn calibrations(basis: &Basis, log: &Log) -> Vec<Deviation> {
    let day = log.start.local().date();
    let equipment = &basis.paper.equipment;
    if equipment.is_empty() {
        let says = "no recorder, thermocouples or source with their calibrations are named";
        return vec![Deviation::told(says.into())];
    }
    equipment
        .iter()
        .filter_map(|one| calibration(one, day))
        .collect()
}

fn calibration(equipment: &Equipment, day: Date) -> Option<Deviation> {
    let name = match equipment.serial.as_str() {
        "" => equipment.what.clone(),
        serial => format!("{} {serial}", equipment.what),
    };
    match equipment.calibration_due {
        Some(due) if due < day => Some(Deviation::waits(format!(
            "the calibration of {name} ran out on {due}, before the day of the run, {day}"
        ))),
        Some(_) => None,
        None => Some(Deviation::told(format!(
            "no day is given on which the calibration of {name} runs out"
        ))),
    }
}
