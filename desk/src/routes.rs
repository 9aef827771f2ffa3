//! Every address of the desk, and what stands before and after each.

use std::sync::Arc;

use axum::Router;
use axum::extract::{DefaultBodyLimit, Request};
use axum::http::{HeaderName, HeaderValue};
use axum::middleware::{Next, from_fn, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post, put};

use crate::desk::Desk;
use crate::refusal::Refusal;
use crate::{assets, board, entry, record, verify, weld};

/// The largest body that is read into memory: job files and weld lists are text.
const LARGEST_TEXT: usize = 2 << 20;

/// What every answer says: load nothing from elsewhere, stand in no foreign frame, tell nobody where the visitor is.
/// Style attributes are allowed because drawings carry their size in one.
const HEADERS: [(&str, &str); 7] = [
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; style-src-attr 'unsafe-inline'; img-src 'self' data:; \
         font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    (
        "permissions-policy",
        "camera=(), microphone=(), geolocation=(), interest-cohort=()",
    ),
];

/// Every address of the desk.
pub fn routes(desk: Arc<Desk>) -> Router {
    let inside = Router::new()
        .route("/", get(board::show))
        .route("/welds", post(board::create))
        .route("/welds/check", post(board::check_list))
        .route("/welds/make", post(board::make_from_list))
        .route("/welds/weld-list.csv", get(board::template))
        .route(
            "/verify",
            get(verify::show)
                .post(verify::verify)
                .layer(DefaultBodyLimit::max(verify::LARGEST_RECORD)),
        )
        .route("/weld/{name}", get(weld::show).delete(weld::remove))
        .route("/weld/{name}/number", post(weld::rename))
        .route(
            "/weld/{name}/job.toml",
            get(weld::read_job).put(weld::save_job),
        )
        .route(
            "/weld/{name}/look",
            get(weld::look_at_saved).post(weld::look),
        )
        .route(
            "/weld/{name}/rest",
            get(weld::rest_of_saved).post(weld::rest),
        )
        .route("/weld/{name}/cycle", post(weld::begin).delete(weld::cancel))
        .route("/weld/{name}/cycle/events", get(weld::events))
        .route("/weld/{name}/plan/{file}", get(weld::plan_file))
        .route("/weld/{name}/demo-log", post(board::demo_log))
        .route("/weld/{name}/running", get(weld::running))
        .route("/weld/{name}/record", get(record::show).post(record::keep))
        .route("/weld/{name}/record/judged", get(record::judged))
        .route("/weld/{name}/record/chart", get(record::chart))
        .route("/weld/{name}/record/answers", post(record::answer))
        .route(
            "/weld/{name}/record/decisions",
            post(record::decide).delete(record::take_back),
        )
        .route("/weld/{name}/record/answers-for", post(record::answer_for))
        .route("/weld/{name}/record/accepted", post(record::accept))
        .route("/weld/{name}/record/{file}", get(record::record_file))
        .route(
            "/weld/{name}/logs/{file}",
            put(weld::drop_log)
                .layer(DefaultBodyLimit::disable())
                .delete(record::set_aside),
        )
        .route_layer(from_fn_with_state(desk.clone(), entry::gate));
    let outside = Router::new()
        .route("/enter", get(entry::show).post(entry::enter))
        .route("/leave", post(entry::leave))
        .route("/assets/{version}/{name}", get(assets::asset));
    inside
        .merge(outside)
        .fallback(async || Refusal::no_page().into_response())
        .layer(DefaultBodyLimit::max(LARGEST_TEXT))
        .layer(from_fn_with_state(desk.clone(), entry::guarded))
        .layer(from_fn(with_headers))
        .with_state(desk)
}

async fn with_headers(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        // The record as a page says itself what it may, which is less.
        headers
            .entry(HeaderName::from_static(name))
            .or_insert(HeaderValue::from_static(value));
    }
    headers
        .entry("cache-control")
        .or_insert(HeaderValue::from_static("no-store"));
    response
}
