//! Temperature along the pipe and through the wall at named instants.

use cycle::outcome::Profile;
use quantity::Millimeters;
use report::chart::{Across, Chart, Panel, Region, Series, chart};
use report::{Block, Row, Table, TableColumn};

use crate::sheet::PlanSheet;
use crate::sheet::axes::{along, axis_words, degrees};
use crate::sheet::words::{both_c, both_k, both_tape, moment_s};
use crate::wording::dimension;

/// Width and height of one panel on paper in mm; all together are never higher than a page with its heading holds.
const PANEL_MM: [f64; 2] = [166.0, 52.0];
const HIGHEST_MM: f64 = 190.0;
/// What is shown, as a multiple of the reach of the blanket: enough to see the temperature fall.
const REACHES: f64 = 1.5;

/// The charts along the pipe and the table through the wall.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let profiles = &plan.outcome.profiles;
    if profiles.is_empty() {
        return Vec::new();
    }
    let [left, right] = ends_mm(plan);
    let (unit, unit_mm) = along(plan.job.units);
    let drawing = chart(&Chart {
        title: "Temperature along the pipe".into(),
        description: "Outside and bore at named instants, with the soak band hatched".into(),
        width_mm: PANEL_MM[0],
        height_mm: (PANEL_MM[1] * profiles.len() as f64).min(HIGHEST_MM),
        across: Across::numbers(
            format!("Distance from the weld center, {unit}"),
            left / unit_mm,
            right / unit_mm,
        ),
        panels: profiles.iter().map(|one| panel(plan, one)).collect(),
        events: Vec::new(),
    });
    let names: Vec<String> = profiles
        .iter()
        .map(|one| format!("{} ({})", one.name, moment_s(one.time_s)))
        .collect();
    vec![
        Block::heading(2, "Along the pipe and through the wall"),
        Block::figure(
            drawing,
            format!(
                "Outside and bore, from above: {}. Hatched: the soak band.",
                names.join("; ")
            ),
        ),
        through_wall(plan),
    ]
}

fn ends_mm(plan: &PlanSheet) -> [f64; 2] {
    let [left, right] = plan.setup.blanket.reach;
    [-REACHES * left.mm(), REACHES * right.mm()]
}

fn panel(plan: &PlanSheet, profile: &Profile) -> Panel {
    let units = plan.job.units;
    let [left, right] = ends_mm(plan);
    let (_, unit_mm) = along(units);
    let line = |points: &[(f64, f64)]| -> Vec<[f64; 2]> {
        let shown = points.iter().filter(|(x, _)| (left..=right).contains(x));
        shown
            .map(|(x, t)| [*x / unit_mm, degrees(*t, units)])
            .collect()
    };
    let mut panel = Panel::new(axis_words(units));
    panel.series = vec![
        Series::line("outside", &line(&profile.outside)),
        Series::line("bore", &line(&profile.bore)),
    ];
    let half = 0.5 * plan.bands.soak.width.mm() / unit_mm;
    panel.regions = vec![Region {
        from: -half,
        to: half,
        low: None,
        high: None,
        text: String::new(),
    }];
    panel
}

/// Outside, middle and bore of the wall; the course between is smooth.
fn through_wall(plan: &PlanSheet) -> Block {
    let units = plan.job.units;
    let mut rows = Vec::new();
    for profile in &plan.outcome.profiles {
        let name = format!("{}, {}", profile.name, moment_s(profile.time_s));
        rows.push(Row::Group(name.into()));
        for place in &profile.through_wall {
            let (Some(first), Some(last)) = (place.points.first(), place.points.last()) else {
                continue;
            };
            let middle = place.points[place.points.len() / 2];
            let deep = |mm: f64| dimension(Millimeters::from_mm(mm), units);
            rows.push(Row::cells([
                both_tape(Millimeters::from_mm(place.axial_mm), units),
                both_c(first.1, units),
                format!("{} at {}", both_c(middle.1, units), deep(middle.0)),
                format!("{} at {}", both_c(last.1, units), deep(last.0)),
                both_k(first.1 - last.1, units),
            ]));
        }
    }
    Block::Table(Table {
        caption: "Through the wall at the weld center and at the edges of the soak band.".into(),
        columns: vec![
            TableColumn::words("From the weld center"),
            TableColumn::numbers("Outside"),
            TableColumn::numbers("Middle"),
            TableColumn::numbers("Bore"),
            TableColumn::numbers("Outside less bore"),
        ],
        rows,
        first_cell_names_row: true,
    })
}
