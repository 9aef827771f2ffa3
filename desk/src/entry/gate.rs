//! The gate before every page: whose request it is, whether it may, and whether it comes from a page of the desk.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;
use std::time::Instant;

use axum::extract::{ConnectInfo, Request, State};
use axum::http::header::{COOKIE, HOST, ORIGIN, SET_COOKIE};
use axum::http::{HeaderMap, HeaderValue, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};

use super::{Key, Right, Session};
use crate::desk::Desk;
use crate::refusal::Refusal;

/// Name of the cookie.
pub(super) const COOKIE_NAME: &str = "desk";

/// The header in which pages send their token.
const TOKEN: &str = "x-desk-token";

/// What is sent here is only looked at, so the right to look is enough.
const LOOKS_ONLY: &str = "/verify";

/// Whose request it is.
#[derive(Clone, Debug)]
pub struct Visitor {
    /// What they may do.
    pub right: Right,
    /// The token of their pages.
    pub token: String,
}

/// Before everything: the request names this desk and none that a foreign page has made up, and an act comes from a
/// page of the desk.
pub async fn guarded(State(desk): State<Arc<Desk>>, request: Request, next: Next) -> Response {
    let headers = request.headers();
    let Some(host) = text(headers, HOST.as_str()) else {
        return Refusal::foreign().into_response();
    };
    if !desk.entry.is_guarded() && !is_loopback(host) {
        return Refusal::foreign().into_response();
    }
    if is_act(request.method()) && !comes_from(headers, host) {
        return Refusal::foreign().into_response();
    }
    next.run(request).await
}

/// Before every page but the door: a session with the right for it.
pub async fn gate(State(desk): State<Arc<Desk>>, mut request: Request, next: Next) -> Response {
    let now = Instant::now();
    let is_act = is_act(request.method());
    let known = key_of(request.headers()).and_then(|key| desk.entry.sessions.of(key, now));
    let mut fresh = None;
    let session = match known {
        Some(session) => session,
        None if desk.entry.is_guarded() => {
            return match is_act || !wants_page(request.headers()) {
                true => Refusal::not_in().into_response(),
                false => Redirect::to("/enter").into_response(),
            };
        }
        None => match desk.entry.sessions.begin(Right::Act, now) {
            Some((key, session)) => {
                fresh = Some(key);
                session
            }
            None => return Refusal::no_random_numbers().into_response(),
        },
    };
    let changes_nothing = request.uri().path() == LOOKS_ONLY;
    if is_act && let Err(refusal) = may_act(&session, request.headers(), changes_nothing) {
        return refusal.into_response();
    }
    request.extensions_mut().insert(Visitor {
        right: session.right,
        token: session.token,
    });
    let mut response = next.run(request).await;
    if let Some(key) = fresh {
        set_cookie(&mut response, &key, desk.entry.encrypted);
    }
    response
}

fn may_act(session: &Session, headers: &HeaderMap, changes_nothing: bool) -> Result<(), Refusal> {
    if session.right < Right::Act && !changes_nothing {
        return Err(Refusal::only_looking());
    }
    match text(headers, TOKEN) {
        Some(token) if same(token, &session.token) => Ok(()),
        _ => Err(Refusal::old_page()),
    }
}

fn is_act(method: &Method) -> bool {
    !matches!(*method, Method::GET | Method::HEAD)
}

fn wants_page(headers: &HeaderMap) -> bool {
    text(headers, "accept").is_some_and(|accept| accept.contains("text/html"))
}

/// A browser says which page an act comes from; one that says nothing is none that another site could have sent.
fn comes_from(headers: &HeaderMap, host: &str) -> bool {
    match text(headers, ORIGIN.as_str()) {
        None => true,
        Some(origin) => origin
            .split_once("://")
            .is_some_and(|(_, of)| of.eq_ignore_ascii_case(host)),
    }
}

/// Another site can make its own name lead to this machine, but then the name stands in the request.
fn is_loopback(host: &str) -> bool {
    let name = match host.strip_prefix('[') {
        Some(six) => six.split(']').next().unwrap_or_default(),
        None => host.rsplit_once(':').map_or(host, |(name, _)| name),
    };
    name.eq_ignore_ascii_case("localhost")
        || name.parse::<IpAddr>().is_ok_and(|ip| ip.is_loopback())
}

fn text<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    headers.get(name)?.to_str().ok()
}

/// The key in the cookie.
pub(super) fn key_of(headers: &HeaderMap) -> Option<&str> {
    let cookies = headers
        .get_all(COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok());
    cookies
        .flat_map(|cookies| cookies.split(';'))
        .filter_map(|cookie| cookie.trim().split_once('='))
        .find(|(name, _)| *name == COOKIE_NAME)
        .map(|(_, key)| key)
}

/// Puts a key into the visitor's cookie.
pub(super) fn set_cookie(response: &mut Response, key: &Key, encrypted: bool) {
    let secure = if encrypted { "; Secure" } else { "" };
    let cookie = format!(
        "{COOKIE_NAME}={}; Path=/; HttpOnly; SameSite=Strict{secure}",
        key.0
    );
    if let Ok(value) = HeaderValue::from_str(&cookie) {
        response.headers_mut().append(SET_COOKIE, value);
    }
}

/// Whether two texts are the same, in a time that does not tell where they differ.
fn same(a: &str, b: &str) -> bool {
    let differences = a
        .bytes()
        .zip(b.bytes())
        .fold(0, |sum, (a, b)| sum | (a ^ b));
    a.len() == b.len() && differences == 0
}

/// The address that a request comes from; loopback where the test has none.
pub(super) fn address(info: Option<&ConnectInfo<SocketAddr>>) -> IpAddr {
    info.map_or(IpAddr::from([127, 0, 0, 1]), |info| info.0.ip())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_names_of_this_machine_are_loopback() {
        for host in [
            "localhost:7010",
            "127.0.0.1",
            "127.0.0.1:80",
            "[::1]:7010",
            "LOCALHOST",
        ] {
            assert!(is_loopback(host), "{host}");
        }
        for host in [
            "localhost.example:7010",
            "evil.example",
            "10.0.0.1:7010",
            "",
            "[::2]",
        ] {
            assert!(!is_loopback(host), "{host}");
        }
    }

    #[test]
    fn texts_of_different_length_are_different() {
        assert!(same("abc", "abc") && !same("abc", "abd") && !same("abc", "ab") && !same("", "a"));
    }
}
