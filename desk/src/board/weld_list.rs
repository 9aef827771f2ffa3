//! Many welds from a weld list: looked at first, then made.

use std::sync::Arc;

use axum::Json;
use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::IntoResponse;
use job::edit;
use job::new_welds::{Taken, begin_with, listed, make_listed};
use job::shape::{capital, named, named_together, spoken};
use job::weld_list::{Listed, TEMPLATE, WeldList};
use maud::{Markup, html};
use serde::{Deserialize, Serialize};

use crate::desk::Desk;
use crate::refusal::Refusal;

/// What the form sends.
#[derive(Debug, Deserialize)]
pub struct Asked {
    list: String,
    pattern: String,
}

/// How a list was understood.
#[derive(Debug, Serialize)]
pub struct Understood {
    /// Whether it can be made as it is.
    good: bool,
    /// The rows with their mistakes.
    html: String,
}

/// Looks at a list.
pub async fn check_list(
    State(desk): State<Arc<Desk>>,
    Json(asked): Json<Asked>,
) -> Result<Json<Understood>, Refusal> {
    let list = understood(&desk, &asked)?;
    Ok(Json(Understood {
        good: list.is_good(),
        html: table(&list).into_string(),
    }))
}

/// Makes every weld of a list, or none where something is wrong.
pub async fn make_from_list(
    State(desk): State<Arc<Desk>>,
    Json(asked): Json<Asked>,
) -> Result<StatusCode, Refusal> {
    make_listed(&desk.project, &understood(&desk, &asked)?)?;
    Ok(StatusCode::CREATED)
}

fn understood(desk: &Desk, asked: &Asked) -> Result<WeldList, Refusal> {
    let pattern = begin_with(&desk.project, &asked.pattern, Taken::WhatFits)?;
    Ok(listed(&desk.project, asked.list.as_bytes(), &pattern))
}

/// What both sides have, or each where they differ.
fn of_sides(text: &str, key: &str) -> String {
    let [first, second] = [1, 2].map(|side| edit::get(text, &format!("side[{side}].{key}")));
    match first == second {
        true => first,
        false => format!("{first}, {second}"),
    }
}

/// The columns to begin with, as a file.
pub async fn template() -> impl IntoResponse {
    let headers = [
        (CONTENT_TYPE, "text/csv; charset=utf-8"),
        (
            CONTENT_DISPOSITION,
            "attachment; filename=\"weld-list.csv\"",
        ),
    ];
    (headers, format!("{}\n", TEMPLATE.join(",")))
}

fn table(list: &WeldList) -> Markup {
    let in_all = list.missing_in_all();
    let columns: Vec<String> = list.columns.iter().map(|column| named(column)).collect();
    html! {
        @for mistake in &list.mistakes { (wrong(mistake)) }
        @if !in_all.is_empty() {
            p { span.look { span.shape aria-hidden="true" { "▲ " } "Every row still needs: " } (named_together(&in_all)) ". Give the list a column for each, or begin with a weld that has them." }
        }
        @if !list.welds.is_empty() {
            table {
                caption { (list.welds.len()) @if list.welds.len() == 1 { " row" } @else { " rows" } "; columns: " (columns.join("; ")) }
                thead { tr { th scope="col" { "Line" } th scope="col" { "Weld" } th scope="col" { "Outside diameter" } th scope="col" { "Wall" } th scope="col" { "Folder" } th scope="col" { "Mistakes" } } }
                tbody {
                    @for weld in &list.welds {
                        tr {
                            td.end { (weld.line) } th scope="row" { (weld.weld) } td { (of_sides(&weld.text, "outside_diameter")) } td { (of_sides(&weld.text, "wall")) } td { (weld.folder) }
                            td { (mistakes(weld, &in_all)) }
                        }
                    }
                }
            }
        }
        @if list.is_good() { button type="button" data-make { "Make " (list.welds.len()) @if list.welds.len() == 1 { " weld" } @else { " welds" } } }
    }
}

/// What is wrong in one row, and what it lacks besides what every row does.
fn mistakes(weld: &Listed, in_all: &[&str]) -> Markup {
    let own: Vec<&str> = weld
        .missing
        .iter()
        .map(String::as_str)
        .filter(|one| !in_all.contains(one))
        .collect();
    html! {
        @if weld.mistakes.is_empty() && own.is_empty() { span.soft { "none" } }
        @for mistake in &weld.mistakes { (wrong(mistake)) }
        @if !own.is_empty() { p { span.look { span.shape aria-hidden="true" { "▲ " } "Still needed: " } (named_together(&own)) "." } }
    }
}

fn wrong(mistake: &str) -> Markup {
    html! { p.passed { span.shape aria-hidden="true" { "■ " } (capital(&spoken(mistake))) } }
}
