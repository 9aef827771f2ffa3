//! Calibrations that ran out or soon will, with the welds that rest on them.

use std::time::SystemTime;

use job::folder::due;
use maud::{Markup, html};

use super::{Row, path_of};

/// What runs out, by day and name.
pub fn running_out(all: &[Row], now: SystemTime) -> Markup {
    let due = due(all, now);
    html! {
        @if !due.is_empty() {
            section aria-labelledby="calibrations-heading" {
                h2 #calibrations-heading { "Calibrations" }
                ul.plain { @for one in &due {
                    li {
                        (one.what) " "
                        @if one.ran_out { span.passed { span aria-hidden="true" { "■ " } (one.words()) } }
                        @else { span.look { span aria-hidden="true" { "▲ " } (one.words()) } }
                        span.soft { ", used for " @for (place, row) in one.rows.iter().enumerate() { @if place > 0 { ", " } a href={ "/weld/" (path_of(&row.name)) } { (row.weld) } } }
                    }
                } }
            }
        }
    }
}
