//! Where each thermocouple sat, as a picture of the pipe cut open along 12 o'clock, and as a table.

use checks::ChannelUse;
use quantity::Units;
use report::{
    Anchor, Block, Drawing, Face, Ink, Label, Path, Row, Stand, Stroke, THIN_PT, Table, TableColumn,
};
use rules::thermocouple::told_as;

use crate::record::Record;
use crate::sheet::words::{clock, first_c};

/// Size on paper in mm.
const SIZE_MM: [f64; 2] = [166.0, 78.0];
/// The field of the pipe on it: left, top, right, bottom.
const FIELD_MM: [f64; 4] = [50.0, 3.0, 116.0, 71.0];
/// Part of the field that is left free at each end.
const MARGIN: f64 = 0.1;
/// Labels of one column stand no closer than this, in mm.
const APART_MM: f64 = 4.6;
/// Radius of a thermocouple.
const DOT_MM: f64 = 1.0;
/// Size of words in points.
const WORDS_PT: f64 = 7.0;

pub(super) fn blocks(record: &Record) -> Vec<Block> {
    let places: Option<Vec<Placed<'_>>> = record
        .basis
        .channels
        .iter()
        .filter(|(channel, _)| channel.fitted)
        .map(|(channel, hour)| hour.map(|hour| Placed { channel, hour }))
        .collect();
    let picture = places.filter(|places| !places.is_empty()).map(|places| {
        Block::figure(
            drawing(record, &places),
            "The outside of the pipe cut open along 12 o'clock, distances along it not to scale with those round it. Beside each \
             thermocouple its lowest and highest reading in the hold. Open circles were found failed.",
        )
    });
    picture.into_iter().chain([table(record)]).collect()
}

/// A fitted thermocouple with its position round the pipe in hours of a clock.
struct Placed<'r> {
    channel: &'r ChannelUse,
    hour: f64,
}

