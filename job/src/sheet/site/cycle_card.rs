//! The cycle as a small drawn curve whose stretches are numbered, and the numbers beside it.

use cycle::outcome::Stage;
use cycle::setup::Programme;
use quantity::Units;
use report::{
    Anchor, Block, Drawing, Face, Ink, Label, Path, Row, STRONG_PT, Stand, Stroke, THIN_PT, Table,
    TableColumn,
};

use super::wrap::WORDS_PT;
use crate::sheet::PlanSheet;
use crate::sheet::words::{both_c, both_rate, duration_h, first_c, marked, moment_s};

/// Width of the curve in mm on paper.
const WIDTH_MM: f64 = 64.0;
/// Room at the left for temperatures and below for hours, in mm.
const LEFT_MM: f64 = 15.0;
const FOOT_MM: f64 = 5.0;
const HEAD_MM: f64 = 4.0;

/// The corners of the programme: hours since the start and °C.
fn corners(programme: &Programme) -> [[f64; 2]; 5] {
    let ramp = |from: f64, to: f64, rate: f64| (to - from).abs() / rate.max(1.0);
    let (start, set) = (programme.start.c(), programme.set_point.c());
    let threshold = programme
        .threshold
        .c()
        .clamp(start.min(set), set.max(start));
    let at_threshold = ramp(start, threshold, programme.free_heating_rate.k_h());
    let at_set = at_threshold + ramp(threshold, set, programme.heating_rate.k_h());
    let hold_end = at_set + programme.hold_time.h();
    let end_c = programme.controlled_down_to.c();
    [
        [0.0, start],
        [at_threshold, threshold],
        [at_set, set],
        [hold_end, set],
        [
            hold_end + ramp(set, end_c, programme.cooling_rate.k_h()),
            end_c,
        ],
    ]
}

/// The drawn curve, so high in mm.
pub(super) fn curve(plan: &PlanSheet, height_mm: f64) -> Block {
    let programme = &plan.setup.programme;
    let corners = corners(programme);
    let mut drawing = Drawing::new("The cycle", WIDTH_MM, height_mm, 1.0);
    drawing.description =
        "Heating, hold and cooling with the numbers of the table beside it".into();
    let (end_h, top_c) = (corners[4][0].max(0.1), programme.hold_range[1].c());
    let on = |[hours, celsius]: [f64; 2]| {
        let share = (celsius - corners[0][1]) / (top_c - corners[0][1]).max(1.0);
        [
            LEFT_MM + (WIDTH_MM - LEFT_MM - 3.0) * hours / end_h,
            height_mm - FOOT_MM - (height_mm - FOOT_MM - HEAD_MM) * share,
        ]
    };
    frame(&mut drawing, plan, on, end_h);
    let points = corners.map(on);
    drawing.push(Path::polyline(&points, Stroke::solid(Ink::Full, STRONG_PT)));
    for (index, pair) in points.windows(2).enumerate() {
        let middle = [
            0.5 * (pair[0][0] + pair[1][0]),
            0.5 * (pair[0][1] + pair[1][1]),
        ];
        drawing.push(
            Path::circle(middle, 1.9)
                .filled(Ink::Paper)
                .stroked(Stroke::solid(Ink::Full, THIN_PT)),
        );
        let number = Label::new(middle, (index + 1).to_string()).faced(Face::Strong);
        drawing.push(
            number
                .anchored(Anchor::Middle, Stand::Middle)
                .sized(WORDS_PT),
        );
    }
    Block::figure(drawing, "")
}

