//! The board as a page.

use std::sync::Arc;
use std::time::SystemTime;

use axum::Extension;
use axum::extract::{Query, State as Shared};
use job::folder::{Contents, LastRecord, State};
use job::new_welds::DEMOS;
use job::weld_list::TEMPLATE;
use maud::{Markup, html};
use serde::Deserialize;

use super::{Row, calibrations};
use crate::desk::Desk;
use crate::entry::{Right, Visitor};
use crate::error::DeskError;
use crate::frame::{Frame, page};
use crate::refusal::Refusal;

/// What is looked for.
#[derive(Debug, Default, Deserialize)]
pub struct Wanted {
    #[serde(default)]
    search: String,
    #[serde(default)]
    state: String,
    /// How many welds were just made from a list.
    made: Option<usize>,
}

/// The board.
pub async fn show(
    Shared(desk): Shared<Arc<Desk>>,
    Extension(visitor): Extension<Visitor>,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, Refusal> {
    let state = State::ALL
        .into_iter()
        .find(|state| state.word() == wanted.state);
    let reading = desk.clone();
    let search = wanted.search.clone();
    let read = tokio::task::spawn_blocking(move || {
        reading.register.refresh(&reading.project)?;
        Ok::<_, DeskError>((
            reading.register.found("", None)?,
            reading.register.found(&search, state)?,
        ))
    });
    let (all, found) = read.await.map_err(|_| Refusal::broke_down())??;
    let project = desk.project.name();
    let frame = Frame {
        title: "Board",
        project: &project,
        visitor: &visitor,
        has_door: desk.entry.is_guarded(),
        script: "board.js",
    };
    Ok(page(
        &frame,
        &html! {
            h1 { "Welds" }
            @if let Some(made) = wanted.made { p role="status" { span.shape aria-hidden="true" { "● " } (made) @if made == 1 { " weld was" } @else { " welds were" } " made from the list." } }
            @if !all.is_empty() { (filters(&wanted, &all)) }
            (calibrations::running_out(&all, SystemTime::now()))
            (table(&wanted, (&found, &all), visitor.right == Right::Act))
            @if visitor.right == Right::Act { (tour_again(&all)) }
            @if visitor.right == Right::Act { (new_weld(&all)) (weld_list(&all)) }
        },
    ))
}

fn filters(wanted: &Wanted, all: &[Row]) -> Markup {
    html! {
        form.filters role="search" method="get" action="/" {
            label { span { "Search" } input type="search" name="search" value=(wanted.search); }
            label { span { "State" }
                select name="state" {
                    option value="" { "any (" (all.len()) ")" }
                    @for state in State::ALL {
                        @let count = all.iter().filter(|row| row.state == state).count();
                        option value=(state.word()) selected[state.word() == wanted.state] { (state.word()) " (" (count) ")" }
                    }
                }
            }
            button type="submit" { "Show" }
        }
    }
}

/// What was looked for, and that it is not there.
fn none_fits(wanted: &Wanted, all: usize) -> String {
    let welds = match all {
        1 => "The one weld does not fit".to_owned(),
        all => format!("None of the {all} welds fits"),
    };
    let search = wanted.search.trim();
    let words = (!search.is_empty()).then(|| format!("“{search}”"));
    let state = (!wanted.state.is_empty()).then(|| format!("the state {}", wanted.state));
    let asked: Vec<String> = words.into_iter().chain(state).collect();
    format!("{welds} {}.", asked.join(" and "))
}

fn table(wanted: &Wanted, (found, all): (&[Row], &[Row]), may_act: bool) -> Markup {
    html! {
        @if all.is_empty() {
            (first_visit(may_act))
        } @else if found.is_empty() {
            p.quiet-line { (none_fits(wanted, all.len())) " " a href="/" { "Show all" } }
        } @else {
            // On a phone the rows are entries, one below the other; the roles keep them a table for a screen reader.
            table.board.stacks role="table" {
                caption { (found.len()) @if found.len() != all.len() { " of " (all.len()) } @if all.len() == 1 { " weld" } @else { " welds" } }
                thead role="rowgroup" { tr role="row" { @for words in ["Weld", "State", "What is missing", "Heat", "Line", "Since welding"] { th scope="col" role="columnheader" { (words) } } } }
                tbody role="rowgroup" { @for row in found { (line(row)) } }
            }
        }
    }
}

/// An empty project: where to begin.
fn first_visit(may_act: bool) -> Markup {
    html! {
        div.first {
            p.quiet-line { "No weld yet. Make one below, or put a job folder into the project’s folder." }
            @if may_act {
                p { "New here? A demo weld, with everything about it invented, shows in a few minutes how a heat is planned and proven." }
                p { button #tour-begin type="button" data-pattern=(DEMOS[0].0) { "Show me the demo weld" } }
                p.says role="status" {}
            }
        }
    }
}

/// The way back into the tour where its weld is still there.
fn tour_again(all: &[Row]) -> Markup {
    let demo = all.iter().find(|row| row.demo);
    html! {
        @match demo {
            Some(demo) => p.soft { "New here? " a href={ "/weld/" (path_of(&demo.name)) "?#tour" } { "Take the tour of the demo weld again" } },
            None if !all.is_empty() => p.soft { "New here? " button.quiet #tour-begin type="button" data-pattern=(DEMOS[0].0) { "Show me the demo weld" } },
            None => {}
        }
    }
}

fn line(row: &Row) -> Markup {
    html! {
        tr role="row" {
            th scope="row" role="rowheader" {
                a href={ "/weld/" (path_of(&row.name)) } { (row.weld) }
                @if row.demo { " " span.soft { "invented" } }
            }
            td role="cell" { span.state { (state_words(row.state)) } @for note in [&row.note, &row.changed] { @if !note.is_empty() { br; span.look { span.shape aria-hidden="true" { "▲ " } (note) } } } }
            td.missing role="cell" data-names="Missing" { (row.missing) }
            td role="cell" data-names="Heat" { (row.purpose) @if !row.code.is_empty() { " " span.soft.code { (row.code) } } }
            td.line role="cell" data-names="Line" { (row.line) }
            td role="cell" data-names="Since welding" { @if let Some(ended_s) = row.ended_s { span data-ended=(ended_s) {} } @else { span.soft { "not stated" } } }
        }
    }
}

/// The state as a word and as a shape: steps done and steps to come.
fn state_words(state: State) -> Markup {
    html! { (steps(state)) " " (state.word()) }
}

fn steps(state: State) -> Markup {
    let done = state as usize + 1;
    html! { span.steps aria-hidden="true" { ("●".repeat(done)) ("○".repeat(State::ALL.len() - done)) } }
}

/// The state of a weld above its pages: which revision it rests on, what of it is against it and what was changed since,
/// and what is missing.
pub fn state_line(contents: &Contents, last: Option<&LastRecord>) -> Markup {
    let missing = contents.missing().join(", ");
    let note = last.and_then(LastRecord::note);
    html! {
        p.state {
            (steps(contents.state())) " " (contents.state_words(last))
            span.soft { @if !missing.is_empty() { "; missing: " (missing) } }
            @if let Some(note) = note { ". " span.look { span.shape aria-hidden="true" { "▲ " } (note) } }
        }
    }
}

/// A name as a piece of an address.
pub fn path_of(name: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.');
    name.bytes()
        .map(|byte| {
            if plain(byte) {
                char::from(byte).to_string()
            } else {
                format!("%{byte:02X}")
            }
        })
        .collect()
}

fn patterns(all: &[Row]) -> Markup {
    html! {
        optgroup label="An empty weld" {
            @for (key, words, _) in job::new_welds::EMPTY { option value=(key) { (words) } }
        }
        @if !all.is_empty() {
            optgroup label="Like a weld of this project" {
                @for row in all { option value=(row.name) { (row.weld) @if row.demo { " (invented: without its limits of owner and procedure)" } } }
            }
        }
        optgroup label="Like a pattern, without limits and names" {
            @for (key, words, _) in DEMOS { option value=(key) { (words) } }
        }
    }
}

fn new_weld(all: &[Row]) -> Markup {
    html! {
        section aria-labelledby="new-heading" {
            h2 #new-heading { "A new weld" }
            form #new-weld .fields {
                label { span { "Weld number" } input name="weld" required maxlength="80" autocomplete="off"; }
                label { span { "Begin with" } select name="pattern" { (patterns(all)) } }
                button type="submit" { "Make it" }
                p.help { "An empty weld asks for what a plan needs, value by value. A weld of the project gives its dimensions, limits and equipment, not its dates, people and decisions."
                    @if all.iter().any(|row| row.demo) { " An invented one gives dimensions, metals, coil, source, thermocouples and cycle; its limits of owner and procedure, its papers, neighbors, analyses and names do not come along." } }
                p.says role="status" {}
            }
        }
    }
}

fn weld_list(all: &[Row]) -> Markup {
    html! {
        section aria-labelledby="list-heading" {
            h2 #list-heading { "Many welds from a list" }
            p { "The first line names the columns, every other line is a weld. Only " code { "weld" } " is needed; what a row leaves out, it has from what it begins with. "
                code { "side." } " stands for both sides, " code { "side[1]." } " and " code { "side[2]." } " for one. Nothing is made while a row has a mistake." }
            p.template { "To begin with: " code { (TEMPLATE.join(",")) } " " a href="/welds/weld-list.csv" download="weld-list.csv" { "as a file" } }
            form #weld-list .fields {
                label { span { "Weld list (CSV)" } input type="file" name="list" accept=".csv,.txt,text/csv"; }
                label { span { "Begin with" } select name="pattern" { (patterns(all)) } }
                label.long { span { "or paste it here, with its first line" } textarea name="pasted" rows="4" spellcheck="false" {} }
                button type="submit" { "Look at it" }
                p.says role="status" {}
            }
            div #listed {}
        }
    }
}
