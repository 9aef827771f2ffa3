//! The channel table: which wire is where, in both units, with boxes to tick.

use quantity::Millimeters;
use report::{Block, Row, Table, TableColumn, Text};
use rules::thermocouple::{Face, Place, Role, Thermocouple};

use super::shape;
use crate::sheet::PlanSheet;
use crate::sheet::words::{clock, tape_inches, whole_mm};

/// Room to write a first reading, in mm.
const READING_MM: f64 = 13.0;

/// The table of fitted wires.
pub(super) fn table(plan: &PlanSheet) -> Block {
    let fitted = || plan.setup.thermocouples.iter().filter(|t| t.fitted);
    let roles = [Role::Control, Role::Monitor, Role::Spare];
    let of_role = |wanted: Role| fitted().filter(move |t| t.role == wanted);
    Block::Table(Table {
        caption: "".into(),
        columns: vec![
            TableColumn::words("Channel"),
            TableColumn::words("Role"),
            TableColumn::words("Where"),
            TableColumn::numbers("Clock"),
            TableColumn::numbers("Along mm"),
            TableColumn::numbers("in"),
            TableColumn::numbers("Round mm"),
            TableColumn::numbers("in"),
            TableColumn::centered("Attached"),
            TableColumn::centered("Polarity"),
            TableColumn::words("Reads"),
        ],
        rows: roles
            .into_iter()
            .flat_map(|wanted| of_role(wanted).map(|t| row(plan, t)).collect::<Vec<_>>())
            .collect(),
        first_cell_names_row: true,
    })
}

/// What is only predicted, as a sentence; empty where every place has its wire.
pub(super) fn without_wire(plan: &PlanSheet) -> String {
    let all = plan.setup.thermocouples.iter();
    let names: Vec<&str> = all.filter(|t| !t.fitted).map(|t| t.name.as_str()).collect();
    match names.is_empty() {
        true => String::new(),
        false => format!("No wire at {}: predicted only. ", names.join(", ")),
    }
}

fn row(plan: &PlanSheet, one: &Thermocouple) -> Row {
    let diameter = shape::diameter_at(&plan.setup.joint, one.axial);
    let round = Millimeters::from_mm(one.arc_mm(diameter));
    Row::Cells(vec![
        one.name.as_str().into(),
        one.role.words().into(),
        place(one).into(),
        clock(one.clock).into(),
        whole_mm(one.axial).into(),
        unbroken(&tape_inches(one.axial)),
        whole_mm(round).into(),
        unbroken(&tape_inches(round)),
        Text::default().tick_box(),
        Text::default().tick_box(),
        Text::default().write_in(READING_MM),
    ])
}

/// What a thermocouple watches, in words.
pub(in crate::sheet) fn place(one: &Thermocouple) -> String {
    let part = match one.place {
        Place::SoakBand if one.axial.mm() == 0.0 => "weld",
        // The page holds no longer words in one line of this table.
        Place::HeatedBandEdge => "heated edge",
        place => place.words(),
    };
    match one.face {
        Face::Outside => part.to_string(),
        Face::Bore => format!("{part}, bore"),
    }
}

/// Inches and their fraction stay on one line.
fn unbroken(inches: &str) -> Text {
    inches.replace(' ', "\u{a0}").into()
}
