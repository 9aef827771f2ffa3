//! Proposing thermocouples: how many, where, and why.

use std::f64::consts::PI;

use quantity::Millimeters;

use crate::band::Bands;
use crate::fault::RuleError;
use crate::joint::JointForm;
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
    let [first_mm, second_mm] = [0, 1].map(|side: usize| weld.sides[side].outside_diameter.mm());
    let diameter_mm = first_mm.max(second_mm);
    let mut placed: Vec<Thermocouple> = Vec::new();
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    for row in shelf.tables().iter().flat_map(|table| &table.rows) {
        let Value::Thermocouples(group) = &row.value else {
            continue;
        };
        if row.purpose == weld.purpose
            && is_for(weld.joint.form, &row.when.joints)
            && row.when.fits_pipe(diameter_mm, weld.orientation)
        {
            placed.extend(place(group, row.status.words(), weld, bands));
        }
    }
    placed.sort_by_key(|one| (!one.fitted, rank(one.role)));
    for (index, one) in placed.iter_mut().enumerate() {
        one.name = format!("TC{}", index + 1);
    }
    Ok(placed)
}

/// Rows that name no form are for pipes end to end; a branch has its own.
fn is_for(form: JointForm, named: &[JointForm]) -> bool {
    named.contains(&form) || (named.is_empty() && form.is_girth())
}

fn rank(role: Role) -> u8 {
    match role {
        Role::Control => 0,
        Role::Monitor => 1,
        Role::Spare => 2,
    }
}

fn place(group: &ThermocoupleRule, status: &str, weld: &Weld, bands: &Bands) -> Vec<Thermocouple> {
    let [first_mm, second_mm] = [0, 1].map(|side: usize| weld.sides[side].outside_diameter.mm());
    let diameter_mm = match weld.joint.form {
        JointForm::Branch => first_mm,
        _ => first_mm.max(second_mm),
    };
    let beside_h = 12.0 * group.beside_mm / (PI * diameter_mm);
    let spots = spots(group.at, bands, [first_mm, second_mm]);
    let places = spots.into_iter().flat_map(|(axial_mm, round_h)| {
        clock_hours(group, diameter_mm)
            .into_iter()
            .map(move |hour| (axial_mm, on_the_clock(hour + round_h + beside_h)))
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

/// Distances along the pipe in mm with hours round it from the clock position; `diameters_mm` of run and branch.
fn spots(at: AxialPlace, bands: &Bands, diameters_mm: [f64; 2]) -> Vec<(f64, f64)> {
    let [run_mm, branch_mm] = diameters_mm;
    let half_mm = match at {
        AxialPlace::WeldCenter => return vec![(0.0, 0.0)],
        AxialPlace::SoakEdges => 0.5 * bands.soak.width.mm(),
        AxialPlace::HeatedEdges => 0.5 * bands.heated.width.mm(),
        AxialPlace::BranchEnds => 0.5 * branch_mm,
        AxialPlace::BranchFlanks => {
            let hours = 12.0 * (branch_mm / run_mm).min(1.0).asin() / (2.0 * PI);
            return vec![(0.0, -hours), (0.0, hours)];
        }
    };
    vec![(-half_mm, 0.0), (half_mm, 0.0)]
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
