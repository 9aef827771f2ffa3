//! Writes a specimen of every block as PDF, HTML, SVG and text into the directory given as the first argument.

mod charts;
mod sections;

use std::path::PathBuf;

use report::{
    Attachment, Block, Column, Drawing, Fact, Figure, Ink, Label, Moment, Note, Paper, Path,
    Relationship, Row, Running, Sheet, State, Stroke, Table, TableColumn, Text, WriteIn,
};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let directory: PathBuf = std::env::args()
        .nth(1)
        .unwrap_or_else(|| "specimen".to_string())
        .into();
    std::fs::create_dir_all(&directory)?;
    let sheet = specimen();
    let log = b"time,1,2\n0,21,21\n".to_vec();
    let attachment = Attachment {
        name: "log.csv".to_string(),
        mime: "text/csv".to_string(),
        bytes: log,
        description: "The log as it was read".to_string(),
        relationship: Relationship::Source,
    };
    let created = Moment {
        year: 2026,
        month: 3,
        day: 14,
        hour: 9,
        minute: 26,
        second: 53,
        utc_offset_minutes: 60,
    };
    std::fs::write(
        directory.join("specimen.pdf"),
        report::pdf(&sheet, &[attachment], created)?,
    )?;
    std::fs::write(directory.join("specimen.html"), report::html(&sheet))?;
    std::fs::write(directory.join("specimen.txt"), report::text(&sheet, 80))?;
    std::fs::write(directory.join("joint.svg"), report::svg(&joint()))?;
    std::fs::write(directory.join("record.svg"), report::svg(&charts::record()))?;
    std::fs::write(
        directory.join("temperature.svg"),
        report::svg(&sections::temperature()),
    )?;
    Ok(())
}

fn specimen() -> Sheet {
    Sheet {
        title: "Heat treatment plan for weld HP-214-07".to_string(),
        subject: "Stress relief of a girth weld, 219.1 mm × 18.3 mm pipe, by induction".to_string(),
        author: "Planning office".to_string(),
        language: "en-US".to_string(),
        paper: Paper::A4,
        margins: report::Margins::Usual,
        running: Running {
            head_left: "Weld HP-214-07".to_string(),
            head_right: "Plan, revision 2".to_string(),
            foot_left: "Made 2026-03-14 09:26 by the planning office".to_string(),
            mark: Some("demo".to_string()),
        },
        blocks: blocks(),
    }
}

fn blocks() -> Vec<Block> {
    let mut blocks = vec![Block::OnePage(site_page())];
    blocks.extend(requirement());
    blocks.extend(pictures());
    blocks
}

fn pictures() -> Vec<Block> {
    vec![
        Block::PageBreak,
        Block::heading(1, "How it went"),
        Block::figure(
            charts::record(),
            "Six thermocouples through the cycle; number 4 was silent for 42 minutes. Power below.",
        ),
        Block::heading(1, "Where the heat is"),
        Block::figure(
            sections::temperature(),
            "Temperature at the end of the hold; the broken line is 595 °C.",
        ),
        Block::figure(
            sections::loss(),
            "Loss in the wall as ink, with field lines.",
        ),
        Block::figure(
            charts::along_the_pipe(),
            "Along the pipe at the end of the hold.",
        ),
    ]
}

fn site_page() -> Vec<Block> {
    vec![
        Block::Columns(vec![
            Column::new(
                3.0,
                vec![Block::Figure(Figure {
                    drawing: joint(),
                    caption: "The wrap, to scale 1 : 4.".into(),
                })],
            ),
            Column::new(
                2.0,
                vec![
                    Block::figure(charts::small_cycle(), ""),
                    Block::Facts(vec![
                        Fact::new("Heating rate", "at most 110 °C/h above 425 °C"),
                        Fact::new("Hold", "595 °C to 650 °C"),
                        Fact::new("Hold time", "1 h 15 min"),
                        Fact::new("Cooling rate", "at most 140 °C/h"),
                        Fact::new("Off at", "425 °C (800 °F)"),
                    ]),
                ],
            ),
        ]),
        Block::heading(2, "Thermocouples"),
        Block::Table(thermocouples()),
        Block::Notes(vec![
            Note::caution(
                "The pipe is hot on both sides of the blanket. Keep the cable ends clear of each other.",
            ),
            Note::plain("Turns are counted from the weld toward the flange."),
        ]),
        Block::Checks(vec![
            "Both ends of the pipe are closed against draft.".into(),
            "Thermocouples 1 to 4 read within 3 °C of each other before power is switched on."
                .into(),
        ]),
        Block::WriteIns(vec![
            WriteIn {
                label: "Wrapped by".to_string(),
                width_mm: 50.0,
            },
            WriteIn {
                label: "Date".to_string(),
                width_mm: 25.0,
            },
            WriteIn {
                label: "Machine".to_string(),
                width_mm: 35.0,
            },
            WriteIn {
                label: "Released by".to_string(),
                width_mm: 50.0,
            },
            WriteIn {
                label: "Time".to_string(),
                width_mm: 25.0,
            },
        ]),
    ]
}

