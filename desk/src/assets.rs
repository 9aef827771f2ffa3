//! Style, scripts and typeface, carried in the binary. Their address has a fingerprint, so that a browser may keep them
//! for good and yet never shows an old one.

use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};

use crate::refusal::Refusal;

/// Letters of the fingerprint in an address.
const FINGERPRINT: usize = 12;

const JAVASCRIPT: &str = "text/javascript; charset=utf-8";

struct Asset {
    name: &'static str,
    kind: &'static str,
    bytes: Vec<u8>,
}

/// Everything that pages load.
static ASSETS: LazyLock<Vec<Asset>> = LazyLock::new(|| {
    let script = |name, text: &'static str| Asset {
        name,
        kind: JAVASCRIPT,
        bytes: text.into(),
    };
    let mut assets = vec![
        script("board.js", include_str!("../assets/board.js")),
        script("weld.js", include_str!("../assets/weld.js")),
        script("drawing.js", include_str!("../assets/drawing.js")),
        script("tour.js", include_str!("../assets/tour.js")),
        script("walk.js", include_str!("../assets/walk.js")),
        script("record.js", include_str!("../assets/record.js")),
        script("verify.js", include_str!("../assets/verify.js")),
        script("chart.js", include_str!("../assets/chart.js")),
        script("answer.js", include_str!("../assets/answer.js")),
        script("ask.js", include_str!("../assets/ask.js")),
        script("fold.js", include_str!("../assets/fold.js")),
        script("lines.js", include_str!("../assets/lines.js")),
        script("panel.js", include_str!("../assets/panel.js")),
        script("stations.js", include_str!("../assets/stations.js")),
        script("strip.js", include_str!("../assets/strip.js")),
        script("tables.js", include_str!("../assets/tables.js")),
        script("turns.js", include_str!("../assets/turns.js")),
        script("talk.js", include_str!("../assets/talk.js")),
    ];
    assets.push(Asset {
        name: "heat.js",
        kind: JAVASCRIPT,
        bytes: heat().into_bytes(),
    });
    let faces = report::web_faces();
    assets.push(Asset {
        name: "desk.css",
        kind: "text/css; charset=utf-8",
        bytes: style().into_bytes(),
    });
    assets.extend(faces.map(|face| Asset {
        name: face.file_name,
        kind: "font/woff2",
        bytes: face.woff2.to_vec(),
    }));
    assets
});

/// One version for all: scripts load each other by plain names beside them.
static VERSION: LazyLock<String> = LazyLock::new(|| {
    let mut hash = Sha256::new();
    ASSETS.iter().for_each(|asset| hash.update(&asset.bytes));
    let hash = hash.finalize();
    let letters: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
    letters[..FINGERPRINT].to_owned()
});

/// Steps of the color scale on screen.
const HEAT_STEPS: usize = 64;

/// The one color scale of the sheet, for scripts.
fn heat() -> String {
    let steps = (0..=HEAT_STEPS).map(|step| report::scale::hex(step as f64 / HEAT_STEPS as f64));
    let colors: Vec<String> = steps.map(|hex| format!("\"{hex}\"")).collect();
    format!(
        "// The color of a temperature in °C, where `hot` is the hottest shown; the scale begins at 0 °C.\n\
         const COLORS = [{}];\n\
         export const heatColor = (c, hot) => COLORS[Math.max(0, Math.min({HEAT_STEPS}, Math.round(({HEAT_STEPS} * c) / hot)))];\n",
        colors.join(",")
    )
}

fn style() -> String {
    let mut style = String::new();
    for face in report::web_faces() {
        style += &format!(
            "@font-face{{font-family:\"Sheet Sans\";font-style:{};font-weight:{};font-display:swap;src:url({}) format(\"woff2\")}}\n",
            face.style, face.weight, face.file_name
        );
    }
    style + report::STYLE + include_str!("../assets/desk.css") + include_str!("../assets/weld.css")
}

/// The address of an asset.
pub fn address(name: &str) -> String {
    format!("/assets/{}/{name}", *VERSION)
}

/// An asset. One of another version is answered all the same, but not to be kept.
pub async fn asset(Path((version, name)): Path<(String, String)>) -> Response {
    let Some(asset) = ASSETS.iter().find(|asset| asset.name == name) else {
        return Refusal::no_page().into_response();
    };
    let keep = if version == *VERSION {
        "public, max-age=31536000, immutable"
    } else {
        "no-store"
    };
    let headers = [(CONTENT_TYPE, asset.kind), (CACHE_CONTROL, keep)];
    (headers, asset.bytes.clone()).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_that_a_first_visit_loads_is_small() {
        let bytes: usize = ASSETS.iter().map(|asset| asset.bytes.len()).sum();
        assert!(
            bytes < 250_000,
            "{bytes} bytes; 50 kB of the 300 kB are left to the page itself"
        );
    }
}
