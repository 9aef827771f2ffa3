//! The door: where a passphrase is asked for.

use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Instant;

use axum::Form;
use axum::extract::{ConnectInfo, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;

use super::Attempt;
use super::gate::{address, key_of, set_cookie};
use crate::desk::Desk;
use crate::frame::bare_page;

/// What the door's form sends.
#[derive(Deserialize)]
pub struct Asked {
    passphrase: String,
}

/// The door.
pub async fn show(State(desk): State<Arc<Desk>>) -> Response {
    if !desk.entry.is_guarded() {
        return Redirect::to("/").into_response();
    }
    door(None).into_response()
}

/// A passphrase was given.
pub async fn enter(
    State(desk): State<Arc<Desk>>,
    info: Option<axum::Extension<ConnectInfo<SocketAddr>>>,
    Form(asked): Form<Asked>,
) -> Response {
    let from = address(info.as_deref());
    match desk.entry.attempt(from, asked.passphrase).await {
        Attempt::Right(right) => match desk.entry.sessions.begin(right, Instant::now()) {
            Some((key, _)) => {
                let mut response = Redirect::to("/").into_response();
                set_cookie(&mut response, &key, desk.entry.encrypted);
                response
            }
            None => crate::refusal::Refusal::no_random_numbers().into_response(),
        },
        Attempt::Wrong => {
            let says = "No such passphrase. It stands on the screen of the machine that runs the desk, where it was first started; capitals, blanks and hyphens don’t matter.";
            (StatusCode::UNAUTHORIZED, door(Some(says))).into_response()
        }
        Attempt::Wait(seconds) => {
            let says = format!("Too many wrong passphrases from here. Try again in {seconds} s.");
            let retry = [("retry-after", seconds.to_string())];
            (StatusCode::TOO_MANY_REQUESTS, retry, door(Some(&says))).into_response()
        }
    }
}

/// Out again.
pub async fn leave(State(desk): State<Arc<Desk>>, headers: HeaderMap) -> Response {
    if let Some(key) = key_of(&headers) {
        desk.entry.sessions.end(key);
    }
    StatusCode::NO_CONTENT.into_response()
}

fn door(says: Option<&str>) -> Markup {
    bare_page(
        "The door",
        &html! {
            h1 { "This desk asks for a passphrase" }
            form.door method="post" action="/enter" {
                label for="passphrase" { "Passphrase" }
                input #passphrase name="passphrase" type="password" autocomplete="current-password" required autofocus
                    aria-describedby=[says.map(|_| "wrong")] aria-invalid=[says.map(|_| "true")];
                @if let Some(says) = says {
                    p #wrong .passed role="alert" { span.shape aria-hidden="true" { "■ " } (says) }
                }
                button type="submit" { "Enter" }
            }
            p.soft { "One passphrase gives the right to look, the other the right to act. Both were shown where the desk was started." }
        },
    )
}