fn drawing(record: &Record, places: &[Placed<'_>]) -> Drawing {
    let mut drawing = Drawing::new("Where each thermocouple sat", SIZE_MM[0], SIZE_MM[1], 1.0);
    let [left, top, right, bottom] = FIELD_MM;
    let along = |p: &Placed<'_>| p.channel.axial.mm();
    let farthest = places.iter().map(along).map(f64::abs).fold(1.0, f64::max);
    let middle = 0.5 * (left + right);
    let half = 0.5 * (right - left) * (1.0 - 2.0 * MARGIN);
    let x = |p: &Placed<'_>| middle + half * along(p) / farthest;
    let y = |p: &Placed<'_>| top + (bottom - top) * p.hour.rem_euclid(12.0) / 12.0;
    frame(&mut drawing, middle);
    let labels = |of_left: bool| {
        let mut of_side: Vec<&Placed<'_>> = places
            .iter()
            .filter(|p| (along(p) < 0.0) == of_left)
            .collect();
        of_side.sort_by(|a, b| y(a).total_cmp(&y(b)).then(x(a).total_cmp(&x(b))));
        of_side
    };
    for (of_left, at_x, anchor) in [
        (true, left - 4.0, Anchor::End),
        (false, right + 4.0, Anchor::Start),
    ] {
        let of_side = labels(of_left);
        let wanted: Vec<f64> = of_side.iter().map(|p| y(p)).collect();
        for (placed, label_y) in of_side.into_iter().zip(spaced(&wanted, top, bottom)) {
            let dot = [x(placed), y(placed)];
            let elbow = [if of_left { left - 1.0 } else { right + 1.0 }, label_y];
            let end = [if of_left { at_x + 1.0 } else { at_x - 1.0 }, label_y];
            drawing.push(Path::polyline(&[dot, elbow, end], Stroke::hairline()));
            drawing.push(mark(record, placed, dot));
            let label = Label::new([at_x, label_y], words(record, placed));
            drawing.push(label.anchored(anchor, Stand::Middle).sized(WORDS_PT));
        }
    }
    drawing
}

/// The field with the hours round the pipe and the weld.
fn frame(drawing: &mut Drawing, middle: f64) {
    let [left, top, right, bottom] = FIELD_MM;
    for (index, hour) in ["12", "3", "6", "9", "12"].iter().enumerate() {
        let y = top + (bottom - top) * index as f64 / 4.0;
        drawing.push(Path::polyline(&[[left, y], [right, y]], Stroke::hairline()));
        let label = Label::new([left + 1.0, y - 0.5], *hour);
        drawing.push(
            label
                .anchored(Anchor::Start, Stand::Base)
                .sized(WORDS_PT)
                .inked(Ink::Soft),
        );
    }
    let center = Stroke::solid(Ink::Full, 0.9).dashed(&[6.0, 1.5, 1.0, 1.5]);
    drawing.push(Path::polyline(&[[middle, top], [middle, bottom]], center));
    for (x, words) in [(left, "side 1"), (middle, "weld"), (right, "side 2")] {
        let label = Label::new([x, bottom + 1.5], words);
        let label = label.anchored(Anchor::Middle, Stand::Hang).sized(WORDS_PT);
        drawing.push(label.faced(Face::Strong));
    }
}

fn mark(record: &Record, placed: &Placed<'_>, at: [f64; 2]) -> Path {
    let failures = record.findings.failures.iter();
    let failed = failures
        .into_iter()
        .any(|f| f.channel == placed.channel.name);
    let circle = Path::circle(at, DOT_MM);
    let fill = if failed { Ink::Paper } else { Ink::Full };
    circle
        .filled(fill)
        .stroked(Stroke::solid(Ink::Full, THIN_PT))
}

fn words(record: &Record, placed: &Placed<'_>) -> String {
    let units = record.basis.units;
    let name = &placed.channel.name;
    let table = record.findings.table.iter();
    let read = table.into_iter().find(|row| row.channel == *name);
    match read.and_then(|row| row.lowest_in_hold.zip(row.highest_in_hold)) {
        Some((low, high)) => {
            let (low, high) = (first_c(low.c(), units), first_c(high.c(), units));
            format!(
                "{name}  {} to {high}",
                low.trim_end_matches(|c: char| !c.is_ascii_digit())
            )
        }
        None => format!("{name}  no hold"),
    }
}

/// Places near the wanted ones, in order, no closer than labels may stand.
fn spaced(wanted: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let mut places = Vec::with_capacity(wanted.len());
    let mut free = top;
    for y in wanted {
        let place = y.max(free);
        places.push(place);
        free = place + APART_MM;
    }
    let mut ceiling = bottom;
    for place in places.iter_mut().rev() {
        *place = place.min(ceiling);
        ceiling = *place - APART_MM;
    }
    places
}

fn table(record: &Record) -> Block {
    let rows = record.basis.channels.iter().map(|(channel, hour)| {
        let role = told_as(channel.role, channel.place);
        let along = match record.basis.units {
            Units::Si => format!("{:.0} mm", channel.axial.mm()),
            Units::Us => format!("{:.1} in", channel.axial.inches()),
        };
        let along = match hour.is_some() {
            true => along,
            false => "not given".into(),
        };
        let in_log = match (
            record.matched.missing.contains(&channel.name),
            channel.fitted,
        ) {
            (_, false) if record.matched.without_wire.contains(&channel.name) => {
                "in the log, no wire in the job: judges nothing"
            }
            (_, false) => "no wire, only predicted",
            (true, _) => "not in the log",
            (false, _) => "in the log",
        };
        Row::cells([
            channel.name.clone(),
            role.into(),
            format!("{:?}", channel.face).to_lowercase(),
            along,
            hour.map_or("not given".to_string(), clock),
            in_log.into(),
        ])
    });
    Block::Table(Table {
        caption: "Where each thermocouple sat: distance from the weld center line, minus toward side 1; clock seen from side 1."
            .into(),
        columns: vec![
            TableColumn::words("Name"),
            TableColumn::words("For"),
            TableColumn::words("Face"),
            TableColumn::numbers("Along"),
            TableColumn::numbers("Clock"),
            TableColumn::words("Log"),
        ],
        rows: rows.collect(),
        first_cell_names_row: true,
    })
}
