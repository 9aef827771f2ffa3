//! Proposing thermocouples: how many, where, and why.

use std::f64::consts::PI;

use quantity::Millimeters;

use crate::band::Bands;
use crate::fault::RuleError;
use crate::row::{AxialPlace, ThermocoupleRule, Value};
use crate::shelf::Shelf;
use crate::thermocouple::{Role, Thermocouple};
use crate::weld::Weld;
use crate::wording::short;

/// The proposed thermocouples, control first, named `TC1` on. Points that need no wire (`fitted` is false) come last.
///
/// # Errors
/// [`crate::fault::RuleFault::Table`] if a data file cannot be read, and confirmations that cannot be.
pub fn layout(weld: &Weld, bands: &Bands) -> Result<Vec<Thermocouple>, RuleError> {
    let diameter_mm = weld.sides[0]
        .outside_diameter
        .mm()
        .max(weld.sides[1].outside_diameter.mm());
    let mut placed: Vec<Thermocouple> = Vec::new();
    let shelf = Shelf::with(&weld.confirmed)?;
    for row in shelf.tables().iter().flat_map(|table| &table.rows) {
        let Value::Thermocouples(group) = &row.value else {
            continue;
        };
        if row.purpose == weld.purpose && row.when.fits_pipe(diameter_mm, weld.orientation) {
            placed.extend(place(group, row.status.words(), diameter_mm, bands));
        }
    }
    placed.sort_by_key(|one| (!one.fitted, rank(one.role)));
    for (index, one) in placed.iter_mut().enumerate() {
        one.name = format!("TC{}", index + 1);
    }
    Ok(placed)
}

fn rank(role: Role) -> u8 {
    match role {
        Role::Control => 0,
        Role::Monitor => 1,
        Role::Spare => 2,
    }
}

fn place(
    group: &ThermocoupleRule,
    status: &str,
    diameter_mm: f64,
    bands: &Bands,
) -> Vec<Thermocouple> {
    let offset_h = 12.0 * group.beside_mm / (PI * diameter_mm);
    let places = axial_mm(group.at, bands).into_iter().flat_map(|axial_mm| {
        clock_hours(group, diameter_mm)
            .into_iter()
            .map(move |hour| (axial_mm, on_the_clock(hour + offset_h)))
    });
    places
        .map(|(axial_mm, clock)| Thermocouple {
            name: String::new(),
            role: group.role,
            face: group.face,
            axial: Millimeters::from_mm(axial_mm),
            clock,
            place: group.place,
            reason: format!("{} ({status})", group.reason),
            fitted: group.fitted,
        })
        .collect()
}

fn axial_mm(at: AxialPlace, bands: &Bands) -> Vec<f64> {
    let half_mm = match at {
        AxialPlace::WeldCenter => return vec![0.0],
        AxialPlace::SoakEdges => 0.5 * bands.soak.width.mm(),
        AxialPlace::HeatedEdges => 0.5 * bands.heated.width.mm(),
    };
    vec![-half_mm, half_mm]
}

/// The clock positions of a group; more, spread evenly, where the arc between two would be too long.
fn clock_hours(group: &ThermocoupleRule, diameter_mm: f64) -> Vec<f64> {
    let listed = group.clock.len();
    let Some(arc_at_most_mm) = group.arc_at_most_mm else {
        return group.clock.clone();
    };
    let needed = (PI * diameter_mm / arc_at_most_mm).ceil();
    if needed <= listed as f64 {
        return group.clock.clone();
    }
    // A multiple of the listed count keeps a thermocouple at each listed position.
    let needed = (needed / listed as f64).ceil() * listed as f64;
    (0..needed as usize)
        .map(|index| on_the_clock(12.0 + 12.0 * index as f64 / needed))
        .collect()
}

/// An hour from 0 (exclusive) to 12.
fn on_the_clock(hour: f64) -> f64 {
    let hour = hour.rem_euclid(12.0);
    if hour == 0.0 { 12.0 } else { hour }
}

impl Thermocouple {
    /// Arc round the outside from 12 o'clock, clockwise, in mm: the tape value of the site.
    pub fn arc_mm(&self, outside_diameter: Millimeters) -> f64 {
        self.clock.rem_euclid(12.0) / 12.0 * PI * outside_diameter.mm()
    }

    /// Where it is, in words.
    pub fn place_words(&self) -> String {
        let hours = self.clock.floor();
        let minutes = ((self.clock - hours) * 60.0).round();
        format!(
            "{}:{minutes:02} o'clock, {} mm from the weld center line",
            if hours == 0.0 { 12.0 } else { hours },
            short(self.axial.mm())
        )
    }
}
