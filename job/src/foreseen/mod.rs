//! What stands in the way of a plan and only the model can say: the bore, the source, the neighbors, the bands.

mod band;
mod cable;
mod metal;
mod supply;

use checks::Verdict;
use cycle::outcome::Outcome;
use cycle::setup::Coil;

use crate::model::Job;
use crate::plan::Prepared;

pub(crate) use band::{HeatedSide, heated_by_turns};
use band::{blanket, heated_band};
use cable::cable;
pub use cable::{in_blanket_words, worst_in_blanket};
use metal::{beyond, neighbor, soak_band};
use supply::{computation, source};

/// One thing that the model foresees.
#[derive(Clone, Debug, PartialEq)]
pub struct Foreseen {
    /// What it is about.
    pub about: About,
    /// Whether it stands in the way.
    pub verdict: Verdict,
    /// What will be, in one sentence.
    pub says: String,
    /// What can be done about it, where something can.
    pub remedy: Option<String>,
    /// How far past what is wanted, as a part of it: larger is worse. 0 where nothing is wrong.
    pub severity: f64,
}

/// What a foreseen thing is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum About {
    /// The soak band with its bore.
    SoakBand,
    /// The metal beyond the soak band.
    Beyond,
    /// The source.
    Source,
    /// A neighbor, by name.
    Neighbor(String),
    /// The width that is heated.
    HeatedBand,
    /// The width that is wrapped.
    Blanket,
    /// The cable where it does not lie on the blanket.
    Cable,
    /// Whether the computation closed its books.
    Computation,
}

impl About {
    /// The words that stand on a plan.
    pub fn words(&self) -> String {
        match self {
            About::SoakBand => "soak band, bore included".into(),
            About::Beyond => "metal beyond the soak band".into(),
            About::Source => "source".into(),
            About::Neighbor(name) => name.clone(),
            About::HeatedBand => "heated band".into(),
            About::Blanket => "blanket".into(),
            About::Cable => "cable".into(),
            About::Computation => "computation".into(),
        }
    }
}

/// Everything that the model foresees, worst first.
pub(crate) fn foreseen(
    job: &Job,
    prepared: &Prepared,
    coil: &Coil,
    outcome: &Outcome,
) -> Vec<Foreseen> {
    let mut list = vec![
        soak_band(prepared, outcome, job.units),
        beyond(prepared, outcome, job.units),
        source(outcome, job.units),
    ];
    list.extend(
        outcome
            .neighbors
            .iter()
            .filter_map(|n| neighbor(n, job.units)),
    );
    let proven = list[0].verdict == Verdict::Met;
    list.push(heated_band(job, prepared, coil, proven));
    list.push(blanket(job, prepared, proven));
    list.extend(cable(job, prepared, coil, outcome));
    list.push(computation(outcome));
    list.sort_by(|a, b| {
        b.verdict
            .cmp(&a.verdict)
            .then(b.severity.total_cmp(&a.severity))
    });
    list
}

fn fine(about: About, says: String) -> Foreseen {
    Foreseen {
        about,
        verdict: Verdict::Met,
        says,
        remedy: None,
        severity: 0.0,
    }
}
