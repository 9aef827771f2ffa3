//! What a page weighs, with everything that it loads.

use std::collections::BTreeSet;

use axum::http::StatusCode;

use super::visit::{Site, Visitor};

/// Bytes of a page with everything that it loads; nothing is compressed on the way.
const MOST: usize = 300_000;

/// Addresses of the desk's own files in a text, those of modules beside it too.
fn loaded(text: &str, beside: &str) -> BTreeSet<String> {
    let mut found: BTreeSet<String> = text
        .split(['"', '\''])
        .filter(|piece| piece.starts_with("/assets/"))
        .map(str::to_owned)
        .collect();
    let folder = beside.rsplit_once('/').map_or("", |(folder, _)| folder);
    for piece in text.split("from \"./").skip(1) {
        let name = piece.split('"').next().unwrap_or_default();
        found.insert(format!("{folder}/{name}"));
    }
    for piece in text.split("src:url(").skip(1) {
        let name = piece.split(')').next().unwrap_or_default();
        found.insert(format!("{folder}/{name}"));
    }
    found
}

async fn weight(site: &Site, visitor: &Visitor, path: &str) -> usize {
    let page = site.get(path, visitor).await;
    assert_eq!(page.status, StatusCode::OK, "{path}");
    let mut bytes = page.body.len();
    let mut waiting: Vec<String> = loaded(&page.body, "").into_iter().collect();
    assert!(
        waiting.len() >= 3,
        "{path}: style, typeface and script, {waiting:?}"
    );
    let mut seen = BTreeSet::new();
    while let Some(address) = waiting.pop() {
        if !seen.insert(address.clone()) {
            continue;
        }
        let asset = site.get(&address, visitor).await;
        assert_eq!(asset.status, StatusCode::OK, "{address}");
        bytes += asset
            .header("content-length")
            .parse::<usize>()
            .unwrap_or(asset.body.len());
        waiting.extend(loaded(&asset.body, &address));
    }
    bytes
}

#[tokio::test]
async fn every_page_with_all_that_it_loads_is_under_300_kb() {
    let site = Site::on_loopback();
    let visitor = site.visitor().await;
    for path in [
        "/",
        "/weld/W1",
        "/weld/W1/record",
        "/weld/W1/running",
        "/verify",
    ] {
        let bytes = weight(&site, &visitor, path).await;
        assert!(bytes < MOST, "{path}: {bytes} bytes");
        println!("{path}: {bytes} bytes");
    }
}
