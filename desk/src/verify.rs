//! The verify page: a record that somebody sends is made again from what it carries, and compared.

use std::sync::Arc;

use axum::Extension;
use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Json;
use job::folder::Project;
use maud::{Markup, html};
use serde::{Deserialize, Serialize};

use crate::desk::Desk;
use crate::entry::Visitor;
use crate::frame::{Frame, page};
use crate::refusal::Refusal;

/// The largest record, in bytes: it is opened whole in memory. The logs attached to it are compressed.
pub const LARGEST_RECORD: usize = 128 << 20;

/// The page.
pub async fn show(State(desk): State<Arc<Desk>>, Extension(visitor): Extension<Visitor>) -> Markup {
    let project = desk.project.name();
    let frame = Frame {
        title: "Verify a record",
        project: &project,
        visitor: &visitor,
        has_door: desk.entry.is_guarded(),
        script: "verify.js",
    };
    page(
        &frame,
        &html! {
            h1 { "Verify a record" }
            p { "A record carries the job file, the logger’s files and the answers given about them. Here everything is made again from these and compared: fingerprints, findings and every byte. Nothing is kept." }
            div #drop data-largest=(LARGEST_RECORD) {
                label for="pdf" { "Drop the PDF of a record here, or choose it" }
                input #pdf type="file" accept=".pdf,application/pdf";
                p #drop-says role="status" {}
            }
            section #verified aria-labelledby="verified-heading" hidden {
                h2 #verified-heading { "What came of it" }
                p.statement { strong #stands {} }
                p #verdict role="status" {}
                p.look #replaced role="status" hidden {}
                pre.lines #lines tabindex="0" role="region" aria-label="What was compared" {}
            }
        },
    )
}

/// The name of the file, for the words.
#[derive(Debug, Deserialize)]
pub struct Named {
    name: String,
}

/// What came of it.
#[derive(Debug, Serialize)]
pub struct Verdict {
    agrees: bool,
    /// Whether fingerprints and findings agree and only bytes of the document differ.
    only_bytes_differ: bool,
    /// Which weld it is of, and whether the limits were met.
    stands: String,
    /// The lines that `soakwright verify` prints, what stands above first.
    lines: Vec<String>,
    /// Which later revision of a weld of this project replaced it.
    replaced: Option<String>,
}

/// Makes a record again and compares.
pub async fn verify(
    State(desk): State<Arc<Desk>>,
    Query(named): Query<Named>,
    pdf: Result<Bytes, BytesRejection>,
) -> Result<Json<Verdict>, Refusal> {
    let pdf = pdf.map_err(|rejection| not_taken(&rejection))?;
    let _turn = desk.runs.quick_turn().await;
    let project = desk.project.clone();
    let made = tokio::task::spawn_blocking(move || {
        let verified = job::record::verify(&pdf, env!("CARGO_PKG_VERSION"));
        verified.map(|verified| Verdict {
            agrees: verified.agrees(),
            only_bytes_differ: verified.only_bytes_differ(),
            stands: verified.stands(),
            lines: verified.lines(&named.name),
            replaced: replaced(&project, &pdf),
        })
    });
    let verdict = made.await.map_err(|_| Refusal::broke_down())?;
    verdict
        .map(Json)
        .map_err(|error| Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, error.to_string()))
}

/// What the folders of a project know of a later revision.
fn replaced(project: &Project, pdf: &[u8]) -> Option<String> {
    let mut folders = project.folders().into_iter();
    folders.find_map(|folder| {
        let replaced = job::record::replaced(&folder.record_path(), pdf)?;
        Some(format!(
            "In the folder of {}, {}.",
            folder.name(),
            replaced.words()
        ))
    })
}

fn not_taken(rejection: &BytesRejection) -> Refusal {
    match rejection.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Refusal::new(
            StatusCode::PAYLOAD_TOO_LARGE,
            format!(
                "The file is larger than {} MB. A record is opened whole in memory, so no larger one is taken here; soakwright \
                 verify takes it on a machine with enough memory.",
                LARGEST_RECORD >> 20
            ),
        ),
        status => Refusal::new(
            status,
            "The file broke off on its way; nothing was compared.",
        ),
    }
}