fn thermocouples() -> Table {
    let row = |number: &str, place: &str, mm: &str, inch: &str| {
        Row::Cells(vec![
            number.into(),
            place.into(),
            mm.into(),
            inch.into(),
            Text::default().tick_box(),
            Text::default().write_in(18.0),
        ])
    };
    Table {
        caption: Text::default(),
        columns: vec![
            TableColumn::numbers("No."),
            TableColumn::words("Where"),
            TableColumn::numbers("From weld, mm"),
            TableColumn::numbers("in"),
            TableColumn::centered("Placed"),
            TableColumn::words("Reads at start, °C"),
        ],
        rows: vec![
            row("1", "On the weld, 12 o’clock", "0", "0"),
            row("2", "On the weld, 6 o’clock", "0", "0"),
            row("3", "Edge of the soak band, 12 o’clock", "−38", "−1½"),
            row("4", "Edge of the soak band, 12 o’clock", "38", "1½"),
            Row::Group("Spare".into()),
            row("5", "On the weld, 3 o’clock", "0", "0"),
        ],
        first_cell_names_row: true,
    }
}

fn requirement() -> Vec<Block> {
    let remembered =
        "The number was written down from memory and has not been held against the printed table.";
    let estimated = "Taken from similar joints; it is not measured on this one.";
    let mut rows = vec![];
    for i in 1..=44 {
        rows.push(Row::Cells(vec![
            format!("{i}").into(),
            format!("{:.1}", 20.0 + 14.1 * f64::from(i)).into(),
            format!("{:.2}", 0.25 * f64::from(i)).into(),
            match i % 4 {
                0 => Text::default().status(State::Look, "needs a look"),
                1 => Text::default().status(State::Passed, "limit passed"),
                2 => Text::default().status(State::Open, "no reading"),
                _ => Text::default().status(State::Fine, "within limits"),
            },
        ]));
    }
    vec![
        Block::heading(1, "What the weld needs"),
        Block::paragraph(
            Text::plain("The steel is a chromium–molybdenum grade of 18.3 mm wall. The range is ")
                .strong("595 °C to 650 °C")
                .mark("from memory", remembered)
                .and(", held for 1 h 15 min. Emissivity of the oxidized surface is taken as 0.82 ± 0.05")
                .mark("estimate", estimated)
                .and(", and δ = √(ρ ∕ π f µ) at 7 kHz is about ½ mm, so that 3 kW/m² ≤ q ≤ 5 kW/m² — see ")
                .italic("Heat at the wall")
                .and(" – with ΔT ≥ 10 K, 2 × 3 = 6, m³, 5 Ω, ¼ turn, 1 → 2, “as welded” and ‘ground’."),
        ),
        Block::heading(2, "Limits with their clauses"),
        Block::paragraph("Every limit carries the clause that it comes from."),
        Block::heading(3, "Readings"),
        Block::Table(Table {
            caption: "Readings in the hold, one each quarter of an hour.".into(),
            columns: vec![
                TableColumn::numbers("No."),
                TableColumn::numbers("Temperature, °C"),
                TableColumn::numbers("Time, h"),
                TableColumn::words("Finding"),
            ],
            rows,
            first_cell_names_row: true,
        }),
    ]
}

/// A pipe wall with a weld, a blanket and turns.
fn joint() -> Drawing {
    let mut drawing = Drawing::new("Section through the weld", 320.0, 110.0, 0.25);
    drawing.description =
        "Pipe wall with the weld in the middle, blanket and eight turns above it".to_string();
    drawing.push(
        Path::rectangle(0.0, 60.0, 320.0, 18.3).stroked(Stroke::solid(Ink::Full, report::THIN_PT)),
    );
    drawing.push(Path::polygon(
        &[[150.0, 60.0], [170.0, 60.0], [163.0, 78.3], [157.0, 78.3]],
        Ink::Density(0.35),
    ));
    drawing.push(Path::rectangle(60.0, 35.0, 200.0, 25.0).stroked(Stroke::hairline()));
    for turn in 0..8 {
        let center = [90.0 + 20.0 * f64::from(turn), 28.0];
        drawing
            .push(Path::circle(center, 6.0).stroked(Stroke::solid(Ink::Full, report::STRONG_PT)));
    }
    drawing.push(
        Label::new([160.0, 95.0], "weld").anchored(report::Anchor::Middle, report::Stand::Base),
    );
    drawing
}