/// Hold range as broken lines, threshold as a hairline, hours below.
fn frame(drawing: &mut Drawing, plan: &PlanSheet, on: impl Fn([f64; 2]) -> [f64; 2], end_h: f64) {
    let programme = &plan.setup.programme;
    let levels = [
        (programme.hold_range[1].c(), true),
        (programme.hold_range[0].c(), true),
        (programme.threshold.c(), false),
    ];
    let mut written: Vec<f64> = Vec::new();
    for (level, bold) in levels {
        let (from, to) = (on([0.0, level]), on([end_h, level]));
        let ink = match bold {
            true => Stroke::solid(Ink::Full, THIN_PT).dashed(&[2.0, 1.5]),
            false => Stroke::hairline(),
        };
        drawing.push(Path::polyline(&[from, to], ink));
        let mut y = from[1];
        if let Some(above) = written.last() {
            y = y.max(above + 3.2);
        }
        written.push(y);
        let label = Label::new([LEFT_MM - 1.0, y], first_c(level, plan.job.units));
        drawing.push(label.anchored(Anchor::End, Stand::Middle).sized(WORDS_PT));
    }
    let foot = on([0.0, programme.start.c()]);
    let right = on([end_h, programme.start.c()]);
    let axis = [[foot[0], HEAD_MM - 2.0], foot, right];
    drawing.push(Path::polyline(&axis, Stroke::solid(Ink::Full, THIN_PT)));
    for tick in report::decimal_ticks(0.0, end_h, 5.0) {
        let at = on([tick.value, programme.start.c()]);
        drawing.push(Path::polyline(
            &[at, [at[0], at[1] + 1.0]],
            Stroke::solid(Ink::Full, THIN_PT),
        ));
        let label = Label::new([at[0], at[1] + 1.2], tick.label.clone());
        drawing.push(label.anchored(Anchor::Middle, Stand::Hang).sized(WORDS_PT));
    }
    let unit = Label::new([LEFT_MM - 1.0, foot[1] + 1.2], "hours");
    drawing.push(unit.anchored(Anchor::End, Stand::Hang).sized(WORDS_PT));
}

/// The numbers of the cycle.
pub(super) fn numbers(plan: &PlanSheet) -> Block {
    let programme = &plan.setup.programme;
    let units = plan.job.units;
    let [low, high] = programme.hold_range;
    let range = |units: Units| match units {
        Units::Si => format!("{:.0} to {:.0} °C", low.c(), high.c()),
        Units::Us => format!("{:.0} to {:.0} °F", low.f(), high.f()),
    };
    let both_ranges = match units {
        Units::Si => format!("{} ({})", range(Units::Si), range(Units::Us)),
        Units::Us => format!("{} ({})", range(Units::Us), range(Units::Si)),
    };
    let status = |pick: fn(&rules::requirement::LimitKind) -> bool| {
        let marked = plan.requirement.limits.iter().filter(|l| pick(&l.kind));
        marked.map(|l| l.clause.status).find(|s| s.needs_mark())
    };
    let cell = |words: String, status: Option<quantity::Status>| match status {
        Some(status) => marked(words.into(), status),
        None => words.into(),
    };
    use rules::requirement::LimitKind as Kind;
    let heating = status(|k| matches!(k, Kind::HeatingRate { .. }));
    let hold = status(|k| matches!(k, Kind::HoldMin(_) | Kind::HoldMax(_)));
    let time = status(|k| matches!(k, Kind::HoldTime(_)));
    let cooling = status(|k| matches!(k, Kind::CoolingRate { .. }));
    let rows = [
        (
            "1",
            format!("Heat to {}", both_c(programme.threshold.c(), units)),
            both_rate(programme.free_heating_rate, units),
            heating,
        ),
        (
            "2",
            "Above that at most".into(),
            both_rate(programme.heating_rate, units),
            heating,
        ),
        (
            "3",
            format!("Hold, set {}", first_c(programme.set_point.c(), units)),
            both_ranges,
            hold,
        ),
        (
            "",
            "Hold time at least".into(),
            duration_h(programme.hold_time.h()),
            time,
        ),
        (
            "4",
            "Cool at most".into(),
            both_rate(programme.cooling_rate, units),
            cooling,
        ),
        (
            "",
            "Control ends at".into(),
            both_c(programme.controlled_down_to.c(), units),
            cooling,
        ),
    ];
    Block::Table(Table {
        caption: format!("Foreseen: {}.", foreseen(plan)).into(),
        columns: vec![
            TableColumn::centered("No."),
            TableColumn::words("Cycle"),
            TableColumn::words(""),
        ],
        rows: rows
            .into_iter()
            .map(|(number, name, value, status)| {
                Row::Cells(vec![number.into(), name.into(), cell(value, status)])
            })
            .collect(),
        first_cell_names_row: false,
    })
}

/// How long the prediction takes, and when the hold begins.
fn foreseen(plan: &PlanSheet) -> String {
    let stages = &plan.outcome.stages;
    let end = stages.last().map_or(0.0, |stage| stage.to_s);
    match stages.iter().find(|one| one.stage == Stage::Hold) {
        Some(hold) => format!(
            "{} in all, hold begins at {}",
            moment_s(end),
            moment_s(hold.from_s)
        ),
        None => format!("{} in all, the hold does not begin", moment_s(end)),
    }
}
