//! What goes round the pipe: blanket, cable, turns, leads.

use cycle::setup::{Coil, Leads, Turn};
use materials::{Blanket, Cable};
use quantity::{Millimeters, Source, Sourced, Status};

use crate::model::BlanketWish;
use crate::toml_reader::{Table, Value};
use crate::wording::dimension;

use super::choices::CHOICES;
use super::clock;
use super::measure::length;
use super::places::Silent;
use super::sides::hint_of;

/// Blanket thicknesses in mm: from one thin layer to more than anyone wraps.
const THICKNESS_MM: (f64, f64) = (3.0, 400.0);

/// Cable diameters in mm.
const CABLE_MM: (f64, f64) = (5.0, 80.0);

/// From the pipe to the underside of the cable in mm: a cable that touches the pipe is shorted to it.
const STANDOFF_MM: (f64, f64) = (2.0, 400.0);

/// Distances between turns in mm.
const PITCH_MM: (f64, f64) = (5.0, 1000.0);

/// More turns in one section than any cable is long for.
const MOST_TURNS: f64 = 200.0;

/// What the file says of the coil.
pub(crate) struct CoilRead<'a> {
    pub cable: Option<Cable>,
    pub cable_at: Option<Value<'a>>,
    /// `None`: propose.
    pub coil: Option<Coil>,
    pub leads: Option<Leads>,
    pub lead_exit_clock: f64,
    pub sections: Vec<Table<'a>>,
}

/// Reads `[blanket]`.
pub(crate) fn blanket<'a>(
    root: &Table<'a>,
    silent: &Silent,
) -> (Option<BlanketWish>, Option<Table<'a>>) {
    let Some(table) = root
        .need("blanket", "a table with material and thickness")
        .and_then(|v| v.table())
    else {
        return (None, None);
    };
    let material_at = table.need("material", "\"ceramic fiber blanket 128 kg/m3\"");
    let material = material_at.as_ref().and_then(blanket_of);
    if let (Some(known), Some(written)) = (material, material_at.as_ref().and_then(Value::as_text))
    {
        silent.understand(&table, "material", &known.name, written);
    }
    let thickness = length!("thickness")
        .need(&table)
        .and_then(|r| r.within(THICKNESS_MM.0, THICKNESS_MM.1));
    let reach = reach(&table);
    table.finish();
    let wish = material
        .zip(thickness)
        .map(|(material, thickness)| BlanketWish {
            material: material.clone(),
            thickness: Millimeters::from_mm(thickness.value),
            reach,
        });
    (wish, Some(table))
}

fn blanket_of(value: &Value<'_>) -> Option<&'static Blanket> {
    let name = value.text()?;
    let refused = match materials::blanket(name) {
        Ok(blanket) => return Some(blanket),
        Err(refused) => refused,
    };
    let known: Vec<&str> = materials::blankets()
        .iter()
        .map(|b| b.name.as_str())
        .collect();
    value.fault(
        format!("{name:?}"),
        format!("a known blanket: {}", known.join(", ")),
        hint_of(&refused),
    );
    None
}

/// `reach` for both sides, or `reach_first` and `reach_second`; none of them asks for a proposal.
fn reach(table: &Table<'_>) -> Option<[Millimeters; 2]> {
    let far = |read: super::measure::Read<'_>| {
        read.within(10.0, 1e5)
            .map(|r| Millimeters::from_mm(r.value))
    };
    let both = length!("reach");
    let first = length!("reach_first");
    let second = length!("reach_second");
    if both.is_in(table) {
        if first.is_in(table) || second.is_in(table) {
            table.note(
                "reach beside reach_first or reach_second".into(),
                "one way of the two".into(),
                None,
            );
        }
        return both.get(table).and_then(far).map(|reach| [reach, reach]);
    }
    if !first.is_in(table) && !second.is_in(table) {
        return None;
    }
    let first = first.need(table).and_then(far);
    let second = second.need(table).and_then(far);
    Some([first?, second?])
}

