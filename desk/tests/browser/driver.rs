//! A desk on a free port, and a browser before it.

use std::io::{BufRead, BufReader};
use std::net::{SocketAddr, TcpListener};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

use axum::http::Method;
use desk::{Desk, Entry, routes};
use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use job::folder::Project;
use serde_json::{Value, json};
use tempfile::TempDir;
use tokio::sync::{Mutex, MutexGuard};
use url::{ParseError, Url};

pub const DEMO: &str = include_str!("../../../jobs/carbon-steel-line.toml");

/// One browser at a time: they are heavy.
static TURN: Mutex<()> = Mutex::const_new(());

/// What a headless browser needs to start anywhere and to load nothing of its own.
const FLAGS: [&str; 9] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
];

/// A browser before a desk.
pub struct Browser {
    pub client: Client,
    pub address: String,
    pub project: Project,
    driver: Child,
    _folders: [TempDir; 2],
    _turn: MutexGuard<'static, ()>,
}

impl Browser {
    /// `None`, said aloud, where there is no browser.
    pub async fn before(entry: Entry) -> Option<Browser> {
        let turn = TURN.lock().await;
        let Some((driver, port)) = driver() else {
            let says = "no chromedriver here: the pages were not tried in a browser (apt-get install chromium chromium-driver)";
            assert!(std::env::var_os("DESK_BROWSER").is_none(), "{says}");
            eprintln!("{says}");
            return None;
        };
        let [folder, profile] = [(), ()].map(|()| tempfile::tempdir().expect("a folder"));
        let project = Project::at(folder.path());
        project.create("MS-0301-FW04", DEMO).expect("made");
        let address = serve(project.clone(), entry);
        let flags: Vec<String> = FLAGS
            .iter()
            .map(|flag| (*flag).to_owned())
            .chain([format!("--user-data-dir={}", profile.path().display())])
            .collect();
        let wanted = json!({ "goog:chromeOptions": { "args": flags } });
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(wanted.as_object().expect("an object").clone())
            .connect(&format!("http://127.0.0.1:{port}"))
            .await
            .expect("a browser");
        Some(Browser {
            client,
            address,
            project,
            driver,
            _folders: [folder, profile],
            _turn: turn,
        })
    }

    pub async fn open(&self, path: &str) {
        self.client
            .goto(&format!("{}{path}", self.address))
            .await
            .expect("a page");
    }

