//! The frame of every page.

use maud::{DOCTYPE, Markup, html};

use crate::assets;
use crate::entry::{Right, Visitor};

/// What a page needs besides its content.
pub struct Frame<'a> {
    /// The title in the browser's tab.
    pub title: &'a str,
    /// Name of the project.
    pub project: &'a str,
    /// Who looks at it.
    pub visitor: &'a Visitor,
    /// Whether there is a door to leave by.
    pub has_door: bool,
    /// The script of the page, by file name.
    pub script: &'a str,
}

/// A page with its frame.
pub fn page(frame: &Frame<'_>, content: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-US" {
            head {
                (head(frame.title))
                meta name="desk-token" content=(frame.visitor.token);
                meta name="desk-right" content=(if frame.visitor.right == Right::Act { "act" } else { "view" });
                script type="module" src=(assets::address("tables.js")) {}
                script type="module" src=(assets::address(frame.script)) {}
            }
            body {
                a.skip href="#main" { "To the content" }
                header.top {
                    nav aria-label="Desk" {
                        a.home href="/" { "Soakwright" }
                        span.soft { (frame.project) }
                        a.to href="/verify" { "Verify a record" }
                    }
                    @if frame.visitor.right == Right::View { span.right { "looking only" } }
                    @if frame.has_door { button.quiet #leave type="button" { "Leave" } }
                }
                main #main tabindex="-1" { (content) }
            }
        }
    }
}

/// The ways to the parts of a long page: ids of their headings with their words.
pub fn jumps(parts: &[(&str, &str)]) -> Markup {
    html! {
        nav.jumps aria-label="On this page" {
            @for (id, words) in parts { a href={ "#" (id) } { (words) } }
        }
    }
}

/// The way to a PDF: what is on the page stays where it is.
pub fn pdf(address: &str, words: &str) -> Markup {
    html! {
        a href=(address) target="_blank" rel="noopener" { (words) span.hidden { " (opens in a new tab)" } }
    }
}

/// A page without navigation: the door, and refusals.
pub fn bare_page(title: &str, content: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-US" {
            head { (head(title)) }
            body.bare { main #main { p.brand { "Soakwright" } (content) } }
        }
    }
}

fn head(title: &str) -> Markup {
    html! {
        meta charset="utf-8";
        meta name="viewport" content="width=device-width, initial-scale=1";
        meta name="color-scheme" content="light dark";
        title { (title) " – Soakwright" }
        link rel="icon" href="data:,";
        link rel="preload" href=(assets::address("sheet-sans-regular.woff2")) as="font" type="font/woff2" crossorigin;
        link rel="stylesheet" href=(assets::address("desk.css"));
    }
}