/// Reads `[coil]`.
pub(crate) fn coil<'a>(root: &Table<'a>, blanket_mm: Option<f64>, silent: &Silent) -> CoilRead<'a> {
    let nothing = CoilRead {
        cable: None,
        cable_at: None,
        coil: None,
        leads: None,
        lead_exit_clock: CHOICES.lead_exit_clock.value,
        sections: Vec::new(),
    };
    let Some(table) = root
        .need("coil", "a table with cable")
        .and_then(|v| v.table())
    else {
        return nothing;
    };
    let cable_at = table.need("cable", "\"liquid-cooled cable\"");
    let diameter = length!("cable_diameter")
        .get(&table)
        .and_then(|r| r.within(CABLE_MM.0, CABLE_MM.1));
    let known = cable_at.as_ref().and_then(cable_of);
    if let (Some(known), Some(written)) = (known, cable_at.as_ref().and_then(Value::as_text)) {
        silent.understand(&table, "cable", &known.name, written);
    }
    let cable = known.map(|cable| with_diameter(cable, diameter.map(|r| r.value)));
    let propose = propose(&table);
    let sections = table.tables("section");
    let read: Vec<_> = sections.iter().map(|s| section(s, blanket_mm)).collect();
    if propose && !sections.is_empty() {
        table.note(
            "turns to be proposed beside sections of turns".into(),
            "one of the two".into(),
            None,
        );
    }
    if sections.is_empty() && !propose {
        silent.take(&table, "turns", "propose");
    }
    let turns: Option<Vec<Vec<Turn>>> = read.into_iter().collect();
    let usual_length = (
        CHOICES.lead_length_mm.value,
        CHOICES.lead_length_mm.words(table.units()),
    );
    let lead_length_mm = length!("lead_length").or(&table, silent, usual_length, (100.0, 1e5));
    let touching_mm = cable.as_ref().map_or(25.0, |c| c.outside_diameter_mm.value);
    let touching = (
        touching_mm,
        format!(
            "{}, the two leads touching",
            dimension(Millimeters::from_mm(touching_mm), table.units())
        ),
    );
    let spacing_mm = length!("lead_spacing").or(&table, silent, touching, (5.0, 5000.0));
    let exit = clock::read_or(&table, "lead_exit", &CHOICES.lead_exit_clock, silent);
    table.finish();
    let leads = (|| {
        Some(Leads {
            length: Millimeters::from_mm(lead_length_mm?),
            spacing: Millimeters::from_mm(spacing_mm?),
            cable: cable.clone()?,
        })
    })();
    let coil = turns
        .filter(|t| !t.is_empty())
        .map(|t| Coil { turns: t.concat() });
    CoilRead {
        cable,
        cable_at,
        coil,
        leads,
        lead_exit_clock: exit.unwrap_or(CHOICES.lead_exit_clock.value),
        sections,
    }
}

fn propose(table: &Table<'_>) -> bool {
    table
        .get("turns")
        .and_then(|v| v.word_of(&["propose"]))
        .is_some()
}

fn cable_of(value: &Value<'_>) -> Option<&'static Cable> {
    let name = value.text()?;
    let refused = match materials::cable(name) {
        Ok(cable) => return Some(cable),
        Err(refused) => refused,
    };
    let known: Vec<&str> = materials::cables()
        .iter()
        .map(|c| c.name.as_str())
        .collect();
    value.fault(
        format!("{name:?}"),
        format!("a known cable: {}", known.join(", ")),
        hint_of(&refused),
    );
    None
}

fn with_diameter(cable: &Cable, given_mm: Option<f64>) -> Cable {
    let mut cable = cable.clone();
    if let Some(value) = given_mm {
        let source = Source {
            citation: "job file".into(),
            status: Status::UserGiven,
            note: None,
        };
        cable.outside_diameter_mm = Sourced { value, source };
    }
    cable
}

/// The turns of one `[[coil.section]]`: the first at `first`, the others `pitch` further each.
fn section(table: &Table<'_>, blanket_mm: Option<f64>) -> Option<Vec<Turn>> {
    let turns = table
        .need("turns", "a whole number")
        .and_then(|v| v.number_within(1.0, MOST_TURNS));
    let turns = turns.map(|t| t as usize);
    let first = length!("first").need(table);
    let one = turns == Some(1);
    let pitch = length!("pitch");
    let pitch = if one {
        pitch.get(table)
    } else {
        pitch.need(table)
    };
    let pitch_mm = pitch
        .and_then(|r| r.within(PITCH_MM.0, PITCH_MM.1))
        .map(|r| r.value);
    let standoff = length!("standoff");
    let standoff_mm = match standoff.is_in(table) {
        true => standoff
            .get(table)
            .and_then(|r| r.within(STANDOFF_MM.0, STANDOFF_MM.1))
            .map(|r| r.value),
        false => blanket_mm,
    };
    table.finish();
    let (turns, first_mm, standoff_mm) = (turns?, first?.value, standoff_mm?);
    let pitch_mm = if one { 0.0 } else { pitch_mm? };
    let turn = |i: usize| Turn {
        axial: Millimeters::from_mm(first_mm + pitch_mm * i as f64),
        standoff: Millimeters::from_mm(standoff_mm),
    };
    Some((0..turns).map(turn).collect())
}
