//! Logs that are dropped in: straight to the disk as they come, whole under their name or not at all. Their size is
//! limited by the room on the disk; what can be read of them is another thing (`record`).

use std::sync::Arc;
use std::time::Duration;

use axum::body::{Body, BodyDataStream};
use axum::extract::{Path, State};
use axum::http::header::CONTENT_LENGTH;
use axum::http::{HeaderMap, StatusCode};
use futures_util::StreamExt;
use job::folder::{FolderError, JobFolder, LogError, Part};
use tokio::fs::File;
use tokio::io::AsyncWriteExt;
use tokio::time::timeout;

use crate::desk::Desk;
use crate::refusal::Refusal;

/// A sender that is silent for so long is gone (common practice, no source).
const SILENCE: Duration = Duration::from_secs(60);

/// Takes a log as it comes.
pub async fn drop_log(
    State(desk): State<Arc<Desk>>,
    Path((name, file)): Path<(String, String)>,
    headers: HeaderMap,
    body: Body,
) -> Result<StatusCode, Refusal> {
    let stated = headers
        .get(CONTENT_LENGTH)
        .and_then(|value| value.to_str().ok()?.parse::<u64>().ok());
    let mut stream = body.into_data_stream();
    let mut come = 0;
    let taken = match desk.folder(&name) {
        Ok(folder) => taken(&folder, &file, &mut stream, &mut come).await,
        Err(refusal) => Err(refusal),
    };
    if taken.is_err() {
        spill(&mut stream, stated.unwrap_or(0).saturating_sub(come)).await;
    }
    taken.map(|()| StatusCode::CREATED)
}

async fn taken(
    folder: &JobFolder,
    name: &str,
    stream: &mut BodyDataStream,
    come: &mut u64,
) -> Result<(), Refusal> {
    let logs = folder.logs_path();
    let part = Part::begin(&logs, name).map_err(refused)?;
    let mut file = File::from_std(part.writer()?);
    let not_written = |problem| FolderError::system("writing", &logs.join(name))(problem);
    while let Some(piece) = next(stream).await? {
        *come += piece.len() as u64;
        file.write_all(&piece).await.map_err(not_written)?;
    }
    file.flush().await.map_err(not_written)?;
    if *come == 0 {
        return Err(Refusal::new(
            StatusCode::UNPROCESSABLE_ENTITY,
            "The file is empty; nothing was kept.",
        ));
    }
    let kept = tokio::task::spawn_blocking(move || part.keep());
    kept.await
        .map_err(|_| Refusal::broke_down())?
        .map_err(refused)
}

async fn next(stream: &mut BodyDataStream) -> Result<Option<axum::body::Bytes>, Refusal> {
    let broke_off = |how: &str| {
        let says = format!("The log broke off on its way{how}; nothing was kept. Drop it again.");
        Refusal::new(StatusCode::BAD_REQUEST, says)
    };
    match timeout(SILENCE, stream.next()).await {
        Ok(Some(Ok(piece))) => Ok(Some(piece)),
        Ok(None) => Ok(None),
        Ok(Some(Err(_))) => Err(broke_off("")),
        Err(_) => Err(broke_off(&format!(
            ": nothing came for {} s",
            SILENCE.as_secs()
        ))),
    }
}

/// A browser hears a refusal only once it has sent what it announced, so the rest is let run out.
async fn spill(stream: &mut BodyDataStream, mut left: u64) {
    while left > 0
        && let Ok(Some(piece)) = next(stream).await
    {
        left = left.saturating_sub(piece.len() as u64);
    }
}

fn refused(error: FolderError) -> Refusal {
    match error {
        FolderError::Taken { path } => LogError::Taken {
            name: path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned(),
        }
        .into(),
        other => other.into(),
    }
}
