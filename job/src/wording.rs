//! Quantities in the words of a plan, in the units that the reader chose.

use cycle::outcome::Spot;
use quantity::{Millimeters, Units};

pub(crate) use cycle::words::{difference, dimension, length, temperature};

/// A place in the metal.
pub(crate) fn place(spot: &Spot, units: Units) -> String {
    let along = length(Millimeters::from_mm(spot.axial_mm.abs()), units);
    let side = match spot.axial_mm {
        z if z.abs() < 0.5 => "at the weld".to_owned(),
        z if z < 0.0 => format!("{along} from the weld on the first side"),
        _ => format!("{along} from the weld on the second side"),
    };
    format!(
        "the metal {} deep {side}",
        length(Millimeters::from_mm(spot.depth_mm), units)
    )
}
