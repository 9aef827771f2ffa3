//! The quick answer to a coil as it is wound now.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use cycle::outcome::Spot;
use job::at_rest::{AtRest, at_rest};
use job::folder::{JOB_FILE, JobFolder};
use job::plan::Prepared;
use job::sheet::section_pictures;
use quantity::{Celsius, Units};
use serde::{Deserialize, Serialize};

use super::drawing::{Drawing, drawing};
use crate::desk::Desk;
use crate::refusal::Refusal;

/// What a page sends.
#[derive(Debug, Deserialize)]
pub struct Asked {
    text: String,
}

/// A number with its name, so that the page can show how it changed.
#[derive(Debug, Serialize)]
pub struct Number {
    name: &'static str,
    value: f64,
    unit: &'static str,
    digits: usize,
    /// Where, or what limits it.
    beside: String,
    /// Whether it needs a look, in words.
    look: Option<String>,
}

/// The answer.
#[derive(Debug, Serialize)]
pub struct Answer {
    numbers: Vec<Number>,
    /// Along the outside and along the bore: (mm, °C).
    outside: Vec<(f64, f64)>,
    bore: Vec<(f64, f64)>,
    /// Temperature, and loss with field lines.
    pictures: [String; 2],
    drawing: Option<Drawing>,
    frequency_khz: f64,
}

/// Everything at rest at the set point, with the coil of a text.
pub async fn rest(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    Json(asked): Json<Asked>,
) -> Result<Json<Answer>, Refusal> {
    let folder = desk.folder(&name)?;
    answered(&desk, &folder, asked.text).await
}

/// The same with the coil of the saved file.
pub async fn rest_of_saved(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Result<Json<Answer>, Refusal> {
    let folder = desk.folder(&name)?;
    let text = folder.job_file()?.text;
    answered(&desk, &folder, text).await
}

async fn answered(desk: &Desk, folder: &JobFolder, text: String) -> Result<Json<Answer>, Refusal> {
    let unreadable = |words: String| Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, words);
    let confirmed = folder
        .confirmed()
        .map_err(|refused| unreadable(refused.to_string()))?;
    let job = job::read_with(&text, JOB_FILE, &confirmed)
        .map_err(|refusal| unreadable(refusal.to_string()))?;
    let _turn = desk.runs.quick_turn().await;
    let answered = tokio::task::spawn_blocking(move || {
        let (prepared, rested) = at_rest(&job).map_err(|error| unreadable(error.to_string()))?;
        Ok(answer(&job, &prepared, &rested))
    });
    answered.await.map_err(|_| Refusal::broke_down())?.map(Json)
}

fn answer(job: &job::Job, prepared: &Prepared, rested: &AtRest) -> Answer {
    let pictures = section_pictures(
        &prepared.setup,
        job.units,
        &rested.snapshot,
        "at rest at the set point",
    );
    Answer {
        numbers: numbers(job.units, prepared, rested),
        outside: rested.outside.clone(),
        bore: rested.bore.clone(),
        pictures: pictures.map(|picture| report::svg_inline(&picture)),
        drawing: drawing(job, prepared, Some(&rested.coil)),
        frequency_khz: rested.frequency_hz / 1e3,
    }
}

fn numbers(units: Units, prepared: &Prepared, rested: &AtRest) -> Vec<Number> {
    let [low, high] = prepared.setup.programme.hold_range;
    let (coldest, hottest) = (&rested.soak_coldest, &rested.soak_hottest);
    let degrees = |c: f64| match units {
        Units::Si => (c, "°C"),
        Units::Us => (Celsius::from_c(c).f(), "°F"),
    };
    let difference = |k: f64| match units {
        Units::Si => (k, "K"),
        Units::Us => (1.8 * k, "°F"),
    };
    let number = |name, (value, unit): (f64, &'static str), digits, beside: String, look| Number {
        name,
        value,
        unit,
        digits,
        beside,
        look,
    };
    let below = (coldest.temperature_c < low.c()).then(|| "below the hold range".to_owned());
    let above = (hottest.temperature_c > high.c()).then(|| "above the hold range".to_owned());
    let kilowatts = |w: f64| (w / 1e3, "kW");
    let reserve = |percent: f64| (percent < 0.0).then(|| "the source is short".to_owned());
    let [power, current, voltage] = rested.reserves_percent;
    vec![
        number(
            "Coldest of the soak band",
            degrees(coldest.temperature_c),
            0,
            place(coldest, units),
            below,
        ),
        number(
            "Hottest of the soak band",
            degrees(hottest.temperature_c),
            0,
            place(hottest, units),
            above,
        ),
        number(
            "Spread in the soak band",
            difference(hottest.temperature_c - coldest.temperature_c),
            0,
            String::new(),
            None,
        ),
        number(
            "Outside less bore",
            difference(rested.surface_to_bore.difference_k),
            0,
            along(rested.surface_to_bore.axial_mm, units),
            None,
        ),
        number(
            "Power into the metal",
            kilowatts(rested.metal_power_w),
            1,
            String::new(),
            None,
        ),
        number(
            "Lost in cable and leads",
            kilowatts(rested.coil_loss_w + rested.leads_loss_w),
            2,
            String::new(),
            None,
        ),
        number(
            "Power out of the source",
            kilowatts(rested.source_power_w()),
            1,
            reserve_words(power),
            reserve(power),
        ),
        number(
            "Current",
            (rested.current_rms_a, "A"),
            0,
            reserve_words(current),
            reserve(current),
        ),
        number(
            "Voltage",
            (rested.voltage_rms_v, "V"),
            0,
            reserve_words(voltage),
            reserve(voltage),
        ),
    ]
}

fn reserve_words(percent: f64) -> String {
    format!("{percent:.0} % in reserve")
}

fn place(spot: &Spot, units: Units) -> String {
    let depth = match units {
        Units::Si => format!("{:.0}", spot.depth_mm),
        Units::Us => format!("{:.2}", spot.depth_mm / 25.4),
    };
    let unit = length_unit(units);
    let is_outside = depth.parse() == Ok(0.0);
    let depth = match is_outside {
        true => "at the outside".to_owned(),
        false => format!("{depth} {unit} deep"),
    };
    format!("{}, {depth}", along(spot.axial_mm, units))
}

fn along(mm: f64, units: Units) -> String {
    let unit = length_unit(units);
    let far = match units {
        Units::Si => format!("{:.0}", mm.abs()),
        Units::Us => format!("{:.1}", mm.abs() / 25.4),
    };
    match mm {
        _ if far.parse() == Ok(0.0) => "at the weld center".to_owned(),
        mm if mm < 0.0 => format!("−{far} {unit} from the weld"),
        _ => format!("+{far} {unit} from the weld"),
    }
}

fn length_unit(units: Units) -> &'static str {
    match units {
        Units::Si => "mm",
        Units::Us => "in",
    }
}
