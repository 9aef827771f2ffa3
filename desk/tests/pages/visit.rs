//! A visitor without a browser.

use std::sync::Arc;

use axum::Router;
use axum::body::Body;
use axum::http::{Request, Response, StatusCode};
use desk::{Desk, Entry, Passphrases, routes};
use http_body_util::BodyExt;
use job::folder::Project;
use tempfile::TempDir;
use tower::ServiceExt;

pub const DEMO: &str = include_str!("../../../jobs/carbon-steel-line.toml");
pub const HOST: &str = "127.0.0.1:7010";

/// A desk over a project with one weld, `W1`.
pub struct Site {
    pub folder: TempDir,
    pub project: Project,
    pub routes: Router,
}

impl Site {
    pub fn on_loopback() -> Site {
        Site::with(Entry::at_the_machine())
    }

    pub fn on_site() -> Site {
        let known = Passphrases::of("look", "act").expect("hashed");
        Site::with(Entry::on_site(known, true))
    }

    fn with(entry: Entry) -> Site {
        let folder = tempfile::tempdir().expect("a folder");
        let project = Project::at(folder.path());
        project.create("W1", DEMO).expect("made");
        let desk: Arc<Desk> = Desk::new(project.clone(), entry).expect("a desk");
        Site {
            folder,
            project,
            routes: routes(desk),
        }
    }

    pub async fn send(&self, request: Request<Body>) -> Answer {
        let response = self
            .routes
            .clone()
            .oneshot(request)
            .await
            .expect("an answer");
        Answer::of(response).await
    }

    pub async fn get(&self, path: &str, visitor: &Visitor) -> Answer {
        self.send(visitor.request("GET", path, Body::empty())).await
    }

    /// The first event of a stream that does not end.
    pub async fn first_event(&self, path: &str, visitor: &Visitor) -> serde_json::Value {
        let request = visitor.request("GET", path, Body::empty());
        let response = self.routes.clone().oneshot(request).await;
        let mut body = response.expect("an answer").into_body();
        let frame = body.frame().await.expect("an event").expect("an event");
        let bytes = frame.into_data().expect("data");
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let data = text.trim().strip_prefix("data:").expect("an event");
        serde_json::from_str(data).expect("JSON")
    }

    /// Somebody who has opened the board.
    pub async fn visitor(&self) -> Visitor {
        let opened = self
            .send(Visitor::default().request("GET", "/", Body::empty()))
            .await;
        Visitor {
            cookie: opened.cookie(),
            token: opened.token(),
        }
    }

    /// Somebody who has entered by the door.
    pub async fn entered(&self, passphrase: &str) -> Visitor {
        let answer = self.knock(passphrase).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER);
        let mut visitor = Visitor {
            cookie: answer.cookie(),
            token: String::new(),
        };
        visitor.token = self.get("/", &visitor).await.token();
        visitor
    }

    pub async fn knock(&self, passphrase: &str) -> Answer {
        let request = Request::post("/enter")
            .header("host", HOST)
            .header("content-type", "application/x-www-form-urlencoded")
            .body(Body::from(format!("passphrase={passphrase}")))
            .expect("a request");
        self.send(request).await
    }
}

/// What a browser would keep.
#[derive(Clone, Debug, Default)]
pub struct Visitor {
    pub cookie: String,
    pub token: String,
}

impl Visitor {
    pub fn request(&self, method: &str, path: &str, body: Body) -> Request<Body> {
        Request::builder()
            .method(method)
            .uri(path)
            .header("host", HOST)
            .header("accept", "text/html")
            .header("cookie", &self.cookie)
            .header("x-desk-token", &self.token)
            .body(body)
            .expect("a request")
    }

    pub fn json(&self, path: &str, value: &serde_json::Value) -> Request<Body> {
        let mut request = self.request("POST", path, Body::from(value.to_string()));
        let kind = "application/json".parse().expect("a header");
        request.headers_mut().insert("content-type", kind);
        request
    }
}

pub struct Answer {
    pub status: StatusCode,
    pub headers: axum::http::HeaderMap,
    pub body: String,
}

impl Answer {
    async fn of(response: Response<Body>) -> Answer {
        let (parts, body) = response.into_parts();
        let bytes = body.collect().await.expect("a body").to_bytes();
        Answer {
            status: parts.status,
            headers: parts.headers,
            body: String::from_utf8_lossy(&bytes).into_owned(),
        }
    }

    pub fn header(&self, name: &str) -> &str {
        self.headers
            .get(name)
            .and_then(|value| value.to_str().ok())
            .unwrap_or_default()
    }

    fn cookie(&self) -> String {
        self.header("set-cookie")
            .split(';')
            .next()
            .unwrap_or_default()
            .to_owned()
    }

    fn token(&self) -> String {
        let after = self
            .body
            .split("name=\"desk-token\" content=\"")
            .nth(1)
            .unwrap_or_default();
        after.split('"').next().unwrap_or_default().to_owned()
    }

    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.body).unwrap_or_else(|_| panic!("no JSON: {}", self.body))
    }
}