    /// Width and height, and whether the visitor likes it dark.
    pub async fn look(&self, width: u32, height: u32, dark: bool) {
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600 });
        self.devtools("Emulation.setDeviceMetricsOverride", size)
            .await;
        let scheme = if dark { "dark" } else { "light" };
        let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.devtools("Emulation.setEmulatedMedia", media).await;
    }

    /// As a printer would have it.
    pub async fn print(&self) {
        self.devtools("Emulation.setEmulatedMedia", json!({ "media": "print" }))
            .await;
    }

    pub async fn offline(&self, is: bool) {
        self.network(is, 0).await;
    }

    /// Every answer comes this many milliseconds later, as on a site network.
    pub async fn slow(&self, latency_ms: u32) {
        self.network(false, latency_ms).await;
    }

    async fn network(&self, is_offline: bool, latency_ms: u32) {
        let state = json!({ "offline": is_offline, "latency": latency_ms, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.devtools("Network.enable", json!({})).await;
        self.devtools("Network.emulateNetworkConditions", state)
            .await;
    }

    async fn devtools(&self, command: &'static str, parameters: Value) -> Value {
        self.client
            .issue_cmd(DevTools {
                command,
                parameters,
            })
            .await
            .expect("a browser that listens")
    }

    pub async fn run(&self, script: &str) -> Value {
        self.client
            .execute(script, Vec::new())
            .await
            .expect("a script")
    }

    /// Waits until a script returns something true.
    pub async fn until(&self, what: &str, script: &str) {
        for _ in 0..1200 {
            if self.run(script).await.as_bool() == Some(true) {
                return;
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        let says = self
            .run("return document.body.innerText.slice(0, 2000)")
            .await;
        panic!("{what} did not come: {says}");
    }

    pub async fn click(&self, selector: &str) {
        // The drawing stays in view and may lie over what is scrolled to the top.
        let script =
            format!("document.querySelector({selector:?}).scrollIntoView({{ block: 'end' }})");
        self.run(&script).await;
        let element = self
            .client
            .find(Locator::Css(selector))
            .await
            .unwrap_or_else(|_| panic!("no {selector}"));
        element
            .click()
            .await
            .unwrap_or_else(|error| panic!("{selector}: {error}"));
    }

    /// Types into the field of a place of the job file, in place of what stands there.
    pub async fn fill(&self, place: &str, text: &str) {
        let script = format!(
            "const at = document.querySelector('[name=\"{place}\"]'); at.value = {text:?}; \
             at.dispatchEvent(new Event('change', {{ bubbles: true }}))"
        );
        self.run(&script).await;
    }

    pub async fn keys(&self, keys: &str) {
        let pressed = keys
            .chars()
            .fold(KeyActions::new("keys".into()), |all, key| {
                all.then(KeyAction::Down { value: key })
                    .then(KeyAction::Up { value: key })
            });
        self.client.perform_actions(pressed).await.expect("keys");
    }

    /// Keeps a picture of the whole page, where that is wanted.
    pub async fn picture(&self, name: &str) {
        let Some(folder) = std::env::var_os("DESK_SCREENSHOTS").map(PathBuf::from) else {
            return;
        };
        let png = self.client.screenshot().await.expect("a picture");
        std::fs::create_dir_all(&folder).expect("a folder");
        std::fs::write(folder.join(format!("{name}.png")), png).expect("written");
    }

    /// The whole page, not only what is in view.
    pub async fn long_picture(&self, name: &str, width: u32, dark: bool) {
        let height = self
            .run("return document.documentElement.scrollHeight")
            .await
            .as_u64()
            .unwrap_or(1000);
        self.look(width, (height as u32).min(12_000), dark).await;
        tokio::time::sleep(Duration::from_millis(400)).await;
        self.picture(name).await;
    }

    pub async fn end(mut self) {
        // A browser that does not answer is ended with its driver.
        let _ = self.client.clone().close().await;
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

/// Starts the driver on a free port, which it tells.
/// It may find the port that it chose taken by then; so many times it chooses again.
const STARTS: usize = 3;

fn driver() -> Option<(Child, u16)> {
    (0..STARTS).find_map(|_| started())
}

fn started() -> Option<(Child, u16)> {
    let mut child = Command::new("chromedriver")
        .arg("--port=0")
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .ok()?;
    let mut lines = BufReader::new(child.stdout.take()?).lines();
    while let Some(Ok(line)) = lines.next() {
        if let Some((_, port)) = line.split_once("successfully on port ") {
            return Some((child, port.trim_end_matches('.').parse().ok()?));
        }
    }
    let _ = child.kill();
    None
}

fn serve(project: Project, entry: Entry) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = listener.local_addr().expect("an address");
    let desk: Arc<Desk> = Desk::new(project, entry).expect("a desk");
    let service = routes(desk).into_make_service_with_connect_info::<SocketAddr>();
    let server = axum_server::from_tcp(listener).expect("a server");
    tokio::spawn(server.serve(service));
    format!("http://{address}")
}

/// A command of the browser's own tools.
#[derive(Debug)]
struct DevTools {
    command: &'static str,
    parameters: Value,
}

impl WebDriverCompatibleCommand for DevTools {
    fn endpoint(&self, base: &Url, session: Option<&str>) -> Result<Url, ParseError> {
        base.join(&format!(
            "session/{}/goog/cdp/execute",
            session.unwrap_or_default()
        ))
    }

    fn method_and_body(&self, _: &Url) -> (Method, Option<String>) {
        let body = json!({ "cmd": self.command, "params": self.parameters });
        (Method::POST, Some(body.to_string()))
    }
}
