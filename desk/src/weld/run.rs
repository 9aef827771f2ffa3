//! Whole cycles, computed on demand: with progress, and stopped when asked.

use std::collections::BTreeMap;
use std::convert::Infallible;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::SystemTime;

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Sse;
use axum::response::sse::{Event, KeepAlive};
use futures_util::Stream;
use futures_util::stream::unfold;
use job::calendar::utc;
use job::document::plan_files;
use job::folder::{JOB_FILE, JobFolder, NewFile};
use job::plan::{Plan, Progress, plan};
use job::shape::spoken;
use serde::Serialize;
use tokio::sync::{Semaphore, SemaphorePermit, watch};

use super::faults::in_words;
use crate::desk::Desk;
use crate::refusal::Refusal;

/// How a run stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Standing {
    /// Nothing runs.
    Idle,
    /// Another weld's cycle is being computed; this one is next.
    Waiting,
    /// It runs.
    Running {
        /// Part that is done.
        part: f64,
        /// Stage of the cycle.
        stage: &'static str,
        /// Time of the cycle in h.
        time_h: f64,
        /// Control temperature in °C.
        control_c: f64,
    },
    /// The plan is saved.
    Done,
    /// It was stopped; the plan from before stands.
    Stopped,
    /// It could not be made.
    Failed {
        /// Why.
        says: String,
    },
}

struct Run {
    stop: Arc<AtomicBool>,
    standing: watch::Sender<Standing>,
}

/// Cycles that are being computed, by the name of the weld.
pub struct Runs {
    by_weld: Mutex<BTreeMap<String, Run>>,
    /// One cycle at a time; a second would only slow both.
    turn: Arc<Semaphore>,
    /// One quick answer at a time.
    quick: Semaphore,
}

impl Default for Runs {
    fn default() -> Runs {
        Runs {
            by_weld: Mutex::default(),
            turn: Arc::new(Semaphore::new(1)),
            quick: Semaphore::new(1),
        }
    }
}

impl Runs {
    /// Waits for the turn to compute a quick answer.
    pub async fn quick_turn(&self) -> Option<SemaphorePermit<'_>> {
        self.quick.acquire().await.ok()
    }

    /// A new run; `None` where one is under way.
    fn begin(&self, weld: &str) -> Option<(Arc<AtomicBool>, watch::Sender<Standing>)> {
        let mut runs = self.by_weld.lock().expect("no holder panics");
        let is_busy = runs.get(weld).is_some_and(|run| {
            matches!(
                *run.standing.borrow(),
                Standing::Waiting | Standing::Running { .. }
            )
        });
        if is_busy {
            return None;
        }
        let stop = Arc::new(AtomicBool::new(false));
        let standing = watch::Sender::new(Standing::Waiting);
        runs.insert(
            weld.to_owned(),
            Run {
                stop: stop.clone(),
                standing: standing.clone(),
            },
        );
        Some((stop, standing))
    }

    /// Whether a cycle of the weld is being computed or waits for its turn.
    pub fn is_busy(&self, weld: &str) -> bool {
        let standing = self.watch(weld).borrow().clone();
        matches!(standing, Standing::Waiting | Standing::Running { .. })
    }

    fn watch(&self, weld: &str) -> watch::Receiver<Standing> {
        let runs = self.by_weld.lock().expect("no holder panics");
        match runs.get(weld) {
            Some(run) => run.standing.subscribe(),
            None => watch::channel(Standing::Idle).1,
        }
    }

    fn stop(&self, weld: &str) {
        if let Some(run) = self.by_weld.lock().expect("no holder panics").get(weld) {
            run.stop.store(true, Ordering::Relaxed);
        }
    }
}

