//! Soak, heated and gradient control band, rule beside rule, and which governs.

use quantity::{Millimeters, Units};
use report::{Block, Row, Table, TableColumn, Text};
use rules::band::{BandRow, Bands};

use super::needs::cite;
use crate::sheet::words::{both_tape, trimmed};

/// The table of bands and the governing ones with their reasons.
pub(crate) fn blocks(bands: &Bands, units: Units) -> Vec<Block> {
    let governing = [
        ("Soak band", &bands.soak),
        ("Heated band", &bands.heated),
        ("Gradient control band", &bands.gradient_control),
    ];
    let facts = governing.map(|(name, one)| {
        let width = Text::default().strong(both_tape(one.width, units));
        super::fact(name, width.and(format!(": {}", one.reason)))
    });
    let rows = bands.by_rule.iter().enumerate();
    vec![
        Block::heading(2, "Bands, full widths centered on the weld"),
        Block::Table(Table {
            caption: "Rule beside rule; the governing width stands out.".into(),
            columns: vec![
                TableColumn::words("Rule"),
                TableColumn::words("For this weld"),
                TableColumn::words("Soak"),
                TableColumn::words("Heated"),
                TableColumn::words("Gradient control"),
                TableColumn::words("Working"),
            ],
            rows: rows
                .map(|(index, one)| row(bands, units, index, one))
                .collect(),
            first_cell_names_row: true,
        }),
        Block::Facts(
            facts
                .into_iter()
                .chain(bands.heating_index.map(index))
                .collect(),
        ),
    ]
}

fn index(index: f64) -> report::Fact {
    super::fact(
        "Heating index",
        format!(
            "{}: heated outside over twice the metal's section and the bore of the soak band (AWS D10.10, 5 wanted)",
            trimmed(index, 1)
        ),
    )
}

fn row(bands: &Bands, units: Units, index: usize, row: &BandRow) -> Row {
    let width = |width: Option<Millimeters>, governs: usize| match width {
        None => Text::plain("says nothing"),
        Some(width) if governs == index => Text::default().strong(both_tape(width, units)),
        Some(width) => both_tape(width, units).into(),
    };
    Row::Cells(vec![
        cite(Text::default(), &row.clause),
        if row.binding { "binds" } else { "beside it" }.into(),
        width(row.soak, bands.soak.row),
        width(row.heated, bands.heated.row),
        width(row.gradient_control, bands.gradient_control.row),
        row.working.as_str().into(),
    ])
}
