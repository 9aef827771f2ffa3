//! Prediction and measurement on one chart, with the difference and what would explain it.

use quantity::Units;
use report::chart::{Chart, Panel, Series, SeriesMark, chart};
use report::{Block, Note, Row, Table, TableColumn};

use crate::record::against::{COMPARED_WHERE, Explained, Gap};
use crate::record::{Against, ChannelAgainst, Explanation, Record};
use crate::sheet::axes::{axis_words, degrees};
use crate::sheet::words::first_c;

use super::chart::{across, short};

/// Size on paper in mm.
const SIZE_MM: [f64; 2] = [166.0, 150.0];
/// More thermocouples than this make the chart unreadable; the table has them all.
const DRAWN: usize = 6;
/// Dash pattern in points of what was predicted.
const PREDICTED: [f64; 2] = [3.0, 2.0];

pub(super) fn blocks(record: &Record) -> Vec<Block> {
    let Some((_, against)) = &record.plan else {
        return Vec::new();
    };
    // The chart comes on the page where there is room for it, with its heading.
    let mut blocks = vec![
        Block::heading(1, "Against the plan"),
        Block::paragraph(
            "What the plan foresaw beside what was measured. It judges nothing: it tells the next plan what to assume.",
        ),
    ];
    if !against.same_job {
        blocks.push(Block::Notes(vec![Note::caution(
            "The plan was made from another version of the job file than the one by which the log is judged.",
        )]));
    }
    if let Some(why) = &against.not_laid {
        blocks.push(Block::paragraph(format!("Not compared: {why}.")));
        return blocks;
    }
    blocks.push(drawing(record, against));
    let mut blocks = vec![Block::KeepTogether(blocks)];
    blocks.push(table(record, against));
    let says = explanation_words(&against.explanation);
    blocks.extend(says.into_iter().map(Block::paragraph));
    blocks
}

fn drawing(record: &Record, against: &Against) -> Block {
    let units = record.basis.units;
    let end_h = (record.length().as_secs_f64() / 3600.0).max(0.1);
    let mut courses = Panel::new(axis_words(units));
    courses.share = 3.0;
    let mut gaps = Panel::new(match units {
        Units::Si => "Measured less predicted, K",
        Units::Us => "Measured less predicted, °F",
    });
    for channel in against.channels.iter().take(DRAWN) {
        courses.series.extend(course(channel, units));
        gaps.series.push(difference(channel, units));
    }
    let left_out = against.channels.len().saturating_sub(DRAWN);
    let left_out = match left_out {
        0 => String::new(),
        n => format!(" {n} more stand in the table only."),
    };
    let drawing = chart(&Chart {
        title: "Measured and predicted".into(),
        description: "Each thermocouple as measured and as predicted, the difference below".into(),
        width_mm: SIZE_MM[0],
        height_mm: SIZE_MM[1],
        across: across(record, end_h),
        panels: vec![courses, gaps],
        events: Vec::new(),
    });
    let laid: Vec<String> = against
        .laid
        .iter()
        .map(|p| {
            let level = first_c(p.level_c, units);
            format!("{} at {level}", p.part.words())
        })
        .collect();
    Block::figure(
        drawing,
        format!(
            "Solid: measured. Dashed, with the same number and a p: predicted by {}. The prediction is laid on the log piece by \
             piece, where the means of the control thermocouples pass one level: {}.{left_out}",
            against.plan_file,
            laid.join(", ")
        ),
    )
}

fn course(channel: &ChannelAgainst, units: Units) -> [Series; 2] {
    let number = short(&channel.name);
    let of = |value: fn(&crate::record::PointAgainst) -> f64| {
        let mut points: Vec<(f64, Option<f64>)> = Vec::new();
        let mut piece = None;
        for point in &channel.points {
            if piece.is_some_and(|before| before != point.piece) {
                points.push((point.at.h(), None));
            }
            piece = Some(point.piece);
            points.push((point.at.h(), Some(degrees(value(point), units))));
        }
        points
    };
    [
        Series {
            name: number.clone(),
            title: format!("{} as measured", channel.name),
            points: of(|p| p.measured.c()),
            mark: SeriesMark::Line,
        },
        Series {
            name: format!("{number}p"),
            title: format!("{} as predicted", channel.name),
            points: of(|p| p.predicted.c()),
            mark: SeriesMark::Dashed(PREDICTED.to_vec()),
        },
    ]
}

fn difference(channel: &ChannelAgainst, units: Units) -> Series {
    let scale = match units {
        Units::Si => 1.0,
        Units::Us => 1.8,
    };
    let points = channel.points.iter();
    let points = points.map(|p| (p.at.h(), Some(scale * (p.measured.c() - p.predicted.c()))));
    Series {
        name: short(&channel.name),
        title: channel.name.clone(),
        points: points.collect(),
        mark: SeriesMark::Line,
    }
}

fn table(record: &Record, against: &Against) -> Block {
    let units = record.basis.units;
    let mut columns = vec![TableColumn::words("Thermocouple")];
    let parts = against.laid.iter().map(|p| p.part.words());
    columns.extend(parts.map(|part| TableColumn::words(format!("In the {part}"))));
    let rows = against.channels.iter().map(|channel| {
        let mut cells = vec![channel.name.clone()];
        cells.extend(channel.gaps.iter().map(|gap| gap_words(*gap, units)));
        Row::cells(cells)
    });
    Block::Table(Table {
        caption: format!(
            "Measured less predicted: mean over time, and the largest with its time since the first scan; {COMPARED_WHERE}."
        )
        .into(),
        columns,
        rows: rows.collect(),
        first_cell_names_row: true,
    })
}

fn gap_words(gap: Option<Gap>, units: Units) -> String {
    gap.map_or("not compared".into(), |gap| gap.words(units))
}

/// What would explain the difference in power, in sentences.
pub(crate) fn explanation_words(explanation: &Explanation) -> Vec<String> {
    match explanation {
        Explanation::NotTold { why } => vec![format!(
            "Which assumption would explain the differences is not told: {why}."
        )],
        Explanation::AsPredicted { more } => vec![format!(
            "The power that the log tells differs by {:+.0} % from what the plan needs for the measured course: no assumption about \
             loss, coupling or wall has to move.",
            100.0 * more
        )],
        Explanation::Differs {
            more,
            suppositions,
            told_apart,
        } => {
            let mut says = vec![format!(
                "The power that the log tells is {:.0} % {} than the plan needs for the measured course. What would explain it \
                 if it alone were otherwise:",
                100.0 * more.abs(),
                if *more > 0.0 { "more" } else { "less" }
            )];
            says.extend(suppositions.iter().map(supposed));
            if !told_apart {
                says.push("This log does not tell the first two apart.".into());
            }
            says
        }
    }
}

fn supposed(one: &Explained) -> String {
    format!(
        "{} {:.2} times as large takes away {:.0} % of the squared differences ({}).",
        capital(one.supposition.words()),
        one.factor,
        100.0 * one.part,
        one.supposition.look_at(one.factor)
    )
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