/// Begins to compute the cycle of the job file as it is saved.
pub async fn begin(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Result<StatusCode, Refusal> {
    let folder = desk.folder(&name)?;
    let Some((stop, standing)) = desk.runs.begin(&name) else {
        return Err(Refusal::new(
            StatusCode::CONFLICT,
            "The cycle of this weld is being computed already.",
        ));
    };
    let turn = desk.runs.turn.clone();
    tokio::spawn(async move {
        let _turn = turn.acquire_owned().await;
        let ended = standing.clone();
        let computed = tokio::task::spawn_blocking(move || compute(&folder, &stop, &standing));
        ended.send_replace(computed.await.unwrap_or_else(|_| Standing::Failed {
            says: "The computation broke down; nothing was changed.".to_owned(),
        }));
    });
    Ok(StatusCode::ACCEPTED)
}

/// Stops it.
pub async fn cancel(State(desk): State<Arc<Desk>>, Path(name): Path<String>) -> StatusCode {
    desk.runs.stop(&name);
    StatusCode::ACCEPTED
}

/// How it stands, as it changes.
pub async fn events(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let watched = desk.runs.watch(&name);
    let stream = unfold((watched, true), |(mut watched, first)| async move {
        if !first {
            watched.changed().await.ok()?;
        }
        let standing = watched.borrow_and_update().clone();
        let event = Event::default().json_data(&standing).unwrap_or_default();
        Some((Ok(event), (watched, false)))
    });
    Sse::new(stream).keep_alive(KeepAlive::default())
}

fn compute(folder: &JobFolder, stop: &AtomicBool, standing: &watch::Sender<Standing>) -> Standing {
    let failed = |says: String| Standing::Failed { says };
    let told = |progress: Progress| {
        standing.send_replace(Standing::Running {
            part: progress.part,
            stage: progress.stage.words(),
            time_h: progress.time_s / 3600.0,
            control_c: progress.control_c,
        });
        match stop.load(Ordering::Relaxed) {
            true => ControlFlow::Break(()),
            false => ControlFlow::Continue(()),
        }
    };
    let made = (|| {
        let file = folder.job_file().map_err(|error| error.to_string())?;
        let confirmed = folder.confirmed().map_err(|refused| refused.to_string())?;
        let job = job::read_with(&file.text, JOB_FILE, &confirmed)
            .map_err(|refusal| in_words(&refusal, &file.text))?;
        let plan = plan(&job, &mut { told }).map_err(|error| spoken(&error.to_string()))?;
        let mut files =
            plan_files(&plan, utc(SystemTime::now())).map_err(|error| error.to_string())?;
        files.push(NewFile {
            name: "frames.json".to_owned(),
            bytes: frames(&plan)?,
        });
        folder.save_plan(&files).map_err(|error| error.to_string())
    })();
    match made {
        Ok(()) => Standing::Done,
        Err(_) if stop.load(Ordering::Relaxed) => Standing::Stopped,
        Err(says) => failed(says),
    }
}

/// Points along the pipe in a picture of the walk through time.
const POINTS: usize = 61;

/// How far the pictures go, as a multiple of the reach of the blanket.
const REACHES: f64 = 1.25;

#[derive(Serialize)]
struct Frames {
    places_mm: Vec<f64>,
    frames: Vec<Frame>,
}

#[derive(Serialize)]
struct Frame {
    time_s: f64,
    outside_c: Vec<f64>,
    bore_c: Vec<f64>,
}

/// The pictures along the pipe, thinned to what a page can show: they are for looking, the plan has the numbers.
fn frames(plan: &Plan) -> Result<Vec<u8>, String> {
    let reach = plan.setup.blanket.reach;
    let (from, to) = (-REACHES * reach[0].mm(), REACHES * reach[1].mm());
    let places_mm: Vec<f64> = (0..POINTS)
        .map(|i| (from + (to - from) * i as f64 / (POINTS - 1) as f64).round())
        .collect();
    let along = |line: &[(f64, f64)]| {
        places_mm
            .iter()
            .map(|z| (10.0 * at(line, *z)).round() / 10.0)
            .collect()
    };
    let frames = plan.outcome.frames.iter().map(|frame| Frame {
        time_s: frame.time_s.round(),
        outside_c: along(&frame.outside),
        bore_c: along(&frame.bore),
    });
    let frames = Frames {
        frames: frames.collect(),
        places_mm: places_mm.clone(),
    };
    serde_json::to_vec(&frames).map_err(|error| error.to_string())
}

/// A line read at a place; its end value beyond its ends.
fn at(line: &[(f64, f64)], z: f64) -> f64 {
    let after = line.partition_point(|point| point.0 < z);
    match (line.get(after.wrapping_sub(1)), line.get(after)) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (z - a.0) / (b.0 - a.0).max(f64::MIN_POSITIVE),
        (Some(end), None) | (None, Some(end)) => end.1,
        (None, None) => 0.0,
    }
}
