//! The audit of a page.

use super::driver::Browser;

const AUDIT: &str = include_str!("audit.js");

/// Fails with everything that a page owes.
pub async fn audit(browser: &Browser, what: &str) {
    let wrong = browser.run(AUDIT).await;
    let wrong: Vec<String> = serde_json::from_value(wrong).expect("a list");
    assert!(wrong.is_empty(), "{what}:\n{}", wrong.join("\n"));
}
